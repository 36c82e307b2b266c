"""Good job and shop files, in every spelling and encoding, and what they come to."""

import re
from dataclasses import replace
from math import cos, radians, sin
from pathlib import Path

import pytest
from sample_jobs import ideal_shop_text

from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text
from jigmaker.job.job import BraceSection, HousingFit, Job, LegSection, TopBoard, lean_for
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.rules import Section
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.shop import FileChoices, HandRouter, Layer, Machine, SheetMaterial, Shop
from jigmaker.job.templates import new_job_text, new_shop_text

JOBS = sorted((Path(__file__).parent.parent / "jobs").glob("*.toml"))

DEMO_JOB = Job(
    name="Potting bench",
    unit="mm",
    trestles=6,
    height_mm=720,
    rake_deg=78,
    splay_deg=78,
    inset_mm=120,
    top=TopBoard(900, 120, 45),
    leg=LegSection(70, 32, trim_mm=4),
    brace=BraceSection(110, 18),
    housing=HousingFit(0.15),
)
DEMO_SHOP = Shop(
    sheet=SheetMaterial("birch plywood", 9.1, 600, 400, 5),
    machine=Machine("laser", 0.2, compensation="both"),
    hand_router=HandRouter(150, 17, 12, 55, 6),
    files=FileChoices(parts="both"),
    layers={
        "mark": Layer("MARK", "#a57c00", 0.1),
        "inner": Layer("INNER", "#3f7f7f", 0.1),
        "outer": Layer("OUTER", "#5f007f", 0.1),
        "bridge": Layer("BRIDGE", "#7f001f", 0.1),
        "note": Layer("NOTE", "#9f7fff", 0.1),
    },
)


def test_the_demo_is_the_demo() -> None:
    """The package's own files read as the potting bench and its shop, field by field."""
    assert read_job(demo_job_text()) == DEMO_JOB
    assert read_shop(ideal_shop_text()) == DEMO_SHOP
    assert list(read_shop(ideal_shop_text()).layers) == ["mark", "inner", "outer", "bridge", "note"]


@pytest.mark.parametrize("path", JOBS, ids=[path.stem for path in JOBS])
def test_good_jobs_read_and_are_sensible(path: Path) -> None:
    """Every good file reads, and leaves 38 mm of wood or more between housing and board end at the bottom arris."""
    job = read_job(path.read_bytes(), path.name)
    assert job.name in path.read_text("utf-8")
    rake, splay = radians(job.rake_deg), radians(job.splay_deg)
    assert job.inset_mm - job.top.thickness_mm * cos(rake) / sin(rake) * sin(splay) ** 2 >= 38


def test_there_are_good_jobs() -> None:
    """The folder of good jobs is not empty."""
    assert {"inch", "job_a", "job_b", "plumb_rake", "unequal"} <= {path.stem for path in JOBS}


def test_an_inch_job_is_in_millimetres_inside() -> None:
    """Each length of the inch file, times 25.4 by hand; a length in mm keeps its own unit."""
    job = read_job((JOBS[0].parent / "inch.toml").read_bytes())
    assert (job.unit, job.height_mm, job.inset_mm) == ("in", 723.9, 120.65)
    assert (job.top.length_mm, job.top.width_mm, job.top.thickness_mm) == (914.4, 120.65, 44.45)
    assert (job.leg.width_mm, job.leg.thickness_mm) == (69.85, 31.75)
    assert (job.brace.depth_mm, job.brace.thickness_mm, job.housing.clearance_mm) == (107.95, 18.0, 0.15)


ENCODED = {
    "byte order mark": b"\xef\xbb\xbf" + demo_job_text(),
    "windows line ends": demo_job_text().replace(b"\n", b"\r\n"),
    "both": b"\xef\xbb\xbf" + demo_job_text().replace(b"\n", b"\r\n"),
    "no last line end": demo_job_text().rstrip(),
}


@pytest.mark.parametrize("data", ENCODED.values(), ids=list(ENCODED))
def test_marks_and_line_ends_change_nothing(data: bytes) -> None:
    """A file saved by any editor as UTF-8 reads as the same job."""
    assert read_job(data) == DEMO_JOB


