"""A job's folder on the disk in, its files as named bytes out, for the judge. Names with forward slashes."""

import os
from pathlib import Path

from jigmaker.errors import UsageError
from jigmaker.making.kit_json import NAME

LARGEST_BYTES = 32 * 1024 * 1024
"""Of a larger file only so much and one byte more is read: enough for the judge to refuse it."""


def folder_files(folder: Path) -> dict[str, bytes]:
    """Every file below the folder but links, sorted by name. Raises UsageError when it is no folder that make wrote."""
    if not folder.is_dir():
        raise UsageError(f"{folder} is no folder; name the job's folder, such as outputs/potting-bench")
    if not (folder / NAME).is_file():
        raise UsageError(f"{folder} holds no {NAME}; name a folder that jigmaker make wrote")
    paths = [Path(at, name) for at, _, names in os.walk(folder) for name in names]
    found = {path.relative_to(folder).as_posix(): path for path in paths if path.is_file() and not path.is_symlink()}
    return {name: _start_of(found[name]) for name in sorted(found)}


def _start_of(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            return stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise UsageError(f"{path} cannot be read: {error.strerror or error}") from None
