"""The second process of make: what it gives, that nothing depends on it, and that it ends with the first."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="elsewhere everything is done in one process")

BEGUN = """
import os, pickle, signal, sys, threading, time
os.sched_getaffinity = lambda _: {0, 1}
from jigmaker.cli import beside
first = os.getpid()
"""
"""A new process with one thread; on two processors, whatever the machine has."""


def said(lines: str) -> str:
    """What a new process says, which leaves no word on stderr and no child behind."""
    ended = "\ntry:\n    os.waitpid(-1, 0)\nexcept ChildProcessError:\n    print('none left')\n"
    run = subprocess.run([sys.executable, "-c", BEGUN + lines + ended], capture_output=True, text=True, timeout=60)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout.endswith("none left\n")
    return run.stdout.removesuffix("none left\n")


def test_the_work_is_done_beside_and_its_result_comes_back() -> None:
    """More bytes than a pipe holds, from another process."""
    work = "(os.getpid() != first, b'a' * 1_000_000)"
    lines = f"with beside.beside(lambda: {work}) as result:\n    print(result() == (True, b'a' * 1_000_000))"
    assert said(lines) == "True\n"


NO_FORK = {
    "one processor": "os.sched_getaffinity = lambda _: {0}",
    "another thread": "threading.Thread(target=time.sleep, args=(2,), daemon=True).start()",
    "another system": "sys.platform = 'darwin'",
    "no more processes": "def fork():\n    raise BlockingIOError\nos.fork = fork",
    "no list of threads": "beside.Path = lambda name: __import__('pathlib').Path('/nowhere')",
}


@pytest.mark.parametrize("how", NO_FORK)
def test_the_work_is_done_here_where_a_fork_is_no_use_or_not_safe(how: str) -> None:
    """And only when it is asked for."""
    lines = "with beside.beside(lambda: print(os.getpid() == first)) as result:\n    print('asked')\n    result()"
    assert said(f"{NO_FORK[how]}\n{lines}") == "asked\nTrue\n"


def test_a_thread_that_is_just_going_does_not_stand_in_the_way() -> None:
    """As that of the progress line, which has been waited for: the system may list it a little longer."""
    going = "threading.Thread(target=time.sleep, args=(0.01,), daemon=True).start()"
    lines = "with beside.beside(lambda: os.getpid() != first) as result:\n    print(result())"
    assert said(f"{going}\n{lines}") == "True\n"


FAILS = {
    "raises": "raise ValueError('of the second process')",
    "is killed": "os.kill(os.getpid(), signal.SIGKILL)",
    "is ended": "os.kill(os.getpid(), signal.SIGTERM); time.sleep(60)",
    "exits": "sys.exit(3)",
    "cannot hand it over": "return lambda: 0",
}


@pytest.mark.parametrize("how", FAILS)
def test_what_the_second_process_does_not_give_is_made_in_the_first(how: str) -> None:
    """Nothing is said of it."""
    lines = f"def work():\n    if os.getpid() != first:\n        {FAILS[how]}\n    return 'made here'\n"
    assert said(f"{lines}with beside.beside(work) as result:\n    print(result())") == "made here\n"


@pytest.mark.parametrize("lost", [1, 3, 9, 70_000, 100_009])
def test_an_answer_that_is_not_whole_is_not_taken(lost: int) -> None:
    """The second process may be ended while it hands over what it made."""
    part = f"pickle.dump = lambda told, answer: answer.write(pickle.dumps(told)[:-{lost}])\n"
    lines = "with beside.beside(lambda: str(os.getpid() == first) * 25_000) as result:\n    print(result()[:4])"
    assert said(part + lines) == "True\n"


def test_a_fault_of_the_work_is_told_as_the_first_processs_own() -> None:
    """With the error that it would have raised alone."""
    lines = "def work():\n    raise MemoryError('much')\ntry:\n    with beside.beside(work) as got:\n        got()\n"
    assert said(f"{lines}except MemoryError as error:\n    print(error)") == "much\n"


def test_the_second_process_ends_where_its_result_is_not_asked_for() -> None:
    """As when the proof finds a fault, or a part cannot be cut."""
    lines = "start = time.time()\ntry:\n    with beside.beside(lambda: time.sleep(60)):\n        raise KeyError\n"
    assert said(f"{lines}except KeyError:\n    print(time.time() - start < 30)") == "True\n"


MAKING = """
import os, signal, sys, time
from pathlib import Path
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background jobs begin with it ignored
os.sched_getaffinity = lambda _: {0, 1}
from jigmaker.__main__ import main
from jigmaker.making import make, paper_files

def papers(plan):
    Path(os.environ["NOTED"], "as yet unnamed").write_text(str(os.getpid()))
    Path(os.environ["NOTED"], "as yet unnamed").rename(Path(os.environ["NOTED"], "second"))
    time.sleep(60)

paper_files.papers_beside, make.planned_files = papers, lambda *asked: time.sleep(60)
main()
"""


@pytest.mark.parametrize("to_both", [True, False], ids=["to both", "to the first"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["interrupted", "ended"])
def test_a_signal_ends_both_processes(
    bench: Path, tmp_path_factory: pytest.TempPathFactory, number: signal.Signals, to_both: bool
) -> None:
    """Ctrl-C reaches all processes of a terminal, kill the one that is named: its exit code, no word, no litter."""
    noted = tmp_path_factory.mktemp("noted")
    first = subprocess.Popen(
        [sys.executable, "-c", MAKING, "make", "--out", str(bench / "made")],
        cwd=bench,
        env={**os.environ, "NOTED": str(noted)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    while not (noted / "second").exists() and first.poll() is None:
        time.sleep(0.02)
    second = int((noted / "second").read_text())
    assert second != first.pid
    (os.killpg if to_both else os.kill)(first.pid, number)
    assert first.communicate(timeout=30) == (b"", b"")
    assert first.returncode == 128 + number
    with pytest.raises(ProcessLookupError):
        os.kill(second, 0)
    assert sorted(path.name for path in bench.iterdir()) == ["job.toml", "shop.toml"]
