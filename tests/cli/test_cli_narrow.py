"""On a terminal of forty columns nothing is cut off or run together: a table's figures stand below its rows' names."""

import re

import pytest
from click.testing import CliRunner

from jigmaker.cli import new_words, speech
from jigmaker.cli.main import jigmaker

UNDER = [word for foot in ("near-r", "near-l", "far-r", "far-l") for word in (f"--under-{foot}", "2")]
COMMANDS = [
    ["angles"],
    ["level", "--top", "735", *UNDER],
    ["level", "--hangs", "near_r", "--gap", "3 mm"],
    ["new", "bench", "--for", "general", "--boards", "70x32, 120x45, 110x18"],
]


def words_of(said: str) -> set[str]:
    """Each word and figure."""
    return set(re.findall(r"[^\s:]+", said))


@pytest.mark.parametrize("command", COMMANDS, ids=[" ".join(words[:2]) for words in COMMANDS])
@pytest.mark.parametrize("columns", [40, 59, 80])
def test_tables_follow_the_terminal(tmp_path, monkeypatch, command: list[str], columns: int) -> None:
    """Every word and figure of the wide table is there, and no line is longer than the terminal is wide."""
    said = []
    for number, wide in enumerate((speech.WIDTH, columns)):
        (tmp_path / str(number)).mkdir()
        monkeypatch.chdir(tmp_path / str(number))
        for module in (speech, new_words):
            monkeypatch.setattr(module, "width", lambda wide=wide: wide)
        result = CliRunner().invoke(jigmaker, command)
        assert result.exit_code == 0, result.output
        said.append(result.stdout)
    assert max(map(len, said[1].splitlines())) <= columns
    assert words_of(said[0]) <= words_of(said[1])


def test_a_figure_stands_behind_its_columns_heading() -> None:
    """Two lines of headings, a named row; a sentence and what fits stay."""
    head = ["a table of      off     rise", "                square  in 100"]
    told = ["a table of", "  the wall", "    off square: 2.48", "    rise in 100: 4.33", "", "as it is"]
    assert speech.narrowed([*head, "  the wall      2.48    4.33", "", "as it is"], 24) == told


def test_what_is_no_terminal_gets_the_whole_width(monkeypatch) -> None:
    """A pipe or a file: the same bytes wherever it is run."""
    monkeypatch.setenv("COLUMNS", "40")
    assert speech.width() == speech.WIDTH
