"""Named bytes in, one folder or file on the disk out, all or nothing: the only code of jigmaker that writes.

Whatever stops it (full disk, missing right, interrupt) leaves what was there as it was, and nothing beside it; what a
kill leaves beside it, `put_right` sees to. Nothing that a user added or changed is ever deleted.

What is new is made under a name that nobody can guess, and only where nothing stands yet: a folder from somebody else
may hold links under any name, and nothing is written through them.
"""

import errno
import os
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from jigmaker.errors import CannotWrite, FolderInUse, UsageError
from jigmaker.making.ownership import Found, found_in, is_untouched
from jigmaker.making.swap import made_beside, put_right, rename_new, sync, sync_names, take_place, take_rights

__all__ = ["check_folder", "check_new", "put_right", "write_folder", "write_new", "write_one"]

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

_NAMED = 8  # so many foreign files are named; the rest are counted


def write_folder(
    files: Mapping[str, bytes], target: Path, replace: bool = False, job_name: str | None = None
) -> list[str]:
    """Write the files (names with forward slashes) as the folder `target`, in place of what it held before.

    A target that is a link is followed, and the link stays; rights and owner of what is replaced stay too. What a user
    added or changed, or another job's kit, is kept under a numbered name: where is told in sentences. Raises as
    check_folder, and CannotWrite when the disk says no.
    """
    # Checked before the work and again right before the exchange: a user may have saved something into the folder in
    # between. What is written lies whole on the disk before it gets the name, or a power cut could leave the name on
    # files that never arrived.
    check_folder(target, replace, job_name)
    folder = _real(target)
    with _told(target), _made_parents(folder.parent), made_beside(folder, Path.mkdir) as fresh:
        _fill(fresh, files)
        if folder.exists():
            take_rights(fresh, folder)
        sync(fresh)
        check_folder(target, replace, job_name)
        return take_place(fresh, folder)


def check_folder(target: Path, replace: bool = False, job_name: str | None = None) -> Found:
    """What stands where write_folder would write; raises what it would raise before it writes anything.

    UsageError when the target is a file or a link to nowhere; FolderInUse when it may only be read or, without
    `replace`, when it holds the kit of another job, or files that are not jigmaker's own or were changed, naming them.
    """
    folder = _real(target)
    with _told(target):
        found = found_in(folder)
        is_read_only = folder.is_dir() and not folder.stat().st_mode & 0o222
    if is_read_only:
        raise FolderInUse(f"{target} is marked as read-only and is left as it is; name another folder with --out")
    if replace:
        return found
    if found.foreign:
        named = ", ".join(found.foreign[:_NAMED])
        more = f" and {len(found.foreign) - _NAMED} more" if len(found.foreign) > _NAMED else ""
        raise FolderInUse(
            f"{target} holds files that jigmaker did not write or that were changed since: {named}{more}; move them "
            "away, name another folder with --out, or give --replace to have the folder moved aside"
        )
    if job_name is not None and not found.is_replaceable_by(job_name):
        raise FolderInUse(
            f'{target} holds the kit of another job, "{found.job_name}"; name another folder with --out, or give '
            "--replace to have it moved aside"
        )
    return found


def write_new(files: Mapping[str, bytes], target: Path) -> None:
    """Write the files into the folder `target`, which may hold others; all of them or none.

    Raises FolderInUse, naming it, when one is there already; UsageError, CannotWrite as write_folder.
    """
    folder = check_new(files, target)
    with _told(target), ExitStack() as stack:
        if not folder.exists():
            stack.enter_context(_made_parents(folder.parent))
            fresh = stack.enter_context(made_beside(folder, Path.mkdir))
            _fill(fresh, files)
            sync(fresh)
            if rename_new(fresh, folder):
                sync_names(folder.parent)
                return
        # Into a folder that is there: all files are written under hidden names first, then named one by one; when one
        # name is taken, or the disk says no, those that were named are taken away again. A file is noted before it is
        # named, so that an interrupt between the two finds it in the list.
        new = {folder / name: stack.enter_context(_made_file(folder / name, data)) for name, data in files.items()}
        named: list[Path] = []
        try:
            for path, fresh in new.items():
                named.append(path)
                if not rename_new(fresh, path):
                    named.pop()
                    raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
        except BaseException:
            for path in named:
                path.unlink(missing_ok=True)
            raise
        sync_names(folder)


@contextmanager
def _made_file(path: Path, data: bytes) -> Iterator[Path]:
    """A file with these bytes beside its place, safe on the disk; in the end deleted, if nobody gave it a name."""
    with made_beside(path, lambda fresh: _write(fresh, data)) as fresh:
        sync(fresh)
        yield fresh


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
    """Write one file in place of the one of that name, with its rights and owner, whole or not at all.

    Raises CannotWrite, also for a file that is marked as read-only.
    """
    with _told(path):
        is_there = path.is_file() and not path.is_symlink()
        if is_there and not path.stat().st_mode & 0o222:
            raise CannotWrite(f"{path} is marked as read-only and is left as it is; allow writing it first")
        # Rights first, name last: nobody may read for a moment what the old file kept from them.
        with _made_file(path, data) as fresh:
            if is_there:
                take_rights(fresh, path)
            fresh.replace(path)
            sync_names(path.parent)


def write_own(path: Path, data: bytes) -> None:
    """The same for a proof.json; one that somebody else wrote, or changed, is left as it is, and CannotWrite raised."""
    with _told(path):
        is_own = not path.is_file() or is_untouched(path)
    if not is_own:
        raise CannotWrite(f"{path} is not as jigmaker wrote it and is left as it is; rename it to have it written")
    write_one(path, data)


def _write(path: Path, data: bytes) -> None:
    """Write a file where nothing stands, not even a link: "x" follows none."""
    with path.open("xb") as stream:
        stream.write(data)


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


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        _write(path, data)
