"""A folder in; out come which kit it is, and the files in it that jigmaker did not write or that were changed since."""

import json
import os
import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

from jigmaker.making.kit_json import NAME

PROOF = "proof.json"
"""Written after kit.json, by make and again by prove, and so not listed in it."""


def strangers_in(folder: Path) -> list[str]:
    """Names, with forward slashes and sorted, of all that the folder's kit.json does not list as it is.

    Without a kit.json that reads, that is every file. Links count as strangers, and are not followed; empty folders do
    not. Raises OSError for what may not be read.
    """
    listed = _told(folder / NAME).get("files")
    listed = listed if isinstance(listed, dict) else None
    return sorted(name for name, path in _entries(folder) if not _is_own(name, path, listed))


def _is_own(name: str, path: Path, listed: dict[str, str] | None) -> bool:
    if listed is None or path.is_symlink() or not path.is_file():
        return False
    return name in (NAME, PROOF) or listed.get(name) == sha256(path.read_bytes()).hexdigest()


def kit_in(folder: Path) -> int | None:
    """Which kit the folder holds, 2 for "jigmaker kit 2"; None for none. Raises OSError for what may not be read."""
    found = re.fullmatch("jigmaker kit ([0-9]{1,3})", str(_told(folder / NAME).get("schema")))
    return int(found[1]) if found else None


def _told(path: Path) -> dict[str, Any]:
    """What a kit.json holds; nothing when it is not there or is no kit.json."""
    try:
        told = json.loads(path.read_bytes())
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError, ValueError, RecursionError):
        return {}
    return told if isinstance(told, dict) else {}


def _entries(folder: Path) -> Iterator[tuple[str, Path]]:
    """Everything in the folder and below it that is not a folder itself, with its name in the folder."""

    def refuse(error: OSError) -> None:
        raise error

    for at, below, files in os.walk(folder, onerror=refuse):
        links = [name for name in below if Path(at, name).is_symlink()]
        for name in (*files, *links):
            path = Path(at, name)
            yield path.relative_to(folder).as_posix(), path
