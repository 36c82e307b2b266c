"""jigmaker make: what it writes where, which shop it takes, what it says at the end and what it refuses."""

import json
import os
import re
import signal
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sample_jobs import small

from jigmaker.cli.closing import NO_PLATFORM
from jigmaker.cli.main import jigmaker
from jigmaker.cli.speech import WIDTH
from jigmaker.job import demo
from jigmaker.job.demo import demo_job_text, demo_shop_text


def run(*words: object) -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, [str(word) for word in words])


def names_in(folder: Path) -> list[str]:
    """What lies in a folder."""
    return sorted(path.name for path in folder.iterdir())


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file below a folder by its name there."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_without_a_job_the_demo_is_made_in_outputs(tmp_path: Path, monkeypatch) -> None:
    """In an empty folder, with no word more: the demo, for its machine as measured (without marks), where to start."""
    monkeypatch.chdir(tmp_path)
    shop = small(demo_shop_text()).encode()
    monkeypatch.setattr(demo, "demo_shop_text", lambda: shop)
    result = run("make")
    assert result.exit_code == 0, result.output
    assert names_in(tmp_path) == ["outputs"]
    written = files_in(tmp_path / "outputs" / "potting-bench")
    assert (written["job.toml"], written["shop.toml"]) == (demo_job_text(), shop)
    assert len(written) <= 90
    endings = {name: name.rpartition("-kerf-0.20.")[2] for name in written if name.startswith("sheets/")}
    assert endings and set(endings.values()) == {"dxf", "svg"}
    parts = [name for name in written if name.startswith("parts/")]
    assert all(re.fullmatch(r"parts/potting-bench-.+-cut-[1-9]-finished-size\.(dxf|svg)", name) for name in parts)
    assert len(parts) == 2 * len(json.loads(written["kit.json"])["parts"])
    assert "built-in demo" in result.stdout
    first = Path(next(word for word in result.stdout.split() if word.endswith(".dxf")))
    assert first.is_file()
    assert json.loads(written["proof.json"])["findings"] == []


def test_the_demo_in_outputs_is_whole(demo_files) -> None:
    """As the README's first command makes it, which .ci/run compares: all files, listed with their hashes; proved."""
    written = files_in(Path(__file__).parents[2] / "outputs" / "potting-bench")
    assert b'"passed": true' in written.pop("proof.json")
    listed = json.loads(written["kit.json"])["files"]
    assert listed == {name: sha256(data).hexdigest() for name, data in written.items() if name != "kit.json"}
    assert (written["job.toml"], written["shop.toml"]) == (demo_job_text(), demo_shop_text())
    assert written["numbers.json"] == demo_files["numbers.json"]
    names = {name.replace("-kerf-0.20-corrected", "-kerf-0.20") for name in written}
    # The fixture asks for every kind of file, the demo's own shop for no more than is wanted.
    asked_for = ("parts/kerf-", "sheets/finished-size/")
    wanted = {name for name in demo_files if not name.startswith(asked_for)}
    papers = names - wanted
    assert names >= wanted
    beside = {"index.html", "boards.toml"}
    assert papers >= beside and all(name in beside or name.startswith("papers/") for name in papers)


ANSWERS = [
    ("open first", r"sheets.potting-bench-sheet-1-of-2-kerf-0\.20\.dxf"),
    ("measure first", "reference square, side to side|over its lines, left to right"),
    ("measure first", r"birch plywood 9\.1 mm thick"),
    ("to cut", r"[0-9]+ pieces.* on [0-9]+ sheets? of 600 mm x 400 mm"),
    ("which face", "fence against the top face"),
    ("which face", r"wide face down, mitre 11\.75° off square, blade 12\.00° off upright"),
    # 9.1 sheet + 7 standoff + 32 leg, worked by hand
    ("hand router", r"Bush 17 mm, cutter 12 mm; the cutter's tip 48\.1 mm below the base"),
]


@pytest.fixture(scope="module")
def said(tmp_path_factory, small_shop: str) -> str:
    """What a good run says."""
    folder = tmp_path_factory.mktemp("bench")
    (folder / "job.toml").write_bytes(demo_job_text())
    (folder / "shop.toml").write_text(small_shop, "utf-8")
    result = run("make", folder / "job.toml", "--out", folder / "made")
    assert result.exit_code == 0, result.output
    return result.stdout


def line_with(path: Path, mark: str) -> int:
    """The number, from 1, of the line that holds the mark."""
    return next(n for n, line in enumerate(path.read_text("utf-8").splitlines(), 1) if mark in line)


def rows_of(said: str) -> dict[str, str]:
    """The table's rows by label, each as one line."""
    rows: dict[str, str] = {}
    label = ""
    for line in said.splitlines():
        label = line[:16].strip() or label if len(line) > 16 else ""
        rows[label] = f"{rows.get(label, '')} {line[16:].strip()}"
    return rows


