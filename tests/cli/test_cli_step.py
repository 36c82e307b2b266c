"""jigmaker step: refusals before the work, and with the kernel there a folder of its own."""

from pathlib import Path

import pytest
from click.testing import CliRunner
from step_reader import needs_kernel

from jigmaker.cli.main import jigmaker
from jigmaker.writers import step


def run(*words):
    """One command line."""
    return CliRunner().invoke(jigmaker, ["step", *map(str, words)])


@pytest.fixture
def pretended(monkeypatch):
    """A kernel that seems to be there and writes a word for every model."""
    monkeypatch.setattr(step, "find_spec", lambda name: object())
    monkeypatch.setattr(
        "jigmaker.making.step_files.write_step",
        lambda models: {name: model.title.encode() for name, model in models.items()},
    )


def test_without_the_kernel_nothing_is_written(bench, monkeypatch):
    """The command that installs it, exit code 1, no folder."""
    monkeypatch.setattr(step, "find_spec", lambda name: None)
    result = run(bench / "job.toml", "--out", bench / "out")
    assert result.exit_code == 1
    assert 'pip install "jigmaker[step]"' in result.stderr
    assert not (bench / "out").exists()


def test_a_job_without_a_shop_is_refused(bench, pretended):
    """The jig needs one, and the demo's is never taken for somebody's own."""
    (bench / "shop.toml").unlink()
    result = run(bench / "job.toml")
    assert result.exit_code == 2
    assert "has no shop" in result.stderr


def test_files_go_into_a_folder_of_their_own(bench, pretended):
    """Beside the folder that make writes. What is in it is left as it is, or with --replace moved aside."""
    folder = bench / "out" / "potting-bench-step"
    folder.mkdir(parents=True)
    (folder / "mine.step").write_text("mine", "utf-8")
    refused = run(bench / "job.toml", "--out", bench / "out")
    assert refused.exit_code == 2
    assert "is there already and is left as it is; give --replace" in refused.stderr
    assert [path.name for path in folder.iterdir()] == ["mine.step"]
    result = run(bench / "job.toml", "--out", bench / "out", "--replace")
    assert result.exit_code == 0, result.output
    names = {path.relative_to(folder).as_posix() for path in folder.rglob("*.step")}
    plate = "parts/potting-bench-plate-cut-1-finished-size.step"
    assert {"potting-bench-trestle.step", "timber/potting-bench-leg.step", plate} <= names
    assert "mine.step" not in names
    kept = folder.with_name("potting-bench-step-kept-1")
    assert [path.name for path in kept.iterdir()] == ["mine.step"]
    assert f"lies in {kept} now" in " ".join(result.stdout.split())
    assert f"Wrote {len(names)} STEP files" in result.stdout
    assert "trestle, housing-jig-r, housing-jig-l" in result.stdout


@needs_kernel
def test_the_demo_is_written_through_the_kernel(tmp_path: Path, capfd):
    """The whole way once; what the kernel prints does not come through."""
    result = run("--out", tmp_path)
    assert result.exit_code == 0, result.output
    heads = {path.read_bytes()[:13] for path in (tmp_path / "potting-bench-step").rglob("*.step")}
    assert heads == {b"ISO-10303-21;"}
    assert capfd.readouterr().out == ""
