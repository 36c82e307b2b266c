"""Pictures for the reading form: the coupon with each place to measure, and the signs of skew; black only, mm."""

from collections.abc import Iterator
from math import dist

from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer, Shape
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import Anchor, arrow_strokes, write_text
from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.parts.coupon_places import SLOTS_AT, lay_out_coupon
from jigmaker.parts.coupon_size import GAP_TAPER, REST_MM, WEDGES_MM, CouponSize
from jigmaker.parts.part import Part

PIECE, DIMENSION, LETTERS = "PIECE", "DIMENSION", "LETTERS"
_LAYERS = (
    PictureLayer(PIECE, "#000000", 0.35),
    PictureLayer(DIMENSION, "#000000", 0.2),
    PictureLayer(LETTERS, "#000000", 0.5),
)
_LETTER_MM, _HEAD_MM, _GAP_MM = 5.0, 3.0, 1.5
_LEFT, _RIGHT, _BELOW, _ABOVE = 2.0, 31.0, 18.0, 18.0  # room round the coupon
_LEAN = 0.22  # of the pictured parallelograms: a hundred times what a machine has

DrawnLines = Iterator[tuple[str, Shape]]


def where_to_measure(part: Part, size: CouponSize) -> Picture:
    """The coupon as it lies with its marks in sight, wedges and offcut where they are put, each place under its letter,
    with the line that is measured."""
    to_page = PlaneFrame(_LEFT, _BELOW)
    shapes: list[tuple[str, Shape]] = [(PIECE, part.outline), *((PIECE, hole.contour) for hole in part.holes)]
    shown = [mark for mark in part.marks if mark.text in ("X", "Y", "E", "")]
    shapes += [(DIMENSION, stroke) for mark in shown for stroke in mark.strokes]
    shapes += _put_in(size)
    # A letter in the disc, and the line across.
    (x, y), radius = lay_out_coupon(size).disc, size.disc / 2
    shapes += [*_words("F", (x, y + 1.5), "middle"), *_arrows((x - radius, y - 1.5), (x + radius, y - 1.5))]
    shapes += _measured(size)
    _, _, high_x, high_y = part.outline.bounds
    drawn = tuple(DrawnShape(layer, shape.placed(to_page)) for layer, shape in shapes)
    return Picture("Where to measure", _LEFT + high_x + _RIGHT, _BELOW + high_y + _ABOVE, _LAYERS, drawn)


def signs_of_skew() -> Picture:
    """A square leaning to either side with its longer diagonal: which sign is which."""
    shapes, middle, side = list[tuple[str, Shape]](), 37.0, 30.0
    for low, lean, words in ((62.0, _LEAN, "/ LONGER: +"), (13.0, -_LEAN, "\\ LONGER: -")):
        # The lower and the upper side stay where they are seen level; the upper one is moved by lean * side along x.
        # Leaning to the right makes the rising diagonal the longer one: it is drawn heavy, the other light.
        #
        #        ________
        #       /     . /
        #      /   .   /
        #     /_.____ /
        #
        high, left, right = low + side, middle - (side + lean * side) / 2, middle + (side - lean * side) / 2
        top_left, top_right = (left + lean * side, high), (right + lean * side, high)
        shapes.append((PIECE, Outline.from_points([(left, low), (right, low), top_right, top_left])))
        shapes.append((LETTERS if lean > 0 else DIMENSION, Stroke.from_points([(left, low), top_right])))
        shapes.append((LETTERS if lean < 0 else DIMENSION, Stroke.from_points([top_left, (right, low)])))
        axes = [*arrow_strokes([(3.0, low), (11.0, low)], 2.0), *arrow_strokes([(3.0, low), (3.0, low + 8.0)], 2.0)]
        axes += [*write_text("X", (12.0, low - 1.5), 3.0), *write_text("Y", (1.8, low + 9.5), 3.0)]
        shapes += [(DIMENSION, stroke) for stroke in axes]
        shapes += _words(words, (middle, low - 7.0), "middle")
    return Picture("Signs of skew", 62.0, 98.0, _LAYERS, tuple(DrawnShape(layer, shape) for layer, shape in shapes))


