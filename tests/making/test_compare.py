"""What of an old kit serves for another job, by its own files: a table of jobs, and a kit of the first version."""

import io
import json
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from kit_cache import made
from sample_jobs import DEMO, SAW_AND_CHISEL

from jigmaker.cli.compare import compared_lines
from jigmaker.cli.main import jigmaker
from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_shop
from jigmaker.making.compare import compare
from jigmaker.making.folder import write_folder

LEG, HOUSING = DEMO.leg, DEMO.housing
BY_HAND = f'{SAW_AND_CHISEL}[leg_saw]\nkind = "hand"\n'
TIMBER = ("projection gauge", "leg gauge", "depth gauge")

# job, does the jig serve, what is set anew (mm), what is cut again, and a reason by which it does not serve. A thicker
# leg wants a deeper housing, and the router's cutter out by as much; a larger inset a piece between board and stop; a
# narrower leg as much tape on the far wall. A smaller inset would want the stop inside the board.
ROWS = {
    "another height": (replace(DEMO, height_mm=600), {}, (), ""),
    "thicker legs": (replace(DEMO, leg=replace(LEG, thickness_mm=34.0)), {"projection": 50.1}, TIMBER, ""),
    "larger inset, narrower legs": (
        replace(DEMO, inset_mm=130, leg=replace(LEG, width_mm=69.6)),
        {"piece between board and stop": 10.0, "tape on the far wall": 0.4},
        ("leg gauge", "housing plug"),
        "",
    ),
    "wider legs": (
        replace(DEMO, leg=replace(LEG, width_mm=72.0)),
        {},
        ("plate", "leg gauge", "housing plug"),
        "plate: the opening off the near wall is 75.1500 mm, must be 77.1500 mm",
    ),
}


@pytest.fixture(scope="module")
def kit(quick_shop):
    """The demo's kit without scored marks."""
    return made(demo_job_text(), quick_shop.encode())


@pytest.mark.parametrize(("job", "changes", "again", "reason"), ROWS.values(), ids=ROWS)
def test_what_serves_follows_from_what_the_files_do(kit, job, changes, again, reason):
    """Housings routed with the settings of today leave half the clearance at each wall."""
    found = compare(kit, job)
    assert {change.name: pytest.approx(change.now_mm, abs=0.001) for change in found.changes} == changes
    assert tuple(name for name, _ in found.again) == again
    assert [each.says for each in found.why_not][:1] == ([reason] if reason else [])
    assert found.made_for.height_mm == 720
    assert (found.numbers[0] == found.numbers[1]) is (job.height_mm == 600)
    assert found.numbers[0] == json.loads(kit["kit.json"])["kit_number"]
    if not reason:
        gap = f"{HOUSING.clearance_mm / 2} mm at each wall"
        assert any(gap in line for line in compared_lines(found, job, [], "old"))
        near = [each.near_gap_mm for each in found.figures.housings]
        assert near == pytest.approx([HOUSING.clearance_mm / 2] * 4, abs=0.002)


LEG_BOX = {f"leg box {each}" for each in ("near wall", "far wall", "bottom", "strip")}

TEMPLATE = {f"drilling template {each}" for each in ("plate", "head strip", "side strip")}


