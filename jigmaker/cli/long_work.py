"""How a command that works for long goes about it: work in, the same work out, quicker and politely ended."""

import gc
import signal
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def long_work() -> Iterator[None]:
    """Work inside ends like Ctrl-C when it is asked to end, so that it tidies up, and looks for no rings of objects.

    Hundreds of thousands of small objects live to the end of such a run: looking through them takes a tenth of making
    and a quarter of proving.
    """
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
