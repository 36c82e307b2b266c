"""Outlines drawn corner by corner, every straight piece with a name: corners in, Outline and Features out; mm.

A corner that a round cutter would leave filleted, and where a square part must seat, can be relieved: a round bite
whose circle passes through the true corner, its centre on the corner's bisector, on the side of the waste. In a mortise
too narrow for two of them the bites are half circles beside its ends, which start in the true corners.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import atan2, cos, degrees, pi, tan
from typing import Literal

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Segment
from jigmaker.job.shop import Shop
from jigmaker.parts.part import Feature, FeatureKind, Hole, Part
from jigmaker.parts.relief import Bites, bites_of, hole_diameter, relief_radius
from jigmaker.record import dataclass

Beside = Literal["", "before", "after"]
PartOpening = tuple[str, Point, Point]
"""A mortise: its name, its lower left and its upper right corner."""
PartScrew = tuple[str, Point]
"""A screw's hole: its name and its middle."""

LEAST_WEB_MM = 3.0  # of wood, everywhere
SCREW_HOLE_MM = 3.8  # for a 3.5 mm screw


@dataclass(frozen=True, slots=True)
class OutlineCorner:
    """A corner and the straight piece that leaves it: its name, its kind, and whether the corner wants relief.

    beside: "" for a bite on the bisector, else the piece "before" or "after" the corner that alone is bitten into.
    """

    at: Point
    piece: str
    kind: FeatureKind = "edge"
    relieved: bool = False
    beside: Beside = ""


_UPRIGHT = PlaneFrame()


def draw_rectangle(width: float, height: float, pieces: dict[str, FeatureKind]) -> tuple[Outline, tuple[Feature, ...]]:
    """A rectangle with a corner at (0, 0); its lower, right, upper and left side with their kinds, in this order."""
    places = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return draw_outline([OutlineCorner(at, *piece) for at, piece in zip(places, pieces.items(), strict=True)])


def draw_outline(
    corners: Sequence[OutlineCorner], contour: str = "outer", relief_mm: float = 0.0
) -> tuple[Outline, tuple[Feature, ...]]:
    """The outline through the corners and one angle feature for each straight piece.

    relief_mm is the radius of the bite at relieved corners; 0 leaves every corner sharp. Direction as the corners run.
    """
    bites = [_bite(corners, i, relief_mm) if corner.relieved and relief_mm else [] for i, corner in enumerate(corners)]
    pieces: list[Segment] = []
    features: list[Feature] = []
    for i, corner in enumerate(corners):
        following = (i + 1) % len(corners)
        pieces += bites[i]
        start = bites[i][-1].end if bites[i] else corner.at
        end = bites[following][0].start if bites[following] else corners[following].at
        features.append(
            Feature(corner.piece, corner.kind, contour, (len(pieces),), "angle_deg", direction_deg(start, end))
        )
        pieces.append(Line(start, end))
    return Outline(tuple(pieces)), tuple(features)


def direction_deg(start: Point, end: Point) -> float:
    """Direction of a line, anticlockwise from the x axis, from 0 up to but not including 180."""
    turned = degrees(atan2(end[1] - start[1], end[0] - start[0])) % 180
    return 0.0 if 180 - turned < 1e-9 else turned


def across(features: Sequence[Feature], one: str, other: str, name: str, kind: FeatureKind, value: float) -> Feature:
    """The feature "distance between two parallel pieces", found by their names in one contour."""
    found = {feature.name: feature for feature in features}
    pieces = (found[one].pieces[0], found[other].pieces[0])
    return Feature(name, kind, found[one].contour, pieces, "across_mm", value)


