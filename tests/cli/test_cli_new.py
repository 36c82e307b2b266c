"""jigmaker new: what it suggests and says, what it asks, how it refuses; nothing is written over."""

import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jigmaker.cli import new as cli_new
from jigmaker.cli.main import jigmaker
from jigmaker.cli.new_answers import QUESTIONS
from jigmaker.cli.speech import WIDTH
from jigmaker.findings import errors_in
from jigmaker.job.job import Size
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.templates import Filled, new_job_text, new_shop_text
from jigmaker.making.job_check import check_job
from jigmaker.suggest.uses import USES

ROOT = Path(__file__).parent.parent.parent


def run(*words: object, said: str = "") -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, [str(word) for word in words], input=said)


@pytest.fixture
def shed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder; we stand in it."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def terminal(shed: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same, with somebody at the keyboard."""
    monkeypatch.setattr(cli_new, "is_terminal", lambda: True)
    return shed


def test_without_terminal_and_options_it_writes_an_example(shed: Path) -> None:
    """The commented files as ever, and not a question."""
    done = run("new", "bench")
    assert done.exit_code == 0
    assert (shed / "bench/job.toml").read_text("utf-8") == new_job_text({"job.name": Filled("Bench")})
    assert (shed / "bench/shop.toml").read_text("utf-8") == new_shop_text()
    assert "?" not in done.output


def test_every_length_is_told_in_both_units_before_files_are_written(shed: Path) -> None:
    """Those of the file, and those that were told; sums by hand. Folded to the terminal, every reason in full."""
    words = ["--for", "table", "--top-thickness", "3/4 in", "--boards", "38x89, 19x140", "--saw", "550"]
    said = run("new", "bench", *words).output
    table, _, rest = said.partition("\n\n")
    assert rest.startswith("Wrote bench/job.toml and bench/shop.toml.")
    lines = {re.split(r"  +", line)[0]: re.split(r"  +", line)[1:3] for line in table.split("\n") if line[:1].strip()}
    assert lines["laid on top"] == ["19.05 mm", '3/4"']
    assert lines["height"] == ["721 mm", '28 25/64"']  # 740 less 19.05, to the mm
    assert lines["saw's blade"] == ["550 mm", '21 21/32"']
    assert lines["top, width"] == ["89 mm", '3 1/2"']
    assert lines["brace, depth"] == ["140 mm", '5 33/64"']
    assert lines["clearance"] == ["0.15 mm", '0.006"']
    assert max(map(len, said.split("\n"))) <= WIDTH
    job = read_job((shed / "bench/job.toml").read_bytes())
    assert (job.height_mm, job.leg.width_mm, job.brace.depth_mm) == (721, 89, 140)


def test_an_inch_user_gets_inch_files(shed: Path) -> None:
    """Both of them, and paper in a size of inches."""
    assert run("new", "bench", "--units", "in", "--for", "standing", "--boards", "2x4").exit_code == 0
    job, shop = read_job((shed / "bench/job.toml").read_bytes()), read_shop((shed / "bench/shop.toml").read_bytes())
    assert (job.unit, shop.files.unit, shop.paper.size) == ("in", "in", "Letter")
    assert job.height_mm == 36 * 25.4
    assert "'3 1/2'" in (shed / "bench/job.toml").read_text("utf-8")


def test_the_shop_in_inches_is_the_shop_in_mm() -> None:
    """The same keys, and no size more than a twelfth off."""
    inch, metric = read_shop(new_shop_text("in").encode()), read_shop(new_shop_text().encode())
    for record in ("sheet", "hand_router", "machine"):
        for name in getattr(metric, record).__slots__:
            size, other = getattr(getattr(metric, record), name), getattr(getattr(inch, record), name)
            if isinstance(size, float) and name.endswith("_mm"):
                assert other == pytest.approx(size, rel=1 / 12, abs=0.01) or name == "margin_mm"
    keys = [re.findall(r"^(?:# )?(\w+) = ", new_shop_text(unit), re.MULTILINE) for unit in ("mm", "in")]
    assert keys[0] == keys[1]


def test_what_to_mind_is_told_with_its_line(shed: Path) -> None:
    """The saw that hits the floor, at the line of the height."""
    done = run("new", "bench", "--for", "sawing", "--saw", "28 in")
    assert done.exit_code == 0
    said = re.sub(r"\s+", " ", done.output)
    assert re.search(
        r"caution bench/job\.toml line \d+: trestle\.height: a hand saw of 711\.2 mm held at 60 to 70", said
    )
    line = int(re.search(r"line (\d+): trestle\.height", said)[1])
    assert (shed / "bench/job.toml").read_text("utf-8").split("\n")[line - 1].startswith("height = 480")


