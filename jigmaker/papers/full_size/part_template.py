"""Any part of the kit as a template: Part in, Picture at 1:1 out; part frame, mm. It never asks which part it has."""

from collections.abc import Sequence

from jigmaker.drawing.picture import Label, Picture
from jigmaker.geometry.outline import Circle
from jigmaker.papers.drawings.draft import Side
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.full_size.pens import CUT, MARKS
from jigmaker.papers.full_size.template import new_draft, point_at, template
from jigmaker.parts.part import Part

_CENTRE_MM = 2.0  # a hole's centre cross reaches so far each way, less in a small hole


def part_template(part: Part, words: Sequence[str] = (), datum: tuple[Side, str] | None = None) -> Picture:
    """Outline and holes at finished size, marks as they would be scored, crosses where round holes are drilled.

    `words`: what else to know; `datum`: a side of the part, and what lies or stands there.
    """
    draft = new_draft()
    draft.add(CUT, part.outline, *(hole.contour for hole in part.holes))
    for hole in part.holes:
        if isinstance(hole.contour, Circle):
            (x, y), reach = hole.contour.centre, min(_CENTRE_MM, 0.6 * hole.contour.radius)
            draft.line(DIMENSIONS, (x - reach, y), (x + reach, y))
            draft.line(DIMENSIONS, (x, y - reach), (x, y + reach))
    if datum:
        point_at(draft, *datum)
    for mark in part.marks:
        if mark.text:
            draft.labels.append(Label(MARKS, mark.text, mark.at, mark.height_mm, mark.turn_deg))
        else:
            draft.add(MARKS, *mark.strokes)
    how_many = [f"Make {part.pieces} alike."] if part.pieces > 1 else []
    hand = [f"Hand: {part.hand}."] if part.hand else []
    return template(part.name, [*words, *how_many, *hand], draft)
