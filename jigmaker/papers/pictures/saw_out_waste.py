"""Sawing the waste out of an R housing: edge and top face folded out flat. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas, Spot, midpoint
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.papers.pictures.unfolded import unfold
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
    shape, canvas, unit, angles = unfold(trestle), Canvas(), trestle.job.unit, trestle.angles
    reach = -min(x for pair in shape.rows for x, _ in pair) + _BEYOND_MM
    t, deep, left = shape.thickness, -shape.top_floor[0][1], length_text(waste_mm(unit), unit)
    spot = Spot(_WIDE_MM / reach)
    # The edge and the top face below it, open at the left, where the board goes on.
    low = -deep - _BEYOND_MM
    canvas.line([spot.point(p) for p in ((-reach, t), (0.0, t), (0.0, low), (-reach, low))], OUTLINE)
    canvas.line([spot.point(p) for p in ((-reach, 0.0), (0.0, 0.0))], THIN)
    for is_far in (False, True):
        canvas.line([spot.point(p) for p in shape.wall(is_far)[:3]], OUTLINE)
    canvas.line([spot.point(p) for p in shape.top_floor], OUTLINE)
    # Saw cuts from the near to the far wall, each from its end on the top face up to the bottom arris.
    inside = waste_mm(unit)
    near, far = shape.wall(False, inside)[:3], shape.wall(True, inside)[:3]
    count = max(2, round((near[1][0] - far[1][0]) / _BETWEEN_MM) + 1)
    # On the top face a cut ends short of the floor by what is left for the router.
    short = (inside, 0.0, 0.0)
    cuts = [
        [(a[0] + (b[0] - a[0]) * i / (count - 1), a[1] + up) for a, b, up in zip(near, far, short, strict=True)]
        for i in range(count)
    ]
    for cut in cuts:
        canvas.line([spot.point(p) for p in cut], THIN)
    canvas.line([spot.point(cuts[0][0]), spot.point(cuts[-1][0])], BROKEN)
    near, last, before = shape.wall(False), cuts[-1], cuts[-2]
    on_edge, on_face = (midpoint(near[1], near[2])[0], t / 2), (midpoint(near[0], near[1])[0], -deep / 2)
    floor = rule_text(trestle.housing.depth_top_mm, unit)
    names: tuple[tuple[str, Point, Side], ...] = (
        ("worked edge", (-0.12 * reach, 0.75 * t), "right"),
        (f"housing's line, {off_edge(angles.edge_line_deg, 'the top arris')}", on_edge, "right"),
        (f"on the top face {off_edge(90 - angles.edge_twist_deg, 'the top arris')}", on_face, "right"),
        ("top face, toward you", (-0.12 * reach, -deep - 0.4 * _BEYOND_MM), "right"),
        (f"saw cuts, the outer ones {left} inside the lines", midpoint(last[1], last[2]), "left"),
        ("more cuts between them", midpoint(before[0], before[1]), "left"),
        (f"chop off {left} above the floor; floor at {floor} here", midpoint(last[0], before[0]), "left"),
    )
    name_beside(canvas, [NameLabel(words, spot.point(at), side) for words, at, side in names], _COLUMN_MM)
    return canvas.picture("Sawing the waste out")