def mortise(
    name: str,
    low: Point,
    high: Point,
    bites: Bites | None = None,
    kind: FeatureKind = "mortise",
    place: PlaneFrame = _UPRIGHT,
) -> tuple[Hole, tuple[Feature, ...]]:
    """A rectangular hole, run clockwise, with its width and length as features; None leaves it sharp. low, high: in a
    frame of its own along its walls; place: part_from_hole, where it is not upright.
    """
    (x0, y0), (x1, y1) = low, high
    # Bites beside the short walls lie in the long ones: left and right of an opening that is deeper than wide.
    one: Beside = "after" if y1 - y0 >= x1 - x0 else "before"
    other: Beside = "before" if one == "after" else "after"
    if bites is None or not bites.are_beside:
        one = other = ""
    corners = [
        OutlineCorner((x0, y0), f"{name}, left wall", kind, True, one),
        OutlineCorner((x0, y1), f"{name}, rear wall", kind, True, other),
        OutlineCorner((x1, y1), f"{name}, right wall", kind, True, one),
        OutlineCorner((x1, y0), f"{name}, front wall", kind, True, other),
    ]
    placed = [replace(corner, at=place.point(corner.at)) for corner in corners]
    outline, sides = draw_outline(placed, name, bites.radius if bites else 0.0)
    width = across(sides, corners[0].piece, corners[2].piece, f"{name}, width", kind, x1 - x0)
    length = across(sides, corners[1].piece, corners[3].piece, f"{name}, length", kind, y1 - y0)
    return Hole(name, outline), (*sides, width, length)


def round_hole(name: str, centre: Point, diameter: float) -> tuple[Hole, tuple[Feature, ...]]:
    """A round hole with its diameter as feature."""
    feature = Feature(name, "hole", name, (), "diameter_mm", diameter)
    return Hole(name, Circle(centre, diameter / 2)), (feature,)


def shifted(corners: Sequence[OutlineCorner], by: Point) -> list[OutlineCorner]:
    """The same corners moved by a vector."""
    move = PlaneFrame(by[0], by[1]).point
    return [replace(corner, at=move(corner.at)) for corner in corners]


def drawn_part(
    name: str,
    assembly: str,
    corners: Sequence[OutlineCorner],
    shop: Shop,
    openings: Sequence[PartOpening] = (),
    screws: Sequence[PartScrew] = (),
) -> tuple[Part, Point]:
    """A bare part of a guide, from what is drawn in its own plane, and the point of that plane where its part frame
    begins; out of the shop's first sheet, relieved as the shop's tool needs it.
    """
    low = min(c.at[0] for c in corners), min(c.at[1] for c in corners)
    move = PlaneFrame(-low[0], -low[1]).point
    outline, features = draw_outline(shifted(corners, (-low[0], -low[1])), relief_mm=relief_radius(shop))
    made = [mortise(label, move(a), move(b), bites_of(shop)) for label, a, b in openings]
    made += [round_hole(label, move(at), hole_diameter(shop, SCREW_HOLE_MM)) for label, at in screws]
    part = Part(
        name=name,
        slug=name.lower().replace(" ", "-"),
        assembly=assembly,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet.thickness_mm,
        outline=outline,
        holes=tuple(hole for hole, _ in made),
        features=(*features, *(feature for _, found in made for feature in found)),
        least_wood_mm=(("web", LEAST_WEB_MM), ("neck", LEAST_WEB_MM)),
    )
    return part, low


def _bite(corners: Sequence[OutlineCorner], i: int, radius: float) -> list[Arc]:
    """Two arcs of the relief circle, meeting in the true corner; or a half circle that starts or ends there.

    With the opening angle t between the walls (on the waste's side), the circle meets each wall 2 r cos(t/2) from the
    corner, and the arc from there to the corner turns through pi - t. Material lies left of the path, so both arcs run
    clockwise: into the material.
    """
    at = corners[i].at
    first, second = _toward(at, corners[i - 1].at), _toward(at, corners[(i + 1) % len(corners)].at)
    opening = (atan2(second[1], second[0]) - atan2(first[1], first[0])) % (2 * pi)
    if opening >= pi:
        raise OutlineError(f"the corner at {at} sticks out of the material; only re-entrant corners are relieved")
    if corners[i].beside == "before":
        return [Arc((at[0] + first[0] * 2 * radius, at[1] + first[1] * 2 * radius), at, -1.0)]
    if corners[i].beside == "after":
        return [Arc(at, (at[0] + second[0] * 2 * radius, at[1] + second[1] * 2 * radius), -1.0)]
    chord = 2 * radius * cos(opening / 2)
    start = (at[0] + first[0] * chord, at[1] + first[1] * chord)
    end = (at[0] + second[0] * chord, at[1] + second[1] * chord)
    bulge = -tan((pi - opening) / 4)
    return [Arc(start, at, bulge), Arc(at, end, bulge)]


def _toward(a: Point, b: Point) -> Point:
    return Line(a, b).start_direction
