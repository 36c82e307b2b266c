"""Lines that must be the same wherever they are written. Sheet and part frames; mm.

DXF = SVG (117), nominal files = what kit.json declares (120), sheets = their parts where kit.json places them (121); a
mirror image of what is wanted is named as such (119).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from jigmaker.geometry.outline import Circle, Outline
from jigmaker.proof.checks.as_cut import LETTER_MM
from jigmaker.proof.checks.file_set import CUT, INNER, MARK, OUTER, FileSet
from jigmaker.proof.checks.pieces import Pieces, apart, joined_tables, pieces_of, unmatched
from jigmaker.proof.contours import as_circle
from jigmaker.proof.faults import FILES_AGAIN, Faults
from jigmaker.proof.readers.resaved import RESAVED_MM
from jigmaker.proof.records import DeclaredPart, DeclaredSheet
from jigmaker.units import MM_PER_INCH, Unit, text

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Truths

    Differing = tuple[Indices, Indices, float]

SAME_MM: dict[Unit, float] = {"mm": 5e-6, "in": MM_PER_INCH * 2e-6}
"""How far two writings of the same place may differ, by the files' unit: each is rounded to six decimals of it, and the
end of an arc that is given by centre and radius three times over."""

PIXELS_MM = 1e-3
"""The same for an SVG in pixels: programs write their scale to six or seven figures, and a sheet is half a metre."""

_MIRROR_DO = "turn it over in your program, or write the files again"
_FAR_MM = 2.0  # farther away is no counterpart
_SHOWN = 3  # so many places of one difference are named


def tolerance_mm(files: FileSet, unit: Unit) -> float:
    """How far the set's lines may differ from the same lines elsewhere."""
    if files.is_changed:
        return RESAVED_MM
    in_pixels = any(file.form == "svg" and file.unit is None for file in files.files)
    return PIXELS_MM if in_pixels else SAME_MM[unit]


def check_forms(dxf: FileSet, svg: FileSet, within_mm: float, faults: dict[str, Faults]) -> bool:
    """DXF and SVG of the same thing hold the same lines, not mirrored (117, 119). True when they do, piece for piece.

    A fault is reported once, of the file that was changed; of the SVG when neither or both were.
    """
    files, other = (dxf, svg) if dxf.is_changed and not svg.is_changed else (svg, dxf)
    # Piece for piece first, as our own files have them. Another program may have cut lines up or joined them: what is
    # then left over is held to where the other's lines run.
    strange, missing = unmatched(files.pieces, other.pieces, within_mm)
    if not len(strange) and not len(missing) and len(dxf.pieces) == len(svg.pieces):
        return True
    found, is_changed = faults[files.name], dxf.is_changed or svg.is_changed
    differing = differing_rows(files.pieces, other.pieces, within_mm, is_changed)
    if differing is None:
        if not is_changed:  # else lines that are there twice are found as such
            says = f"it has {len(files.pieces)} lines, {other.name} has {len(other.pieces)}: some are there twice"
            found.add(117, says, FILES_AGAIN)
        return False
    strange, missing, farthest = differing
    tables = ((files.pieces.only(kinds), other.pieces.only(kinds)) for kinds in (CUT, (MARK, *CUT)))
    if farthest > RESAVED_MM and any(is_mirrored(one, two, within_mm) for one, two in tables):
        found.add(119, f"its lines are the mirror image of those in {other.name}", _MIRROR_DO)
        return False
    if scale := _scale(files.pieces, other.pieces):
        inches = ""
        if round(max(scale, 1 / scale), 2) == MM_PER_INCH:
            inches = f": {'millimetres were taken for inches' if scale > 1 else 'inches were taken for millimetres'}"
        says = f"its lines are {text(scale, 4)} times as large as those in {other.name}{inches}"
        found.add(117, says, f"save it at its true size, or {FILES_AGAIN}")
        return False
    # Lines of which the other file has none near are named as such: strange ones by their own place, missing ones by
    # their place in the other file.
    place, lies = (_places(files, strange) or [""])[0], f"in {other.name}"
    says = f"it differs from {other.name}{_by(farthest)}"
    if not place:
        says = f"it lacks a line that is {lies}: {_places(other, missing)[0]}"
    elif not len(missing):
        says = f"it has a line that is not {lies}"
    found.add(117, says, FILES_AGAIN, place, f"{len(strange) + len(missing)} lines", f"{text(within_mm)} mm")
    return False


def _scale(one: Pieces, two: Pieces) -> float:
    """How many times as large as the other a table is, both ways alike; 0 where it is no more than a hundredth off, or
    where they are not the same lines at all."""
    import numpy as np

    if len(one) != len(two) or len(one) < 2:
        return 0.0
    spans = np.ptp(one.middles, axis=0), np.ptp(two.middles, axis=0)
    if min(spans[0].min(), spans[1].min()) <= RESAVED_MM:
        return 0.0
    wide, high = spans[0] / spans[1]
    return float(wide) if abs(wide - 1) > 0.01 and abs(wide / high - 1) < 1e-3 else 0.0


