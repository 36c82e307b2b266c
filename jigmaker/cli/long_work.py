"""How a command that works for long tells what it is at: work in, the same work out, a line on the terminal."""

import shutil
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

from jigmaker.progress import watched

DELAY_S = 0.5
"""Work that is done by then says nothing."""

_REFRESH_S = 0.1


@contextmanager
def long_work() -> Iterator[Callable[[], None]]:
    """Work inside tells on a terminal what it is at, on a line that is gone afterwards.

    A step may have begun before anything is shown, and last: when the time has come it is shown from beside. What is
    yielded ends that thread, for work that must have the process to itself: from then on each step shows itself.
    """
    # The timer runs in a thread of its own, for one long step reports nothing while it lasts. It is a daemon, so that
    # a program that ends early does not wait for it, and it is joined before the line is cleared, so that it cannot
    # write once more after that.
    line = ProgressLine(sys.stderr, DELAY_S)
    beside = threading.Timer(DELAY_S, line.catch_up)
    beside.daemon = True
    beside.start()

    def alone() -> None:
        beside.cancel()
        beside.join()

    try:
        with watched(line.show):
            yield alone
    finally:
        alone()
        line.clear()


class ProgressLine:
    """One line on a terminal, "writing 3 of 24", written over and over and taken away in the end.

    Nothing is written on what is no terminal, nor before `delay_s` seconds of the clock have gone by. A clock does no
    harm here: it decides when something is shown, and never what is made.
    """

    def __init__(self, stream: TextIO | None, delay_s: float, clock: Callable[[], float] = time.monotonic) -> None:
        self._stream = stream if stream is not None and stream.isatty() else None
        self._clock = clock
        self._next = clock() + delay_s
        self._step = ("reading", 0, 0)
        self._shown = 0

    def show(self, step: str, number: int, count: int) -> None:
        """Show a step in place of the one before."""
        self._step = (step, number, count)
        if self._stream is None or (now := self._clock()) < self._next:
            return
        self._next = now + _REFRESH_S
        words = f"{step} {number} of {count}" if count else step
        self._write(words[: shutil.get_terminal_size().columns - 1])

    def catch_up(self) -> None:
        """Show the step that is worked on."""
        self.show(*self._step)

    def clear(self) -> None:
        """Take the line away."""
        if self._shown:
            self._write("")

    def _write(self, words: str) -> None:
        if self._stream is not None:
            with suppress(OSError):  # a terminal that has gone is no reason to stop
                self._stream.write(f"\r{words:<{self._shown}}" + ("" if words else "\r"))
                self._stream.flush()
        self._shown = len(words)
