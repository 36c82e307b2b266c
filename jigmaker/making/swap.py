"""A new folder or file takes the place of the old one, so that neither a kill nor a power cut loses either of them.

What is written lies beside its place, under a hidden name that nobody can guess:

    .NAME-unfinished-3f...   half written or half deleted, of use to nobody
    .NAME-whole-3f...        whole: the old one or, until it takes its place, the new one

Whoever works on one holds a lock on it, which the system takes away as the process ends, however it ends. What lies
there without a lock was left by a run that was killed: `put_right` puts it back or deletes it.
"""

import errno
import os
import re
import stat
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from itertools import count
from pathlib import Path

from jigmaker.errors import CannotWrite
from jigmaker.making.ownership import found_in

UNFINISHED, WHOLE = "unfinished", "whole"

_NO_REPLACE, _EXCHANGE = 1, 2  # renameat2(2), linux/fs.h
_HERE = -100  # AT_FDCWD
_UNKNOWN = {errno.ENOSYS, errno.EINVAL, errno.EPERM, errno.ENOTSUP}  # EPERM: sandboxes that do not know the call
_TAKEN = {errno.EEXIST, errno.ENOTEMPTY}
_TRIES = 9


def name_beside(path: Path, word: str) -> Path:
    """A hidden name beside the path: on the same disk, so that taking its place is one step."""
    return path.with_name(f".{path.name}-{word}-{os.urandom(8).hex()}")


@contextmanager
def made_beside(path: Path, make: Callable[[Path], object]) -> Iterator[Path]:
    """What `make` makes under a hidden name beside the path, locked; in the end deleted, if it still has that name."""
    fresh, held = name_beside(path, UNFINISHED), None
    try:
        for _ in range(_TRIES):
            make(fresh)
            try:
                held = _lock(fresh)
                break
            except (BlockingIOError, FileNotFoundError):  # taken for litter in the moment before it was locked
                fresh = name_beside(path, UNFINISHED)
        yield fresh
    finally:
        _unlock(held)
        delete(fresh)


def take_place(fresh: Path, folder: Path) -> list[str]:
    """Give the whole folder `fresh` the name `folder`, and settle what had it; in sentences, as `settle` tells it.

    At every moment the old folder or the new one has the name or, where the system cannot exchange two names in one
    step, the old one lies beside it for `put_right`.
    """
    #   names          FOLDER    .whole    .unfinished
    #   before         old       -         new
    #   first          old       new       -             whole and worth keeping, but not in its place yet
    #   exchanged      new       old       -             one step of the system: no moment without a FOLDER
    #   settled        new       -         -             the old one deleted, or kept under a numbered name
    #
    # Each try ends in the `finally`, where what lies under the whole name is told by its inode: the new one goes back
    # to be tried again, the old one gets its name back where nothing has it, and is settled where the new one has.
    mine, told = fresh.stat(), list[str]()
    for _ in range(_TRIES):
        whole = name_beside(folder, WHOLE)
        try:
            if rename_new(fresh, folder) or _exchanged(fresh, folder, whole):
                break
            # The same in two steps where names cannot be exchanged. The old one is locked meanwhile, so that no other
            # run takes it for litter; another folder may come to stand there in between, and then it is tried again.
            with ExitStack() as stack:
                with suppress(OSError):
                    stack.callback(_unlock, _lock(folder))
                with suppress(FileNotFoundError):
                    folder.rename(whole)
                if rename_new(fresh, folder):
                    break
        finally:  # also after an interrupt, which may come when the names are exchanged and nobody has noted it
            if os.path.lexists(whole):
                if os.path.samestat(whole.lstat(), mine):
                    whole.rename(fresh)
                elif not os.path.lexists(folder):
                    whole.rename(folder)
                elif kept := settle(whole, folder):
                    told.append(kept)
    else:
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
    sync_names(folder.parent)
    return told


