"""jigmaker prove: a sound folder passes, a changed one is judged, a spoilt one ends in 1 with its reason."""

import json
import re
import shutil

import pytest
from click.testing import CliRunner
from part_names import finished_file

from jigmaker.cli.main import jigmaker
from jigmaker.job.demo import demo_job_text


@pytest.fixture(scope="module")
def asked(tmp_path_factory, small_shop):
    """The job file of the demo, with the quick shop beside it."""
    folder = tmp_path_factory.mktemp("asked")
    (folder / "job.toml").write_bytes(demo_job_text())
    (folder / "shop.toml").write_text(small_shop, "utf-8")
    return str(folder / "job.toml")


def names_in(data):
    """Every key of a JSON file, however deep."""
    if isinstance(data, dict):
        return {*data, *(name for value in data.values() for name in names_in(value))}
    return {name for value in data for name in names_in(value)} if isinstance(data, list) else set()


def test_keys_are_plain_words(made):
    """A stranger's program takes them as they are: file names aside, small letters, digits and underscores."""
    for name in ("kit.json", "numbers.json", "proof.json"):
        told = json.loads((made[0] / name).read_bytes())
        files = told.pop("files", 0)
        assert isinstance(files, dict | int)
        assert [key for key in names_in(told) if not re.fullmatch("[a-z][a-z0-9_]*", key)] == []
    corners = json.loads((made[0] / "proof.json").read_bytes())["figures"]["housings"][0]["corners"]
    assert len(corners) == 8 and "near_arris_top" in corners


@pytest.fixture(scope="module")
def made(asked, tmp_path_factory):
    """The kit as make writes it, with its verdict on the screen."""
    out = tmp_path_factory.mktemp("made")
    done = CliRunner().invoke(jigmaker, ["make", asked, "--out", str(out)])
    assert done.exit_code == 0, done.output
    return out / "potting-bench", done.output


@pytest.fixture
def folder(made, tmp_path):
    """A copy of it, to be spoilt."""
    return shutil.copytree(made[0], tmp_path / "potting-bench")


def test_make_ends_by_proving(made):
    """The verdict stands in the table and in proof.json."""
    folder, said = made
    told = json.loads((folder / "proof.json").read_text(encoding="utf-8"))
    assert "read back, cut, put together and routed in numbers" in said
    assert (told["passed"], told["findings"]) == (True, [])
    assert told["figures"]["projection_mm"] == pytest.approx(48.1, abs=1e-4)


def test_a_sound_folder_passes_and_stays_as_it_is(folder):
    """Exit code 0; nothing but proof.json is written, and that with the same bytes."""
    before = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    done = CliRunner().invoke(jigmaker, ["prove", str(folder)])
    assert done.exit_code == 0, done.output
    assert "passed" in done.output
    assert {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()} == before


def test_a_spoilt_file_ends_in_1_with_code_part_and_remedy(folder):
    """A curve that no machine should get: the table names file and remedy, proof.json has the finding."""
    plate = folder / finished_file("plate")
    plate.write_bytes(plate.read_bytes().replace(b"\nLWPOLYLINE\n", b"\nSPLINE\n", 1))
    done = CliRunner().invoke(jigmaker, ["prove", str(folder)])
    assert done.exit_code == 1
    assert "FAILED" in done.output
    assert plate.name in done.output
    told = json.loads((folder / "proof.json").read_text(encoding="utf-8"))
    assert told["passed"] is False
    assert any(finding["code"] == 102 and finding["do"] for finding in told["findings"])


def test_proof_is_no_stranger_to_make(folder, asked):
    """A folder that was proved again is replaced by make without asking."""
    (folder / "proof.json").unlink()
    for words in (["prove", str(folder)], ["make", asked, "--out", str(folder.parent)]):
        done = CliRunner().invoke(jigmaker, words)
        assert done.exit_code == 0, done.output


def test_a_proof_json_of_the_users_is_left(folder):
    """Somebody wrote into it: the verdict is told all the same, with a note, and the note in the file stays."""
    own = (folder / "proof.json").read_bytes().replace(b"{", b'{"checked by": "me",', 1)
    (folder / "proof.json").write_bytes(own)
    done = CliRunner().invoke(jigmaker, ["prove", str(folder)])
    assert (done.exit_code, "passed" in done.stdout) == (0, True)
    assert "is not as jigmaker wrote it and is left as it is" in " ".join(done.stderr.split())
    assert (folder / "proof.json").read_bytes() == own


@pytest.mark.parametrize(("name", "words"), [("nowhere", "is no folder"), (".", "holds no kit.json")])
def test_wrong_folders_are_wrong_usage(tmp_path, name, words):
    """Exit code 2 and one sentence."""
    done = CliRunner().invoke(jigmaker, ["prove", str(tmp_path / name)])
    assert done.exit_code == 2
    assert words in done.output
    assert "Traceback" not in done.output
