"""Files of the kit for the page: a workplace and a name in, the file or all of them as a zip out.

Only what kit.json lists, with the hash that it lists, and no links: whoever could put a file into the folder must not
be able to have another file of the machine read through the page.
"""

from __future__ import annotations

import io
import json
import zipfile
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigmaker.bench.child import MADE
from jigmaker.errors import JigmakerError
from jigmaker.job.read import read_job
from jigmaker.making.folder_files import folder_files
from jigmaker.making.ownership import KIT, PROOF, is_untouched

if TYPE_CHECKING:
    from jigmaker.bench.workplace import Workplace

_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".svg": "image/svg+xml",
    ".pdf": "application/pdf",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".toml": "text/plain; charset=utf-8",
    ".dxf": "image/vnd.dxf",
}
_STAMP = (1980, 1, 1, 0, 0, 0)
"""The earliest that a zip can name: the same files give the same bytes."""


def kits(place: Workplace) -> list[Path]:
    """The folders of made/ that hold a kit, by name."""
    made = place.folder / MADE
    try:
        return sorted(each for each in made.iterdir() if not each.is_symlink() and (each / KIT).is_file())
    except OSError:
        return []


def present_kit(place: Workplace) -> Path | None:
    """The folder of the kit that job.toml names, if one was made."""
    try:
        slug = read_job(place.files().job or b"").slug
    except JigmakerError:
        return None
    return next((each for each in kits(place) if each.name == slug), None)


def listed(folder: Path, only: str = "") -> dict[str, bytes]:
    """Every file of the kit as it was made, or the one of a name; none that was changed, added or reached by a link."""
    try:
        there = folder_files(folder)
        told = json.loads(there[KIT])["files"] if is_untouched(folder / KIT) else {}
        found = {name: there[name] for name in sorted(told) if name in there and only in ("", name)}
        own = {name: there[name] for name in (KIT, PROOF) if name in there and is_untouched(folder / name)}
    except (JigmakerError, OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}
    return {**{name: data for name, data in found.items() if sha256(data).hexdigest() == told[name]}, **own}


def kit_file(place: Workplace, name: str) -> Any:
    """One file, "potting-bench/sheets/...", or 404."""
    from flask import Response, abort

    slug, _, rest = name.partition("/")
    folder = next((each for each in kits(place) if each.name == slug), None)
    data = listed(folder, rest).get(rest) if folder and rest else None
    if data is None:
        abort(404)
    kind = _TYPES.get(Path(rest).suffix, "application/octet-stream")
    answer = Response(data, content_type=kind)
    if rest.endswith(".dxf"):
        answer.headers["Content-Disposition"] = f'attachment; filename="{Path(rest).name}"'
    return answer


def kit_zip(place: Workplace) -> Any:
    """All files of the kit that the folder's job.toml names, in a folder of the kit's name; 404 where there is none."""
    from flask import Response, abort

    folder = present_kit(place)
    files = listed(folder) if folder else {}
    if not files or folder is None:
        abort(404)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name, data in sorted(files.items()):
            entry = zipfile.ZipInfo(f"{folder.name}/{name}", _STAMP)
            entry.external_attr = 0o644 << 16  # what may be done with it once it is unpacked
            archive.writestr(entry, data, zipfile.ZIP_DEFLATED)
    headers = {"Content-Disposition": f'attachment; filename="{folder.name}.zip"'}
    return Response(packed.getvalue(), content_type="application/zip", headers=headers)
