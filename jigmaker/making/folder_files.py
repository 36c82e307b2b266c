"""The files of a job's folder on the disk, by name with forward slashes, as the proof takes them."""

from collections.abc import Iterator, Mapping
from pathlib import Path

from jigmaker.errors import UsageError
from jigmaker.making.disk import entries, start_of
from jigmaker.making.ownership import KIT

LARGEST_BYTES = 32 * 1024 * 1024
"""Of a larger file only so much and one byte more is read: enough for the proof to refuse it."""

LARGEST_SUM = 100_000_000
"""All that is read of one folder; the demo's kit is a seventh of it."""


class FolderFiles(Mapping[str, bytes]):
    """The folder's plain files by name, sorted, links left out. A file is read when it is asked for, and not kept.

    Asking raises UsageError for a file that cannot be read, or when what was read comes to more than LARGEST_SUM.
    """

    def __init__(self, paths: Mapping[str, Path]) -> None:
        self._paths = dict(sorted(paths.items()))
        self._left = LARGEST_SUM

    def __getitem__(self, name: str) -> bytes:
        # Counted as it is read, whatever the disk said of its size before: a file may grow under the reader's hands.
        path = self._paths[name]
        try:
            data = start_of(path, LARGEST_BYTES, follow=False)
        except OSError as error:
            raise UsageError(f"{path} cannot be read: {error.strerror or error}") from None
        self._left -= len(data)
        if self._left < 0:
            raise UsageError(f"{path} and the files before it are over {LARGEST_SUM // 1_000_000} MB: this is no kit")
        return data

    def __contains__(self, name: object) -> bool:
        return name in self._paths

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)


def folder_files(folder: Path) -> FolderFiles:
    """Every plain file below the folder. Raises UsageError when it is no folder that make wrote."""
    if not folder.is_dir():
        raise UsageError(f"{folder} is no folder; name the job's folder, such as outputs/potting-bench")
    if not (folder / KIT).is_file():
        raise UsageError(f"{folder} holds no {KIT}; name a folder that jigmaker make wrote")
    try:
        return FolderFiles({name: path for name, path in entries(folder) if path.is_file() and not path.is_symlink()})
    except OSError as error:
        raise UsageError(f"{folder} cannot be read: {error.strerror or error}") from None
