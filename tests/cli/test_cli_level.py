"""jigmaker level: options, questions and forms in; tables, cautions and refusals out, as a new user meets them."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from pdf_pages import read_pdf
from sample_jobs import ideal_shop_text

from jigmaker.cli import level_answers
from jigmaker.cli.main import jigmaker
from jigmaker.cli.speech import WIDTH
from jigmaker.job.demo import demo_job_text

SHIMS = ["--under-near-r", "0", "--under-near-l", "3.5", "--under-far-r", "0.8", "--under-far-l", "1.2"]
LEVELLED = ["--top", "735.4", *SHIMS]
BATTENS = ["--over-near-r", "736", "--over-near-l", "735", "--over-far-r", "734", "--over-far-l", "735"]


def run(*words: object, said: str = "") -> Result:
    """One command line; never a traceback, never a line too long for the screen."""
    result = CliRunner().invoke(jigmaker, ["level", *(str(word) for word in words)], input=said)
    assert "Traceback" not in result.output and "fault in jigmaker" not in result.output
    return result


@pytest.fixture
def at_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody can be asked."""
    monkeypatch.setattr(level_answers, "is_terminal", lambda: True)


def test_levelled_first_it_tells_shims_block_losses_and_height() -> None:
    """Worked by hand: 735.4 on these shims, the demo's 720 wanted, two sheets of 9.1."""
    result = run(*LEVELLED)
    assert result.exit_code == 0, result.output
    for row in (
        r"near R +near L +far R +far L",
        r"top over the foot's lowest point +735\.4 mm +731\.9 mm +734\.6 mm +734\.2 mm",
        r"put under it +2\.8 mm +6\.3 mm +3\.6 mm +4\.0 mm",
        r"it loses, upright +15\.4 mm +11\.9 mm +14\.6 mm +14\.2 mm",
        r"it loses, along all four arrises +16\.1 mm +12\.4 mm +15\.2 mm +14\.8 mm",
        r"shims +2\.8 mm under near R, the longest; .*",
        r" +With nothing under near R the trestle would come to 717\.2 mm\.",
        r"scribe at +18\.2 mm: 2 sheets, the nose on top\. .*",
        r"height +720 mm, finished, floor to top face\.",
        r"rock +3\.9 mm now, 0 mm as scribed\.",
    ):
        assert re.search(rf"(?m)^ *{row}$", result.stdout), row
    assert "3.6 times that" in result.stdout  # 426.08 / 120
    assert max(map(len, result.stdout.splitlines())) <= WIDTH


def test_battens_and_a_wanted_height() -> None:
    """Winding is told; the height is the one that was asked for."""
    result = run(*BATTENS, "--height", "71 cm")
    assert re.search(r"(?m)^height +710 mm", result.stdout)
    assert re.search(r"(?m)^winding +0 mm over the feet", result.stdout)
    wound = run(*[word.replace("734", "738") for word in BATTENS])
    assert re.search(r"(?m)^winding +4 mm over the feet", wound.stdout)
    assert re.search(r"(?m)^caution +the battens are 4 mm out of one plane", wound.stdout)


def test_square_soles_lose_unlike_along_their_arrises() -> None:
    """Four rows, a long and a short corner."""
    rows = re.findall(
        r"(?m)^it loses, (?:outer|inner), .* (\S+) mm$", run("--top", "760", *SHIMS, "--soles", "square").stdout
    )
    assert len(rows) == 4
    assert len(set(rows)) == 4


def test_only_the_rock_is_cured_on_pads() -> None:
    """Which two feet come into question, the pads, and what comes off along the leg: 3 mm times 1.0442."""
    said = run("--hangs", "near_l", "--gap", "3").stdout
    assert "One of far R and near R" in said
    assert "9.1 mm thick, three: under near L and far L" in said
    assert re.search(r"loses +3 mm upright, 3\.1 mm along the leg", said)


def test_inches_are_told_in_inches() -> None:
    """Bare numbers, fractions and the table, to 64ths."""
    options = ["--top", '28 15/16"', "--under-near-r", "0", "--under-near-l", "1/8", "--under-far-r", "0"]
    said = run(*options, "--under-far-l", "3 mm", "--units", "in").stdout
    assert re.search(r"(?m)^top over .* 28 15/16\" +28 13/16\" +28 15/16\" +28 13/16\"$", said)
    assert re.search(r"(?m)^height +28 11/32\"", said)  # the demo's 720 mm
    assert " mm" not in said


