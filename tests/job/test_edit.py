"""Numbers changed in a shop file: the file reads as asked, and everything else in it stays as the user wrote it."""

import subprocess
import sys
import tomllib

import pytest
from sample_jobs import ideal_shop_text

from jigmaker.errors import JobError
from jigmaker.job.edit import edit_file, edit_text
from jigmaker.job.templates import new_shop_text

VALUES = {"machine.kerf": "0.2145", "machine.kerf_x": "0.210", "sheet.joint_clearance": "0.15"}
DEMO = ideal_shop_text().decode()
TEXTS = {
    "demo": DEMO,
    "new": new_shop_text(),
    "dos": DEMO.replace("\n", "\r\n"),
    "no end": DEMO.rstrip("\n"),
    "no end, machine last": '[sheet]\njoint_clearance = 0.1\n[machine]\nkerf = "0.2 mm"',
    "inline": 'machine = {kind = "laser", kerf = 0.2} # mine\n',
    "dotted": 'machine.kind = "laser"\nmachine.kerf = 0.2 # mine\n',
    "section missing": '[files]\nunits = "mm"\n',
    "blanks": "[ machine ]  # mine\n\tkerf=0.2\n\n\n[sheet]\n",
    "quoted section": '["machine"]\nkerf = 0.2\n[sheet]\nthickness = 9\n',
}


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS)
def test_the_edited_text_reads_as_asked(text):
    """By the standard reader: the old table with the new values in it."""
    table = tomllib.loads(text.replace("\r\n", "\n"))
    for key, value in VALUES.items():
        section, name = key.split(".")
        table.setdefault(section, {})[name] = float(value)
    assert tomllib.loads(edit_text(text, VALUES).replace("\r\n", "\n")) == table


@pytest.mark.parametrize("name", ["demo", "new", "dos", "no end"])
def test_every_other_line_stays(name):
    """Two lines change in their number only, one comes new; line ends stay what they were."""
    before, after = TEXTS[name].split("\n"), edit_text(TEXTS[name], VALUES).split("\n")
    added = [line for line in after if line.startswith("kerf_x")]
    assert added == ["kerf_x = 0.210" + ("\r" if name == "dos" else "")]
    after.remove(added[0])
    changed = [(old, new) for old, new in zip(before, after, strict=True) if old != new]
    assert len(changed) == 2
    for old, new in changed:
        assert old.partition("#")[2] == new.partition("#")[2]
        assert old.partition("#")[2] == "" or old.index("#") == new.index("#")


def test_a_new_key_stands_above_the_comment_of_the_next_section():
    """In the file of a new shop every section has a comment over it, which TOML readers take for the one before."""
    text = "[machine]\nkind = 'laser'\nkerf = 0.2\n# cutter = 6\n\n# The hand router.\n[hand_router]\nbush = 17\n"
    edited = edit_text(text, {"machine.skew_deg": "-0.3"}, meanings={"machine.skew_deg": "as found"})
    new = "skew_deg = -0.3             # as found\n"
    assert edited == text.replace("kerf = 0.2\n", f"kerf = 0.2\n{new}")


def test_an_edit_taken_back_gives_the_same_bytes():
    """Nothing else is touched on the way there and back."""
    there = edit_text(DEMO, {"machine.kerf": "0.31"})
    assert edit_text(there, {"machine.kerf": "0.20"}) == DEMO


def test_a_value_that_is_the_same_stays_as_it_was_written():
    """Someone who wrote 0.20 finds 0.20 beside what has changed; a string is not taken for the number it spells."""
    text = "[machine]\nkerf = 0.20   # measured\nskew_deg = 0.1\nname = '0.2'\n"
    edited = edit_text(text, {"machine.kerf": "0.2", "machine.skew_deg": "0.3"})
    assert edited == text.replace("skew_deg = 0.1", "skew_deg = 0.3")
    assert "name = 0.2" in edit_text(text, {"machine.name": "0.2"})


def test_a_key_taken_out_stays_as_a_comment():
    """Its line is what the user wrote; the key that takes its place comes beside it."""
    text = "[machine]\nkind = 'laser'\nkerf = 0.2  # measured in May\n\n[sheet]\nthickness = 9\n"
    edited = edit_text(text, {"machine.kind": '"cnc"', "machine.kerf": "", "machine.cutter": "6", "sheet.count": ""})
    assert edited == (
        '[machine]\nkind = "cnc"\ncutter = 6\n# kerf = 0.2  # measured in May\n\n[sheet]\nthickness = 9\n'
    )
    with pytest.raises(JobError, match=r"write no machine\.kerf into it by hand"):
        edit_text(TEXTS["inline"], {"machine.kerf": ""})


def test_a_byte_order_mark_stays():
    """As some editors write it."""
    data = b"\xef\xbb\xbf" + ideal_shop_text()
    edited = edit_file(data, {"machine.kerf": "0.31"})
    assert edited.startswith(b"\xef\xbb\xbf# The workshop") and b"\xef\xbb\xbf" not in edited[3:]
    assert edit_file(edited, {"machine.kerf": "0.20"}) == data


@pytest.mark.parametrize(
    ("text", "says"), [("[machine", "is not TOML"), ("[machine]\nkerf = 0.1\nkerf = 0.2\n", "given before")]
)
def test_what_is_no_toml_is_refused(text, says):
    """With the file's name."""
    with pytest.raises(JobError, match=rf"shed\.toml.*{says}"):
        edit_text(text, VALUES, "shed.toml")


def test_what_cannot_be_edited_safely_is_left_to_the_user():
    """A line that only looks like a key, inside a text of several lines: nothing is written into it."""
    text = '[machine]\nkerf = 0.2\nnote = """\na = 1\n"""\n'
    with pytest.raises(JobError, match=r"write machine\.kerf_x = 0\.21 into it by hand"):
        edit_text(text, {"machine.kerf_x": "0.21"})


def test_the_editor_is_loaded_only_for_an_edit():
    """In a process of its own: importing the module does not load the library."""
    script = "import sys, jigmaker.job.edit; print('tomlkit' in sys.modules); jigmaker.job.edit.edit_text('[a]\\nb=1', "
    script += "{'a.b': '2'}); print('tomlkit' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "True"]
