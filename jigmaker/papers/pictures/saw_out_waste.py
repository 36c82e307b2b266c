"""Sawing the waste out of an R housing: Trestle in, Picture out; edge and top face folded out flat; paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas, Spot
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.pictures.unfolded import Unfolded, unfold
from jigmaker.papers.wording import off_edge, rule_text
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH, Unit, length_text

_WIDE_MM, _COLUMN_MM = 98.0, 32.0
_BEYOND_MM = 30.0  # board drawn beyond the housing
_BETWEEN_MM = 18.0  # between two cuts in the waste


def waste_mm(unit: Unit) -> float:
    """What sawing and chopping leave for the router at every wall and above the floor: 3 mm or 1/8 inch."""
    return 3.0 if unit == "mm" else MM_PER_INCH / 8


def saw_out_waste_picture(trestle: Trestle) -> Picture:
    """The housing's lines, the saw cuts inside them, and how deep they go: the hand R, board's end at the right."""
    shape, canvas, left = unfold(trestle), Canvas(), waste_mm(trestle.job.unit)
    reach = -min(x for pair in shape.rows for x, _ in pair) + _BEYOND_MM
    deep = -shape.top_floor[0][1]
    spot = Spot(_WIDE_MM / reach)
    _board(canvas, spot, shape, reach, deep + _BEYOND_MM)
    for far in (False, True):
        canvas.line([spot.point(p) for p in shape.wall(far)[:3]], OUTLINE)
    canvas.line([spot.point(p) for p in shape.top_floor], OUTLINE)
    cuts = _cuts(shape, left)
    for cut in cuts:
        canvas.line([spot.point(p) for p in cut], THIN)
    ends = [cut[0] for cut in cuts]
    canvas.line([spot.point(ends[0]), spot.point(ends[-1])], BROKEN)
    name_beside(canvas, _names(trestle, shape, cuts, spot, (reach, deep)), _COLUMN_MM)
    return canvas.picture("Sawing the waste out")


def _board(canvas: Canvas, spot: Spot, shape: Unfolded, reach: float, deep: float) -> None:
    """The edge and the top face below it, open at the left, where the board goes on."""
    t = shape.thickness
    ring: list[Point] = [(-reach, t), (0.0, t), (0.0, -deep), (-reach, -deep)]
    canvas.line([spot.point(p) for p in ring], OUTLINE)
    canvas.line([spot.point(p) for p in ((-reach, 0.0), (0.0, 0.0))], THIN)


def _cuts(shape: Unfolded, left: float) -> list[list[Point]]:
    """Saw cuts from the near to the far wall, each from its end on the top face up to the bottom arris."""
    near, far = shape.wall(False, left)[:3], shape.wall(True, left)[:3]
    count = max(2, round((near[1][0] - far[1][0]) / _BETWEEN_MM) + 1)
    short = [0.0] * 3
    short[0] = left
    cuts = []
    for i in range(count):
        share = i / (count - 1)
        points = [(a[0] + (b[0] - a[0]) * share, a[1] + up) for a, b, up in zip(near, far, short, strict=True)]
        cuts.append(points)
    return cuts


def _names(
    trestle: Trestle, shape: Unfolded, cuts: list[list[Point]], spot: Spot, size: tuple[float, float]
) -> list[NameLabel]:
    unit, t = trestle.job.unit, shape.thickness
    left, deep, angles = length_text(waste_mm(unit), unit), size[1], trestle.angles
    near = shape.wall(False)
    on_edge = ((near[1][0] + near[2][0]) / 2, t / 2)
    on_face = ((near[0][0] + near[1][0]) / 2, -deep / 2)
    first = cuts[-1]
    return [
        NameLabel("worked edge", spot.point((-0.12 * size[0], 0.75 * t)), "right"),
        NameLabel(f"housing's line, {off_edge(angles.edge_line_deg, 'the top arris')}", spot.point(on_edge), "right"),
        NameLabel(
            f"on the top face {off_edge(90 - angles.edge_twist_deg, 'the top arris')}", spot.point(on_face), "right"
        ),
        NameLabel("top face, toward you", spot.point((-0.12 * size[0], -deep - 0.4 * _BEYOND_MM)), "right"),
        NameLabel(f"saw cuts, the outer ones {left} inside the lines", spot.point(_middle(first[1], first[2])), "left"),
        NameLabel("more cuts between them", spot.point(_middle(cuts[-2][0], cuts[-2][1])), "left"),
        NameLabel(
            f"chop off {left} above the floor; floor at {rule_text(trestle.housing.depth_top_mm, unit)} here",
            spot.point(_middle(first[0], cuts[-2][0])),
            "left",
        ),
    ]


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
