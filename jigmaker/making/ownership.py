"""A folder in, the names of the files in it out that jigmaker did not write, or that were changed since."""

import json
import os
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from jigmaker.making.kit_json import NAME

PROOF = "proof.json"
"""Written after kit.json, by make and again by prove, and so not listed in it."""


def strangers_in(folder: Path) -> list[str]:
    """Names, with forward slashes and sorted, of all that the folder's kit.json does not list as it is.

    Without a kit.json that reads, that is every file. Links count as strangers, and are not followed; empty folders do
    not. Raises OSError for what may not be read.
    """
    listed = _listed(folder / NAME)
    return sorted(name for name, path in _entries(folder) if not _is_own(name, path, listed))


def _is_own(name: str, path: Path, listed: dict[str, str] | None) -> bool:
    if listed is None or path.is_symlink() or not path.is_file():
        return False
    return name in (NAME, PROOF) or listed.get(name) == sha256(path.read_bytes()).hexdigest()


def _listed(path: Path) -> dict[str, str] | None:
    """The files that kit.json lists, each with its hash; None when it is not there or is no kit.json."""
    try:
        files = json.loads(path.read_bytes())["files"]
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError, ValueError, KeyError, TypeError, RecursionError):
        return None
    return files if isinstance(files, dict) else None


def _entries(folder: Path) -> Iterator[tuple[str, Path]]:
    """Everything in the folder and below it that is not a folder itself, with its name in the folder."""

    def refuse(error: OSError) -> None:
        raise error

    for at, below, files in os.walk(folder, onerror=refuse):
        links = [name for name in below if Path(at, name).is_symlink()]
        for name in (*files, *links):
            path = Path(at, name)
            yield path.relative_to(folder).as_posix(), path
