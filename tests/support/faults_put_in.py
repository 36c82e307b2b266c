"""Write folders and files again and again, each time killed, or refused, at another call to the system.

Run as a program it prints what came of it as JSON, a line a case; with "all" each call is refused for every reason.
Python's audit events, docs.python.org/3/library/audit_events.html, come before each call that looks at the disk or
changes it: the process ends there, in a child that is forked for it, or the call fails with an error of the system's.
Calls without an event of their own are given one.
"""

import errno
import json
import os
import sys
import tempfile
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from jigmaker.errors import JigmakerError
from jigmaker.making import swap
from jigmaker.making.folder import put_right, write_folder, write_new, write_one
from jigmaker.making.ownership import sealed

ERRORS = (errno.ENOSPC, errno.EACCES, errno.EIO, errno.EINTR)
KILLED = 137


def kit(name: str, text: bytes) -> dict[str, bytes]:
    """A kit of a job of that name, in three files."""
    files = {"a.dxf": text, "parts/b.svg": text * 2}
    hashes = {each: sha256(data).hexdigest() for each, data in files.items()}
    told = {"schema": "jigmaker kit 2", "job": {"name": name}, "files": hashes}
    return {"kit.json": sealed(json.dumps(told).removesuffix("}").encode() + b"\n}\n"), **files}


OLD, NEW, OTHER = kit("Bench", b"old"), kit("Bench", b"new"), kit("Other", b"other")
MINE = {"photo.jpg": b"mine"}


def lay(files: dict[str, bytes], folder: Path) -> None:
    """Put files into a folder without any care."""
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(data)


def read(folder: Path) -> dict[str, bytes]:
    """What lies below a folder."""
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


Case = tuple[dict[str, bytes] | None, Callable[[Path], object], dict[str, bytes]]
CASES: dict[str, Case] = {
    "new kit": (None, lambda path: write_folder(NEW, path, job_name="Bench"), NEW),
    "kit for kit": (OLD, lambda path: write_folder(NEW, path, job_name="Bench"), NEW),
    "kit for a user's": (OLD | MINE, lambda path: write_folder(NEW, path, True, "Bench"), NEW),
    "kit for another's": (OTHER, lambda path: write_folder(NEW, path, True, "Bench"), NEW),
    "shop file": ({"shop.toml": b"old"}, lambda path: write_one(path / "shop.toml", b"new"), {"shop.toml": b"new"}),
    "form": (MINE, lambda path: write_new({"form.toml": b"new"}, path), {**MINE, "form.toml": b"new"}),
    "two new files": (None, lambda path: write_new({"a": b"a", "b": b"b"}, path), {"a": b"a", "b": b"b"}),
}


class Stop:
    """At the count-th call that names something below the folder, `act`."""

    def __init__(self) -> None:
        self.folder, self.left, self.act = "", -1, lambda: None
        sys.addaudithook(self._hook)

    def _hook(self, event: str, told: tuple[object, ...]) -> None:
        if self.left < 0 or not (event == "open" or event.startswith(("os.", "asked."))):
            return
        if event.startswith("asked.") or any(str(each).startswith(self.folder) for each in told):
            self.left -= 1
            if self.left < 0:
                self.act()

    def run(self, count: int, folder: Path, act: Callable[[], None], work: Callable[[], object]) -> bool:
        """True when the work was stopped."""
        self.folder, self.left, self.act = str(folder), count, act
        try:
            work()
        finally:
            self.left, is_stopped = -1, self.left < 0
        return is_stopped


def told_by(name: str, real: Callable[..., object]) -> Callable[..., object]:
    """The call with an event of its own."""

    def call(*asked: object) -> object:
        sys.audit(f"asked.{name}")
        return real(*asked)

    return call


def refuse(number: int) -> None:
    """What the system says."""
    raise OSError(number, os.strerror(number))


def killed(stop: Stop, count: int, box: Path, work: Callable[[], object]) -> bool:
    """Run the work in a child that ends at the count-th call; False when it got to its end."""
    child = os.fork()
    if not child:
        stop.run(count, box, lambda: os._exit(KILLED), work)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == KILLED


def states(box: Path, before: dict[str, bytes] | None, after: dict[str, bytes]) -> tuple[str, list[str], bool]:
    """What stands under the name: "old", "new", "none" or "part"; all names beside it; is anything of before lost."""
    here = read(box / "bench")
    state = "new" if here == after else "old" if here == before else "part" if (box / "bench").exists() else "none"
    kept = [each for folder in box.iterdir() if folder.name.startswith("bench-kept") for each in [read(folder)]]
    return state, sorted(each.name for each in box.iterdir()), here != before and before not in kept


def each_stop(stop: Stop, case: Case, numbers: tuple[int, ...]) -> dict[str, object]:
    """One case stopped at every call in turn: states as found and as put right, sentences, and names left over."""
    found: dict[str, set[str]] = {"state": set(), "righted": set(), "left": set(), "said": set(), "lost": set()}
    for count in range(1000):
        with tempfile.TemporaryDirectory() as place:
            number = numbers[count % len(numbers)] if numbers else None
            if not one_stop(stop, case, count, number, Path(place).resolve(), found):
                break
    return {"calls": count, **{key: sorted(words) for key, words in found.items()}}


def one_stop(stop: Stop, case: Case, count: int, number: int | None, box: Path, found: dict[str, set[str]]) -> bool:
    """One stop, by an error of that number or by a kill; False when the work came to its end before it."""
    before, write, after = case
    bench, said, is_stopped = box / "bench", list[str](), True
    if before is not None:
        lay(before, bench)
    if number is None:
        is_stopped = killed(stop, count, box, lambda: write(bench))
    else:
        try:
            is_stopped = stop.run(count, box, lambda: refuse(number), lambda: write(bench))
        except JigmakerError as error:
            said.append(str(error))
    found["state"].add(states(box, before, after)[0])
    if number is None:
        said += [words for path in (bench, bench / "shop.toml", bench / "form.toml") for words in put_right(path)]
    state, names, is_lost = states(box, before, after)
    found["righted"].add(state)
    found["lost"] |= {state} if is_lost else set()
    found["said"] |= {f"{state}: {' | '.join(said).replace(str(box), '')}"} if said else set()
    inside = [each for each in read(bench) if each.startswith(".")]
    found["left"] |= {each for each in (*names, *inside) if each != "bench"}
    return is_stopped


def main() -> None:
    """Every case, on a system that can exchange two names and on one that cannot."""
    stop, renamed = Stop(), swap._renamed
    os.fsync = told_by("fsync", lambda held: None)  # where a call comes counts here, not that the disk is slow
    swap._sync_disk = lambda folder: False
    for system in ("exchange", "two steps"):
        swap._renamed = told_by("renameat2", renamed if system == "exchange" else lambda *asked: False)
        for name, case in CASES.items():
            for numbers in ((), *((number,) for number in ERRORS)) if "all" in sys.argv else ((), ERRORS):
                found = each_stop(stop, case, numbers)
                by = " ".join(errno.errorcode[number] for number in numbers) or "kill"
                print(json.dumps({"system": system, "case": name, "stopped by": by, **found}), flush=True)


if __name__ == "__main__":
    main()
