"""README and guide keep their word: their examples run and print what is shown, their links and pictures are there."""

import re
import shlex
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigmaker.cli.explain import TOPICS
from jigmaker.cli.main import COMMANDS, jigmaker
from jigmaker.job.sections import LAYER_COLOURS
from jigmaker.making import paper_files
from jigmaker.proof import prove

ROOT = Path(__file__).parent.parent
FORM = ROOT / "tests" / "shops" / "potting_bench_form.toml"
GUIDE = ROOT / "jigmaker" / "explain"
README = (ROOT / "README.md").read_text("utf-8")
PAGES = {"README.md": README, **{page.name: page.read_text("utf-8") for page in sorted(GUIDE.glob("*.md"))}}


def blocks(text, language):
    """What stands between the fences of that language."""
    return re.findall(rf"```{language}\n(.*?)```", text, re.DOTALL)


def examples():
    """(page, command, what is shown under it) of every console block, in order."""
    return [
        (page, command, shown)
        for page, text in PAGES.items()
        for block in blocks(text, "console")
        for command, shown in re.findall(r"^\$ (.+)\n((?:(?!\$ ).*\n)*)", block, re.MULTILINE)
    ]


def test_the_examples_print_what_is_shown(tmp_path, monkeypatch):
    """In one folder, one after another; a command shown without output must only succeed."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "bench" / "coupon").mkdir(parents=True)
    shutil.copy(FORM, tmp_path / "bench" / "coupon" / "filled-in.toml")
    monkeypatch.setattr(paper_files, "PAPERS", ())  # none of the examples shows a paper or a verdict
    monkeypatch.setattr(prove, "prove", lambda *asked: prove.Report((), 0, 0, None))
    assert {page for page, _, _ in examples()} >= {"README.md", "coupon.md", "files.md", "heights.md", "levelling.md"}
    for page, command, shown in examples():
        program, *words = shlex.split(command)
        assert program == "jigmaker"
        done = CliRunner().invoke(jigmaker, words)
        assert done.exit_code == 0, (page, done.output)
        if shown:
            assert done.output == shown, page
    for text in PAGES.values():
        for block in blocks(text, "python"):
            exec(block, {})  # it names the files that the examples before it wrote


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere(page):
    """Every relative link or picture is a file or folder of the repository."""
    folder = ROOT if page == "README.md" else GUIDE
    assert [target for target in re.findall(r"\]\(([^)#]+)\)", PAGES[page]) if not (folder / target).exists()] == []


def test_every_page_of_the_guide_is_a_topic_and_is_linked():
    """None is forgotten on the way: file, command and README have the same ones, and every command is told of."""
    assert sorted(TOPICS) == sorted(page.stem for page in GUIDE.glob("*.md"))
    assert [topic for topic in TOPICS if f"(jigmaker/explain/{topic}.md)" not in README] == []
    assert [name for name in COMMANDS if f"| `jigmaker {name}" not in PAGES["commands.md"]] == []


def test_colours_are_called_what_they_are():
    """The words for the colours of a sheet are those that stand beside the colours."""
    words = {operation: word for operation, (_, word) in LAYER_COLOURS.items()}
    told = "marks are {mark}, holes {inner}, outlines {outer}, and the note, which is never cut, {note}"
    assert told.format(**words) in " ".join(PAGES["files.md"].split())


def test_the_two_commands_are_there():
    """One makes the environment, installs and runs the demo; one adds what tests need and passes them. Third is the
    page."""
    first, second, third = blocks(README, "sh")
    assert first.endswith("pip install -e . && .venv/bin/jigmaker make\n")
    assert second == '.venv/bin/pip install -e ".[test]" && .venv/bin/python -m pytest\n'
    assert third.endswith(".venv/bin/jigmaker open my-trestles\n")