def differing_rows(one: Pieces, two: Pieces, within_mm: float, is_changed: bool) -> Differing | None:
    """Rows of each table that the other does not have, and how far the farthest lies; None when there are none.

    is_changed: another program may have cut lines up, and made chords of arcs.
    """
    ones, twos = unmatched(one, two, within_mm)
    if not len(ones) and not len(twos):
        return None
    # Lines that are where they should be but begin elsewhere are no fault of a file that was saved again.
    far_ones, far_twos, farthest = apart(one, two, within_mm)
    if not is_changed:
        return ones, twos, farthest
    return (far_ones, far_twos, farthest) if len(far_ones) or len(far_twos) else None


def _by(farthest_mm: float) -> str:
    """How far lines are off, in words; nothing of lines that have no counterpart at all."""
    return f", by up to {text(farthest_mm, 4 if farthest_mm > 1e-3 else 6)} mm" if farthest_mm < _FAR_MM else ""


def check_declared(files: FileSet, shift: tuple[float, float], within_mm: float, faults: Faults) -> None:
    """A part's nominal files hold the outline and holes that kit.json declares, at finished size (119, 120)."""
    assert isinstance(files.owner, DeclaredPart)
    declared = declared_pieces(files.owner).moved(*shift)
    read = files.pieces.only(CUT)
    differing = differing_rows(declared, read, within_mm, files.is_changed)
    if differing is None:
        return
    missing, strange, farthest = differing
    if farthest > RESAVED_MM and is_mirrored(declared, read, within_mm):
        faults.add(119, f"{files.owner.name} is the mirror image of what kit.json tells", _MIRROR_DO)
        return
    names = [*(name for name, _ in files.owner.holes), "outer"]
    for number in sorted({int(declared.owner[row]) for row in missing})[:_SHOWN]:
        says = f'"{names[number]}" of {files.owner.name} is not drawn as kit.json tells it{_by(farthest)}'
        faults.add(120, says, FILES_AGAIN, names[number], f"{text(farthest, 6)} mm", f"{text(within_mm)} mm")
    if not len(missing):
        for place in _places(files, strange, read):
            faults.add(120, f"{place} is nothing that kit.json tells of {files.owner.name}", FILES_AGAIN, place)


def check_sheet(
    sheet: FileSet,
    parts: Mapping[str, Pieces],
    within_mm: float,
    faults: Faults,
    turns_with_bed: bool = False,
    is_resaved: bool = False,
    letters: Truths | None = None,
) -> None:
    """A sheet holds each of its pieces where kit.json places it, marks included, and nothing else (119, 121).

    `parts`: the lines of each part's own file of the same compensation, in its part frame, by slug. turns_with_bed:
    pieces at a quarter turn have other lines than in their own file; of those only marks are compared and contours
    counted, and `simulate` cuts them. is_resaved: another program saved the sheet or a part.
    letters: as in `check_marks`.
    """
    assert isinstance(sheet.owner, DeclaredSheet)
    pieces = sheet.owner.pieces
    # What the sheet should hold is put together from the parts' own files, turned and moved as kit.json says.
    whole = [parts[slug].moved(at.x, at.y, at.turn_deg) for slug, at in pieces if slug in parts]
    if len(whole) < len(pieces):
        return  # a part's file that cannot be read is a fault of its own
    read = sheet.pieces.only((MARK, *CUT))
    is_other = [turns_with_bed and at.turn_deg % 180 != 0 for _, at in pieces]
    placed = [each.only((MARK,)) if other else each for each, other in zip(whole, is_other, strict=True)]
    wanted = joined_tables(placed)
    differing = differing_rows(wanted, read, within_mm, is_resaved)
    if any(is_other):
        # As many marks, holes and outlines as the pieces have, whatever their lines are.
        for kind, name in ((MARK, "mark"), (INNER, "inner"), (OUTER, "outer")):
            has, should = read.count(kind), sum(each.count(kind) for each in whole)
            if has != should:
                says = f"it has {has} {name} contours, its pieces have {should}"
                faults.add(121, says, FILES_AGAIN, value=str(has), limit=str(should))
    elif differing is None:
        if len(wanted) != len(read) and not is_resaved:
            faults.add(
                121, f"it has {len(read)} lines, its pieces have {len(wanted)}: some are there twice", FILES_AGAIN
            )
        return
    if differing is None:
        return
    missing, strange, farthest = _but_for_letters(differing, wanted, read, letters)
    if any(is_other):
        strange = strange[read.kind[strange] == MARK]
    elif farthest > RESAVED_MM and is_mirrored(wanted.only(CUT), read.only(CUT), within_mm):
        faults.add(119, "the whole sheet is the mirror image of what kit.json tells", _MIRROR_DO)
        return
    _tell(sheet, placed, read, (missing, strange, farthest), faults)


