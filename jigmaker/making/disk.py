"""What lies on the disk in, its bytes and names out; no pipe or device is waited for, no stranger's link followed."""

import errno
import os
import stat
from collections.abc import Iterator
from pathlib import Path

_KINDS = {
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
    stat.S_IFDIR: "a folder",
    stat.S_IFLNK: "a link",
}

# Reading from what gives nothing just now comes back at once; Windows has neither of the two, but text that ends early.
_AT_ONCE = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


def start_of(path: Path, most: int, follow: bool = True) -> bytes:
    """A plain file's bytes, but no more than one over `most`. Raises OSError for what is none, without waiting for it.

    With `follow` False a link is none either.
    """
    # Looked at before it is opened, since opening a pipe waits for a writer and opening a device may do anything; and
    # once more when it is open, since between the two another may have taken its place.
    _refuse_others(path.stat(follow_symlinks=follow))
    flags = os.O_RDONLY | _AT_ONCE | (0 if follow else getattr(os, "O_NOFOLLOW", 0))
    with open(path, "rb", opener=lambda name, _: os.open(name, flags)) as stream:
        _refuse_others(os.fstat(stream.fileno()))
        found: bytes | None = stream.read(most + 1)
    if found is None:
        raise OSError(errno.EAGAIN, "it gives nothing to read; name a plain file")
    return found


def entries(folder: Path, empty: bool = False) -> Iterator[tuple[str, Path]]:
    """All below the folder that is no folder itself, links unfollowed, with its name there, in forward slashes.

    With `empty` also folders that hold nothing, "photos/". Raises OSError for a folder that may not be read.
    """
    waiting = [""]
    while waiting:
        above, is_empty = waiting.pop(), True
        with os.scandir(folder / above) as found:
            for entry in found:
                is_empty = False
                if entry.is_dir(follow_symlinks=False):
                    waiting.append(f"{above}{entry.name}/")
                else:
                    yield above + entry.name, Path(entry.path)
        if empty and above and is_empty:
            yield above, folder / above


def _refuse_others(found: os.stat_result) -> None:
    if not stat.S_ISREG(found.st_mode):
        kind = _KINDS.get(stat.S_IFMT(found.st_mode), "something else")
        raise OSError(errno.EINVAL, f"it is {kind} and no plain file; save what you want read in a file of its own")
