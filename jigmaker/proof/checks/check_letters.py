"""The letters in a part's file, held against the words that kit.json declares (605); mm.

kit.json declares words, not strokes; the proof writes them itself, in the alphabet of geometry/lettering.py, and holds
what was read to that. Lines that spell nothing are declared in full.
"""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import cos_sin
from jigmaker.geometry.lettering import letter_table, text_width
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.check_same import differing_rows
from jigmaker.proof.checks.file_set import MARK, FileSet
from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.faults import FILES_AGAIN, Faults
from jigmaker.proof.records import DeclaredMark, DeclaredPart

if TYPE_CHECKING:
    from jigmaker.proof.contours import Numbers

_ROUNDED_MM = 2e-6  # of a place in kit.json
_SHOWN = 3


def check_letters(files: FileSet, shop: Shop, shift: tuple[float, float], within_mm: float, faults: Faults) -> None:
    """A part's file has the marks that kit.json declares, and no others. Kits whose marks have no names are spared."""
    import numpy as np

    assert isinstance(files.owner, DeclaredPart)
    marks = files.owner.marks
    is_scored = shop.machine.marking != "none" and shop.layers["mark"].write
    if not is_scored or any(mark.fact is None for mark in marks):
        return
    tables = [_rows(mark) for mark in marks]
    count = [len(table) for table in tables]
    rows = np.vstack([np.zeros((0, 5)), *tables])
    owner = np.repeat(np.arange(len(marks)), count)
    wanted = Pieces(np.column_stack([rows, np.zeros(len(rows))]), owner, np.full(len(rows), MARK)).moved(*shift)
    read = files.pieces.only((MARK,))
    # Row by row as for any lines: a letter is as much in place as an edge is.
    differing = differing_rows(wanted, read, within_mm + _ROUNDED_MM, files.is_changed)
    if differing is None:
        return
    missing, strange, _ = differing
    for number in sorted({int(owner[row]) for row in missing})[:_SHOWN]:
        mark = marks[number]
        what = f'"{mark.text}"' if mark.text else f"the {mark.fact}"
        says = f"{what} on the {files.owner.name} is not scored as kit.json tells it"
        faults.add(605, says, FILES_AGAIN, f"{mark.at[0]:.3f}, {mark.at[1]:.3f}")
    if not len(missing) and len(strange):
        place = files.lines.places[int(read.owner[strange[0]])]
        says = f"{len(strange)} scored lines on the {files.owner.name} are nothing that kit.json tells"
        faults.add(605, says, FILES_AGAIN, place)


def _rows(mark: DeclaredMark) -> Numbers:
    """x0, y0, x1, y1 and bulge of every piece of a mark, part frame."""
    import numpy as np

    if not mark.text:
        return np.array([(*a[:2], *b[:2], a[2]) for line in mark.lines for a, b in pairwise(line)]).reshape(-1, 5)
    at, placed = 0.0, []
    for sign in unicodedata.normalize("NFC", mark.text):
        rows, advance = _sign(sign)
        placed.append(rows + np.array([at, 0.0, at, 0.0, 0.0]))
        at += advance
    # Signs stand on the line 1 mm high one after another; then all are made as high as the mark, turned and put in
    # place.
    rows, (c, s), (x, y) = np.vstack(placed), cos_sin(mark.turn_deg), mark.at
    u, v = rows[:, :4:2] * mark.height_mm, rows[:, 1:4:2] * mark.height_mm
    ends = np.stack([x + c * u - s * v, y + s * u + c * v], axis=2)
    return np.column_stack([ends.reshape(-1, 4), rows[:, 4]])


@lru_cache(maxsize=1024)
def _sign(sign: str) -> tuple[Numbers, float]:
    """The rows of one sign 1 mm high, and how far on the next one stands."""
    return letter_table(sign, (0.0, 0.0), 1.0).pieces, text_width(f"{sign}I", 1.0) - text_width("I", 1.0)
