"""Long work on a terminal and under a signal: one line that goes away, an exit code of its own, and no litter."""

import io
import os
import pty
import select
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from jigmaker.cli.long_work import ProgressLine


class Terminal(io.StringIO):
    """A terminal that remembers what was written on it."""

    def isatty(self) -> bool:
        """It is one."""
        return True


def seen(written: str) -> str:
    """What stands on a line after all that was written: a carriage return goes back to its start."""
    line: list[str] = []
    for run in written.split("\r"):
        line[: len(run)] = run
    return "".join(line)


def test_work_says_nothing_before_half_a_second() -> None:
    """By a clock of the test's own; later it is told every tenth of a second, and in the end the line is empty."""
    time, terminal = [0.0], Terminal()
    line = ProgressLine(terminal, 0.5, lambda: time[0])
    shown = {}
    for time[0] in (0.0, 0.49, 0.51, 0.55, 0.62, 0.8):
        line.show("writing", int(time[0] * 100), 100)
        shown[time[0]] = seen(terminal.getvalue())
    assert shown == {
        0.0: "",
        0.49: "",
        0.51: "writing 51 of 100",
        0.55: "writing 51 of 100",
        0.62: "writing 62 of 100",
        0.8: "writing 80 of 100",
    }
    time[0] = 1.0
    line.show("papers", 0, 0)
    assert seen(terminal.getvalue()).rstrip() == "papers"
    line.clear()
    assert seen(terminal.getvalue()).strip() == ""
    assert "\n" not in terminal.getvalue() and terminal.getvalue().endswith("\r")


def test_a_step_that_began_before_half_a_second_is_shown_then() -> None:
    """As loading a library is, in which nothing more is told; before the first step it is reading."""
    for told, wanted in (([], "reading"), ([("writing", 1, 2)], "writing 1 of 2")):
        time, terminal = [0.0], Terminal()
        line = ProgressLine(terminal, 0.5, lambda now=time: now[0])  # type: ignore[misc]
        for step in told:
            line.show(*step)
        assert seen(terminal.getvalue()) == ""
        time[0] = 0.5
        line.catch_up()
        assert seen(terminal.getvalue()) == wanted


@pytest.mark.parametrize("stream", [io.StringIO(), None], ids=["a file", "none"])
def test_nothing_is_told_where_there_is_no_terminal(stream: io.StringIO | None) -> None:
    """Whoever keeps stderr in a file finds errors there and nothing else."""
    line = ProgressLine(stream, 0.0, lambda: 9.0)
    line.show("writing", 1, 2)
    line.clear()
    assert stream is None or stream.getvalue() == ""


def test_the_line_keeps_to_the_terminals_width(monkeypatch: pytest.MonkeyPatch) -> None:
    """A longer one would begin a second line, which nothing takes away."""
    monkeypatch.setenv("COLUMNS", "12")
    terminal = Terminal()
    ProgressLine(terminal, 0.0, lambda: 9.0).show("proving lines", 10, 20)
    assert seen(terminal.getvalue()) == "proving lin"