WRONG = [
    ([], 2, r"no terminal to ask at; give --readings FILE\.toml .* or --top with --under-near-r"),
    (["--top", "735"], 2, r"no terminal .* options --under-near-r, --under-near-l, --under-far-r, --under-far-l too"),
    (["--gap", "3"], 2, r"give the options --hangs too"),
    (BATTENS[:4], 2, r"give the options --over-far-r, --over-far-l too"),
    ([*LEVELLED, "--gap", "3", "--hangs", "far_l"], 2, r"the trestle gives top and gap: a trestle is read in one way"),
    (["--hangs", "left", "--gap", "3"], 2, r'^--hangs is "left", must be "near_r" or "near_l" or'),
    (["--hangs", "far_l", "--gap", "3,5"], 2, r'^--gap is not a clear length: "3,5" has a decimal comma; write "3\.5"'),
    (["--hangs", "far_l", "--gap", "a lot"], 2, r'^--gap is not a clear length: "a lot" is not a length'),
    (["--hangs", "far_l", "--gap", 'x"\\y'], 2, r"^--gap is not a clear length"),
    (["--hangs", "far_l", "--gap", "0"], 1, r"in one plane already"),
    (["--hangs", "far_l", "--gap", "10"], 1, r"not less than a pad \(9\.1 mm\)"),
    (["--top", "73.54", *SHIMS], 2, r"^--top is 73\.54 mm, must be 100 to 3300 mm"),
    (["--top", "0735", *SHIMS], 0, r"^$"),
    (["--top", "1e3", *SHIMS], 2, r"^--top is not a clear length"),
    (["--top", "9" * 400, *SHIMS], 2, r"^--top is "),
    ([*LEVELLED, "--sheets", "two"], 2, r'^--sheets is "two", must be a whole number'),
    ([*LEVELLED, "--sheets", "9"], 2, r"^--sheets is 9, must be a whole number from 1 to 5"),
    (
        [*LEVELLED, "--height", "730"],
        1,
        r"^a height of 730 mm is more than the shortest leg gives: near L reaches 731\.9 mm",
    ),
    ([*LEVELLED, "--sheets", "1", "--height", "720"], 1, r"^the longest leg has 15\.4 mm to lose"),
    ([*LEVELLED, "--soles", "flat"], 2, r'^--soles is "flat", must be "angled" or "square"'),
    ([*LEVELLED, "--units", "cubits"], 2, r"'cubits' is not one of 'mm', 'in'"),
    ([*LEVELLED, "--readings", "r.toml"], 2, r"stands in the form; give either --readings or options"),
    ([*LEVELLED, "--form", "f.toml"], 2, r"--form only writes a blank form"),
    (["--readings", "nowhere.toml"], 2, r"nowhere\.toml is not there; jigmaker level --form nowhere\.toml writes one"),
    (["--readings", "."], 2, r"is a folder; name the form file"),
    (["--form", "."], 2, r"is a folder; name the form too"),
    (["nowhere/job.toml", *LEVELLED], 2, r"job\.toml is not there"),
]


@pytest.mark.parametrize(("words", "code", "told"), WRONG, ids=[" ".join(row[0])[:60] for row in WRONG])
def test_wrong_input_ends_in_one_sentence(tmp_path: Path, monkeypatch, words, code, told) -> None:
    """By the option's own name, with the rule; nothing on stdout, nothing written."""
    monkeypatch.chdir(tmp_path)
    result = run(*words)
    assert result.exit_code == code, result.output
    assert re.search(told, result.stderr, re.MULTILINE), result.stderr
    assert bool(result.stdout) == (code == 0)
    assert list(tmp_path.iterdir()) == []


def test_a_job_without_a_shop_is_told(tmp_path: Path) -> None:
    """The block's steps are the shop's sheet; the demo's is not taken for someone's own job."""
    (tmp_path / "job.toml").write_bytes(demo_job_text())
    result = run(tmp_path / "job.toml", *LEVELLED)
    assert result.exit_code == 2
    assert "has no shop" in result.stderr


