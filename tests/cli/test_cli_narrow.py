"""On a terminal of forty columns nothing is cut off or run together: a table's figures stand below its rows' names."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from kit_cache import made

from jigmaker.cli import new_words, speech
from jigmaker.cli.main import jigmaker
from jigmaker.job.demo import demo_boards_text, demo_job_text
from jigmaker.making.folder import write_folder

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


@pytest.fixture(scope="module")
def work(tmp_path_factory, quick_shop):
    """A folder with the demo's kit in `old`, job and shop as of today, legs 2 mm thicker, and a coupon's form."""
    folder = tmp_path_factory.mktemp("work")
    write_folder(made(demo_job_text(), quick_shop.encode()), folder / "old")
    (folder / "job.toml").write_bytes(demo_job_text().replace(b"thickness = 32 ", b"thickness = 34 "))
    (folder / "shop.toml").write_text(quick_shop, "utf-8")
    (folder / "boards.toml").write_bytes(demo_boards_text().replace(b"70 x 32", b"70 x 34"))
    (folder / "form.toml").write_bytes((Path(__file__).parent.parent / "shops/potting_bench_form.toml").read_bytes())
    return folder


IN_FOLDER = {
    "boards": (["boards"], "8 of 2440 mm"),
    "compare": (["compare", "old", "job.toml"], "set projection: 50.1 mm now"),
    "make": (["make"], "the cutter's tip 50.1 mm below the base"),
    "make --only": (["make", "--only", "stop", "--shop", "old/shop.toml"], "the kit in old is"),
    "coupon": (["coupon", "--read", "form.toml"], "kerf"),
}


@pytest.mark.parametrize(("command", "words"), IN_FOLDER.values(), ids=IN_FOLDER)
def test_longer_tables_do_too(work, monkeypatch, command: list[str], words: str) -> None:
    """Boards, an old kit, a made one, a coupon read, on 40 columns: only paths and commands, which are copied whole,
    are longer; nothing else is lost."""
    monkeypatch.chdir(work)
    said = []
    for wide in (speech.WIDTH, 40):
        monkeypatch.setattr(speech, "width", lambda wide=wide: wide)
        said.append(CliRunner().invoke(jigmaker, command).stdout)
    long = [line.strip() for line in said[1].splitlines() if len(line) > 40]
    assert all(" " not in line or line.startswith("jigmaker make ") for line in long), long
    assert words in " ".join(said[1].split())
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
