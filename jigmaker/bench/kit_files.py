"""Files of the kit for the page: a workplace and a name in, the file or all of them as a zip out.

Only what kit.json lists, with the hash that it lists, and no links: whoever could put a file into the folder must not
be able to have another file of the machine read through the page.
"""

from __future__ import annotations

import io
import json
import zipfile
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigmaker.bench.child import MADE
from jigmaker.errors import JigmakerError
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.disk import start_of
from jigmaker.making.folder_files import LARGEST_BYTES
from jigmaker.making.ownership import KIT, PROOF, is_untouched

if TYPE_CHECKING:
    from jigmaker.bench.workplace import Files, Workplace

_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".svg": "image/svg+xml",
    ".pdf": "application/pdf",
    ".json": "application/json",
    ".csv": "text/csv; charset=utf-8",
    ".toml": "text/plain; charset=utf-8",
    ".dxf": "image/vnd.dxf",
}
# The earliest that a zip can name: the same files give the same bytes.
_STAMP = (1980, 1, 1, 0, 0, 0)


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


def names_of(folder: Path) -> dict[str, str]:
    """The hash of every file that kit.json lists, by name, and of kit.json and proof.json as they lie there; nothing
    where kit.json is not as it was made.
    """
    # kit.json is read and hashed once for all requests, until it or proof.json gets another time of change.
    try:
        stamps = tuple((folder / name).stat().st_mtime_ns for name in (KIT, PROOF))
        return dict(_names_of(folder, stamps))
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


@lru_cache(4)
def _names_of(folder: Path, _: tuple[int, ...]) -> dict[str, str]:
    if not all(is_untouched(folder / name) for name in (KIT, PROOF)):
        return {}
    own = {name: start_of(folder / name, LARGEST_BYTES, follow=False) for name in (KIT, PROOF)}
    told = {str(name): str(digest) for name, digest in json.loads(own[KIT])["files"].items()}
    return {**told, **{name: sha256(data).hexdigest() for name, data in own.items()}}


def bytes_of(folder: Path, name: str) -> bytes | None:
    """A file of the kit as it was made; None for one that is not listed, was changed, or is reached by a link."""
    # Listed; in a folder that no link on the way leads out of; no link itself; and as it was when it was made.
    digest, path = names_of(folder).get(name), folder / name
    try:
        is_there = digest is not None and path.parent.resolve() == (folder.resolve() / name).parent
        data = start_of(path, LARGEST_BYTES, follow=False) if is_there else b""
    except (OSError, ValueError):
        return None
    return data if is_there and sha256(data).hexdigest() == digest else None


def kit_file(place: Workplace, name: str) -> Any:
    """One file, "potting-bench/sheets/...", or 404."""
    from flask import Response, abort

    slug, _, rest = name.partition("/")
    folder = next((each for each in kits(place) if each.name == slug), None)
    data = bytes_of(folder, rest) if folder and rest else None
    if data is None:
        abort(404)
    # Whatever is not of the list is saved and not shown: with nosniff no browser takes it for a page.
    kind = _TYPES.get(Path(rest).suffix, "application/octet-stream")
    answer = Response(data, content_type=kind)
    if rest.endswith(".dxf"):
        answer.headers["Content-Disposition"] = f'attachment; filename="{Path(rest).name}"'
    return answer


def kit_zip(place: Workplace) -> Any:
    """All files of the kit that the folder's job.toml names, in a folder of the kit's name; 404 where there is none."""
    from flask import Response, abort

    # All or nothing: a kit of which one file was changed since is not handed on under the name of a proven one. Sorted,
    # and with one date for all, so that the same kit is the same zip.
    folder = present_kit(place)
    if folder is None or not (names := sorted(names_of(folder))):
        abort(404)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        for name in names:
            data = bytes_of(folder, name)
            if data is None:
                abort(404)
            entry = zipfile.ZipInfo(f"{folder.name}/{name}", _STAMP)
            entry.external_attr = 0o644 << 16  # what may be done with it once it is unpacked
            archive.writestr(entry, data, zipfile.ZIP_DEFLATED)
    headers = {"Content-Disposition": f'attachment; filename="{folder.name}.zip"'}
    return Response(packed.getvalue(), content_type="application/zip", headers=headers)


COUPON = {"coupon.dxf": "To cut", "coupon.svg": "To cut", "form.html": "To print: where to measure"}
"""What the coupon's station gives out, by the name it is asked for."""


def coupon_names(files: Files) -> list[tuple[str, str]]:
    """The coupon's files and what each is for; none before there is a shop."""
    return list(COUPON.items()) if files.shop is not None else []


def coupon_file(place: Workplace, name: str) -> Any:
    """One of the coupon's files, as jigmaker coupon writes it for the shop on the disk; 404 for any other."""
    from flask import Response, abort

    from jigmaker.making.coupon_files import coupon_files

    # Names on the page are the same for every shop; the files themselves are named after it, and found by their kind.
    data = place.files().shop
    if data is None or name not in (*COUPON, "where.svg"):
        abort(404)
    made = coupon_files(read_shop(data, "shop.toml"))
    kind = Path(name).suffix
    named = name if name in made else next(each for each in made if each.endswith(kind) and each != "where.svg")
    headers = {} if kind == ".html" else {"Content-Disposition": f'attachment; filename="{Path(named).name}"'}
    return Response(made[named], content_type=_TYPES[kind], headers=headers)