def test_backwards_from_an_old_trestle(shed: Path) -> None:
    """Slopes and a leg's piece: 4 in 11 is 70.02 degrees, 1 in 4 is 75.96; the file says where they are from."""
    run("new", "bench", "--leg-length", "600", "--slope-along", "4 in 11", "--slope-across", "1:4", "--boards", "2x4")
    text = (shed / "bench/job.toml").read_text("utf-8")
    job = read_job(text.encode())
    assert (round(job.rake_deg, 2), round(job.splay_deg, 2)) == (70.02, 75.96)
    assert "# 4 in 11, out and up.\nrake_deg = 70.016893" in text
    assert "legs cut from pieces of 600 mm" in text


SHOPS = [
    (("--cut", "laser 0.15"), {"kind": "laser", "tool_mm": 0.15, "marking": "score", "compensation": "included"}),
    (("--cut", "cnc 6"), {"kind": "cnc", "tool_mm": 6.0, "marking": "short", "compensation": "left out", "bridges": 3}),
    (("--cut", "CNC 1/8 in"), {"kind": "cnc", "tool_mm": 3.175}),
    (("--cut", "paper"), {"kind": "paper", "tool_mm": 0.0, "accuracy_mm": 0.5, "bridges": 0}),
    (("--sheet", "1220 x 610 x 12.2"), {"length_mm": 1220.0, "width_mm": 610.0, "thickness_mm": 12.2}),
    (("--router", "cutter 12.7, base 160"), {"cutter_mm": 12.7, "base_mm": 160.0, "bush_mm": 17.0}),
]


@pytest.mark.parametrize(("words", "told"), SHOPS, ids=[" ".join(words) for words, _ in SHOPS])
def test_the_shop_is_written_as_told(shed: Path, words: tuple[str, str], told: dict[str, object]) -> None:
    """Sheet, cut and router come out of shop.toml again; what was not told stays an example."""
    done = run("new", "old-barn_door", "--for", "general", *words)
    assert done.exit_code == 0, done.output
    shop = read_shop((shed / "old-barn_door/shop.toml").read_bytes())
    records = (shop.machine, shop.sheet, shop.hand_router)
    found = {key: next(getattr(each, key) for each in records if hasattr(each, key)) for key in told}
    assert found == told
    assert read_job((shed / "old-barn_door/job.toml").read_bytes()).name == "Old barn door"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_shop_without_a_router_is_written_for_saw_and_chisel(shed: Path, units: str) -> None:
    """Whole as it stands: its tools are there to be measured, the router's keys are shown; make may follow at once."""
    done = run("new", "shed", "--for", "sawing", "--units", units, "--cut", "paper", "--router", "None")
    assert done.exit_code == 0, done.output
    assert "Measure your timber, your sheet and your saw and chisel, and change" in done.output
    shop = read_shop((shed / "shed/shop.toml").read_bytes())
    assert (shop.hand_router, shop.housing_work.by, shop.routs_housings) == (None, "saw and chisel", False)
    saw, chisel = shop.hand_saw, shop.chisel
    assert saw is not None and chisel is not None
    inch = 25.4 if units == "in" else None
    assert saw.depth_mm == pytest.approx(3 * inch if inch else 75) and chisel.blade_mm == pytest.approx(
        5.5 * inch if inch else 140
    )
    text = (shed / "shed/shop.toml").read_text("utf-8")
    assert "\n# [hand_router]\n# base = " in text and "\n[hand_router]" not in text
    errors = errors_in(check_job(read_job((shed / "shed/job.toml").read_bytes()), shop))
    assert errors == []


