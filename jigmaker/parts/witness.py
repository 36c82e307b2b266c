"""The witness corner of the bevel plate: PlateSize and Flanks in, its window and its settings out; mm, degrees.

The turn-over test: reference edge on a batten, draw a line along the window's long side, turn the plate over about that
side with the same edge on the batten, draw again from the same point. A true square covers its line; a machine out of
square by s opens the two lines by 2 s.
"""

from collections.abc import Sequence
from math import atan, atan2, cos, degrees, radians, sin, tan

from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_flanks import Flank
from jigmaker.parts.bevel_marks import WITNESS_HALF_HEIGHT_MM
from jigmaker.parts.bevel_size import NOTCH_SPARE_MM, PlateSize
from jigmaker.parts.corners import mortise
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import text_mark
from jigmaker.parts.part import Feature, Hole, Mark, Setting
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text

WINDOW = "witness corner"
LONG_LEG_MM = 90.0
SHORT_LEG_MM = 16.0
DRAWN_MM: dict[Unit, float] = {"mm": 80.0, "in": 3 * MM_PER_INCH}
"""How long the two lines are: a round figure that stays clear of the window's corners, which a cutter leaves round."""

BELOW_MIDDLE_MM = WITNESS_HALF_HEIGHT_MM - 2.0
OPENINGS_MM = (0.1, 0.2, 0.5, 1.0)


#       opening
#      <------->
#       \  |  /      Both lines start at one point of the batten's edge. s is the skew: the first leans to one side of
#        \s|s/       the true square, and the plate, turned over about the window's long side, draws it to the other.
#         \|/
#     -----+------   batten, reference edge on it


def skew_of_opening_deg(opening_mm: float, length_mm: float) -> float:
    """The machine's skew from the turn-over test, degrees, never negative.

    opening_mm: between the two lines, length_mm from their common point, that length taken square to the batten. Each
    line leans by the skew, one to either side, so each makes half of the opening: tan s = opening / (2 length).
    Positive skew (x' = x + y tan s) is when the line drawn with the marks in sight leans to the right. All this is in
    the plate's own frame: if it lay on the bed turned by a quarter, the machine's skew has the other sign.
    """
    return degrees(atan(opening_mm / (2 * length_mm)))


def flank_error_deg(skew_deg: float, flank_deg: float) -> float:
    """How far a skew s turns a flank clockwise, degrees: exact, and within s^2 (in radians) equal to s sin^2(flank).

    flank_deg: the drawn flank's direction, anticlockwise from the x axis, above 0 and below 180. The shear
    x' = x + y tan s takes (cos, sin) to (cos + sin tan s, sin), so that only the cotangent changes, by tan s.
    """
    c, s = cos(radians(flank_deg)), sin(radians(flank_deg))
    return flank_deg - degrees(atan2(s, c + s * tan(radians(skew_deg))))


def witness_window(size: PlateSize) -> tuple[Hole, tuple[Feature, ...]]:
    """A window in the middle of the plate, its long sides square to the reference edges, its short ones along them."""
    low = (size.width / 2 - SHORT_LEG_MM / 2, size.half - BELOW_MIDDLE_MM)
    return mortise(WINDOW, low, (low[0] + SHORT_LEG_MM, low[1] + _long_leg(size)), kind="edge")


def _long_leg(size: PlateSize) -> float:
    """As long as the lines between the corners that a cutter leaves round; a notch is that much wider than its tool."""
    return max(LONG_LEG_MM, DRAWN_MM["mm"] + size.notch - NOTCH_SPARE_MM)


def witness_mark(size: PlateSize, shop: Shop) -> tuple[Mark, ...]:
    """The window's name, above it."""
    at = (size.width / 2, size.half - BELOW_MIDDLE_MM + _long_leg(size) + 2.0)
    return tuple(text_mark(words, at, anchor="middle") for words in words_of("bevel-plate", ["witness"], shop))


def witness_settings(flanks: Sequence[tuple[str, Flank]], unit: Unit) -> tuple[Setting, ...]:
    """The lines' length, then the table: the skew that each opening tells, and what it does to the flanks.

    flanks: each with the name of its corner.
    """
    length = DRAWN_MM[unit]
    why = (
        "turn-over test: reference edge on a batten, draw along the window's long side; turn the plate over, same edge "
        "on the batten, draw again from the same point: the lines open by twice the skew"
    )
    legs = Setting("witness corner, length of the lines", length, "mm", why, "square to the reference edges")
    rows = [legs]
    for opening in OPENINGS_MM:
        skew, errors = skew_of_opening_deg(opening, length), []
        for corner, flank in flanks:
            # How much the angle inside the corner comes out larger (+) or smaller (-). All flanks turn clockwise; where
            # that closes the angle and where it opens it goes crosswise.
            closes = corner in ("lower left", "upper right")
            turned = flank_error_deg(skew, flank.angle_deg if closes else 180 - flank.angle_deg)
            errors.append(f"{corner} {'-' if closes else '+'}{fixed(turned, 3)}°")
        name = f"skew when the lines open by {length_text(opening, unit)} over {length_text(length, unit)}"
        why = (
            f"first line leaning right, marks in sight: flanks off by {', '.join(errors)}; leaning left, the other way"
        )
        rows.append(Setting(name, skew, "deg", why, "turn-over test"))
    return tuple(rows)
