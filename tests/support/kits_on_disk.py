"""Small kits as make writes them: files with a sealed kit.json that lists them; and what lies in a folder."""

from hashlib import sha256
from pathlib import Path

from jigmaker.making.json_text import json_text
from jigmaker.making.ownership import sealed

PROOF = sealed(json_text({"schema": "jigmaker proof 2", "passed": True}))
FILES = {"numbers.json": b"{}", "cut/a.dxf": b"old a", "cut/nominal/b.svg": b"old b"}
NEWER = {"numbers.json": b"[]", "cut/c.dxf": b"new c"}


def listed(files: dict[str, bytes], name: str = "Bench", **more: object) -> dict[str, bytes]:
    """The files and a kit.json that lists them, sealed."""
    hashes = {name: sha256(data).hexdigest() for name, data in files.items()}
    told = {"schema": "jigmaker kit 2", "job": {"name": name}, "files": hashes, **more}
    return {"kit.json": sealed(json_text(told)), **files}


def on_disk(folder: Path) -> dict[str, bytes]:
    """Every file below the folder with its bytes."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def names_in(folder: Path) -> list[str]:
    """What lies in a folder, hidden or not."""
    return sorted(path.name for path in folder.iterdir())
