"""The jig put together and used in numbers: parts as solids in the jig frame, cutter and bush swept, housings routed.

Nothing here reads the layout: outlines and placements come from the parts, the ideal housing from the job alone.
"""

from dataclasses import replace
from functools import cache
from math import radians, sin, tan

import shapely

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, scale, unit

FAR = 5000.0


@cache
def body(part):
    """The part as cut, as thick as the sheet, part frame; its arcs, on which nothing rests, in few chords."""
    return Solid.prism(part.outline, [hole.contour for hole in part.holes], part.thickness_mm, 8)


def stations(parts, hand):
    """(piece's name, part, frame, solid in the jig frame) of everything assembled for this hand."""
    return [
        (place.name, part, place.assembly_from_part, body(part).placed(place.assembly_from_part))
        for part in parts
        if part.assembly == "housing jig"
        for place in part.placements
        if place.state in ("both", hand)
    ]


def stop_x(parts, hand):
    """X of the stop plane for this hand: the face of the stop that the board's end meets."""
    low, high = next(solid for name, _, _, solid in stations(parts, hand) if name.startswith("stop")).bounds
    return low[0] if hand == "R" else high[0]


def board_in_jig(job, parts, hand):
    """The board as clamped: worked edge at Y = 0, top face at Z = 0, end against the stop."""
    x, top = stop_x(parts, hand), job.top
    low, high = (x - top.length_mm, x) if hand == "R" else (x, x + top.length_mm)
    return Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0, 0))


def plate_of(parts, hand):
    """(plate part, its frame in the jig, its slot for this hand)."""
    _, part, frame, _ = next(s for s in stations(parts, hand) if s[0].startswith("plate"))
    return part, frame, part.contour(f"slot {hand}")


def bush_region(parts, hand, router):
    """Where the bush's centre can be: the slot less the bush's radius, part frame."""
    return _bush_region(plate_of(parts, hand)[2], router.bush_mm)


@cache
def _bush_region(slot, bush_mm):
    return shapely.Polygon(slot.points(64)).buffer(-bush_mm / 2, join_style="mitre", mitre_limit=20)


def swept(parts, hand, router, diameter, low, high):
    """A round tool of this diameter moved all over the slot; low and high are heights over its base, jig frame."""
    part, frame, _ = plate_of(parts, hand)
    base = Frame(frame.point((0, 0, part.thickness_mm + low)), frame.x_axis, frame.y_axis, frame.z_axis)
    return _tool_path(part.contour(f"slot {hand}"), router.bush_mm, diameter, high - low).placed(base)


@cache
def _tool_path(slot, bush_mm, diameter, height):
    """Upright, from 0; several tests of a jig ask for the same."""
    area = _bush_region(slot, bush_mm).buffer(diameter / 2, quad_segs=32)
    return Solid.prism_of_points([list(area.exterior.coords)[:-1]], height)


def cutter_sweep(parts, hand, router, projection):
    """All that the cutter passes through, from its tip to the base."""
    return swept(parts, hand, router, router.cutter_mm, -projection, 0.0)


def jig_from_timber_end(job, parts, hand, edge):
    """timber_from_jig for the housing of this hand on this edge (+1: the +y edge worked, -1: the -y edge)."""
    x, top = stop_x(parts, hand), job.top
    shift = top.length_mm / 2 - x if hand == "R" else -top.length_mm / 2 - x
    origin = (shift, top.width_mm / 2, 0.0)
    if edge == 1:
        return Frame(origin)
    return Frame((-origin[0], -origin[1], 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))


SEATS = {("R", 1): (1, 1), ("R", -1): (-1, -1), ("L", 1): (-1, 1), ("L", -1): (1, -1)}
"""Which leg, by the signs of its x and y, stands in the housing of each hand and edge."""


def board(job):
    """The board in the timber frame."""
    top = job.top
    return Solid.block(
        (-top.length_mm / 2, -top.width_mm / 2, -top.thickness_mm), (top.length_mm / 2, top.width_mm / 2, 0)
    )


def slab(job, width, depth, opened):
    """Endless leg-shaped bar for the (+x, +y) leg: between its walls, from its floor out. Timber frame, from the job.

    opened: how far the near wall stands out of the leg's; depth: floor below the plane through the top arris.
    """
    cot_a, cot_b = (0.0 if v == 90 else 1 / tan(radians(v)) for v in (job.rake_deg, job.splay_deg))
    axis = unit((cot_a, cot_b, -1.0))
    outward = unit((0.0, sin(radians(job.splay_deg)), cot_b * sin(radians(job.splay_deg))))
    along = unit(cross(axis, outward))
    along = along if along[0] > 0 else scale(along, -1)
    near = (job.top.length_mm / 2 - job.inset_mm, job.top.width_mm / 2, 0.0)
    big = Solid.block((-FAR, -FAR, -FAR), (FAR, FAR, FAR))
    big = big.kept_below(add(near, scale(along, opened)), along)
    big = big.kept_below(add(near, scale(along, opened - width)), scale(along, -1))
    return big.kept_below(add(near, scale(outward, -depth)), scale(outward, -1))


def ideal_housing(job):
    """What should be routed away for the (+x, +y) leg."""
    c = job.housing.clearance_mm
    depth = job.leg.thickness_mm - job.housing.reveal_mm
    return slab(job, job.leg.width_mm + c, depth, c / 2).common(board(job))


def leg(job):
    """The (+x, +y) leg without clearance: between its two wide faces, cut level at the top face and the floor."""
    depth = job.leg.thickness_mm - job.housing.reveal_mm
    inner = slab(job, job.leg.width_mm, depth, 0.0)
    outer = slab(job, job.leg.width_mm, -job.housing.reveal_mm, 0.0)
    bar = inner.minus(outer)
    return bar.kept_below((0, 0, 0), (0, 0, 1)).kept_below((0, 0, -job.height_mm), (0, 0, -1))


def at_seat(solid, seat):
    """A solid given for the (+x, +y) leg, mirrored to another leg's place."""
    x, y = seat
    turned = solid if x == 1 else solid.mirrored((1, 0, 0))
    return turned if y == 1 else turned.mirrored((0, 1, 0))


def as_cut(part, tool):
    """The part as a round cutter leaves it: a fillet of the cutter's radius wherever it cannot reach."""
    material = shapely.Polygon(part.outline.points(8), [hole.contour.points(8) for hole in part.holes])
    around = shapely.box(*material.bounds).buffer(3 * tool)
    waste = around.difference(material)
    reached = waste.buffer(-tool / 2, quad_segs=8).buffer(tool / 2, quad_segs=8)
    pieces = shapely.get_parts(around.difference(reached))
    (left,) = [piece for piece in pieces if piece.intersects(material.buffer(-0.01))]  # not slivers at the border
    left = shapely.Polygon(left.exterior, [ring for ring in left.interiors if shapely.Polygon(ring).area > 1])
    assert len(left.interiors) == len(part.holes)
    holes = []
    for hole in part.holes:
        x0, y0, x1, y1 = hole.contour.bounds
        middle = shapely.Point((x0 + x1) / 2, (y0 + y1) / 2)
        ring = min(left.interiors, key=lambda r: shapely.Polygon(r).distance(middle))
        holes.append(replace(hole, contour=_ring(ring, False)))
    return replace(part, outline=_ring(left.exterior, True), holes=tuple(holes))


def _ring(ring, anticlockwise):
    points = list(shapely.simplify(ring, 1e-9).coords)[:-1]
    outline = Outline.from_points(points)
    return outline if (outline.area > 0) == anticlockwise else outline.reversed()
