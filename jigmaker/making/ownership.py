"""A folder in; out come which kit of which job it holds, and what in it jigmaker did not write or was changed since."""

import re
from collections.abc import Mapping
from errno import EBUSY
from os.path import samestat
from pathlib import Path
from typing import Any

from jigmaker.making.disk import entries, start_of
from jigmaker.record import dataclass

KIT = "kit.json"

PROOF = "proof.json"
"""Written after kit.json, by make and again by prove, and so not listed in it."""

_TRIES = 9
LONGEST_KIT = 8_000_000
_SEAL = re.compile(rb',\n "sha256": "([0-9a-f]{64})"\n\}\n\Z')

# What the two held before they were sealed; a further key is a user's note.
_UNSEALED = {
    KIT: {"schema", "version", "whole", "job", "shop", "settings", "parts", "sheets", "files"},
    PROOF: {"schema", "passed", "parts", "files", "findings", "held_without_bridge", "figures"},
}


@dataclass(frozen=True, slots=True)
class Found:
    """What a folder holds: `kit` 2 for "jigmaker kit 2", None for none; its job as kit.json tells it; and, sorted,
    `foreign`: names of files that jigmaker did not write, or not like that, links, empty folders ("photos/").
    """

    kit: int | None
    job: Mapping[str, Any]
    foreign: tuple[str, ...]

    @property
    def job_name(self) -> str | None:
        """The job's full name; None when no kit tells it."""
        name = self.job.get("name")
        return name if isinstance(name, str) else None

    def is_replaceable_by(self, job_name: str | None) -> bool:
        """True when nobody has touched it, and it is of no other job."""
        return not self.foreign and (self.job_name is None or self.job_name == job_name)


NOTHING = Found(None, {}, ())


def found_in(folder: Path) -> Found:
    """What lies in the folder; nothing in one that is not there. Raises OSError for what may not be read."""
    # Looked at as a whole: where the folder is another one afterwards, it was exchanged meanwhile, and what was found
    # is partly of the old one. Then it is looked at again.
    for _ in range(_TRIES):
        if not folder.is_dir():
            return NOTHING
        try:
            before = folder.stat()
            told, job = _told(folder / KIT), dict[str, Any]()
            number = re.fullmatch("jigmaker kit ([0-9]{1,3})", str(told.get("schema")))
            if isinstance(told.get("job"), dict):
                job = told["job"]
            listed = told.get("files")
            listed = listed if isinstance(listed, dict) else None
            foreign = sorted(name for name, path in entries(folder, empty=True) if not _is_own(name, path, listed))
            found = Found(int(number[1]) if number else None, job, tuple(foreign))
            if samestat(before, folder.stat()):
                return found
        except FileNotFoundError:
            continue
    raise BlockingIOError(EBUSY, "other runs write it over and over")


def sealed(data: bytes) -> bytes:
    """A JSON object's text with one key more, "sha256", of all the rest: whoever changes it by hand breaks the seal."""
    rest = data.removesuffix(b"\n}\n")
    return rest + b',\n "sha256": "' + _digest(data).encode() + b'"\n}\n'


def _digest(data: bytes) -> str:
    from hashlib import sha256

    return sha256(data).hexdigest()


def unsealed(data: bytes) -> bytes:
    """The text without its seal, as `sealed` got it."""
    return _SEAL.sub(b"\n}\n", data)


def is_untouched(path: Path) -> bool:
    """True for a kit.json or proof.json that is as jigmaker wrote it; OSError as found_in."""
    data = start_of(path, LONGEST_KIT, follow=False)
    seal = _SEAL.search(data)
    if seal:
        return seal[1].decode() == _digest(unsealed(data))
    told = _parsed(data)
    return "schema" in told and told.keys() <= _UNSEALED[path.name]


def _is_own(name: str, path: Path, listed: Mapping[str, str] | None) -> bool:
    if listed is None or path.is_symlink():
        return False
    if name.endswith("/"):  # a folder of ours that someone has emptied
        return any(other.startswith(name) for other in listed)
    if not path.is_file():
        return False
    if name in (KIT, PROOF):
        return is_untouched(path)
    from hashlib import file_digest

    with path.open("rb") as stream:
        return name in listed and listed[name] == file_digest(stream, "sha256").hexdigest()


def _told(path: Path) -> dict[str, Any]:
    """What a kit.json holds; nothing when it is not there or is no kit.json."""
    return _parsed(start_of(path, LONGEST_KIT)) if path.is_file() else {}


def _parsed(data: bytes) -> dict[str, Any]:
    import json

    try:
        told = json.loads(data)
    except (ValueError, RecursionError):
        return {}
    return told if isinstance(told, dict) else {}
