"""A folder in; out come which kit it is, and the files in it that jigmaker did not write or that were changed since."""

import re
from pathlib import Path
from typing import Any

from jigmaker.making.disk import entries, start_of

KIT = "kit.json"

PROOF = "proof.json"
"""Written after kit.json, by make and again by prove, and so not listed in it."""

_LONGEST_KIT = 8_000_000


def strangers_in(folder: Path) -> list[str]:
    """Names, with forward slashes and sorted, of all that the folder's kit.json does not list as it is.

    Without a kit.json that reads, that is every file. Links count as strangers, and are not followed; empty folders do
    not. Raises OSError for what may not be read.
    """
    listed = _told(folder / KIT).get("files")
    listed = listed if isinstance(listed, dict) else None
    return sorted(name for name, path in entries(folder) if not _is_own(name, path, listed))


def _is_own(name: str, path: Path, listed: dict[str, str] | None) -> bool:
    if listed is None or path.is_symlink() or not path.is_file():
        return False
    return name in (KIT, PROOF) or (name in listed and listed[name] == _hash(path))


def _hash(path: Path) -> str:
    from hashlib import file_digest

    with path.open("rb") as stream:
        return file_digest(stream, "sha256").hexdigest()


def kit_in(folder: Path) -> int | None:
    """Which kit the folder holds, 2 for "jigmaker kit 2"; None for none. Raises OSError for what may not be read."""
    found = re.fullmatch("jigmaker kit ([0-9]{1,3})", str(_told(folder / KIT).get("schema")))
    return int(found[1]) if found else None


def _told(path: Path) -> dict[str, Any]:
    """What a kit.json holds; nothing when it is not there or is no kit.json."""
    import json

    if not path.is_file():
        return {}
    try:
        told = json.loads(start_of(path, _LONGEST_KIT))
    except (ValueError, RecursionError):
        return {}
    return told if isinstance(told, dict) else {}