AT_ONCE = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background jobs begin with it ignored
from jigmaker.__main__ import main
from jigmaker.cli import long_work
long_work.DELAY_S = 0.0
long_work._REFRESH_S = 0.0
main()
"""


def said_on(bench: Path, *words: str, on_terminal: bool) -> tuple[bytes, int]:
    """What a command writes to stderr, a terminal or a pipe, and its exit code; the delay is none."""
    leader, follower = pty.openpty() if on_terminal else os.pipe()
    command = [sys.executable, "-c", AT_ONCE, *words]
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=follower, cwd=bench)
    os.close(follower)
    said = b""
    while select.select([leader], [], [], 60)[0]:
        try:
            more = os.read(leader, 65536)
        except OSError:  # Linux says EIO when the last who could write has gone
            break
        if not more:
            break
        said += more
    os.close(leader)
    return said, child.wait(60)


def test_a_terminal_shows_one_line_that_goes_away(bench: Path) -> None:
    """A real one: the step with its count, and nothing of it left over."""
    said, code = said_on(bench, "coupon", on_terminal=True)
    assert code == 0
    assert b"\rwriting 1 of 1" in said
    assert b"\n" not in said
    assert seen(said.decode()).strip() == ""


def test_a_pipe_gets_nothing(bench: Path) -> None:
    """The same work."""
    assert said_on(bench, "coupon", on_terminal=False) == (b"", 0)


def test_a_fault_takes_the_line_away_before_it_is_told(bench: Path) -> None:
    """The sentence stands on a line of its own."""
    said, code = said_on(bench, "prove", ".", on_terminal=True)
    assert code == 2
    assert b". holds no kit.json" in said.replace(b"\r\n", b"\n").split(b"\n")[-2]


SIGNALS = [signal.SIGINT, signal.SIGTERM]


@pytest.mark.parametrize("number", SIGNALS, ids=["interrupted", "ended"])
@pytest.mark.parametrize("library", ["click", "shapely"])
def test_a_signal_while_libraries_load_ends_at_once(bench: Path, tmp_path: Path, library: str, number: int) -> None:
    """A library of that name in the way sends it, and would then wait for a minute: exit code, no word, no litter."""
    stubs = tmp_path / "stubs"
    stubs.mkdir()
    stub = f"import os, time\nos.kill(os.getpid(), {int(number)})\ntime.sleep(60)\nraise SystemExit('not ended')\n"
    (stubs / f"{library}.py").write_text(stub, "utf-8")
    before = sorted(bench.iterdir())
    early = AT_ONCE.replace("from jigmaker.cli import long_work\n", "").replace("long_work.", "#")
    done = subprocess.run(
        [sys.executable, "-c", early, "make", str(bench / "job.toml"), "--out", str(bench / "made")],
        env={**os.environ, "PYTHONPATH": str(stubs)},
        capture_output=True,
        timeout=30,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (128 + number, b"", b"")
    assert sorted(bench.iterdir()) == before


LOADING = """
import signal, time
from jigmaker import __main__
class ExtensionFileLoader:
    def create_module(self):
        signal.raise_signal(signal.SIGTERM)
        time.sleep(0.1)
        print("loaded", flush=True)
def jigmaker(**said):
    ExtensionFileLoader().create_module()
    time.sleep(60)
from jigmaker.cli import main
main.jigmaker = jigmaker
__main__.main()
"""


def test_a_signal_lets_a_library_in_another_language_finish_loading() -> None:
    """An exception raised in the middle of it would abort the process: manifold3d makes its enumerations in C++."""
    done = subprocess.run([sys.executable, "-c", LOADING], capture_output=True, timeout=30, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (128 + signal.SIGTERM, b"loaded\n", b"")


def test_a_signal_that_is_ignored_stays_ignored(tmp_path: Path) -> None:
    """As for a job in the background of a shell, which Ctrl-C on the terminal is not meant for."""
    (tmp_path / "click.py").write_text(
        "import os, signal\nos.kill(os.getpid(), signal.SIGINT)\nraise SystemExit(7)\n", "utf-8"
    )
    code = "import signal\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\nfrom jigmaker.__main__ import main\nmain()"
    command = [sys.executable, "-c", code, "angles"]
    assert subprocess.run(command, env={**os.environ, "PYTHONPATH": str(tmp_path)}, check=False).returncode == 7


def test_the_help_tells_the_exit_codes() -> None:
    """Of done, refused, wrong usage and both signals."""
    command = [sys.executable, "-m", "jigmaker", "--help"]
    said = " ".join(subprocess.run(command, capture_output=True, text=True, check=True).stdout.split())
    assert all(f"{code}: " in said for code in (0, 1, 2, 128 + signal.SIGINT, 128 + signal.SIGTERM))