def test_guides_are_compared_as_the_jig_is(quick_shop):
    """Their kerfs are as deep as the leg is let in: a thicker leg wants other cheeks. A narrower one is helped with
    tape on a cheek; another saw wants guides of its own.
    """
    by_hand = f"{quick_shop}\n{BY_HAND}".encode()
    tools = read_shop(by_hand)
    old = made(demo_job_text(), by_hand)
    same = compare(old, replace(DEMO, height_mm=600), tools)
    assert same.why_not == () and same.again == () and not any("guide" in name for name in same.serve)
    assert same.numbers[0] == same.numbers[1] and set(same.serve) >= LEG_BOX | TEMPLATE
    taped = compare(old, replace(DEMO, leg=replace(LEG, width_mm=69.6)))
    assert [(each.name, round(each.now_mm, 3)) for each in taped.changes] == [("tape on the far cheek", 0.4)]
    # The leg lies against both strips; the walls stand as far off.
    assert LEG_BOX & dict(taped.again).keys() == {"leg box bottom"} and taped.why_not == ()
    said = " ".join(compared_lines(taped, replace(DEMO, leg=replace(LEG, width_mm=69.6)), [], "old"))
    assert "the guides      serve: housings sawn with their files have a gap of 0.075 mm at each wall" in said
    thicker = compare(old, replace(DEMO, leg=replace(LEG, thickness_mm=34.0)))
    assert thicker.why_not and {"saw guide near cheek", "paring guide rib"} <= dict(thicker.again).keys()
    assert "bevel plate" in thicker.serve
    other_saw = compare(old, DEMO, replace(tools, hand_saw=replace(tools.hand_saw, plate_mm=0.7)))
    assert other_saw.why_not and "saw guide spacer" in dict(other_saw.again)
    # Laid against a head that is sawn with a horn, the template's holes would lie that much higher.
    horned = replace(DEMO, leg=replace(LEG, horn_mm=2.0))
    wider_cut = compare(old, horned, replace(tools, hand_saw=replace(tools.hand_saw, kerf_mm=1.2)))
    assert TEMPLATE & dict(wider_cut.again).keys() == {"drilling template plate"}
    assert LEG_BOX & dict(wider_cut.again).keys() == {"leg box near wall", "leg box far wall"}


def test_of_both_ways_each_is_judged_by_itself(quick_shop):
    """A thicker leg wants the router's cutter out by as much, and other guides: the jig serves, they do not."""
    shop = (quick_shop + BY_HAND.replace("saw and chisel", "both").partition("[leg_saw]")[0]).encode()
    job = replace(DEMO, leg=replace(LEG, thickness_mm=34.0))
    found = compare(made(demo_job_text(), shop), job)
    assert found.why_not and found.why_not == found.guides_not
    again = {name for name, _ in found.again}
    assert "plate" not in again and "saw guide near cheek" in again
    lines = "\n".join(compared_lines(found, job, [], "kit"))
    assert re.search(r"^the jig +serves\.$", lines, re.M) and re.search(
        r"^the guides +cannot, as they are:", lines, re.M
    )
    assert "projection: 50.1 mm now" in lines


def test_a_kit_of_the_first_version_is_read_too(old_file):
    """Its jig is that of today; one bevel plate stands where it had two, and a depth gauge is new."""
    with zipfile.ZipFile(io.BytesIO(old_file("kit_1.zip"))) as packed:
        files = {name: packed.read(name) for name in packed.namelist() if not name.endswith("/")}
    found = compare(files, replace(DEMO, height_mm=650))
    assert found.why_not == ()
    assert "depth gauge" in dict(found.again)
    assert "projection gauge" in found.serve
    assert re.fullmatch("[ACFHJKR37]{3}-[ACFHJKR37]{3}", found.numbers[0])  # worked out: it bears none


def test_what_is_no_kit_is_refused(kit):
    """And a job that cannot be is told as make tells it."""
    with pytest.raises(JobError, match=r"kit\.json"):
        compare({}, DEMO)
    with pytest.raises(JobError, match="inset"):
        compare(kit, replace(DEMO, inset_mm=440))


def test_the_command_tells_what_to_type(kit, tmp_path):
    """Exit code 0 where the jig serves, 1 where it cannot."""
    write_folder(kit, tmp_path / "old")
    text = demo_job_text().decode()
    (tmp_path / "job.toml").write_text(text.replace("thickness = 32 ", "thickness = 34 "), "utf-8")
    done = CliRunner().invoke(jigmaker, ["compare", str(tmp_path / "old"), str(tmp_path / "job.toml")])
    said = " ".join(done.output.split())
    assert done.exit_code == 0, done.output
    assert "serves: housings routed with its files have a gap of 0.075 mm at each wall" in said
    assert re.search("kit number ([A-Z37-]{7}); of a kit for today's job (?!\\1)[A-Z37-]{7}[.]", said)
    assert "set projection: 50.1 mm now, was 48.1 mm." in said
    assert f"{Path('old') / 'shop.toml'} --only projection-gauge --only leg-gauge --only depth-gauge" in said
    (tmp_path / "job.toml").write_text(text.replace("width = 70 ", "width = 72 "), "utf-8")
    done = CliRunner().invoke(jigmaker, ["compare", str(tmp_path / "old"), str(tmp_path / "job.toml")])
    assert done.exit_code == 1
    assert "the jig cannot, as it is: plate: the opening off the near wall" in " ".join(done.output.split())