def test_names_in_any_alphabet() -> None:
    """A name in UTF-8 is kept as it is, accents, fractions and other alphabets included."""
    data = demo_job_text().replace(b"Potting bench", "Bänk ½ Верстак".encode())
    assert read_job(data) == replace(DEMO_JOB, name="Bänk ½ Верстак")


def test_inline_tables_and_dotted_keys_are_the_same_job() -> None:
    """However TOML is written, the job is the same."""
    text = """
    job = { name = "Potting bench", units = "mm", trestles = 6 }
    trestle.height = "72 cm"
    trestle.rake_deg = 78.0
    trestle.inset = "0.12 m"
    top = { length = 900, width = "120", thickness = 45.0 }
    leg.width = 70
    leg.thickness = 32
    leg.trim = 4
    [brace]
    depth = 110
    thickness = 18
    [housing]
    clearance = 0.15
    """
    assert read_job(text.encode()) == DEMO_JOB


@pytest.mark.parametrize(
    ("given", "rake_deg", "splay_deg", "chosen"),
    [
        ("rake_deg = 84\nsplay_deg = 72", 84, 72, False),
        ("rake_deg = 84", 84, 84, False),
        ("splay_deg = 72.5", 72.5, 72.5, False),
        ("rake_deg = 60\nsplay_deg = 90", 60, 90, False),
        ("", 76, 76, True),
    ],
)
def test_one_angle_serves_both(given: str, rake_deg: float, splay_deg: float, chosen: bool) -> None:
    """A missing angle is taken from the other; with none the height chooses, and the job says so."""
    text = demo_job_text().decode()
    kept = [line for line in text.split("\n") if not line.startswith(("rake_deg", "splay_deg"))]
    job = read_job("\n".join(kept).replace("[trestle]", f"[trestle]\n{given}").encode())
    assert (job.rake_deg, job.splay_deg, job.angle_chosen) == (rake_deg, splay_deg, chosen)


@pytest.mark.parametrize(
    ("height_mm", "reveal_mm", "one_in", "angle_deg"),
    # 1 in 4 is 75.96 degrees off the level, 1 in 5 78.69, 1 in 6 80.54 (any table of tangents), to the half degree;
    # 200 mm out is a height of 200 tan 76 = 802.2, 200 tan 78.5 = 983.1, 200 tan 80.5 = 1195.2.
    [
        (100, 0, 4, 76), (480, 0, 4, 76), (720, 0, 4, 76), (802, 0, 4, 76), (803, 0, 5, 78.5), (900, 0, 5, 78.5),
        (982, 0, 5, 78.5), (984, 0, 6, 80.5), (1195, 0, 6, 80.5), (3000, 0, 6, 80.5),
        (760, 10, 4, 76), (770, 10, 5, 78.5),
    ],
)  # fmt: skip
def test_the_lean_that_goes_with_a_height(height_mm: float, reveal_mm: float, one_in: int, angle_deg: float) -> None:
    """The first of 1 in 4, 5 and 6 that keeps a foot within 200 mm of its head, a reveal counted in."""
    assert lean_for(height_mm, reveal_mm) == (one_in, angle_deg)


@pytest.mark.parametrize(("height_mm", "angle_deg"), [(900, 80), (600, 75)])
def test_the_lean_comes_near_what_the_trade_says(height_mm: float, angle_deg: float) -> None:
    """About 80 degrees at 900 mm and 75 at 600: common practice, no source."""
    assert abs(lean_for(height_mm)[1] - angle_deg) <= 1.5


