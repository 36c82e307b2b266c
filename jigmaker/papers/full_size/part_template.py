"""Any part of the kit as a template at 1:1. Part frame; mm. It never asks which part it has."""

from collections.abc import Sequence

from jigmaker.drawing.draft import Draft
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.outline import Circle
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.drawings.scaled_draft import ViewSide
from jigmaker.papers.full_size.pens import CUT, MARKS
from jigmaker.papers.full_size.template import point_at, template
from jigmaker.parts.part import Part

_CENTRE_MM = 2.0  # a hole's centre cross reaches so far each way, less in a small hole


def part_template(part: Part, words: Sequence[str] = (), datum: tuple[ViewSide, str] | None = None) -> Picture:
    """Outline and holes at finished size, marks as they would be scored, crosses where round holes are drilled.

    `words`: what else to know; `datum`: a side of the part, and what lies or stands there.
    """
    draft = Draft()
    draft.add(CUT, part.outline, *(hole.contour for hole in part.holes))
    for hole in part.holes:
        if isinstance(hole.contour, Circle):
            (x, y), reach = hole.contour.centre, min(_CENTRE_MM, 0.6 * hole.contour.radius)
            draft.line([(x - reach, y), (x + reach, y)], DIMENSIONS)
            draft.line([(x, y - reach), (x, y + reach)], DIMENSIONS)
    if datum:
        point_at(draft, *datum)
    for mark in part.marks:
        if mark.text:
            draft.words(mark.text, mark.at, "left", mark.height_mm, MARKS, mark.turn_deg)
        else:
            draft.add(MARKS, *mark.strokes)
    how_many = [f"Make {part.pieces} alike."] if part.pieces > 1 else []
    hand = [f"Hand: {part.hand}."] if part.hand else []
    return template(part.name, [*words, *how_many, *hand], draft)