REFUSED = [
    (
        ["--for", "table", "--cut", "plasma 2"],
        '--cut: "plasma 2" is no machine with its cut; write laser 0.2, cnc 6, or paper',
    ),
    (["--for", "table", "--cut", "laser 3"], "--cut: machine.kerf is 3, must be 0.01 to 1 mm"),
    (["--for", "table", "--sheet", "600x400"], "--sheet: .*length, width and thickness, such as 600x400x9.1"),
    (["--for", "table", "--sheet", "600x400x90"], "--sheet: sheet.thickness is .*must be 2 to 30 mm"),
    (["--for", "table", "--router", "axle 3"], '--router: "axle 3" is no size of a hand router'),
    (["--for", "saw"], '--for: "saw" is no use that is known; "sawing" may be meant'),
    (["--for", "table", "--boards", "2x7"], '--boards: no list has a board "2x7"; the nearest names are 2x8'),
    (["--for", "table", "--saw", "nan"], '--saw: is not a clear length: "nan" is not a length'),
    (["--for", "table", "--saw", "-5"], "--saw: is -5 mm, must be 200 to 1000 mm"),
    (["--for", "table", "--saw", "26"], '--saw: is 26 mm, must be 200 to 1000 mm; write "26 in" if that is meant'),
    (["--height", "inf"], "--height: is not a clear length"),
    (["--height", "28,5", "--units", "in"], 'has a decimal comma; write "28.5"'),
    (["--height", "11/4", "--units", "in"], '--height: .*write "2 3/4 in" or "1 1/4 in"'),
    (["--height", "1e9"], "--height: is not a clear length"),
    (["--body", "elbow=42"], '--body: elbow is 42 mm, must be 850 to 1300 mm; write "42 in" if that is meant'),
    (["--body", "knee=490"], '--body: "knee" is no body measure that is known; "kneecap" may be meant'),
    (["--body", "490"], '--body: "490" is no body measure; write its name and height, such as kneecap=490'),
    (["--for", "table", "--rake", "12"], "--rake: is 12, must be 60 to 90 degrees; .*write 78, not 12"),
    (["--for", "table", "--splay", "nan"], '--splay: is "nan", must be a number of degrees'),
    (["--for", "table", "--slope-along", "11 in 4"], "--slope-along: .*swapped: 4 in 11 is 70.02 degrees"),
    (["--for", "table", "--trestles", "0"], "--trestles: is 0, must be a whole number from 1 to 1000"),
    (["--for", "table", "--name", " "], "--name: is empty"),
    (["--for", "table", "--units", "cm"], '--units: is "cm", must be mm or in'),
    (["--for", "table", "--height", "700", "--body", "kneecap=490"], "--height and --body decide the same thing"),
    (["--for", "table", "--rake", "78", "--slope-along", "1:4"], "--rake and --slope-along decide the same thing"),
    (["--units", "in"], "say what it is for with --for .* or give --body, --height or --leg-length"),
    (["--boards", "2x4"], "say what it is for with --for"),
]