def test_a_form_is_written_filled_in_and_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """For the job's six trestles; two of them measured come to one height, the lower is named; then it is kept."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_bytes(demo_job_text())
    Path("shop.toml").write_bytes(ideal_shop_text())
    wrote = run("job.toml", "--form", "readings.toml")
    assert wrote.stdout.endswith("then: jigmaker level job.toml --readings readings.toml\n")
    assert run("job.toml", "--form", "readings.toml").exit_code == 2
    text = Path("readings.toml").read_text("utf-8")
    for name, top in (("trestle_2", "733"), ("trestle_5", "719")):
        figures = "\n".join([f"top = {top}", *(f"under_{foot} = 0" for foot in ("near_r", "near_l", "far_r", "far_l"))])
        text = re.sub(rf"\[{name}\]\n(?:\w+ = \"\"\n)*", f"[{name}]\n{figures}\n", text)
    Path("readings.toml").write_text(text, "utf-8")
    result = run("job.toml", "--readings", "readings.toml", "--all")
    assert result.exit_code == 0, result.output
    assert re.search(r"(?m)^all +2 trestles come to one height: 717 mm\.$", result.stdout)
    assert "differ by 14 mm; trestle 5 is the lowest" in result.stdout
    assert re.search(r"(?m)^trestle 2 +731\.0 mm +14\.0 mm +0\.0 mm$", result.stdout)
    assert len(re.findall(r"(?m)^TRESTLE [25]$", result.stdout)) == 2
    assert result.stdout.count("next time leave at least") == 1  # the same for all is said once
    assert run("job.toml", "--readings", "readings.toml", "--all").stdout == result.stdout


def test_a_batch_is_one_screen_and_one_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty trestles: a row each with what goes under their feet, on one screen, and the same rows on one page."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_bytes(demo_job_text())
    Path("shop.toml").write_bytes(ideal_shop_text())
    rows = [f"[trestle_{i}]\ntop = {730 + i / 10}\nunder_near_r = 0\nunder_near_l = 3.5" for i in range(1, 31)]
    form = "[level]\nunits = 'mm'\n" + "".join(f"{row}\nunder_far_r = 0.8\nunder_far_l = 1.2\n" for row in rows)
    Path("readings.toml").write_text(form, "utf-8")
    result = run("job.toml", "--readings", "readings.toml", "--page", "level.pdf")
    assert result.exit_code == 0, result.output
    # The first, of 730.1, is scribed on two sheets of 9.1: 8.1 of packing lie under its longest leg.
    assert re.search(
        r"(?m)^trestle 1 +8\.1 mm +11\.6 mm +8\.9 mm +9\.3 mm +18\.2 mm +2 +720 mm +3\.9 mm$", result.stdout
    )
    table = re.findall(r"(?m)^trestle \d+ .*$", result.stdout)
    assert len(table) == 30 and len(result.stdout.splitlines()) < 45
    assert max(map(len, result.stdout.splitlines())) <= 100
    printed = [page.words for page in read_pdf(Path("level.pdf").read_bytes())]
    assert len(printed) == 1
    assert all(" ".join(row.split()) in printed[0] for row in table)
    neither = run("job.toml", "--readings", "readings.toml", "--page", "level.doc")
    assert neither.exit_code == 2 and "--page level.doc: must end in .html or .pdf" in neither.stderr
    assert not Path("level.doc").exists()
    again = run("job.toml", "--readings", "readings.toml", "--page", "level.pdf")
    assert again.exit_code == 2 and "level.pdf" in again.stderr  # what is there is kept
    assert run("job.toml", "--readings", "readings.toml", "--page", "level.html").exit_code == 0
    assert Path("level.html").read_text("utf-8").count("<tr") == 31


CLASS = (Path(__file__).parents[1] / "jobs" / "class.toml").read_bytes()
UNDER = "under_near_r = 0\nunder_near_l = 0\nunder_far_r = 0\nunder_far_l = 0\n"


def test_trestles_of_several_sizes_come_each_to_its_own_height(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The form says of each trestle which size it is, in the order of the batch page; each size has its own table."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_bytes(CLASS)
    Path("shop.toml").write_bytes(ideal_shop_text())
    assert run("job.toml", "--form", "readings.toml").exit_code == 0
    text = Path("readings.toml").read_text("utf-8")
    sizes = re.findall(r'(?m)^\[trestle_(\d)\]\nsize = "(\d+) mm"', text)
    assert sizes == [("1", "762"), ("2", "762"), ("3", "650"), ("4", "650"), ("5", "650"), ("6", "520")]
    for name, top in (("2", 767), ("4", 655), ("6", 525)):
        text = re.sub(rf'(\[trestle_{name}\]\nsize = .*\n)(?:\w+ = ""\n)*', rf"\1top = {top}\n{UNDER}", text)
    Path("readings.toml").write_text(text, "utf-8")
    result = run("job.toml", "--readings", "readings.toml")
    assert result.exit_code == 0, result.output
    assert "Class trestles, 762 mm / 650 mm / 520 mm high" in result.stdout
    for name, height in (("2", 762), ("4", 650), ("6", 520)):
        # 5 mm come off each, on one sheet of 9.1 with 4.1 mm under every foot.
        found = rf"(?m)^SIZE {height} MM$\n\n.*\ntrestle {name} (?: +4\.1 mm){{4}} +9\.1 mm +1 +{height} mm +0 mm$"
        assert re.search(found, result.stdout), height


WRONG_SIZES = {
    "none": ("", "readings.toml line 2: trestle_1.size is missing; say which of 762 mm, 650 mm, 520 mm it is"),
    "another": (
        "size = 700\n",
        "readings.toml line 2: trestle_1.size is 700 mm, must be one of 762 mm, 650 mm, 520 mm",
    ),
}


@pytest.mark.parametrize("name", WRONG_SIZES)
def test_a_trestle_of_no_known_size_is_refused(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With its line; and by options with the option to give."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_bytes(CLASS)
    Path("shop.toml").write_bytes(ideal_shop_text())
    given, says = WRONG_SIZES[name]
    Path("readings.toml").write_text(f"level.units = 'mm'\n[trestle_1]\n{given}top = 765\n{UNDER}", "utf-8")
    result = run("job.toml", "--readings", "readings.toml")
    assert (result.exit_code, result.stderr) == (1, f"{says}\n")
    result = run("job.toml", *LEVELLED)
    assert (result.exit_code, result.stderr) == (2, "--size is missing; say which of 762 mm, 650 mm, 520 mm it is\n")
    assert run("job.toml", *[word.replace("735.4", "770") for word in LEVELLED], "--size", "762").exit_code == 0


def test_at_a_terminal_it_asks_for_what_no_option_said(at_terminal: None) -> None:
    """Which way, then every figure; a wrong one is asked for again with its rule; the answer is that of the options."""
    result = run(said="level\n73\n735.4\n0\n3.5\n0.8\n1.2\n")
    assert result.exit_code == 0, result.output
    assert "must be 100 to 3300 mm" in result.output
    assert result.stdout.endswith(run(*LEVELLED).stdout)
    assert run("--gap", "3", said="near_l\n").stdout.endswith(run("--gap", "3", "--hangs", "near_l").stdout)
    battens = run(said="battens\n736\n735\n734\n735\n\n\n\n\n")
    assert battens.stdout.endswith(run(*BATTENS).stdout)


def test_the_end_of_the_input_is_no_crash(at_terminal: None) -> None:
    """Whoever leaves the questions gets no traceback."""
    assert run(said="level\n").exit_code == 1


def test_a_top_far_over_the_jobs_legs_is_read_again_before_a_foot_is_sawn(tmp_path: Path, monkeypatch) -> None:
    """799 read for 729: the demo, 720 high with 5 of trim along the leg, stands about 725 as sawn."""
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_bytes(demo_job_text())
    Path("shop.toml").write_bytes(ideal_shop_text())
    shims = ("--under-near-r", "0", "--under-near-l", "2", "--under-far-r", "1", "--under-far-l", "1")
    result = run("job.toml", "--top", "799", *shims)
    told = " ".join(result.stderr.split())
    assert result.exit_code == 1 and "measure again, for this job's legs are made for 72" in told
    assert told.index("measure again, for") < told.index("off every foot first")
