"""What runs when jigmaker is called by name or as a module: the command line, ended by a signal at any time."""

import gc
import os
import signal
import threading
from types import FrameType

_AGAIN_S = 0.01

_signals: list[int] = []


def main() -> None:
    """Run the command line; ends the process with its exit code.

    Hundreds of thousands of small objects live to the end of a run and few of them form rings: looking for rings would
    take a tenth of loading and making, and a quarter of proving.
    """
    # Where input, output or errors are closed, the next file that is opened would get their place, and all words. What
    # is opened here takes the lowest number that is free: the one that is missing.
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    gc.disable()
    for number in (signal.SIGINT, signal.SIGTERM):
        if signal.getsignal(number) is not signal.SIG_IGN:  # as for a job in the background
            signal.signal(number, _end)
    from jigmaker.cli.main import jigmaker

    try:
        jigmaker(prog_name="jigmaker")
    finally:
        if _signals:  # a server's loop ends at a signal as if its work were done
            raise SystemExit(128 + _signals[0])


def _end(number: int, frame: FrameType | None) -> None:
    """The first signal ends the work, which tidies up; a second one leaves the tidying alone; a third ends that too.

    An exception that goes through the start of a library in another language aborts the process: there it waits.
    """
    while frame is not None:
        if frame.f_code.co_qualname.startswith("ExtensionFileLoader."):
            threading.Timer(_AGAIN_S, _again, (number,)).start()
            return
        frame = frame.f_back
    _signals.append(number)
    if len(_signals) == 1:
        raise SystemExit(128 + number)
    if len(_signals) > 2:
        os._exit(128 + number)


def _again(number: int) -> None:
    """Send the signal anew, to the main thread where the system can: only there it wakes what sleeps."""
    main_thread = threading.main_thread().ident
    if hasattr(signal, "pthread_kill") and main_thread is not None:
        signal.pthread_kill(main_thread, number)
    else:
        signal.raise_signal(number)


if __name__ == "__main__":
    main()