def check_marks(
    sheet: FileSet,
    parts: Mapping[str, Pieces],
    within_mm: float,
    faults: Faults,
    is_resaved: bool = False,
    letters: Truths | None = None,
) -> None:
    """A sheet holds the marks of each of its pieces where kit.json places it, and nothing else (121).

    `parts`: each part's lines at finished size, in its part frame, by slug; `simulate` looks at the cuts.
    letters: which contours have chords for arcs that were drawn for a crooked machine. An arc keeps its bulge where
    the machine makes it, the ends of its chords do not: they lie off by what the machine bends it, up to LETTER_MM.
    """
    assert isinstance(sheet.owner, DeclaredSheet)
    pieces = sheet.owner.pieces
    if any(slug not in parts for slug, _ in pieces):
        return  # a part's file that cannot be read is a fault of its own
    # A crooked machine's files have letters' arcs in several.
    marks = {slug: parts[slug].only((MARK,)).with_whole_arcs() for slug in {slug for slug, _ in pieces}}
    placed = [marks[slug].moved(at.x, at.y, at.turn_deg) for slug, at in pieces]
    wanted, read = joined_tables(placed), sheet.pieces.only((MARK,)).with_whole_arcs()
    differing = differing_rows(wanted, read, within_mm, is_resaved)
    if differing is None:
        if len(wanted) != len(read) and not is_resaved:
            faults.add(
                121, f"it has {len(read)} lines of marks, its pieces have {len(wanted)}: some are twice", FILES_AGAIN
            )
        return
    _tell(sheet, placed, read, _but_for_letters(differing, wanted, read, letters), faults)


def _but_for_letters(differing: Differing, wanted: Pieces, read: Pieces, letters: Truths | None) -> Differing:
    """What differs, letters held to LETTER_MM."""
    import numpy as np

    if letters is None:
        return differing
    missing, strange, farthest = differing
    # A letter's chords lie off its arcs by what the machine bends; nothing else may be so far off.
    is_letter = letters[read.owner]
    chords = Pieces(read.table[is_letter], read.owner[is_letter], read.kind[is_letter])
    missing = np.intersect1d(missing, apart(wanted, chords, LETTER_MM)[0])
    strange = strange[~is_letter[strange] | np.isin(strange, apart(wanted, read, LETTER_MM)[1])]
    return missing, strange, farthest


def _tell(sheet: FileSet, placed: Sequence[Pieces], read: Pieces, differing: Differing, faults: Faults) -> None:
    """The pieces that are missing; where none is, the lines that are nobody's."""
    import numpy as np

    assert isinstance(sheet.owner, DeclaredSheet)
    missing, strange, farthest = differing
    # Rows of all pieces follow each other: which piece one belongs to, the number of rows up to its end says.
    ends = np.cumsum([len(table) for table in placed])
    for number in sorted({int(np.searchsorted(ends, row, side="right")) for row in missing})[:_SHOWN]:
        slug, at = sheet.owner.pieces[number]
        place = f"{text(at.x, 3)}, {text(at.y, 3)} turned {text(at.turn_deg)}°"
        faults.add(
            121, f"the {slug} at {place} is not drawn there as in its own file{_by(farthest)}", FILES_AGAIN, place
        )
    for place in _places(sheet, strange, read) if not len(missing) else ():
        faults.add(121, f"{place} belongs to no piece that kit.json places", FILES_AGAIN, place)


def declared_pieces(part: DeclaredPart) -> Pieces:
    """Holes, then outline, as kit.json declares them, in the part frame; `owner` counts through them in that order."""
    shapes = [(INNER, _plain(shape)) for _, shape in part.holes]
    return pieces_of([*shapes, (OUTER, _plain(part.outline))])


def _plain(shape: Outline | Circle) -> Outline | Circle:
    """Arcs all round one centre as the circle that they are, as the readers give them."""
    return (as_circle(shape) or shape) if isinstance(shape, Outline) else shape


def is_mirrored(one: Pieces, two: Pieces, within_mm: float) -> bool:
    """True when one is the mirror image of the other, and not the same, wherever it lies."""
    if not len(one) or len(one) != len(two) or not any(len(rows) for rows in unmatched(one, two, within_mm)):
        return False
    box, other = one.bounds(), two.bounds()[:, :2].min(axis=0)
    low, high = box[:, :2].min(axis=0), box[:, 2:].max(axis=0)
    # A mirror image has the same box. It is mirrored back about the box's middle and laid into the other's lower left
    # corner.
    flipped = one.mirrored((low[0] + high[0]) / 2).moved(*(other - low).tolist())
    ones, twos = unmatched(flipped, two, 10 * within_mm)
    return not len(ones) and not len(twos)


def _places(files: FileSet, rows: Indices, table: Pieces | None = None) -> list[str]:
    """Where the contours stand that some rows of a table belong to; the first few."""
    owner = (files.pieces if table is None else table).owner
    numbers = sorted({int(owner[row]) for row in rows})[:_SHOWN]
    return [f"{files.lines.places[n]} ({files.operation(n)})" for n in numbers]