@pytest.mark.parametrize(("words", "match"), REFUSED, ids=lambda each: " ".join(each) if isinstance(each, list) else "")
def test_what_makes_no_sense_is_refused_by_its_option(shed: Path, words: list[str], match: str) -> None:
    """One clear sentence, exit code 2, nothing written."""
    done = run("new", "bench", *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert re.search(match, done.stderr)
    assert "Traceback" not in done.output
    assert list(shed.iterdir()) == []


def test_all_faults_are_told_at_once(shed: Path) -> None:
    """One line each."""
    done = run("new", "bench", "--for", "x", "--boards", "oak", "--saw", "5", "--splay", "9", "--trestles", "many")
    options = [line.partition(":")[0] for line in done.stderr.splitlines()]
    assert options == ["--for", "--boards", "--saw", "--splay", "--trestles"]


NO_TRESTLE = [
    (["--for", "table", "--boards", "100x100"], "no trestle comes out of these boards as asked:\ntop.width: "),
    (["--for", "table", "--foot-spread-across", "3000"], "a foot spread of 3000 mm across the board would make"),
]


@pytest.mark.parametrize(("words", "match"), NO_TRESTLE)
def test_what_no_trestle_comes_out_of_ends_in_one(shed: Path, words: list[str], match: str) -> None:
    """The options make sense, the trestle does not; nothing is written."""
    done = run("new", "bench", *words)
    assert done.exit_code == 1
    assert re.search(match, done.stderr)
    assert list(shed.iterdir()) == []


def test_other_heights_share_the_angles_and_the_one_that_stands_badly_is_named(shed: Path) -> None:
    """1 in 4 puts a foot of 762 out 190 mm; of 1000 that is 249, over the 200 that are stumbled over. The jig has one
    lean, so the size is told and not another angle. Trim is what the highest needs.
    """
    done = run("new", "bench", "--for", "general", "--height", "762", "--other-heights", "520, 1 m")
    assert done.exit_code == 0, done.output
    assert "size 1000 mm: a foot stands 249.33 mm out both ways" in " ".join(done.stdout.split())
    assert "size 520 mm:" not in done.stdout and done.stdout.count("another height") == 2
    job = read_job((shed / "bench/job.toml").read_bytes())
    alone = run("new", "alone", "--for", "general", "--height", "762")
    assert alone.exit_code == 0
    plain = read_job((shed / "alone/job.toml").read_bytes())
    assert [size.height_mm for size in job.sizes] == [762.0, 520.0, 1000.0]
    assert (job.rake_deg, job.splay_deg, job.inset_mm, job.top) == (
        *(plain.rake_deg, plain.splay_deg, plain.inset_mm, plain.top),
    )
    assert job.leg.trim_mm >= plain.leg.trim_mm


OTHER_HEIGHTS = {
    "520; 600": '--other-heights: one height is not a clear length: "520; 600" is not a length',
    "50": "--other-heights: one height is 50 mm, must be 100 to 3000 mm",
    "520, 520": "--other-heights: names a height twice; each size stands once",
    "520, 762": "--other-heights: 762 mm is the height that the first size has already; leave it out",
    ", ".join(str(400 + i) for i in range(12)): "--other-heights: names 12 heights, must be 11 or fewer",
}


@pytest.mark.parametrize("words", OTHER_HEIGHTS)
def test_wrong_other_heights_are_told_by_their_option(shed: Path, words: str) -> None:
    """One sentence, nothing written."""
    done = run("new", "bench", "--height", "762", "--other-heights", words)
    assert (done.exit_code, list(shed.iterdir())) == (2, [])
    assert done.stderr.startswith(OTHER_HEIGHTS[words]), done.stderr


def test_it_asks_what_no_option_tells(terminal: Path) -> None:
    """Wrong answers are refused in a sentence and asked for again; Enter takes what stands in brackets."""
    answers = ["in", "saw", "sawing", "kneecap=490", "kneecap=19 1/4", "22", "2x7", "2x4, 1x6", "two", "3"]
    answers += ["26; 21", "26, 21 1/2", 'My "A"', "cnc", "cnc 1/4", "", "base 7, bush 3/4, cutter 1/2"]
    done = run("new", "bench", said="\n".join(answers) + "\n")
    assert done.exit_code == 0, done.output
    for words in (
        '"sawing" may be meant',
        'write "490 mm" if that is meant',
        "nearest names are 2x8",
        "whole number",
        "write them with commas between",
        '"cnc" is no',
    ):
        assert done.output.count(words) == 1
    job = read_job((terminal / "bench/job.toml").read_bytes())
    assert (job.name, job.trestles, job.height_mm) == ('My "A"', 3, 19.25 * 25.4)
    assert job.further_sizes == (Size(3, 660.4, job.top.length_mm), Size(3, 546.1, job.top.length_mm))
    shop = read_shop((terminal / "bench/shop.toml").read_bytes())
    assert (shop.machine.kind, shop.machine.tool_mm, shop.hand_router.bush_mm) == ("cnc", 6.35, 19.05)


def test_options_are_not_asked_for_again(terminal: Path) -> None:
    """The rest is Enter: a table's top of usual thickness, the usual height, boards of usual sizes, two of them."""
    done = run("new", "bench", "--for", "table", "--units", "mm", "--name", "Hall", said="\n" * 8)
    assert done.exit_code == 0, done.output
    assert "What is it for" not in done.output and "[18 mm]" in done.output
    job = read_job((terminal / "bench/job.toml").read_bytes())
    assert (job.name, job.trestles, job.height_mm) == ("Hall", 2, 722)


def test_faults_of_options_are_told_before_any_question(terminal: Path) -> None:
    """Nobody answers seven questions to learn that the first word was wrong."""
    done = run("new", "bench", "--saw", "5")
    assert (done.exit_code, done.stdout) == (2, "")


def test_whoever_stops_answering_gets_no_file(terminal: Path) -> None:
    """The end of what is typed, after two answers."""
    done = run("new", "bench", said="mm\ntable\n")
    assert done.exit_code == 1
    assert "Traceback" not in done.output
    assert list(terminal.iterdir()) == []


def test_a_file_that_is_there_is_told_before_any_question(terminal: Path) -> None:
    """And stays as it is."""
    (terminal / "shop.toml").write_text("mine", "utf-8")
    done = run("new", ".", "--for", "table")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "shop.toml is there already and is left as it is" in done.stderr
    assert [path.read_text("utf-8") for path in terminal.iterdir()] == ["mine"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_takes_no_files_is_told(shed: Path) -> None:
    """A sentence, and nothing half made."""
    shed.chmod(0o555)
    done = run("new", "bench", "--for", "table")
    shed.chmod(0o755)
    assert done.exit_code == 1
    assert "cannot be written: the right to do so is missing" in done.stderr


def test_help_names_every_use_and_the_guide_every_band() -> None:
    """The guide's table is that of the uses, row by row, in both units."""
    help_text = re.sub(r"\s+", " ", run("new", "--help").output)
    guide = (ROOT / "jigmaker" / "explain" / "heights.md").read_text("utf-8")
    assert all(f"--{answer.option}" in help_text for answer in QUESTIONS)
    for use in USES:
        assert use.key in help_text
        assert f"| `{use.key}` | {use.words} | {use.band('mm')} | {use.band('in')} |" in guide
