"""What comes from a stranger cannot steer the screen, and what is no file is not waited for."""

import os
import pty
import re
import select
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from small_folder import BEARER, STRIP, edit_kit, small_folder

from jigmaker.cli.main import jigmaker
from jigmaker.cli.speech import row, say
from jigmaker.job.demo import demo_job_text
from jigmaker.making.json_text import json_text
from jigmaker.signs import spelled

STEERING = "\x1b[2J\x1b[Hproof passed"
"""Clears a screen, goes to its first line and writes there (ECMA-48: ED, CUP)."""


def run(*words: object) -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, [str(word) for word in words])


def steering_signs(text: str) -> list[str]:
    """Control signs but line ends, and what turns text around, by the Unicode character database's own classes."""
    turned = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
    return [
        sign
        for sign in text.replace("\n", "")
        if unicodedata.category(sign) in ("Cc", "Cs", "Zl", "Zp") or unicodedata.bidirectional(sign) in turned
    ]


@pytest.mark.parametrize(
    "sign", ["\n", "\x1b", "\x07", "\x7f", "\x9b", "\u202e", "\u2066", "\u2028", "\udcff", "\u200f"]
)
def test_signs_that_steer_are_spelled(sign: str, capsys) -> None:
    """As between the quotes of a JSON text; letters of every alphabet and emoji stay."""
    words = f"Böckle 漢字 \u0645 👩\u200d🔧{sign}x"
    assert spelled(words) == "Böckle 漢字 \u0645 👩\u200d🔧" + (r"\n" if sign == "\n" else f"\\u{ord(sign):04x}") + "x"
    say(words)
    say([words, *row("caution", words)])
    said = capsys.readouterr().out
    assert steering_signs(said) == []
    assert said.count("\n") == 3
    assert json_text({"name": words}).decode().count("\\") == 1


def test_a_name_too_long_for_any_screen_is_cut(capsys) -> None:
    """A name of a megabyte is no message."""
    say("x" * 1_000_000)
    assert len(capsys.readouterr().out) < 10_000


@pytest.fixture
def kit(tmp_path: Path, demo_files) -> Path:
    """A small kit on the disk, in a file of which stands a thing that no machine should get: that ends it early."""
    files = small_folder(demo_files, (STRIP, BEARER))
    name = next(name for name in files if name.endswith(".dxf"))
    files[name] = b"broken"
    edit_kit(files, lambda told: told["parts"][0].update(name=f"strip{STEERING}"))
    folder = tmp_path / f"kit{STEERING}"
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)
    return folder


NAMES = [
    f"sign{STEERING}.dxf",
    "turned\u202efdp.exe",
    "next\nproof  passed: all is well.svg",
    os.fsdecode(b"\xff\xfe.dxf"),
]


@pytest.mark.parametrize("name", NAMES, ids=["sequence", "turned", "line", "no text"])
def test_names_in_a_folder_steer_nothing(kit: Path, name: str) -> None:
    """A stray file's name is told, harmlessly, on the screen and in proof.json, which people look at with cat."""
    (kit / name).write_bytes(b"")
    result = run("prove", kit)
    assert result.exit_code == 1
    assert "is not listed" in " ".join(result.stdout.split())
    written = (kit / "proof.json").read_bytes().decode("utf-8")
    assert steering_signs(result.output) == steering_signs(written) == []
    assert not any(line.startswith("proof  passed") for line in result.output.splitlines())


def test_words_of_a_kit_steer_nothing(kit: Path) -> None:
    """A file that kit.json lists and that is not there is told, and a word that it may not have."""
    for change, words in (
        (lambda told: told["files"].update({f"x{STEERING}\u202e": ""}), r"x\u001b[2J\u001b[Hproof passed\u202e"),
        (lambda told: told["parts"][0].update(hand="\u202e"), r"\u202e"),
    ):
        files = {"kit.json": (kit / "kit.json").read_bytes()}
        edit_kit(files, change)
        (kit / "kit.json").write_bytes(files["kit.json"])
        result = run("prove", kit)
        assert result.exit_code == 1
        assert words in " ".join(result.output.split())
        assert steering_signs(result.output) == steering_signs((kit / "proof.json").read_text("utf-8")) == []


TEXTS = [
    ('["\\u001b]0;x\\u0007"]', r"\u001b]0;x\u0007"),
    ('["x\\nfake: proof passed"]', r"x\nfake: proof passed"),
    ('[trestle]\nheight = "\\u001b[2J"', "trestle.height"),
    ('[trestle]\nheight = "7\\u202e2 mm"', "trestle.height"),
]


@pytest.mark.parametrize(("text", "told"), TEXTS, ids=["key", "line", "length", "turned"])
def test_words_of_a_job_file_steer_nothing(tmp_path: Path, text: str, told: str) -> None:
    """Keys and texts are shown with their signs spelled; none starts a line of its own."""
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    result = run("angles", path)
    assert result.exit_code == 1
    assert told in result.stderr
    assert steering_signs(result.stderr) == []
    assert not any(line.startswith("fake") for line in result.stderr.splitlines())


def test_names_that_the_shell_puts_in_steer_nothing(tmp_path: Path) -> None:
    """jigmaker make *, in a folder of a stranger's."""
    result = run("make", "job.toml", f"x{STEERING}")
    assert result.exit_code == 2
    assert r"\u001b[2J" in result.stderr
    assert steering_signs(result.stderr) == []


def on_a_terminal(*words: str) -> bytes:
    """What a command writes on a terminal."""
    leader, follower = pty.openpty()
    child = subprocess.Popen(
        [sys.executable, "-m", "jigmaker", *words], stdin=follower, stdout=follower, stderr=follower
    )
    os.close(follower)
    said = b""
    while select.select([leader], [], [], 60)[0]:
        try:
            more = os.read(leader, 65536)
        except OSError:  # Linux says EIO when the last who could write has gone
            break
        if not more:
            break
        said += more
    os.close(leader)
    child.wait(60)
    return said