@pytest.mark.parametrize(("label", "words"), ANSWERS, ids=[f"{row[0]} {row[1][:12]}" for row in ANSWERS])
def test_the_closing_table_answers(said: str, label: str, words: str) -> None:
    """What to open, to measure, to set and to turn which way."""
    assert re.search(words, rows_of(said)[label])


def test_the_closing_table_ends_with_the_warning(said: str) -> None:
    """And fits the screen, but for a folder's name that does not."""
    assert said.splitlines()[-1] == NO_PLATFORM
    assert "no working platform" in NO_PLATFORM
    assert all(len(line) <= WIDTH for line in said.splitlines() if "/" not in line)


def test_an_inch_job_is_told_in_inches(bench: Path, small_shop: str) -> None:
    """Timber in the job's unit, machine and router in the shop's: fractions for the rule, decimals for the caliper."""
    job = (Path(__file__).parent.parent / "jobs" / "inch.toml").read_bytes()
    (bench / "job.toml").write_bytes(job)
    shop = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)", r"\1 = '\2 mm'", small_shop).replace('units = "mm"', 'units = "in"')
    (bench / "shop.toml").write_text(shop, "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert result.exit_code == 0, result.output
    assert 'legs 2 3/4" x 1 1/4"' in result.stdout
    assert 'birch plywood 0.358" thick' in result.stdout
    assert re.search(r'kerf of 0\.008"', result.stdout)
    assert " mm" not in result.stdout


def test_angles_chosen_are_said_aloud(bench: Path) -> None:
    """No angle given: the one taken stands under the heading. 1 in 4 is atan(4) = 75.96, to the half degree."""
    job = (bench / "job.toml").read_text("utf-8")
    (bench / "job.toml").write_text(re.sub(r"(?m)^(rake|splay)_deg.*\n", "", job), "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert "No angle was given. 76° off the level was chosen" in result.stdout


def test_a_caution_is_told_with_its_place(bench: Path) -> None:
    """A job that can be made, with something to mind: the end wood is under 75 mm."""
    job = (bench / "job.toml").read_text("utf-8").replace("inset = 120", "inset = 80")
    (bench / "job.toml").write_text(job, "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert result.exit_code == 0, result.output
    line = line_with(bench / "job.toml", "inset")
    assert f"job.toml line {line}: trestle.inset: only" in rows_of(result.stdout)["caution"]


def test_the_shop_beside_the_job_is_taken(bench: Path) -> None:
    """Unless another is named, by any name."""
    assert run("make", bench / "job.toml", "--out", bench / "made").exit_code == 0
    (bench / "shop.toml").rename(bench / "shed.txt")
    assert run("make", bench / "job.toml", "--shop", bench / "shed.txt", "--out", bench / "made").exit_code == 0
    assert names_in(bench / "made") == ["potting-bench"]


def test_no_shop_is_taken_silently(bench: Path) -> None:
    """The demo's kerf and sheet are not someone's own: without a shop it stops, and says how to get one."""
    (bench / "shop.toml").unlink()
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert result.exit_code == 2
    assert re.search(r"has no shop: .*--shop FILE.*jigmaker new DIR", result.stderr)
    assert not (bench / "made").exists()


def test_a_second_run_replaces_the_first(bench: Path) -> None:
    """With no question, and the same bytes."""
    for _ in range(2):
        assert run("make", bench / "job.toml", "--out", bench / "made").exit_code == 0


def test_a_stranger_needs_replace(bench: Path) -> None:
    """Named before the work begins; --replace moves the folder aside, and tells where."""
    mine = bench / "made" / "potting-bench" / "notes.txt"
    mine.parent.mkdir(parents=True)
    mine.write_text("mine", "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert result.exit_code == 2
    assert "notes.txt; move them away" in result.stderr
    assert mine.read_text("utf-8") == "mine"
    result = run("make", bench / "job.toml", "--out", bench / "made", "--replace")
    assert result.exit_code == 0
    kept = bench / "made" / "potting-bench-kept-1"
    assert (kept / "notes.txt").read_text("utf-8") == "mine"
    assert f"held before lies in {kept} now." in " ".join(rows_of(result.stdout)["kept"].split())
    assert not mine.exists()


def test_a_changed_job_replaces_its_kit_and_says_which(bench: Path) -> None:
    """The figures that were others; another job of the same folder is left, and named before the work begins."""
    assert run("make", bench / "job.toml", "--out", bench / "made").exit_code == 0
    job = (bench / "job.toml").read_text("utf-8")
    (bench / "job.toml").write_text(
        job.replace("height = 720", "height = 700").replace("trestles = 6", "trestles = 4"), "utf-8"
    )
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert rows_of(result.stdout)["replaced"].strip() == "the kit of trestles 6, height 720 mm."
    again = run("make", bench / "job.toml", "--out", bench / "made")
    assert "replaced" not in rows_of(again.stdout)
    (bench / "job.toml").write_text(job.replace("Potting bench", "Potting-Bench"), "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert (result.exit_code, 'the kit of another job, "Potting bench"' in result.stderr) == (2, True)


def test_what_a_killed_run_moved_aside_is_put_back_by_the_next_command(bench: Path) -> None:
    """Whichever names the folder, or a file in it, and whatever it then says; it tells on stderr what it did."""
    made = bench / "made" / "bench"
    made.mkdir(parents=True)
    for name in ("job.toml", "shop.toml"):
        (made / name).write_bytes((bench / name).read_bytes())
    for words, code in (
        (("angles", made), 0),
        (("angles", made / "job.toml"), 0),
        (("angles", bench / "job.toml", "--shop", made / "shop.toml"), 0),
        (("prove", made), 2),
        (("new", made), 2),
        (("coupon", "--shop", bench / "shop.toml", "--out", made), 0),
    ):
        made.rename(made.with_name(".bench-whole-0123456789abcdef"))
        result = run(*words)
        told = " ".join(result.stderr.split())
        assert f"note {made} is put back: an earlier run was stopped as it replaced it." in told, words
        assert (result.exit_code, names_in(made.parent)) == (code, ["bench"]), told


def test_faults_of_both_files_come_together(bench: Path) -> None:
    """One run tells what is wrong in the job and what is wrong in the shop."""
    for name, old, new in (("job.toml", "height = 720", "height = 7"), ("shop.toml", "kerf = 0.20", "kerf = 20")):
        text = (bench / name).read_text("utf-8")
        (bench / name).write_text(text.replace(old, new), "utf-8")
    result = run("make", bench / "job.toml", "--out", bench / "made")
    assert result.exit_code == 1
    lines = line_with(bench / "job.toml", "height ="), line_with(bench / "shop.toml", "kerf =")
    words = r"job\.toml line {}: trestle\.height.*\n.*shop\.toml line {}: machine\.kerf".format(*lines)
    assert re.search(words, result.stderr)
    assert result.stdout == ""
    assert not (bench / "made").exists()


def test_a_job_that_cannot_be_ends_in_one(bench: Path) -> None:
    """The sentence names the user's own file and line."""
    job = (bench / "job.toml").read_text("utf-8").replace("inset = 120", "inset = 20")
    (bench / "bench two.toml").write_text(job, "utf-8")
    result = run("make", bench / "bench two.toml", "--out", bench / "made")
    assert result.exit_code == 1
    assert f"bench two.toml line {line_with(bench / 'bench two.toml', 'inset')}: trestle.inset: " in result.stderr


LIGHT = """
import os, shutil, signal, sys
from pathlib import Path
from jigmaker.__main__ import main
from jigmaker.making import paper_files
from jigmaker.proof import prove

paper_files.PAPERS = ()  # neither papers nor proof have a part in this
prove.prove = lambda *asked: prove.Report((), 0, 0, None)
"""

ENDED = f"""
{LIGHT}

real, rmtree, written, number = Path.open, shutil.rmtree, [], int(sys.argv.pop())
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background jobs begin with it ignored

def open_new(self, mode="r", **settings):
    if mode == "xb":
        written.append(self)
        if len(written) == 3:
            os.kill(os.getpid(), number)
    return real(self, mode, **settings)

def tidy(path, **settings):
    os.kill(os.getpid(), number)  # pressed twice
    rmtree(path, **settings)

Path.open, shutil.rmtree = open_new, tidy
sys.argv = ["jigmaker", "make", *sys.argv[1:]]
main()
"""


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT], ids=["ended", "interrupted"])
def test_a_run_that_is_ended_leaves_nothing(bench: Path, number: signal.Signals) -> None:
    """A real signal while files are being written, from outside or from the keyboard: no folder, no traceback."""
    words = ["-c", ENDED, str(bench / "job.toml"), "--out", str(bench / "made"), str(int(number))]
    run = subprocess.run([sys.executable, *words], capture_output=True, check=False)
    assert (run.returncode, run.stderr) == (128 + number, b"")
    assert names_in(bench) == ["job.toml", "shop.toml"]


CODINGS = ["ascii", "cp437"]
ASKED = f"""
{LIGHT}
main()
"""


@pytest.mark.parametrize("coding", CODINGS)
def test_any_console_can_print_the_table(bench: Path, coding: str) -> None:
    """All the work must not be lost on one degree sign."""
    words = [sys.executable, "-c", ASKED, "make", str(bench / "job.toml"), "--out", str(bench / "made")]
    run = subprocess.run(words, env={**os.environ, "PYTHONIOENCODING": coding}, capture_output=True, check=True)
    assert "11.75" in run.stdout.decode(coding)
    assert ("11.75° off" in run.stdout.decode(coding)) == (coding != "ascii")
    assert json.loads((bench / "made" / "potting-bench" / "kit.json").read_bytes())
