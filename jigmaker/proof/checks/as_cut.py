"""Files' lines where a crooked machine really makes them. Sheet frame; mm.

What was drawn for a crooked machine is held to the nominal lines where the machine's beam really goes. Notes stay as
they are: nobody cuts them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from jigmaker.job.shop import Machine
from jigmaker.proof.checks.file_set import MARK, NOTE, FileSet
from jigmaker.proof.checks.machine_error import ROUND_MM, round_width_mm, rows_as_cut, rows_stretched

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

    Bend = Callable[[Numbers, Indices], tuple[Numbers, Indices]]
    """Rows and the operation of each in; the same elsewhere out, each with the number of the row it comes from."""

LETTER_MM = 0.06
"""Arcs of marks that the machine bends by less keep their bulges: nothing is fitted to a letter."""

_KEPT_MM = 1.2 * ROUND_MM  # and others that it bends by less stay arcs, so that small differences stay small

_CHORDS_TURN = 0.9  # cosine of the most that chords of a curve turn


def as_made(files: FileSet, machine: Machine) -> FileSet:
    """The set with its lines where the machine makes them, moved back to their places; arcs are within 0.012 mm.

    Nominal files, and those of a machine of true scale and angle, are given back as they are.
    """
    import numpy as np

    if files.compensation == "left out" or not machine.is_corrected:
        return files
    back = np.tile(files.declared[0].moved_mm, 2)

    def change(rows: Numbers, operations: Indices) -> tuple[Numbers, Indices]:
        moved = rows.copy()
        moved[:, :4] -= back
        is_letter = operations == MARK
        # A circle may have been drawn for a curve that the machine bends back on purpose: where the tool is wider in x
        # than in y the wanted one is not round, and what scale and tool do to it may cancel. So none is kept there.
        kept = np.where((rows[:, 5] > 0) & machine.is_directed, 0.0, _KEPT_MM)
        return rows_as_cut(moved, machine, np.where(is_letter, LETTER_MM, kept), ~is_letter)

    return _changed(files, change)


def with_round_tool(files: FileSet, machine: Machine) -> FileSet:
    """The set in the plane where a cut of different widths in x and y is one of a round tool; its offset with it."""
    offset_mm = round_width_mm(machine) / 2 if files.offset_mm else 0.0
    declared = tuple(replace(each, offset_mm=offset_mm) for each in files.declared)
    return replace(_changed(files, lambda rows, _: rows_stretched(rows, machine)), declared=declared)


def bent_letters(files: FileSet, machine: Machine) -> Truths:
    """Which contours are letters whose arcs are chords: two neighbouring straight pieces turn by very little. The
    machine's error makes them of marks, other programs of any."""
    import numpy as np

    found = np.zeros(len(files.lines), dtype=bool)
    if not files.is_changed and (files.compensation == "left out" or not machine.is_corrected):
        return found
    table, owner = files.lines.table, files.lines.owner
    ways = table[:, 2:4] - table[:, :2]
    with np.errstate(invalid="ignore", divide="ignore"):
        ways /= np.hypot(*ways.T)[:, None]
    # Letters are drawn with lines and arcs, which turn by far more at a corner than one chord of an arc to the next.
    straight = (table[:, 4] == 0) & (table[:, 5] == 0)
    goes_on = (
        straight[:-1] & straight[1:] & (owner[:-1] == owner[1:]) & ((ways[:-1] * ways[1:]).sum(axis=1) > _CHORDS_TURN)
    )
    # Both pieces straight, of one contour, and turning by less than letters do at a corner.
    found[owner[1:][goes_on]] = True
    found &= (files.operations == MARK) | (files.is_changed & (files.operations == NOTE))
    return found


def _changed(files: FileSet, change: Bend) -> FileSet:
    import numpy as np

    lines = files.lines
    operations = files.operations[lines.owner]
    # Rows may become several; contours keep their numbers, and their rows stay in order.
    is_note = operations == NOTE
    rows, source = change(lines.table[~is_note], operations[~is_note])
    owner = np.concatenate([lines.owner[is_note], lines.owner[~is_note][source]])
    order = np.argsort(owner, kind="stable")
    table = np.concatenate([lines.table[is_note], rows])
    return replace(files, lines=lines.with_rows(table[order], owner[order]))