def test_a_terminal_gets_no_sequence_of_a_strangers(tmp_path: Path) -> None:
    """The bytes as they arrive at a terminal."""
    path = tmp_path / "job.toml"
    path.write_text('["\\u001b[2J\\u202e"]', "utf-8")
    said = on_a_terminal("angles", str(path))
    assert rb"\u001b[2J" in said
    assert b"\x1b" not in said and "\u202e".encode() not in said


COMMANDS = [["angles", "{}"], ["make", "--shop", "{}"], ["coupon", "--shop", "{}"], ["level", "--readings", "{}"]]


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
@pytest.mark.parametrize("make", [os.mkfifo, lambda path: path.symlink_to("/dev/zero")], ids=["pipe", "device"])
def test_what_is_no_plain_file_is_refused_at_once(tmp_path: Path, words: list[str], make) -> None:
    """One sentence with its name; the child is ended when it waits."""
    make(tmp_path / "it")
    command = [sys.executable, "-m", "jigmaker", *(word.format(tmp_path / "it") for word in words)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.returncode == 2
    assert re.fullmatch(r".*it cannot be read: it is a (pipe|device) and no plain file; save .*\n", done.stderr)


def test_without_any_input_there_is_nobody_to_ask(tmp_path: Path) -> None:
    """As started by cron with its input closed: the options count, and what is missing is told."""
    for words, code, told in (
        (["new", str(tmp_path / "new")], 0, ""),
        (["level"], 2, "there is no terminal to ask at"),
        (["coupon", "--shop", str(tmp_path / "new" / "shop.toml"), "--read"], 2, "there is no terminal to ask at"),
    ):
        command = ["bash", "-c", 'exec "$@" <&-', "bash", sys.executable, "-m", "jigmaker", *words]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        assert (done.returncode, told in done.stderr) == (code, True), done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", [["--version"], ["--help"], ["angles"], ["angles", "--json"]], ids=" ".join)
def test_a_full_disk_behind_the_words_is_one_sentence(words: list[str]) -> None:
    """Said once, and nothing more as the program ends."""
    with open("/dev/full", "w") as full:  # noqa: PTH123  a device
        command = [sys.executable, "-m", "jigmaker", *words]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert (done.returncode, done.stderr) == (1, "jigmaker: the system refused: No space left on device\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", [["new", "bench"], ["level", "--form", "bench/form.toml"]], ids=" ".join)
def test_what_is_written_is_told_even_where_nothing_can_be_printed(tmp_path: Path, words: list[str]) -> None:
    """The files are there, whole, and the one sentence says so and what failed."""
    with open("/dev/full", "w") as full:  # noqa: PTH123  a device
        command = [sys.executable, "-m", "jigmaker", *words]
        done = subprocess.run(command, stdout=full, stderr=subprocess.PIPE, text=True, check=False, cwd=tmp_path)
    assert done.returncode == 1
    assert re.fullmatch(
        r".* (is|are) written; what there is to say of it could not be printed: No space left on device\n", done.stderr
    )
    assert sum(path.stat().st_size for path in (tmp_path / "bench").iterdir()) > 400


@pytest.mark.parametrize("closed", ["<&-", ">&-", "2>&-", "<&- >&- 2>&-"])
def test_with_streams_closed_no_words_get_into_files(tmp_path: Path, closed: str) -> None:
    """The first file that is opened would get the number of what is closed; here all three are taken before."""
    code = (
        "import os, sys; sys.argv = ['jigmaker', 'new', 'bench']; from jigmaker import __main__ as m\n"
        "try: m.main()\n"
        "except SystemExit as end: [os.write(number, b'stray words') for number in (1, 2)]; sys.exit(end.code)"
    )
    command = ["bash", "-c", f'exec "$@" {closed}', "bash", sys.executable, "-c", code]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, check=False)
    assert done.returncode == 0
    for path in (tmp_path / "bench").iterdir():
        assert b"stray" not in path.read_bytes()


def test_a_hundred_faults_are_told_and_the_rest_counted(tmp_path: Path) -> None:
    """A file that is no job at all does not scroll everything else away."""
    path = tmp_path / "job.toml"
    path.write_bytes(demo_job_text() + b"".join(b"k%d = 1\n" % n for n in range(500)))
    lines = run("angles", path).stderr.splitlines()
    assert (len(lines), lines[-1]) == (101, "and 400 more faults")


def test_a_verdict_without_a_place_for_it_is_told_all_the_same(kit: Path, monkeypatch) -> None:
    """A folder stands where proof.json goes, as on a stick that can only be read: the verdict, its code, and a note."""
    (kit / "proof.json").mkdir()
    for passes, code in ((False, 1), (True, 0)):
        if passes:
            from jigmaker.proof import prove

            monkeypatch.setattr(prove, "prove", lambda files: prove.Report((), 2, 8, None))
        result = run("prove", kit)
        assert result.exit_code == code
        assert ("passed: 8 files" if passes else "FAILED") in result.stdout
        told = " ".join(result.stderr.split())
        assert re.search(r"note .*proof\.json cannot be written: .* The verdict stands on this screen only", told)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_can_only_be_read_gets_its_verdict(kit: Path) -> None:
    """A colleague's share."""
    kit.chmod(0o500)
    result = run("prove", kit)
    assert (result.exit_code, "FAILED" in result.stdout) == (1, True)
    assert "the right to do so is missing" in " ".join(result.stderr.split())
