"""What is scored on the plate: layout, job and shop in, Marks out. Part frame, mm; read from the router's side.

Each half of the plate says its own hand: large letter and "stop at the right (left) end" in front of the slot, the same
letter at the end where the stop is bolted, a clockwise feed arrow, and the figures of the set-up behind the slot.
"""

from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.housing_jig.plate import FRONT_CORNER_MM, part_from_plate
from jigmaker.parts.marks import TEXT_MM, line_mark, text_mark
from jigmaker.parts.part import Mark
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.units import caliper_text, fixed, length_text

AWAY_MM = 4.0  # marks keep this far from every cut
CENTRE_LINE_MM = 12.0


def plate_marks(layout: JigLayout, job: Job, shop: Shop) -> tuple[Mark, ...]:
    """Every mark of a plate, in a stable order."""
    sides = ("R", "L") if layout.hands == "both" else (layout.hands,)
    marks: list[Mark] = []
    for hand in sides:
        marks += _front_marks(layout, hand)
        marks += _end_marks(layout, hand)
        marks += _centre_lines(layout, hand)
        marks += fill_box(_figures(layout, job, shop, hand), _box(layout, hand, _rear_box(layout)), 5.0)
    return tuple(marks)


def _box(layout: JigLayout, hand: str, right: Box) -> Box:
    """A box given for slot R in the plate plane, for this hand, in the part frame."""
    frame = part_from_plate(layout)
    return (right if hand == "R" else right.mirrored()).moved(frame.x, frame.y)


def _between_bearers(layout: JigLayout) -> tuple[float, float]:
    """X between the inner bearer's and the side bearer's mortises, for slot R."""
    inner = layout.bearer_faces[0 if layout.hands == "both" else 1][1] + layout.sheet + layout.joint
    low = inner + AWAY_MM
    if layout.hands != "both":
        low = max(low, layout.plate_low + FRONT_CORNER_MM + AWAY_MM)
    return low, layout.side_bearer - layout.joint - AWAY_MM


def _front_box(layout: JigLayout) -> Box:
    low, high = _between_bearers(layout)
    return Box(low, layout.plate_front + AWAY_MM, high, layout.slot_front - CENTRE_LINE_MM - 2 * AWAY_MM)


def _rear_box(layout: JigLayout) -> Box:
    low, high = _between_bearers(layout)
    return Box(low, layout.slot_rear + CENTRE_LINE_MM + 2 * AWAY_MM, high, layout.plate_rear - AWAY_MM)


def _end_box(layout: JigLayout) -> Box:
    """Over the end bearer, between its two mortises."""
    low = layout.side_bearer + layout.sheet + layout.joint + AWAY_MM
    return Box(low, layout.slot_front + 14 + AWAY_MM, layout.plate_high - AWAY_MM, layout.slot_rear - 22 - AWAY_MM)


def _front_marks(layout: JigLayout, hand: str) -> list[Mark]:
    """Large letter at the left of the box, what to do at its right, the feed arrow below the letter."""
    box = _box(layout, hand, _front_box(layout))
    side = "RIGHT" if hand == "R" else "LEFT"
    letter_height = min(20.0, box.height * 0.45)
    letter_width = 22.0
    letter = text_mark(hand, (box.x_low, box.y_high - letter_height), letter_height)
    text_box = Box(box.x_low + letter_width, box.y_low, box.x_high, box.y_high)
    lines = [f"SLOT {hand}: STOP AT THE {side} END", "TOP FACE THIS SIDE", "FEED CLOCKWISE"]
    below = Box(box.x_low, box.y_low, box.x_low + letter_width - AWAY_MM, box.y_high - letter_height - AWAY_MM)
    return [letter, *fill_box(lines, text_box, 5.0), _feed_arrow(below)]


def _feed_arrow(box: Box) -> Mark:
    """Clockwise round a rectangle, seen from the router's side: the bush stays against the wall."""
    width, height = min(box.width, 16.0), min(box.height, 12.0)
    x, y = box.x_low, box.y_high - height
    ring: list[Point] = [(x + width / 2, y), (x, y), (x, y + height), (x + width, y + height), (x + width, y + 2)]
    return Mark("", ring[0], 0.0, 0.0, arrow_strokes(ring, 3.0))


def _end_marks(layout: JigLayout, hand: str) -> list[Mark]:
    """What belongs at this end, in the upper half; the hand's letter, large, in the lower half."""
    box = _box(layout, hand, _end_box(layout))
    middle = (box.y_low + box.y_high) / 2
    words = fill_box(["THIS END OUT", f"STOP HERE FOR {hand}"], Box(box.x_low, middle, box.x_high, box.y_high), 6.0)
    letter_height = min(18.0, middle - box.y_low - AWAY_MM)
    if letter_height < TEXT_MM:
        return list(fill_box([f"STOP HERE FOR {hand}"], box, 6.0))
    return [*words, text_mark(hand, (box.x_low, middle - AWAY_MM - letter_height), letter_height)]


def _centre_lines(layout: JigLayout, hand: str) -> list[Mark]:
    """The middle of the slot, before and behind it: to be set over the housing's middle on the board's edge."""
    frame, sign = part_from_plate(layout), 1 if hand == "R" else -1
    spans = (
        (layout.slot_front - AWAY_MM - CENTRE_LINE_MM, layout.slot_front - AWAY_MM),
        (layout.slot_rear + AWAY_MM, layout.slot_rear + AWAY_MM + CENTRE_LINE_MM),
    )
    return [line_mark([frame.point((sign * layout.centre_line(v), v)) for v in span]) for span in spans]


def _figures(layout: JigLayout, job: Job, shop: Shop, hand: str) -> list[str]:
    """Set-up figures behind slot R, the job's behind slot L, both on a one-handed plate."""
    unit, router = job.unit, shop.hand_router
    guide = "BEARING" if router.is_bearing_guided else f"BUSH {length_text(router.bush_mm, unit)}"
    settings = [
        f"PROJECTION {caliper_text(layout.projection, unit)}",
        f"{guide}, CUTTER {length_text(router.cutter_mm, unit)}",
        f"TILT {fixed(90 - layout.splay_deg, 2)}° OFF LEVEL ({fixed(layout.splay_deg, 2)}° OFF UPRIGHT)",
    ]
    facts = [
        job.name,
        f"LEG {length_text(job.leg.width_mm, unit)} × {length_text(job.leg.thickness_mm, unit)}",
        f"CLEARANCE {caliper_text(job.housing.clearance_mm, unit)}",
        f"SHEET {caliper_text(layout.sheet, unit)}",
    ]
    if layout.hands != "both":
        return settings + facts
    return settings if hand == "R" else facts
