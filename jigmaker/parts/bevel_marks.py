"""What is scored on bevel plates and stock strips: flanks and size in, Marks out. Part frame; mm, degrees.

Beside each flank, upright: its angle at the corner, then its complement and what it is for.
"""

from collections.abc import Sequence

from jigmaker.geometry.lettering import Anchor
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.geometry.tolerance import SHARED_FLANK_DEG
from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_flanks import Flank
from jigmaker.parts.bevel_size import STRIP_MM, PlateSize, inward
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import line_mark, text_mark
from jigmaker.parts.part import Mark, Said
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.units import fixed, text

AWAY_MM = 3.0  # text keeps this far from every cut
ANGLE_MM = 7.0  # height of the angle's own figures
LARGEST_TEXT_MM = 4.0
BESIDE_HOLE_MM = 2.0  # and this far from the hanging hole
WITNESS_HALF_WIDTH_MM = 10.0
WITNESS_HALF_HEIGHT_MM = 50.0
"""The middle of the plate stays free of text, for a corner that proves the machine square."""


def plate_marks(flanks: Sequence[Flank], size: PlateSize, number: str, shop: Shop) -> tuple[Mark, ...]:
    """All marks of a plate whose flanks stand lower left, lower right, upper left, upper right."""
    marks = []
    # Where the strips are glued behind: their ends and their edge against the timber. The fourth side is the cut.
    left, right = size.setback, size.width - size.setback
    for cut, line in ((2.0, STRIP_MM), (size.height - 2.0, size.height - STRIP_MM)):
        marks.append(line_mark([(left, cut), (left, line), (right, line), (right, cut)], fact="strip lines"))
    lower = Box(left + AWAY_MM, AWAY_MM, right - AWAY_MM, STRIP_MM - AWAY_MM)
    marks += fill_box(words_of("bevel-plate", ["title", "kit"], shop, number=number, kit=WIDEST), lower, 5.0)
    marks += fill_box(words_of("bevel-plate", ["strip"], shop), lower.moved(0.0, size.height - STRIP_MM), 5.0)
    base = STRIP_MM + AWAY_MM
    places = [(is_upper, is_right) for is_upper in (False, True) for is_right in (False, True)]
    for flank, (is_upper, is_right) in zip(flanks, places, strict=True):
        x = _text_edge(flank, size, base + ANGLE_MM, is_right)
        y = size.height - base - ANGLE_MM if is_upper else base
        (words,) = words_of("bevel-plate", ["angle"], shop, angle=fixed(flank.angle_deg, 2))
        marks.append(text_mark(words, (x, y), ANGLE_MM, anchor=_anchor(is_right)))
        marks += _flank_lines(flank, size, shop, is_upper, is_right)
    return tuple(marks)


def strip_marks(length: float, shop: Shop) -> tuple[Mark, ...]:
    """The strip's name, on the face that stays in sight."""
    words = words_of("stock-strip", ["name"], shop)
    return fill_box(words, Box(AWAY_MM, AWAY_MM, length - AWAY_MM, STRIP_MM - AWAY_MM), 5.0)


def _anchor(is_right: bool) -> Anchor:
    """Text stands against its flank."""
    return "right" if is_right else "left"


def _flank_lines(flank: Flank, size: PlateSize, shop: Shop, is_upper: bool, is_right: bool) -> tuple[Mark, ...]:
    """In the lowest box that holds every word, next to the angle: low boxes are wide, since the flanks come in toward
    the waist."""
    # The complement of the angle as printed, so that the two add up to 90; a square flank has none.
    printed = fixed(flank.angle_deg, 2)
    off_square = words_of("bevel-plate", ["off square"], shop, complement=fixed(90 - float(printed), 2))
    off_square = [] if printed == "90.00" else off_square
    # (lines, how high above the reference edge they may reach, how far from the middle they stay), the best first. A
    # flank that serves almost every use leaves out their own figures, but never a use.
    beside_hole = (size.half - WITNESS_HALF_HEIGHT_MM - 1, size.hole / 2 + BESIDE_HOLE_MM)
    to_waist = (size.half - size.notch / 2 - AWAY_MM, WITNESS_HALF_WIDTH_MM + 1)
    all_words, names = flank.words(), flank.words(own_figures=False)
    within = [] if names == all_words else words_of("bevel-plate", ["within"], shop, share=text(SHARED_FLANK_DEG))
    uses, brief = (
        [words for line in said for words in words_of("bevel-plate", ["use"], shop, use=line)]
        for said in (all_words, names)
    )
    full = [*off_square, *uses]
    for lines, (high, gap) in ((full, beside_hole), (full, to_waist), ([*off_square, *within, *brief], to_waist)):
        edge = _text_edge(flank, size, high, is_right)
        middle = size.width / 2 + (gap if is_right else -gap)
        low = STRIP_MM + ANGLE_MM + 2 * AWAY_MM
        y_low, y_high = (size.height - high, size.height - low) if is_upper else (low, high)
        marks = fill_box(lines, Box(min(edge, middle), y_low, max(edge, middle), y_high), LARGEST_TEXT_MM)
        # fill_box leaves out what does not fit: only a way in which every word came through is a way to write it.
        if " ".join(mark.text for mark in marks).split() == " ".join(lines).split():
            break
    # A box is filled from its top down: at a lower corner the words then come down to the angle's figures.
    down = 0.0 if is_upper else max(0.0, min((mark.at[1] for mark in marks), default=low) - low)
    return tuple(
        text_mark(Said(m.text, m.fact), (edge, m.at[1] - down), m.height_mm, anchor=_anchor(is_right)) for m in marks
    )


def _text_edge(flank: Flank, size: PlateSize, high: float, is_right: bool) -> float:
    """x beside the flank that is clear of it up to `high` above the reference edge."""
    inside = inward(high, flank.angle_deg) + AWAY_MM
    return size.width - inside if is_right else inside
