"""The README keeps its word: its console examples run and print what it shows, its links and pictures are there."""

import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigmaker.cli.main import jigmaker
from jigmaker.job.sections import LAYER_COLOURS
from jigmaker.making import paper_files
from jigmaker.proof import prove

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```console\n(.*?)```", README, re.DOTALL)


def examples():
    """(command, what is shown under it) of every console block, in order."""
    return [
        (command, shown)
        for block in BLOCKS
        for command, shown in re.findall(r"^\$ (.+)\n((?:(?!\$ ).*\n)*)", block, re.MULTILINE)
    ]


def test_the_examples_print_what_the_readme_shows(tmp_path, monkeypatch):
    """In one folder, one after another; a command shown without output must only succeed."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(paper_files, "PAPERS", ())  # none of the examples shows a paper or a verdict
    monkeypatch.setattr(prove, "prove", lambda *asked: prove.Report((), 0, 0, None))
    assert len(examples()) >= 2
    for command, shown in examples():
        program, *words = shlex.split(command)
        assert program == "jigmaker"
        done = CliRunner().invoke(jigmaker, words)
        assert done.exit_code == 0, done.output
        if shown:
            assert done.output == shown


@pytest.mark.parametrize("target", sorted(set(re.findall(r"\]\(([^)#]+)\)", README))))
def test_links_lead_somewhere(target):
    """Every relative link or picture is a file or folder of the repository."""
    assert (ROOT / target).exists()


def test_colours_are_called_what_they_are():
    """The words for the colours of a sheet are those that stand beside the colours."""
    words = {operation: word for operation, (_, word) in LAYER_COLOURS.items()}
    told = "marks {mark}, holes {inner}, outlines {outer}, the note {note}"
    assert told.format(**words) in README


def test_the_two_commands_are_there():
    """One makes the environment, installs and runs the demo; one passes the tests."""
    shells = re.findall(r"```sh\n(.*?)\n```", README, re.DOTALL)
    assert len(shells) == 2
    assert shells[0].endswith(".venv/bin/jigmaker make")
    assert shells[1] == ".venv/bin/python -m pytest"
