"""A sheet at finished size put together from its parts' own files, where kit.json places them: FileSets in, one out.

Lines with the tool in them are held to it when the sheet itself was not written at finished size. Sheet frame; mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from jigmaker.proof.checks.file_set import CUT, FileSet
from jigmaker.proof.checks.part_offset import part_shift
from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.contours import Contours, joined_contours
from jigmaker.proof.records import DeclaredPart, DeclaredSheet
from jigmaker.units import text

Finished = Mapping[str, tuple[FileSet, Pieces]]
"""By slug: a part's files at finished size, with only what is cut, and its lines in the part frame."""


def finished_parts(sets: Iterable[FileSet]) -> Finished:
    """Of each part the first of its sets at finished size, DXF first; none of a part without a closed outline."""
    import numpy as np

    found: dict[str, tuple[FileSet, Pieces]] = {}
    for files in sorted(sets, key=lambda files: files.form):
        if not isinstance(files.owner, DeclaredPart) or files.compensation == "included" or files.owner.slug in found:
            continue
        shift, _ = part_shift(files, None)
        if shift is not None and files.is_whole:
            chosen = np.flatnonzero(np.isin(files.operations, CUT))
            lines = files.lines.only(chosen.tolist())
            only = replace(files, lines=lines, operations=files.operations[chosen], sources=files.sources[chosen])
            found[files.owner.slug] = (only, only.pieces.moved(-shift[0], -shift[1]))
    return found


def laid_out(sheet: FileSet, parts: Finished) -> FileSet | None:
    """What the sheet's files would hold of cuts at finished size; None when a part on it has no files to go by."""
    import numpy as np

    assert isinstance(sheet.owner, DeclaredSheet)
    pieces = sheet.owner.pieces
    if not pieces or any(slug not in parts for slug, _ in pieces):
        return None
    lines: list[Contours] = []
    for slug, at in pieces:
        files, own = parts[slug]
        where = f"of the {slug} at {text(at.x, 3)}, {text(at.y, 3)}"
        moved = files.lines.with_rows(own.moved(at.x, at.y, at.turn_deg).table, own.owner)
        lines.append(replace(moved, places=[f"{place} {where}" for place in files.lines.places]))
    several = [parts[slug][0] for slug, _ in pieces]
    return replace(
        several[0],
        told=(replace(several[0].told[0], name="the parts at finished size"),),
        files=several[0].files[:1],
        lines=joined_contours(lines),
        operations=np.concatenate([files.operations for files in several]),
        sources=np.zeros(sum(len(files.lines) for files in several), dtype=np.int64),
    )
