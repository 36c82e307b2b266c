"""What is no job ends in one sentence and an exit code; never in a traceback."""

import errno
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jigmaker.cli import main as cli_main
from jigmaker.cli.main import jigmaker
from jigmaker.cli.speech import printable
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop


def run(*words: object) -> Result:
    """One command line."""
    return CliRunner().invoke(jigmaker, [str(word) for word in words])


def folder(path: Path) -> None:
    """A folder instead of a file."""
    path.mkdir()


def writing(data: bytes):
    """A file with these bytes."""
    return lambda path: path.write_bytes(data)


def ring(path: Path) -> None:
    """A link to itself."""
    path.symlink_to(path)


FILES = [
    ("missing", lambda path: None, 2, "bench.toml is not there; jigmaker new DIR writes a job file"),
    ("folder", folder, 2, r"bench.toml is a folder; name the job file in it, such as .*job\.toml"),
    ("ring", ring, 2, "bench.toml cannot be read: "),
    ("binary", writing(bytes(range(256)) * 4), 1, "bench.toml"),
    ("UTF-16", writing("[job]".encode("utf-16")), 1, "bench.toml: is saved as UTF-16"),
    ("empty", writing(b""), 1, r"bench.toml: job is missing"),
    ("huge", writing(b"#" * 1_000_001), 2, "bench.toml is longer than 1000 kB and no job file"),
    ("no TOML", writing(b"a trestle, please"), 1, "bench.toml line 1: is not TOML"),
]


@pytest.mark.parametrize("command", ["make", "angles"])
@pytest.mark.parametrize(("make_it", "code", "words"), [row[1:] for row in FILES], ids=[row[0] for row in FILES])
def test_what_is_no_job_file_ends_in_a_sentence(tmp_path: Path, monkeypatch, command, make_it, code, words) -> None:
    """Named, with what to do; on stderr; and nothing is written."""
    monkeypatch.chdir(tmp_path)
    make_it(Path("bench.toml"))
    before = sorted(tmp_path.iterdir())
    result = run(command, "bench.toml")
    assert result.exit_code == code
    assert re.search(words, result.stderr)
    assert result.stdout == ""
    assert "Traceback" not in result.output
    assert sorted(tmp_path.iterdir()) == before


@pytest.mark.parametrize("name", ["no.toml", "folder"])
def test_a_shop_that_cannot_be_read_is_named(tmp_path: Path, name: str) -> None:
    """The same sentences for the shop."""
    (tmp_path / "folder").mkdir()
    result = run("make", "--shop", tmp_path / name)
    assert result.exit_code == 2
    assert re.search(rf"{name} (is not there|is a folder).*shop", result.stderr)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read anything")
def test_a_file_without_right_is_named(tmp_path: Path) -> None:
    """Somebody else's file."""
    (tmp_path / "job.toml").write_bytes(demo_job_text())
    (tmp_path / "job.toml").chmod(0)
    assert "cannot be read: Permission denied" in run("angles", tmp_path / "job.toml").stderr


@pytest.mark.parametrize("out", ["file", "file/deeper"])
def test_an_out_that_is_a_file_is_told(bench: Path, out: str) -> None:
    """And the file stays."""
    (bench / "file").write_bytes(b"mine")
    result = run("make", bench / "job.toml", "--out", bench / out)
    assert result.exit_code in (1, 2)
    assert re.search("a file stands where a folder should be", result.stderr)
    assert (bench / "file").read_bytes() == b"mine"


FAULTS = [
    (KeyError("leg"), r"this is a fault in jigmaker and not in your files \(KeyError: 'leg'\); please report it"),
    (OSError(errno.ENOSPC, "No space left on device"), "the system refused: No space left on device"),
    (MemoryError(), "there is not enough memory for this job"),
]


@pytest.mark.parametrize(("fault", "words"), FAULTS)
def test_a_fault_of_ours_ends_in_a_sentence_too(monkeypatch, fault: Exception, words: str) -> None:
    """Whoever uses it is told whose fault it is."""

    def failing(name: str) -> None:
        raise fault

    monkeypatch.setattr(cli_main, "import_module", failing)
    result = run("make")
    assert result.exit_code == 1
    assert re.fullmatch(f"jigmaker: {words}\n", result.stderr)


def test_developers_see_the_traceback(tmp_path: Path) -> None:
    """python -X dev shows where a fault is."""
    script = "import jigmaker.cli.main as m; m.import_module = lambda name: 1 / 0; m.jigmaker(['make'])"
    run = subprocess.run([sys.executable, "-X", "dev", "-c", script], capture_output=True, text=True, check=False)
    assert run.returncode == 1
    assert "ZeroDivisionError" in run.stderr and "Traceback" in run.stderr


def test_a_closed_pipe_is_no_fault() -> None:
    """jigmaker angles | head -1 says nothing on stderr."""
    script = f"{sys.executable} -m jigmaker angles | head -c 1"
    run = subprocess.run(["bash", "-c", script], capture_output=True, check=True)
    assert run.stdout == b"P"
    assert run.stderr == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
