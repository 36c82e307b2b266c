"""Sets of files as their lines come out of a crooked machine: FileSet and Machine in, FileSet out. Sheet frame; mm.

What was drawn for a crooked machine is judged where the machine's beam really goes, and there it is held to the nominal
lines like any other. Notes stay as they are: nobody cuts them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Circle, Line
from jigmaker.job.shop import Machine
from jigmaker.proof.file_set import Drawn, FileSet
from jigmaker.proof.machine_error import ARC_MM, Shape, as_cut, round_width_mm, stretched

LETTER_MM = 0.06
"""The same for marks: nothing is fitted to a letter, and its arcs are arcs in every file."""

_CHORDS_TURN = 0.9  # cosine of the most that chords of a curve turn


def as_made(files: FileSet, machine: Machine) -> FileSet:
    """The set with its lines where the machine makes them, moved back to their places; an arc within 0.005 mm of it.

    Nominal files, and those of a machine of true scale and angle, are given back as they are.
    """
    if files.compensation == "left out" or not machine.is_corrected:
        return files
    x, y = files.told[0].moved_mm
    back = PlaneFrame(-x, -y)
    return _changed(files, lambda shape, within: as_cut(shape.placed(back), machine, within))


def with_round_tool(files: FileSet, machine: Machine) -> FileSet:
    """The set in the plane where a cut of different widths in x and y is one of a round tool; its offset with it."""
    offset_mm = round_width_mm(machine) / 2 if files.offset_mm else 0.0
    told = tuple(replace(each, offset_mm=offset_mm) for each in files.told)
    return replace(_changed(files, lambda shape, _: stretched(shape, machine)), told=told)


def without_bent_letters(files: FileSet, machine: Machine) -> tuple[FileSet, tuple[Drawn, ...]]:
    """The set without marks whose arcs are chords, and those marks.

    They are no lines like others: a round letter's chord lies along the stem that it runs into.
    """
    if files.compensation == "left out" or not machine.is_corrected:
        return files, ()
    letters = tuple(each for each in files.drawn if each.operation == "mark" and _bends(each.shape))
    is_letter = {id(each) for each in letters}
    return replace(files, drawn=tuple(each for each in files.drawn if id(each) not in is_letter)), letters


def _bends(shape: Shape) -> bool:
    """True when two neighbouring straight pieces turn by so little that they are chords of a curve."""
    lines = [] if isinstance(shape, Circle) else [each for each in shape.segments if isinstance(each, Line)]
    turns = [(one.end_direction, two.start_direction) for one, two in pairwise(lines) if one.end == two.start]
    return any(ux * vx + uy * vy > _CHORDS_TURN for (ux, uy), (vx, vy) in turns)


def _changed(files: FileSet, change: Callable[[Shape, float], Shape]) -> FileSet:
    drawn = tuple(each if each.operation == "note" else _changed_one(each, change) for each in files.drawn)
    return replace(files, drawn=drawn)


def _changed_one(drawn: Drawn, change: Callable[[Shape, float], Shape]) -> Drawn:
    within_mm = LETTER_MM if drawn.operation == "mark" else ARC_MM
    try:
        return replace(drawn, contour=replace(drawn.contour, shape=change(drawn.shape, within_mm)))
    except OutlineError:
        return drawn  # a piece so short that nothing is left of it; it lies where it lay within its own length