def rename_new(old: Path, new: Path) -> bool:
    """Rename a folder or file; False, and nothing is done, when something has the new name."""
    try:
        if _renamed(old, new, _NO_REPLACE):
            return True
        if os.path.lexists(new):
            return False
        if old.is_dir():
            old.rename(new)  # fails for a folder with anything in it that has come there since
        elif sys.platform == "win32":
            old.rename(new)  # never replaces there
        else:
            # Elsewhere rename(2) replaces a file; link(2) does not, and leaves the file with both names for a moment.
            try:
                os.link(old, new)
                with suppress(OSError):  # who made it deletes it too
                    old.unlink()
            except FileExistsError:
                raise
            except OSError:  # a disk without links, such as a memory stick: the name is taken first, then replaced
                new.open("xb").close()
                try:
                    old.replace(new)
                except BaseException:
                    new.unlink()
                    raise
    except OSError as error:
        if error.errno in _TAKEN:
            return False
        raise
    return True


def settle(old: Path, folder: Path) -> str | None:
    """Delete an old kit beside the folder if nobody has touched it; else keep it under a numbered name, and say so.

    Raises CannotWrite when it can be neither deleted nor renamed.
    """
    for _ in range(2):  # some other program may have it open for a moment
        try:
            # Renamed before it is deleted: half deleted it must not look whole to a run that puts things right.
            if found_in(old).is_replaceable_by(found_in(folder).job_name):
                scrap = name_beside(folder, UNFINISHED)
                old.rename(scrap)
                old = scrap
                delete(scrap)
                if not scrap.exists():
                    return None
            else:
                for number in count(1):
                    kept = folder.with_name(f"{folder.name}-kept-{number}")
                    if rename_new(old, kept):
                        sync_names(folder.parent)
                        break
                return f"what {folder} held before lies in {kept} now"
        except FileNotFoundError:  # another run has seen to it
            return None
        except OSError:
            continue
    raise CannotWrite(
        f"{folder} holds the new files, but the old ones could not be deleted and lie in {old}; delete them there"
    )


def put_right(path: Path) -> list[str]:
    """See to what a run that was killed left beside a folder or file, and say in sentences what was done.

    What stood under the name is put back when nothing stands there; what a user has touched is kept under a numbered
    name; the rest is deleted. What is still being worked on, and what may not be read or changed, stays as it is.
    """
    told: list[str] = []
    try:
        path = path.resolve()
        kinds = re.compile(rf"\.{re.escape(path.name)}-({UNFINISHED}|{WHOLE})-[0-9a-f]{{16}}")
        left = sorted(entry for entry in path.parent.iterdir() if kinds.fullmatch(entry.name))
    except (OSError, RuntimeError, ValueError):  # no right, links in a ring, a null in a name
        return []
    for each in left:
        with suppress(OSError):
            held = _lock(each)
            try:
                told += _put_right(each, path, held is not None)
            finally:
                _unlock(held)
    return list(dict.fromkeys(told))


def sync(path: Path) -> None:
    """A file, or a folder with all in it, lies on the disk, and is not only on its way there, when this returns."""
    if not path.is_dir():
        _sync_file(path)
    elif not _sync_disk(path):
        for above, _, names in os.walk(path):
            for name in names:
                _sync_file(Path(above, name))
            sync_names(Path(above))


def sync_names(folder: Path) -> None:
    """The same for the names in a folder, where the system can."""
    if sys.platform != "win32":
        with suppress(OSError):  # they are changed: nothing to be undone
            _sync_file(folder)


def take_rights(fresh: Path, old: Path) -> None:
    """Give a new folder or file rights and owner of the old one, and so each in it of the one of the same name.

    What is new in it gets the old folder's owner. Bits that run a file as its owner are not taken over.
    """
    owner = old.stat()
    below = [Path(above, name) for above, folders, files in os.walk(fresh) for name in (*folders, *files)]
    for path in (*below, fresh):
        before = old / path.relative_to(fresh)
        found = before.lstat() if os.path.lexists(before) else None
        is_same_kind = found is not None and stat.S_IFMT(found.st_mode) == stat.S_IFMT(path.lstat().st_mode)
        like = found if found is not None and is_same_kind else owner
        if sys.platform != "win32" and (like.st_uid, like.st_gid) != (path.stat().st_uid, path.stat().st_gid):
            with suppress(OSError):  # only root may give a file away
                os.chown(path, like.st_uid, like.st_gid)
        if is_same_kind:
            path.chmod(like.st_mode & 0o777)


