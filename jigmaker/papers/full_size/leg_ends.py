"""Wraps that carry the saw's line round a leg's end, all four faces unfolded side by side. Leg's faces; mm.

Unfolded plane: y up along the leg toward its head, x round it to the right as each face is looked at from outside. The
first face is a wide one, and its left arris is the one to mark: the same arris at both ends.
"""

from collections.abc import Sequence

from jigmaker.drawing.draft import LINE_STEP, WORDS_MM, Draft
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import arrow_strokes, text_width
from jigmaker.geometry.vectors import dot, scale
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.full_size.pens import CUT, FOLDS, LATER
from jigmaker.papers.full_size.template import halves, rectangle, template
from jigmaker.papers.wording import off_edge, rule_text
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve_sizes
from jigmaker.units import length_text

_WASTE, _MARKED_MM = "waste", 12.0
WASTE_MM, LEG_MM, TAB_MM = 14.0, 62.0, 12.0
"""How far a wrap reaches from the line: over what goes away, and over what stays; and its tab, to be glued under."""


def leg_ends(trestle: Trestle) -> list[Picture]:
    """The head's wrap and the foot's. With horn or trim a second line shows where the end is after assembly."""
    leg = trestle.job.leg
    return [_wrap(trestle, "head", leg.horn_mm), _wrap(trestle, "foot", leg.trim_mm)]


def end_line(trestle: Trestle) -> tuple[Point, ...]:
    """Where the plane of an end crosses the four arrises and the first one again, from y = 0 at its lowest.

    From the outer arris toward the board's end over outer face, far edge, inner face and near edge, for the +x +y leg.
    A leg for the other hand is the same piece turned end for end.
    """
    # Each corner's height along the leg, over the four faces laid out side by side:
    #
    #      wide  |narrow| wide |narrow
    #            |      |      |        the plane of the end crosses each face in a straight line, which begins where
    #     \______|__    |    __|___/    that of the face before ended
    #            |  \___|___/  |
    #
    up = scale(leg_directions(trestle)[0], -1)
    heads = leg_corners(trestle)[:4]
    rises = [dot(heads[i], up) for i in (0, 1, 2, 3, 0)]
    wide, thick = trestle.leg.width_mm, trestle.leg.thickness_mm
    places = (0.0, wide, wide + thick, 2 * wide + thick, 2 * (wide + thick))
    return tuple((x, rise - min(rises)) for x, rise in zip(places, rises, strict=True))


def _wrap(trestle: Trestle, end: str, left_on_mm: float) -> Picture:
    """The line as it is sawn now, the leg above or below it."""
    draft, line = Draft(), end_line(trestle)
    is_head = end == "head"
    stays = LEG_MM + left_on_mm
    below, above = (stays, WASTE_MM) if is_head else (WASTE_MM, stays)
    toward_leg = -1 if is_head else 1
    high = max(y for _, y in line)
    box = (0.0, -below, line[-1][0], high + above)
    draft.add(CUT, rectangle(box))
    draft.line(line, CUT)
    for x, _ in line[1:4]:
        draft.line([(x, box[1]), (x, box[3])], FOLDS)
    if left_on_mm:
        draft.line([(x, y + toward_leg * left_on_mm) for x, y in line], LATER)
    tab = box[2]
    draft.line(
        [(tab, box[1]), (tab + TAB_MM, box[1] + TAB_MM), (tab + TAB_MM, box[3] - TAB_MM), (tab, box[3])], DIMENSIONS
    )
    _letter_faces(draft, trestle, line, (box[1], box[3]), is_head, left_on_mm)
    on_tab = (tab + TAB_MM / 2 + WORDS_MM / 2, (box[1] + box[3]) / 2)
    draft.words("glue under", on_tab, "middle", turn_deg=90.0)
    job, unit = trestle.job, trestle.job.unit
    lengths = [rule_text(each.leg.cut_length_mm, unit) for each in solve_sizes(job)]
    alike, length = "All legs", lengths[0]
    if job.further_sizes:
        alike = "All legs of a size"
        length = "; ".join(f"{name}: {text}" for name, text in zip(job.size_names, lengths, strict=True))
    words = [
        f"{alike} alike, either hand. Pencil along one arris of the leg: the paper's edge named marked arris lies on "
        f"it at both ends, its arrow toward the head. From line to line along any arris: {length}.",
        "Fold at the dashes, wrap tight round the leg, glue the tab under. Saw beside the full line on all four faces.",
    ]
    if left_on_mm:
        name = "horn" if end == "head" else "trim"
        words.append(f"Dash and dot: where the {name} of {length_text(left_on_mm, unit)} is sawn off after assembly.")
    return template(f"leg, {end} end", words, draft)


def _letter_faces(
    draft: Draft, trestle: Trestle, line: Sequence[Point], ends: Point, is_head: bool, left_on_mm: float
) -> None:
    """Name and angle upright on wide faces, along the leg on narrow ones; everything on the side that stays."""
    angles = trestle.angles
    wide = off_edge(angles.leg_face_deg, "the leg's arris")
    narrow = off_edge(90 - angles.leg_edge_deg, "the leg's arris")
    room = 4.0 + left_on_mm
    for i, name in enumerate(("wide face", "narrow edge", "wide face", "narrow edge")):
        (x, y), (to_x, to_y) = line[i], line[i + 1]
        edge = min(y, to_y) - room if is_head else max(y, to_y) + room
        if i % 2 == 0:
            lines = [name, *(line for half in halves(wide) for line in letters_wrapped(half, to_x - x - _MARKED_MM))]
            top = edge - WORDS_MM if is_head else edge + (len(lines) - 1) * LINE_STEP * WORDS_MM
            draft.words(lines, ((x + to_x) / 2 + 4.0, top), "middle")
            # "waste" beside the middle of the face's line, as near as its slope lets it.
            clear = 2.0 + text_width(_WASTE, WORDS_MM) / 2 * abs(to_y - y) / (to_x - x)
            off = clear if is_head else -clear - WORDS_MM
            draft.words(_WASTE, ((x + to_x) / 2, (y + to_y) / 2 + off), "middle")
        else:
            # Lines along the leg, read from the right side of the paper.
            lines = [name, *halves(narrow)]
            left = (x + to_x) / 2 - (len(lines) - 1) / 2 * LINE_STEP * WORDS_MM + WORDS_MM / 2
            draft.words(lines, (left, edge), "right" if is_head else "left", turn_deg=90.0)
    # Along the marked arris, toward the head.
    x, low = line[0][0], ends[0] + 4.0 if is_head else ends[1] - 52.0
    draft.add(DIMENSIONS, *arrow_strokes([(x + 3.0, low), (x + 3.0, low + 40.0)], 3.0))
    draft.words("marked arris, to the head", (x + 7.5, low), turn_deg=90.0)
