"""What is scored on the plate: layout, job and shop in, Marks out. Part frame, mm; read from the router's side.

Each half of the plate says its own hand: large letter and clockwise feed arrow in front of the slot, the stop's hand at
the end where it is bolted, and the figures of the set-up behind the slot.
"""

from itertools import pairwise
from math import cos, radians, sin, tan

from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.geometry.outline import Arc, Stroke
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.bearer import end_mortises
from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.housing_jig.plate import FRONT_CORNER_MM, part_from_plate
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import TEXT_MM, drawn_mark, line_mark, text_mark
from jigmaker.parts.part import Mark, Said
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.units import caliper_text, fixed, length_text

AWAY_MM = 4.0  # marks keep this far from every cut
CENTRE_LINE_MM = 12.0

# Room for "STOP FOR R" in letters 6 mm high.
_END_WORDS_MM = 60.0


def plate_marks(layout: JigLayout, job: Job, shop: Shop) -> tuple[Mark, ...]:
    """Every mark of a plate, in a stable order."""
    sides = ("R", "L") if layout.hands == "both" else (layout.hands,)
    marks: list[Mark] = []
    for hand in sides:
        marks += _front_marks(layout, hand, shop)
        # Over the end bearer, between its two mortises; no farther from the plate's end than its words need.
        (_, front), (rear, _) = end_mortises(layout)
        high = layout.plate_high - AWAY_MM
        low = max(layout.side_bearer + layout.sheet + layout.joint + AWAY_MM, high - _END_WORDS_MM)
        marks += fill_box(
            words_of("plate", ["stop"], shop, hand=hand),
            _box(layout, hand, Box(low, front + AWAY_MM, high, rear - AWAY_MM)),
            6.0,
        )
        # The middle of the slot, before and behind it: to be set over the housing's middle on the board's edge.
        frame, sign = part_from_plate(layout), 1 if hand == "R" else -1
        for start, way in ((layout.slot_front - AWAY_MM, -1), (layout.slot_rear + AWAY_MM, 1)):
            span = sorted((start, start + way * CENTRE_LINE_MM))
            points = [frame.point((sign * layout.centre_line(v), v)) for v in span]
            marks.append(line_mark(points, fact="centre lines"))
        # Set-up figures behind slot R, the job's behind slot L, both on a one-handed plate.
        unit, router = job.unit, shop.router
        figures = {
            "projection": caliper_text(layout.projection, unit),
            "guide": "BEARING" if router.is_bearing_guided else f"BUSH {length_text(router.bush_mm, unit)}",
            "cutter": length_text(router.cutter_mm, unit),
            "tilt": fixed(90 - layout.splay_deg, 2),
            "kit": WIDEST,
            "job": job.name,
            "leg": f"{length_text(job.leg.width_mm, unit)} × {length_text(job.leg.thickness_mm, unit)}",
            "clearance": caliper_text(job.housing.clearance_mm, unit),
            "sheet": caliper_text(layout.sheet, unit),
        }
        settings, facts = ["projection", "guide", "tilt"], ["kit", "job", "leg", "clearance", "sheet"]
        whats = settings + facts if layout.hands != "both" else settings if hand == "R" else facts
        low, high = _between_bearers(layout)
        behind = Box(low, layout.slot_rear + CENTRE_LINE_MM + 2 * AWAY_MM, high, layout.plate_rear - AWAY_MM)
        marks += fill_box(words_of("plate", whats, shop, **figures), _box(layout, hand, behind), 5.0)
    return tuple(marks)


def _box(layout: JigLayout, hand: str, right: Box) -> Box:
    """A box given for slot R in the plate plane, for this hand, in the part frame."""
    frame = part_from_plate(layout)
    return (right if hand == "R" else right.mirrored()).moved(frame.x, frame.y)


def _between_bearers(layout: JigLayout) -> tuple[float, float]:
    """X between the inner bearer's and the side bearer's mortises, for slot R."""
    inner = layout.bearer_faces[0 if layout.hands == "both" else 1][1] + layout.sheet + layout.joint
    away = AWAY_MM + (layout.bites.aside if layout.bites.are_beside else 0.0)
    low = inner + away
    if layout.hands != "both":
        low = max(low, layout.plate_low + FRONT_CORNER_MM + AWAY_MM)
    return low, layout.side_bearer - layout.joint - away


def _front_marks(layout: JigLayout, hand: str, shop: Shop) -> list[Mark]:
    """Large letter at the left of the box, which face this is at its right; below the feed arrow with its word."""
    low, high = _between_bearers(layout)
    box = _box(
        layout, hand, Box(low, layout.plate_front + AWAY_MM, high, layout.slot_front - CENTRE_LINE_MM - 2 * AWAY_MM)
    )
    letter_height, letter_width = min(20.0, box.height * 0.45), 22.0
    letter = text_mark(Said(hand, "hand"), (box.x_low, box.y_high - letter_height), letter_height)
    middle = box.y_high - letter_height - AWAY_MM
    right = Box(box.x_low + letter_width, middle, box.x_high, box.y_high)
    top = fill_box(words_of("plate", ["top"], shop), right, 6.0)
    radius = min(letter_width - AWAY_MM, middle - box.y_low) / 2
    beside = Box(box.x_low + letter_width, box.y_low, box.x_high, middle - radius + TEXT_MM / 2)
    feed = fill_box(words_of("plate", ["feed"], shop), beside, TEXT_MM)
    # Clockwise seen from the router's side, over the top from left to right: the bush stays against the wall.
    centre = (box.x_low + radius, middle - radius)
    x, y = centre
    ends = [(x + radius * cos(radians(a)), y + radius * sin(radians(a))) for a in (210, 90, -30)]
    ring = Stroke(tuple(Arc(a, b, -tan(radians(120) / 4)) for a, b in pairwise(ends)))
    # The head lies on the last bit of the way, taken as straight.
    (end_x, end_y), (ux, uy) = ends[-1], ring.segments[-1].end_direction
    _, head = arrow_strokes([(end_x - ux, end_y - uy), ends[-1]], radius / 2)
    return [letter, *top, drawn_mark([ring, head], "feed arrow"), *feed]