def test_a_full_disk_behind_stdout_is_told() -> None:
    """The table goes to a file on a full disk: a sentence, and not the exit code of success."""
    with open("/dev/full", "w") as full:  # noqa: PTH123  a device
        run = subprocess.run(
            [sys.executable, "-m", "jigmaker", "angles"], stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert run.returncode != 0
    assert b"No space left on device" in run.stderr
    assert b"Traceback" not in run.stderr


PRINTED = [
    ("11.75° ± ½", "utf-8", "11.75° ± ½"),
    ("11.75° ± ½", "ascii", "11.75 deg +/- 1/2"),
    ("Ω\udcff", "utf-8", "Ω?"),
    ("Ω", "cp1252", "?"),
]


@pytest.mark.parametrize(("words", "encoding", "said"), PRINTED)
def test_signs_are_spelled_out_where_they_are_missing(words: str, encoding: str, said: str) -> None:
    """Only where they are missing."""
    assert printable(words, encoding) == said


def test_a_name_that_is_no_text_is_printed() -> None:
    """File names are bytes; one that is no UTF-8 is told with a mark in place of what cannot be shown."""
    result = subprocess.run([sys.executable, "-m", "jigmaker", "make", b"\xff.toml"], capture_output=True, check=False)
    assert result.returncode == 2
    assert b".toml is not there" in result.stderr


def test_new_writes_files_that_read(tmp_path: Path) -> None:
    """Both files, as they stand, are a job and a shop that make takes."""
    result = run("new", tmp_path / "my bench")
    assert result.exit_code == 0
    assert sorted(path.name for path in (tmp_path / "my bench").iterdir()) == ["job.toml", "shop.toml"]
    assert read_job((tmp_path / "my bench" / "job.toml").read_bytes())
    assert read_shop((tmp_path / "my bench" / "shop.toml").read_bytes())
    assert "jigmaker make" in result.stdout


@pytest.mark.parametrize("name", ["job.toml", "shop.toml"])
def test_new_overwrites_nothing(tmp_path: Path, name: str) -> None:
    """The file that is there is named, and the other is not written either."""
    (tmp_path / name).write_text("mine", "utf-8")
    result = run("new", tmp_path)
    assert result.exit_code == 2
    assert f"{name} is there already" in result.stderr
    assert [path.read_text("utf-8") for path in tmp_path.iterdir()] == ["mine"]


def test_without_a_job_the_folder_one_stands_in_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its job.toml is taken, not the demo; a folder that is named is looked into; elsewhere it is the demo."""
    own = tmp_path / "bench"
    own.mkdir()
    (own / "job.toml").write_bytes(demo_job_text().replace(b"Potting bench", b"My own").replace(b"= 720", b"= 600"))
    monkeypatch.chdir(own)
    assert run("angles").output.startswith("My own: 6 trestles, 600 mm high")
    assert (
        "My own, 600 mm high" in run("level", "--hangs", "near_r", "--gap", "3 mm").output
        or "shop" in run("level", "--hangs", "near_r", "--gap", "3 mm").output
    )
    monkeypatch.chdir(tmp_path)
    assert run("angles", "bench").output.startswith("My own: ")
    assert run("angles").output.startswith("Potting bench: ")
    assert run("level", "--hangs", "near_r", "--gap", "3 mm").output.startswith("Potting bench, 720 mm high (the demo)")


SLIPS = [
    (("make", "shop.toml"), "shop.toml is a shop file; name the job file, and the shop with --shop shop.toml"),
    (("make", "--shop", "job.toml"), "job.toml is a job file; name the shop file with --shop, such as shop.toml"),
    (("maek",), "no such command 'maek'; \"make\" may be meant; there are make, angles"),
    (("xyz",), "no such command 'xyz'; there are make, angles"),
]


@pytest.mark.parametrize(
    "shop", ["[sheet]\nthickness = 9\n[hand_saw]\nplate = 1\n", "[machine]  # laser\nkerf = 0.2\n"]
)
def test_a_shop_file_is_known_by_any_of_its_sections(tmp_path: Path, shop: str) -> None:
    """A shop without a router, or with a comment behind a header, is a shop file as much as any."""
    (tmp_path / "tools.toml").write_text(shop, "utf-8")
    result = run("make", tmp_path / "tools.toml")
    assert result.exit_code == 2
    assert "is a shop file; name the job file" in " ".join(result.stderr.split()), result.stderr


@pytest.mark.parametrize(("words", "told"), SLIPS, ids=[" ".join(words) for words, _ in SLIPS])
def test_what_was_probably_meant(tmp_path: Path, monkeypatch, words: tuple[str, ...], told: str) -> None:
    """One sentence instead of a list of missing keys; wrong usage."""
    monkeypatch.chdir(tmp_path)
    Path("shop.toml").write_bytes(demo_shop_text())
    Path("job.toml").write_bytes(demo_job_text())
    result = run(*words)
    assert (result.exit_code, told in " ".join(result.stderr.split())) == (2, True), result.stderr
