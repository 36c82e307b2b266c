"""The folder that the pages work in: its two files as they lie on the disk, what was typed and not written, and make.

What was typed is kept by a field's name, "job:trestle.height", in a file of its own beside job.toml, so that neither a
closed page nor a killed server loses it; job.toml and shop.toml change only when somebody says so.
"""

from __future__ import annotations

import json
import threading
from collections import OrderedDict
from collections.abc import Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from jigmaker.bench.child import Making
from jigmaker.errors import JobError, UsageError
from jigmaker.job.toml import LARGEST_BYTES
from jigmaker.making.disk import start_of
from jigmaker.making.folder import put_right, write_new, write_one
from jigmaker.record import dataclass

DRAFT = ".bench-draft.json"
DELAY_S = 1.0
"""So long after the last change what was typed is kept on the disk."""

_MOST_TABS, _MOST_TYPED = 50, 2000


@dataclass(frozen=True, slots=True)
class Files:
    """What lies in the folder: the bytes of both files, None for one that is not there."""

    job: bytes | None
    shop: bytes | None
    boards: bytes = b""

    @property
    def mark(self) -> str:
        """The same as long as neither file changes."""
        return sha256(repr((self.job, self.shop)).encode()).hexdigest()[:24]

    def of(self, table: str) -> bytes | None:
        """The bytes of "job" or "shop"."""
        return self.job if table == "job" else self.shop


class Workplace:
    """One folder open in the browser, in however many tabs; `lock` is held while an answer is worked out."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.lock = threading.Lock()
        self.typed: dict[str, str] = {}
        self.before: dict[str, str] = {}
        """What stood in the file when a field was first typed into, as it was written there."""
        self.good: dict[str, str] = {}
        """The last picture of each kind that could be drawn."""
        self.drawn: dict[str, object] = {}
        """What each of them was drawn from."""
        self.making = Making(folder)
        self._newest: OrderedDict[str, int] = OrderedDict()
        self._by: dict[str, str] = {}
        self._timer: threading.Timer | None = None
        self._few = threading.Lock()
        for name in ("job.toml", "shop.toml", DRAFT):
            put_right(folder / name)
        self._take_up()
        self.left_over = len(self.typed)
        """So many fields an earlier page left unwritten."""

    def files(self) -> Files:
        """Both files as they lie there now. Raises UsageError for one that cannot be read."""
        job, shop, boards = (self._read(name) for name in ("job.toml", "shop.toml", "boards.toml"))
        return Files(job, shop, boards or b"")

    def is_newest(self, tab: str, serial: int, is_new: bool = False) -> bool:
        """Whether no later request of that tab is known; `is_new` makes this one known."""
        # A lock of its own, held for a moment: a request that comes must be noted while another is being worked out.
        # Of tabs that have long been closed the oldest are forgotten.
        with self._few:
            if is_new and serial > self._newest.get(tab, -1):
                self._newest[tab] = serial
                self._newest.move_to_end(tab)
                while len(self._newest) > _MOST_TABS:
                    self._newest.popitem(last=False)
            return self._newest.get(tab) == serial

    def type(self, tab: str, values: Mapping[str, str], as_written: Mapping[str, str]) -> bool:
        """Keep what a tab's fields hold; True when another tab typed something else into one of them before.

        as_written: what the files hold now by field, empty for what they leave out.
        """
        # A field that is typed back to what stands in the file is no change any more. `before` is kept from the first
        # change on: where the file says something else now, it was changed on the disk under what is typed.
        is_contested = False
        for name, words in values.items():
            held = self.typed.get(name, as_written.get(name, ""))
            if words == held:
                continue
            is_contested |= self._by.get(name, tab) != tab
            self._by[name] = tab
            self.typed[name] = words
            self.before.setdefault(name, as_written.get(name, ""))
            if words == as_written.get(name, ""):
                del self.typed[name], self.before[name]
            self._keep_soon()
        return is_contested

    def drop(self, names: list[str] | None = None) -> None:
        """Forget what was typed into these fields, or into all."""
        for name in list(self.typed) if names is None else names:
            self.typed.pop(name, None)
            self.before.pop(name, None)
        self._keep_soon()

    def write(self, mark: str, new: dict[str, bytes], names: list[str]) -> None:
        """Write files, if those on the disk are still those of the mark, and forget what was typed into these fields.

        Raises UsageError when they are not, CannotWrite; nothing is written then.
        """
        # New files first, all or none: should one of these names be taken meanwhile, the old ones are as they were.
        there = self.files()
        if there.mark != mark:
            raise UsageError("job.toml or shop.toml was changed on the disk meanwhile. Nothing was written.")
        fresh = {name: data for name, data in new.items() if there.of(name.removesuffix(".toml")) is None}
        if fresh:
            write_new(fresh, self.folder)
        for name in new.keys() - fresh.keys():
            write_one((self.folder / name).resolve(), new[name])
        self.drop(names)

    def close(self) -> None:
        """End a make that runs, wait for it, and keep what was typed."""
        # What the timer would write a moment later is written here, and not when the folder may be open elsewhere.
        self.making.stop()
        with self._few:
            if self._timer is not None:
                self._timer.cancel()
        self._keep()

    def _read(self, name: str) -> bytes | None:
        try:
            data = start_of(self.folder / name, LARGEST_BYTES)
        except FileNotFoundError:
            return None
        except OSError as error:
            raise UsageError(f"{name} cannot be read: {error.strerror or error}") from None
        if len(data) > LARGEST_BYTES:
            raise UsageError(f"{name} is longer than {LARGEST_BYTES // 1000} kB and no file of a job")
        return data

    def _take_up(self) -> None:
        """What an earlier page left; anything else in its place is left alone until something is typed."""
        # Read as a stranger's file: no link is followed, no type is trusted, and nothing it holds can stop the page.
        with suppress(OSError, ValueError, KeyError, TypeError, RecursionError):
            told = json.loads(start_of(self.folder / DRAFT, LARGEST_BYTES, follow=False))
            pairs = [told["typed"], told["before"]]
            if all(isinstance(word, str) for held in pairs for pair in held.items() for word in pair):
                self.typed, self.before = pairs

    def _keep_soon(self) -> None:
        # Each change puts it off anew, so that a word that is typed is written once.
        with self._few:
            if self._timer is not None:
                self._timer.cancel()
            self._timer = threading.Timer(DELAY_S, self._keep)
            self._timer.daemon = True
            self._timer.start()

    def _keep(self) -> None:
        """Typed fields on the disk as they are now; a folder that cannot be written to keeps them in memory only."""
        path = self.folder / DRAFT
        with self._few, suppress(OSError, JobError):
            if self.typed:
                kept = {"typed": dict(list(self.typed.items())[:_MOST_TYPED]), "before": dict(self.before)}
                write_one(path, json.dumps(kept, indent=1).encode())
            else:
                path.unlink(missing_ok=True)