@pytest.mark.parametrize(
    ("change", "place", "value"),
    [
        (("kerf = 0.20", "kerf = '0.2 mm'"), "machine", Machine("laser", 0.2, compensation="both")),
        (
            ('kind = "laser"\nkerf = 0.20', 'kind = "cnc"\ncutter = "1/8 in"'),
            "machine",
            Machine("cnc", 3.175, compensation="both"),
        ),
        (("bush_length = 6", "bush_length = 6\nbush_bore = 14.5"), "hand_router", HandRouter(150, 17, 12, 55, 6, 14.5)),
        (('dxf = "R2000"', 'dxf = "R12"'), "files", FileChoices("R12", parts="both")),
    ],
)
def test_shops_of_other_kinds(change: tuple[str, str], place: str, value: object) -> None:
    """Units inside a value, a CNC machine, keys that may be left out, R12: each lands in its record."""
    text = ideal_shop_text().decode()
    assert change[0] in text
    assert getattr(read_shop(text.replace(*change).encode()), place) == value


def test_a_bearing_guided_cutter_needs_no_bush_length() -> None:
    """Bush and cutter of one size, even in two units, mean a bearing, and then there is no bush to measure."""
    text = ideal_shop_text().decode().replace("bush_length = 6 ", "# ").replace("bush = 17 ", "bush = '1/2 in' ")
    router = read_shop(text.replace("\ncutter = 12", "\ncutter = 12.7").encode()).hand_router
    assert router.is_bearing_guided
    assert router.guide_offset_mm == 0


def test_an_inch_shop() -> None:
    """Bare numbers of a shop are in its [files] units, wherever that section stands."""
    metric = [
        ("9.1", "'9.1 mm'"),
        ("= 0.20", "= '0.20 mm'"),
        ("margin = 5", "margin = 0.25"),
        ("length = 600", "length = 24"),
    ]
    text = ideal_shop_text().decode().replace('units = "mm"', 'units = "in"')
    for old, new in [*metric, ("width = 400", "width = 16"), ("joint_clearance = 0.1", "joint_clearance = 0.004")]:
        text = text.replace(old, new)
    for old, new in [("accuracy = 0.1", "accuracy = 0.004"), ("base = 150", "base = 6"), ("bush = 17", "bush = 0.75")]:
        text = text.replace(old, new)
    text = text.replace("bush_length = 6", "bush_length = 0.25").replace("cutter = 12", "cutter = 0.5")
    shop = read_shop(text.replace("reach = 55", "reach = 2.25").encode())
    assert shop.sheet == SheetMaterial("birch plywood", 9.1, 609.6, 406.4, 6.35, 0, 0.1016)
    assert shop.hand_router == HandRouter(152.4, 19.05, 12.7, 57.15, 6.35)
    assert shop.files.unit == "in"


def test_layers_are_the_users_own() -> None:
    """What a layer's section says replaces the default, key by key, and colours are told in small letters."""
    text = (
        ideal_shop_text().decode()
        + '\n[layers.mark]\nname = "Score-1"\ncolour = "#ABCDEF"\n[layers.note]\nwrite = false\n'
    )
    layers = read_shop(text.encode()).layers
    assert layers["mark"] == Layer("Score-1", "#abcdef", 0.1)
    assert layers["note"] == Layer("NOTE", "#9f7fff", 0.1, write=False)
    assert layers["outer"] == DEMO_SHOP.layers["outer"]


@pytest.mark.parametrize(("text", "sections"), [(new_job_text(), JOB), (new_shop_text(), SHOP)], ids=["job", "shop"])
def test_new_files_have_every_key_with_its_comment(text: str, sections: tuple[Section, ...]) -> None:
    """A new file names every section and key of the rules, each key with a comment on its line."""
    lines = text.split("\n")
    for section in sections:
        assert (f"# [[{section.name}]]" if section.is_optional else f"[{section.name}]") in lines
    keys = [rule.key for section in sections for rule in section.rules]
    set_here = [line for line in lines if line.removeprefix("# ").partition(" = ")[0] in keys]
    assert [line.removeprefix("# ").partition(" = ")[0] for line in set_here] == keys
    assert all("# " in line.partition(" = ")[2] for line in set_here)
    assert max(map(len, lines)) <= 120


