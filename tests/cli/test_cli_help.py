"""Help and version: every command has them, and they load none of what the commands work with."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigmaker import __version__
from jigmaker.cli.main import COMMANDS, jigmaker
from jigmaker.cli.speech import WIDTH
from jigmaker.job.demo import demo_shop_text

HEAVY = {"ezdxf", "shapely", "numpy", "svgwrite", "manifold3d", "reportlab"}
AFTER = {f"jigmaker.{room}" for room in ("sheets", "cutting", "drawing", "writers", "papers", "proof", "bench")}
"""Rooms of what comes after the numbers."""

MOST_MODULES = 130
"""Of our own that a command which answers at once may load: a third of a millisecond each, of a tenth of a second."""

LOADED = """
import json, sys
sys.argv = ["jigmaker", *json.loads(sys.argv[1])]
try:
    from jigmaker.__main__ import main
    main()
except SystemExit as end:
    assert end.code == 0, end.code
finally:
    print("\\n" + json.dumps(sorted({".".join(name.split(".")[:part]) for name in sys.modules for part in (1, 2, 9)})))
"""

LINES = [["--help"], ["-h"], ["--version"], *([command, "--help"] for command in COMMANDS)]


@pytest.mark.parametrize("words", LINES, ids=" ".join)
def test_help_and_version_load_no_heavy_library(words: list[str]) -> None:
    """In a process of its own: whoever asks how to use it does not wait for libraries that draw."""
    run = subprocess.run([sys.executable, "-c", LOADED, json.dumps(words)], capture_output=True, text=True, check=True)
    loaded = set(json.loads(run.stdout.splitlines()[-1]))
    assert "click" in loaded
    assert loaded & HEAVY == set()
    assert ("Usage: jigmaker" in run.stdout) != (words == ["--version"])


QUICK = [
    ["angles"],
    ["angles", "--json"],
    ["new", "bench"],
    ["new", "bench", "--for", "sawing"],
    ["level", "--hangs", "near_r", "--gap", "3 mm"],
]


@pytest.mark.parametrize("words", QUICK, ids=" ".join)
def test_what_answers_at_once_loads_no_heavy_library(tmp_path: Path, words: list[str]) -> None:
    """With the demo, where the router's base is carried well: only where it nearly tips is that worked out by one."""
    command = [sys.executable, "-c", LOADED, json.dumps(words)]
    run = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path)
    loaded = set(json.loads(run.stdout.splitlines()[-1]))
    assert loaded & (HEAVY | AFTER) == set()
    assert 30 < len([name for name in loaded if name.startswith("jigmaker.")]) < MOST_MODULES


def test_the_checks_above_can_fail(tmp_path: Path) -> None:
    """A command that draws loads at least one of them."""
    (tmp_path / "shop.toml").write_bytes(demo_shop_text())
    command = [sys.executable, "-c", LOADED, '["coupon"]']
    run = subprocess.run(command, capture_output=True, text=True, check=True, cwd=tmp_path)
    loaded = set(json.loads(run.stdout.splitlines()[-1]))
    assert loaded & HEAVY and loaded & AFTER
    assert len([name for name in loaded if name.startswith("jigmaker.")]) > MOST_MODULES


def test_every_command_is_told_in_one_line() -> None:
    """The group's help names every command with what it does, whole."""
    said = CliRunner().invoke(jigmaker, ["--help"]).output
    for command in COMMANDS:
        line = next(line for line in said.splitlines() if line.startswith(f"  {command} "))
        assert line.endswith(".") and not line.endswith("...")
    assert max(map(len, said.splitlines())) <= WIDTH


def test_the_version_is_the_packages() -> None:
    """One number, kept in one place."""
    assert CliRunner().invoke(jigmaker, ["--version"]).output == f"jigmaker, version {__version__}\n"


@pytest.mark.parametrize("words", [["nonsense"], ["make", "--nonsense"], ["new"], ["angles", "--units", "cubits"]])
def test_wrong_usage_ends_in_two(words: list[str]) -> None:
    """A word that is none of ours, or one that is missing."""
    result = CliRunner().invoke(jigmaker, words)
    assert result.exit_code == 2
    assert "Error: " in result.stderr