def delete(path: Path) -> None:
    """Delete a folder with all in it, or a file; tried twice, for some other program may have it open for a moment."""
    for _ in range(2):
        if path.is_dir() and not path.is_symlink():
            import shutil

            shutil.rmtree(path, ignore_errors=True)
        else:
            with suppress(OSError):
                path.unlink(missing_ok=True)


def _exchanged(fresh: Path, folder: Path, whole: Path) -> bool:
    """Exchange the names in one step, the old folder being `whole` then; False where the system cannot."""
    fresh.rename(whole)  # from now on it may be what a user put there
    try:
        if _renamed(whole, folder, _EXCHANGE):
            return True
    except FileNotFoundError:  # the old one has gone
        pass
    whole.rename(fresh)
    return False


def _put_right(left: Path, path: Path, is_sure: bool) -> list[str]:
    """One thing that was left. is_sure: no run is at work on it."""
    is_whole = left.name.startswith(f".{path.name}-{WHOLE}-")
    if is_whole and rename_new(left, path):
        sync_names(path.parent)
        return [f"{path} is put back: an earlier run was stopped as it replaced it"]
    if not is_sure:
        return [f"{left} was left by a run that was stopped, or belongs to one still at work; else delete it"]
    if is_whole and (kept := settle(left, path)):
        return [f"{kept}: an earlier run was stopped as it replaced it"]
    delete(left)
    return [f"what an earlier run that was stopped left beside {path} is deleted"]


def _renamed(old: Path, new: Path, flag: int) -> bool:
    """renameat2(2), which can exchange two names, or leave a name that is taken; False where there is none."""
    if sys.platform != "linux":
        return False
    import ctypes

    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        return False
    if call(_HERE, os.fsencode(old), _HERE, os.fsencode(new), flag) == 0:
        return True
    number = ctypes.get_errno()
    if number in _UNKNOWN:
        return False
    raise OSError(number, os.strerror(number))


def _sync_disk(folder: Path) -> bool:
    """syncfs(2): all that goes to the folder's disk in one go, forty times as fast as file by file."""
    if sys.platform != "linux":
        return False
    import ctypes

    call = getattr(ctypes.CDLL(None, use_errno=True), "syncfs", None)
    held = os.open(folder, os.O_RDONLY)
    try:
        if call is None:
            return False
        if call(held) == 0:
            return True
    finally:
        os.close(held)
    number = ctypes.get_errno()
    if number in _UNKNOWN:
        return False
    raise OSError(number, os.strerror(number))


def _sync_file(path: Path) -> None:
    held = os.open(path, os.O_RDWR if sys.platform == "win32" else os.O_RDONLY)
    try:
        os.fsync(held)
    finally:
        os.close(held)


def _lock(path: Path) -> int | None:
    """A lock on a folder or file; None where system or disk have none.

    Raises BlockingIOError when another process has it, FileNotFoundError when it has just been deleted or renamed.
    """
    if sys.platform == "win32":
        return None
    import fcntl

    held = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        fcntl.flock(held, fcntl.LOCK_EX | fcntl.LOCK_NB)
        # Between opening and locking its owner may have deleted or renamed it: then the lock is on what has no name.
        if not os.path.samestat(os.fstat(held), path.lstat()):
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT))
    except (BlockingIOError, FileNotFoundError):
        os.close(held)
        raise
    except OSError:
        os.close(held)
        return None
    return held


def _unlock(held: int | None) -> None:
    if held is not None:
        os.close(held)
