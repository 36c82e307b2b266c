"""Named bytes in, one folder on the disk out, all or nothing: the only code of jigmaker that writes files.

Files go into a new folder beside the target, which takes the target's place when every one of them is written. Whatever
stops that (full disk, missing right, interrupt) leaves the target as it was and nothing beside it.

What is new is made under a name that nobody can guess, and only where nothing stands yet: a folder from somebody else
may hold links under any name, and nothing is written through them.
"""

import errno
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from jigmaker.errors import CannotWrite, FolderInUse, UsageError
from jigmaker.making.ownership import strangers_in

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk is full",
    errno.EACCES: "the right to do so is missing",
    errno.EPERM: "the right to do so is missing",
    errno.EROFS: "the disk can only be read",
    errno.ENOTDIR: "a file stands where a folder should be",
    errno.EEXIST: "a file stands where a folder should be",
    errno.ENAMETOOLONG: "the name is too long",
    errno.EBUSY: "the folder is in use by another program",
}

_NAMED = 8  # so many strangers are named; the rest are counted


def write_folder(files: Mapping[str, bytes], target: Path, replace: bool = False) -> None:
    """Write the files (names with forward slashes) as the folder `target`, in place of what it held before.

    A target that is a link is followed, and the link stays. Raises UsageError when the target is a file or a link to
    nowhere; FolderInUse, naming them, when it holds files that are not jigmaker's own or were changed, unless
    `replace`: then they are deleted with the rest; CannotWrite when the disk says no.
    """
    folder = check_folder(target, replace)
    with _told(target), _made_parents(folder.parent):
        fresh = _name_beside(folder, "new")
        try:
            fresh.mkdir()
            _fill(fresh, files)
            _swap(fresh, folder)
        except BaseException:
            shutil.rmtree(fresh, ignore_errors=True)
            raise


def check_folder(target: Path, replace: bool = False) -> Path:
    """Where write_folder would write, links followed; raises what it would raise before it writes anything."""
    folder = _real(target)
    if not replace:
        _refuse_strangers(folder, target)
    return folder


def write_new(files: Mapping[str, bytes], target: Path) -> None:
    """Write the files into the folder `target`, which may hold others; all of them or none.

    Raises FolderInUse, naming it, when one is there already; UsageError, CannotWrite as write_folder.
    """
    folder = check_new(files, target)
    with _told(target), _made_parents(folder):
        written: list[Path] = []
        try:
            for name, data in files.items():
                fresh = _name_beside(folder / name, "new")
                written.append(fresh)
                _write(fresh, data)
                _give_name(fresh, folder / name)
                written.append(folder / name)
                fresh.unlink(missing_ok=True)
        except BaseException:
            for path in written:
                path.unlink(missing_ok=True)
            raise


def check_new(names: Iterable[str], target: Path) -> Path:
    """Where write_new would write files of these names, links followed; raises what it would raise before it writes."""
    folder = _real(target)
    for name in names:
        if os.path.lexists(folder / name):
            raise FolderInUse(
                f"{target / name} is there already and is left as it is; move it away or name another folder"
            )
    return folder


def write_one(path: Path, data: bytes) -> None:
    """Write one file in place of the one of that name, with its rights, whole or not at all. Raises CannotWrite."""
    fresh = _name_beside(path, "new")
    with _told(path):
        try:
            _write(fresh, data)
            if path.is_file() and not path.is_symlink():
                fresh.chmod(path.stat().st_mode & 0o777)
            fresh.replace(path)
        except BaseException:
            fresh.unlink(missing_ok=True)
            raise


def _write(path: Path, data: bytes) -> None:
    """Write a file where nothing stands, not even a link: "x" follows none."""
    with path.open("xb") as stream:
        stream.write(data)


def _give_name(fresh: Path, path: Path) -> None:
    """Give a written file its name. Raises FileExistsError when something has come to stand there meanwhile."""
    try:
        os.link(fresh, path)
    except FileExistsError:
        raise
    except (OSError, NotImplementedError):  # a disk without links, such as a memory stick
        _write(path, b"")
        try:
            fresh.replace(path)
        except BaseException:
            path.unlink()
            raise


def _real(target: Path) -> Path:
    """The folder that the target names, links followed. Raises UsageError when it cannot be one."""
    try:
        folder = target.resolve()
        if target.is_symlink() and not folder.exists():
            raise UsageError(f"{target} is a link that leads nowhere; remove it or name another folder")
        if folder.exists() and not folder.is_dir():
            raise UsageError(f"{target} is a file; name a folder")
    except (
        OSError,
        RuntimeError,
        ValueError,
    ) as error:  # a right missing on the way, links in a ring, a null in a name
        raise UsageError(f"{target} cannot be a folder: {_reason(error)}") from None
    return folder


def _refuse_strangers(folder: Path, target: Path) -> None:
    with _told(target):
        strangers = strangers_in(folder) if folder.is_dir() else []
    if strangers:
        named = ", ".join(strangers[:_NAMED])
        more = f" and {len(strangers) - _NAMED} more" if len(strangers) > _NAMED else ""
        raise FolderInUse(
            f"{target} holds files that jigmaker did not write or that were changed since: {named}{more}; move them "
            "away, name another folder with --out, or give --replace to delete them"
        )


@contextmanager
def _told(target: Path) -> Iterator[None]:
    """Turns what the system says into one sentence."""
    try:
        yield
    except OSError as error:
        if isinstance(error, CannotWrite | UsageError):
            raise
        raise CannotWrite(f"{target} cannot be written: {_reason(error)}; nothing was changed") from error


def _reason(error: Exception) -> str:
    known = _REASONS.get(error.errno or 0) if isinstance(error, OSError) else None
    return known or (isinstance(error, OSError) and error.strerror) or "it is no name of a folder"


@contextmanager
def _made_parents(folder: Path) -> Iterator[None]:
    """Makes the folder and those above it; takes those it made away again when what follows fails."""
    missing = [each for each in (folder, *folder.parents) if not each.exists()]
    made: list[Path] = []
    try:
        for each in reversed(missing):
            each.mkdir()
            made.append(each)
        yield
    except BaseException:
        for each in reversed(made):
            with suppress(OSError):  # another program has put something into it
                each.rmdir()
        raise


def _name_beside(path: Path, word: str) -> Path:
    """A name for something new beside the given: on the same disk, so that a move is one step."""
    return path.with_name(f".{path.name}-{word}-{os.urandom(8).hex()}")


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        _write(path, data)


def _swap(fresh: Path, folder: Path) -> None:
    """Put the new folder in the old one's place. Whatever happens on the way, one of the two stands there afterwards.

    Raises CannotWrite when the old one, moved aside, cannot be deleted.
    """
    if not folder.exists():
        fresh.rename(folder)
        return
    aside = _name_beside(folder, "old")
    try:
        folder.rename(aside)
        fresh.rename(folder)
    finally:
        if aside.exists() and not folder.exists():
            aside.rename(folder)
        shutil.rmtree(aside, ignore_errors=True)
    if aside.exists():
        raise CannotWrite(f"{folder} holds the new files, but the old ones could not be deleted and lie in {aside}")
