"""The README and .ci/run give the same two commands, word for word."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
COMMANDS = (
    "python3 -m venv .venv && .venv/bin/pip install -e . && .venv/bin/jigmaker make",
    '.venv/bin/pip install -e ".[test]" && .venv/bin/python -m pytest',
)


@pytest.mark.parametrize("command", COMMANDS)
@pytest.mark.parametrize("name", ["README.md", ".ci/run"])
def test_both_give_the_command(name: str, command: str) -> None:
    """What the README tells a newcomer to type is what the check runs: the command starts a line of both."""
    lines = (ROOT / name).read_text("utf-8").splitlines()
    assert any(line.strip().startswith(command) for line in lines)
