"""The kit made in a process of its own: a folder in, its kit in made/ out, and on the way what it is at, line by line.

A process can be stopped at any step without leaving anything half written, and leaves the page's server free to answer.
What it says are JSON objects, one a line: {"step", "number", "count"}, and in the end {"faults"} or {"verdict", ...}.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from contextlib import suppress
from dataclasses import field
from pathlib import Path
from typing import Any

from jigmaker.record import dataclass

MADE = "made"
CHILD = "--make-in"
"""The option of jigmaker open that runs `make_in` and nothing else."""

STOPPED = "Stopped. Nothing was written."


@dataclass
class MakeProgress:
    """What a make has said so far: steps in order with how far each is, and its end, {} while it runs."""

    steps: dict[str, str] = field(default_factory=dict)
    end: dict[str, Any] = field(default_factory=dict)


class Making:
    """At most one make of a folder at a time."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._child: subprocess.Popen[bytes] | None = None
        self._listener: threading.Thread | None = None
        self._lock = threading.Lock()
        self.told = MakeProgress()

    @property
    def is_running(self) -> bool:
        """Whether a make is at work."""
        return self._listener is not None and self._listener.is_alive()

    def start(self) -> None:
        """Start to make; pressed twice, the second does nothing."""
        with self._lock:
            if self.is_running:
                return
            # The same Python that serves the page, so the same jigmaker. No input, or it could wait for a terminal's;
            # its warnings go nowhere, as a pipe that nobody empties would stop it once it is full.
            self.told = MakeProgress()
            self._child = subprocess.Popen(
                [sys.executable, "-m", "jigmaker", "open", str(self._folder.absolute()), CHILD],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
            )
            self._listener = threading.Thread(target=self._listen, args=(self._child, self.told), daemon=True)
            self._listener.start()

    def stop(self) -> None:
        """End a make that runs and wait until it has tidied up."""
        with self._lock:
            if self._child is None or self._listener is None or not self.is_running:
                return
            # The end is set before the process is told: its listener sets one of its own only where there is none yet.
            # Terminated, it tidies up what it had begun to write; one that does not end by then is killed, and what it
            # leaves is put right before the next make.
            self.told.end = {"stopped": STOPPED}
            self._child.terminate()
            try:
                self._child.wait(20)
            except subprocess.TimeoutExpired:
                self._child.kill()
            self._listener.join()

    def _listen(self, child: subprocess.Popen[bytes], told: MakeProgress) -> None:
        # In a thread, line by line until the process closes its output. It was handed the record that it fills: a make
        # that is started after this one has a record of its own.
        assert child.stdout is not None
        with child.stdout as lines:
            for line in lines:
                with suppress(ValueError):
                    said = json.loads(line)
                    if "step" in said:
                        count = said["count"]
                        told.steps[said["step"]] = f"{said['number']} of {count}" if count else ""
                    else:
                        told.end = said
        child.wait()
        if not told.end:
            told.end = {
                "faults": [f"The making ended by itself (code {child.returncode}). Nothing was written; try again."]
            }


def make_in(folder: Path) -> bool:
    """Make the kit of the folder's job.toml in its shop into made/, and say on stdout what comes; False for no kit.

    It is what jigmaker make does: read, make, prove, then write the folder whole, or say why not.
    """
    from jigmaker import api
    from jigmaker.errors import JigmakerError
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.making.disk import start_of
    from jigmaker.making.folder import check_folder, put_right, write_folder
    from jigmaker.making.folder_files import LARGEST_BYTES
    from jigmaker.making.job_check import Source
    from jigmaker.making.verdict_words import finding_sentence, verdict_sentence
    from jigmaker.progress import watched

    try:
        with watched(lambda step, number, count: _say(step=step, number=number, count=count)):
            job_text, shop_text = (start_of(folder / name, LARGEST_BYTES) for name in ("job.toml", "shop.toml"))
            boards = folder / "boards.toml"
            boards_text = start_of(boards, LARGEST_BYTES) if boards.exists() else b""
            job, shop = read_job(job_text, "job.toml"), read_shop(shop_text, "shop.toml")
            target = folder / MADE / job.slug
            put_right(target)
            check_folder(target, job_name=job.name)
            made = api.make(job, shop, boards_text)
            if made.report.passed:
                _say(step="writing the folder", number=0, count=0)
                write_folder(made.files, target, job_name=job.name)
    except JigmakerError as error:
        _say(faults=error.faults)
        return False
    source = Source(job_text, shop_text)
    _say(
        verdict=verdict_sentence(made.report),
        passed=made.report.passed,
        findings=[finding_sentence(finding) for finding in made.report.findings],
        cautions=[source.sentence(caution) for caution in made.plan.cautions],
    )
    return made.report.passed


def _say(**told: object) -> None:
    """One line; where nobody listens any more the work goes on."""
    # Straight to the descriptor: nothing is held back in a buffer while a step lasts.
    with suppress(OSError):
        os.write(1, json.dumps(told).encode() + b"\n")
