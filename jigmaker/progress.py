"""What long work is at, told by any room while it works, for whoever watches: a step's name and how far it is.

Rooms return what they make and print nothing; this is the one thing they tell on the way. Nobody need watch.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar

Watcher = Callable[[str, int, int], None]
"""Takes a step's name, the number of what is worked on, from 1, and how many there are; 0 and 0 when nobody counts."""

Item = TypeVar("Item")

_watcher: ContextVar[Watcher | None] = ContextVar("watcher", default=None)


def tell(step: str, number: int = 0, count: int = 0) -> None:
    """Tell the watcher, if there is one."""
    if (watcher := _watcher.get()) is not None:
        watcher(step, number, count)


def counted(step: str, items: Sequence[Item]) -> Iterator[Item]:
    """The items, one after the other; the watcher is told before each."""
    for number, item in enumerate(items, 1):
        tell(step, number, len(items))
        yield item


@contextmanager
def watched(watcher: Watcher) -> Iterator[None]:
    """The watcher is told of all work inside."""
    token = _watcher.set(watcher)
    try:
        yield
    finally:
        _watcher.reset(token)
