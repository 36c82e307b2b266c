"""How a command that works for long goes about it: work in, the same work out, quicker."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def long_work() -> Iterator[None]:
    """Work inside looks for no rings of objects.

    Hundreds of thousands of small objects live to the end of such a run: looking through them takes a tenth of making
    and a quarter of proving.
    """
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