def _put_in(size: CouponSize) -> DrawnLines:
    """Each wedge at rest in its slot, the gap behind it that is measured, and the wedge's letter in its window; an
    offcut of the sheet where it stops in the gap, and how far that is from the narrow end.
    """
    # A slot's half width goes from `half` at its thin end to `thick` at its thick one. A wedge of the same taper rests
    # where it is as wide as the slot: REST_MM from the thick end as drawn, and the farther from it the wider the cut
    # is.
    half, thick, long = size.slot_ends()
    windows = lay_out_coupon(size).windows
    for name, length in WEDGES_MM.items():
        turned = PlaneFrame(*SLOTS_AT[name], 0.0 if name == "A" else -90.0)
        back = long - REST_MM
        front = back - length
        ends = [(half + (thick - half) * at / long, at) for at in (front, back)]
        points = [(-ends[0][0], front), (ends[0][0], front), (ends[1][0], back), (-ends[1][0], back)]
        yield PIECE, Outline.from_points([turned.point(point) for point in points])
        yield from _arrows(turned.point((0.0, back)), turned.point((0.0, long)))
        for frame, at in ((turned, front + length / 2), (PlaneFrame(*windows[name], turned.turn_deg), length / 2)):
            x, y = frame.point((0.0, at))
            yield from _words(name, (x, y - _LETTER_MM / 2), "middle")
    if size.gap is None:
        return
    (x, y), (narrow, long) = lay_out_coupon(size).gap, size.gap
    front = 25.0
    low, far, right = y + front, y + front + 17.0, x + narrow + GAP_TAPER * front
    yield PIECE, Outline.from_points([(x, low), (right, low), (right, far), (x, far)])
    middle = x + narrow / 2
    yield from _arrows((middle, y), (middle, y + front))
    yield from _words("C", (middle, y + long + 2.0), "middle")


def _measured(size: CouponSize) -> DrawnLines:
    """The four lengths of D, outside the piece, on the side where each is measured; both lines of E, broken, over the
    holes' far sides.
    """
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    up, out = long_y + 9.0, long_x + 9.0
    yield from _dimension((long_x - short_x, up), (long_x, up), "D SHORT X", (long_x - short_x / 2, up + 2), "middle")
    yield from _extensions([((long_x - short_x, long_y), (long_x - short_x, up)), ((long_x, long_y), (long_x, up))])
    yield from _dimension((0.0, -9.0), (long_x, -9.0), "D LONG X", (long_x / 2, -16.0), "middle")
    yield from _extensions([((0.0, 8.0), (0.0, -9.0)), ((long_x, 0.0), (long_x, -9.0))])
    yield from _dimension(
        (out, long_y - short_y), (out, long_y), "D SHORT Y", (out + 7, long_y - short_y - 38), "left", 90
    )
    yield from _extensions(
        [((long_x, long_y - short_y), (out, long_y - short_y)), ((long_x, long_y), (out + 13, long_y))]
    )
    yield from _dimension((out + 13, 0.0), (out + 13, long_y), "D LONG Y", (out + 20, long_y / 4), "left", 90)
    yield from _extensions([((long_x, 0.0), (out + 13, 0.0))])
    # A hole's far side, on the square's diagonal: its radius beyond its centre, so radius / sqrt(2) along x and y.
    square, reach = lay_out_coupon(size).square, size.square_hole / 2 / 2**0.5
    (x, y), (high_x, high_y) = square["lower left"], square["upper right"]
    low, high = (x - reach, y - reach), (high_x + reach, high_y + reach)
    for start, end in ((low, high), ((low[0], high[1]), (high[0], low[1]))):
        # In dashes, so that it is not taken for one of the lines that it crosses.
        count = 2 * int(dist(start, end) / 4) + 1
        dx, dy = (end[0] - start[0]) / count, (end[1] - start[1]) / count
        for i in range(0, count, 2):
            a = (start[0] + i * dx, start[1] + i * dy)
            yield DIMENSION, Stroke.from_points([a, (a[0] + dx, a[1] + dy)])
        yield from _heads(start, end)


def _dimension(start: Point, end: Point, words: str, at: Point, anchor: Anchor, turn_deg: float = 0.0) -> DrawnLines:
    yield from _arrows(start, end)
    yield from _words(words, at, anchor, turn_deg)


def _arrows(start: Point, end: Point) -> DrawnLines:
    """A line with a head at both ends."""
    yield DIMENSION, Stroke.from_points([start, end])
    yield from _heads(start, end)


def _heads(start: Point, end: Point) -> DrawnLines:
    for a, b in ((start, end), (end, start)):
        share = min(0.5, 2 * _HEAD_MM / dist(a, b))
        near = (b[0] + (a[0] - b[0]) * share, b[1] + (a[1] - b[1]) * share)
        yield from ((DIMENSION, stroke) for stroke in arrow_strokes([near, b], _HEAD_MM))


def _extensions(lines: list[tuple[Point, Point]]) -> DrawnLines:
    """Thin lines from the piece to beyond the dimension's line, which leave the piece a little free."""
    for start, end in lines:
        # From the piece out to beyond the dimension's line, by the same small gap at both ends.
        length = dist(start, end)
        ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        inner = (start[0] + ux * _GAP_MM, start[1] + uy * _GAP_MM)
        yield DIMENSION, Stroke.from_points([inner, (end[0] + ux * _GAP_MM, end[1] + uy * _GAP_MM)])


def _words(words: str, at: Point, anchor: Anchor, turn_deg: float = 0.0) -> DrawnLines:
    yield from ((LETTERS, stroke) for stroke in write_text(words, at, _LETTER_MM, turn_deg, anchor))