def test_new_files_read_as_they_stand() -> None:
    """New files are accepted; the keys that are commented out are accepted too when a shop has them."""
    job, shop = read_job(new_job_text().encode()), read_shop(new_shop_text().encode())
    assert (job.name, job.angle_chosen, shop.machine.kind) == ("My trestles", False, "laser")
    fuller = (
        new_shop_text().replace("# bush_bore", "bush_bore").replace("# blade", "blade").replace("# bearing", "bearing")
    )
    router = read_shop(fuller.encode()).hand_router
    assert (router.bush_bore_mm, router.blade_mm, router.bearing_height_mm) == (15, 40, 6)
    cnc = (
        new_shop_text()
        .replace('kind = "laser"', 'kind = "cnc"')
        .replace("kerf =", "# kerf =")
        .replace("# cutter", "cutter")
    )
    assert read_shop(cnc.encode()).machine == replace(shop.machine, kind="cnc", tool_mm=6)


@pytest.mark.parametrize(
    ("scale", "do"), [("99.5", "; for 99.5 mm measured on 100 mm write 0.995$"), ("1.2", "1.02$"), ("0", "1.02$")]
)
def test_a_bars_length_in_place_of_its_ratio_is_told(scale: str, do: str) -> None:
    """A bar of 100 mm that measures 99.5 mm: 99.5 / 100 belongs in the file."""
    text = ideal_shop_text() + f"\n[paper]\nscale_x = {scale}\n".encode()
    with pytest.raises(JobError, match=rf"paper\.scale_x is {scale}, must be 0\.98 to 1\.02") as caught:
        read_shop(text)
    assert re.search(do, caught.value.faults[0])


def test_a_crooked_machine() -> None:
    """What a coupon told of a machine, in inches where the shop is; left out, the machine is ideal."""
    lines = "kerf_x = 0.2\nkerf_y = '0.01 in'\nscale_x = 1.002\nscale_y = 1\nskew_deg = -0.3\n"
    text = (
        ideal_shop_text()
        .decode()
        .replace("kerf = 0.20", "kerf = 0.227")
        .replace("[hand_router]", f"{lines}[hand_router]")
    )
    machine = read_shop(text.encode()).machine
    assert (machine.kerf_x_mm, machine.kerf_y_mm, machine.cut_width_mm) == (0.2, 0.254, (0.2, 0.254))
    assert (machine.scale_x, machine.scale_y, machine.skew_deg) == (1.002, 1.0, -0.3)
    assert (machine.is_directed, machine.is_corrected) == (True, True)
    ideal = read_shop(ideal_shop_text()).machine
    assert (ideal.is_directed, ideal.is_corrected, ideal.cut_width_mm) == (False, False, (0.2, 0.2))


@pytest.mark.parametrize(("lines", "clearance_mm"), [("", 0.15), ('joint = "dry"', 0.5), ('joint = "glued"', 0.15)])
def test_the_joint_picks_a_clearance(lines: str, clearance_mm: float) -> None:
    """When the file gives none; one that is given stays."""
    text = demo_job_text().decode()
    bare = text[: text.index("[housing]")] + "[housing]\n" + lines
    assert read_job(bare.encode()).housing.clearance_mm == clearance_mm
    assert read_job(f"{bare}\nclearance = 0.4".encode()).housing.clearance_mm == 0.4


@pytest.mark.parametrize(
    ("kerf_x", "kerf_y", "kerf", "averaged"),
    [
        (0.18, 0.22, 0.2, True),  # each line 0.01 mm beside where the mean puts it
        (0.179, 0.221, 0.2, False),  # 0.0105 mm
        (0.2, 0.23, 0.2, False),  # kerf is not the mean: 0.015 mm
        (0.2, 0.2, 0.2, False),  # there is nothing to average
        (None, None, 0.2, False),
    ],
)
def test_kerfs_that_hardly_differ_are_one(kerf_x, kerf_y, kerf, averaged) -> None:
    """No line may lie more than 0.01 mm beside where its own kerf would put it."""
    machine = Machine("laser", kerf, kerf_x_mm=kerf_x, kerf_y_mm=kerf_y)
    assert machine.is_averaged == averaged
    assert machine.cut_width_mm == ((kerf, kerf) if averaged or kerf_x is None else (kerf_x, kerf_y))
