"""Work beside other work, in a second process: most papers of a kit, which need not wait for its proof.

     reading, planning --+-- cut files, proof, other papers --+-- index, the folder
                         |                                    |
                         +-- papers (a fork) -----------------+

The second process is a help that nothing depends on. It says nothing and writes no file; where it cannot be had, fails
or is ended, its work is done in the first, which then meets and tells the fault.
"""

import os
import pickle
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO, NoReturn, TypeVar

from jigmaker.progress import watched

Result = TypeVar("Result")

_ENDING = {signal.SIGINT, signal.SIGTERM}
_LOOKS, _LOOK_S = 100, 0.002


@contextmanager
def beside(work: Callable[[], Result]) -> Iterator[Callable[[], Result]]:
    """Begin the work in a second process; what is yielded waits for its result and gives it.

    The second process ends with the block at the latest, however the block ends.
    """
    # Without a second process the work is done when its result is asked for, and no caller knows the difference.
    child = None
    if _may_fork():
        # A signal between the fork and the block would leave the child behind.
        signal.pthread_sigmask(signal.SIG_BLOCK, _ENDING)
        reading, writing = os.pipe()
        try:
            child = os.fork()
        except OSError:  # no more processes, or no memory for one
            os.close(reading)
            os.close(writing)
            signal.pthread_sigmask(signal.SIG_UNBLOCK, _ENDING)
    if child is None:
        yield work
        return
    if not child:
        _work_and_exit(work, reading, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as answer:
        try:
            signal.pthread_sigmask(signal.SIG_UNBLOCK, _ENDING)
            yield lambda: _result(answer, work)
        finally:
            os.kill(child, signal.SIGKILL)  # not waited for yet, so that the number is still the child's
            os.waitpid(child, 0)


def _may_fork() -> bool:
    """A fork copies the one thread that asks: what others hold locked stays locked in the child. Threads of libraries
    in other languages count too, which only Linux tells. Where there is one processor nothing would be won."""
    if sys.platform != "linux":
        return False
    try:
        if len(os.sched_getaffinity(0)) < 2:
            return False
        # A thread that was waited for has done its work, but the system may list it for a moment longer.
        for _ in range(_LOOKS):
            if len([*Path("/proc/self/task").iterdir()]) == 1:
                return True
            time.sleep(_LOOK_S)
        return False
    except OSError:
        return False


def _work_and_exit(work: Callable[[], Result], reading: int, writing: int) -> NoReturn:
    """The child: work silently, hand the result over, leave out what the parent does at its end. A signal ends it at
    once, unless it is ignored, as in a job in the background."""
    # os._exit, and in a finally: neither an error nor the end may run what the parent has registered or opened, nor
    # write the parent's buffers a second time.
    try:
        for number in _ENDING:
            if signal.getsignal(number) is not signal.SIG_IGN:
                signal.signal(number, signal.SIG_DFL)
        signal.pthread_sigmask(signal.SIG_UNBLOCK, _ENDING)
        os.close(reading)
        with watched(lambda *step: None), os.fdopen(writing, "wb") as answer:
            pickle.dump(work(), answer)
    finally:
        os._exit(0)


def _result(answer: BinaryIO, work: Callable[[], Result]) -> Result:
    try:
        result: Result = pickle.load(answer)
    except (EOFError, pickle.UnpicklingError):  # the child was ended or met a fault: its answer is not whole
        return work()
    return result
