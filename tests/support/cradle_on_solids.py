"""A leg sawn on the sloping cradle in numbers: laid on the ribs as made, cut at both swings, tumbled between.

Nothing here reads the layout: outlines and placements come from the parts, the wanted leg from rake and splay alone.
Cradle frame: the saw's table is z = 0, its fence y = 0, the operator at y < 0; the blade turns about the origin.
"""

from functools import cache
from math import cos, hypot, radians, sin

from jig_on_solids import slab

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, scale, unit

FAR = 3000.0


@cache
def body(part):
    """The part as drawn, part frame."""
    return Solid.prism(part.outline, [hole.contour for hole in part.holes], part.thickness_mm, 8)


def pieces(parts):
    """(name, part, frame, solid in the cradle frame) of every piece."""
    return [
        (place.name, part, place.assembly_from_part, body(part).placed(place.assembly_from_part))
        for part in parts
        if part.assembly == "sloping cradle"
        for place in part.placements
    ]


def leg_place(parts):
    """cradle_from_leg: the leg's far lower arris on the ribs along the fence rib; x along it down the slope, z out of
    its upper wide face. The origin is where the blade, set square, crosses."""
    _, rib, frame, _ = next(p for p in pieces(parts) if p[0] == "cradle near rib")
    ring = rib.outline.points(8)
    edges = [(a, b) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True) if a[0] > b[0]]
    seat = max(edges, key=lambda edge: edge[0][0] - edge[1][0])  # the longest that runs to the left: it lies above
    (x, _, z), (left_x, _, left_z) = (frame.point((*p, 0.0)) for p in seat)
    down = unit((x - left_x, 0.0, z - left_z))
    _, _, _, fence = next(p for p in pieces(parts) if p[0] == "cradle fence rib")
    at = (0.0, fence.bounds[0][1], z - x * down[2] / down[0])
    return Frame(at, down, (0.0, 1.0, 0.0), cross(down, (0.0, 1.0, 0.0)))


def blade_normal(swing, mitre_deg):
    """Out of the blade toward the right: swing +1 with its far end to the right, -1 to the left."""
    return (cos(radians(mitre_deg)), -swing * sin(radians(mitre_deg)), 0.0)


def blade(swing, mitre_deg, kerf=3.0):
    """The kerf's full length and height, from the table up."""
    n = blade_normal(swing, mitre_deg)
    along = (-n[1], n[0], 0.0)
    return Solid.block((-kerf / 2, -FAR, 0.0), (kerf / 2, 150.0, FAR)).placed(Frame((0.0, 0.0, 0.0), n, along))


TUMBLED = Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
"""End for end and the other wide face down: half a turn about the leg's width."""
TURNED = Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
"""End for end on the same wide face: half a turn about the upright."""


def sawn(job, parts, mitre_deg, length, turn=TUMBLED, swings=(1, -1)):
    """The leg with both ends sawn, in its own axes as it lay for the first end: x to the foot, outer wide face down,
    far edge at y = 0; and the directions out of both end cuts in those axes."""
    place, w, t = leg_place(parts), job.leg.width_mm, job.leg.thickness_mm
    piece = Solid.block((-FAR, -w, 0.0), (FAR, 0.0, t))
    first, second = (unit_inside(place, blade_normal(swing, mitre_deg)) for swing in swings)
    through = place.inside((0.0, 0.0, 0.0))
    piece = piece.kept_below(through, first)
    # Turned about the blank's middle, and slid until its long point, on the far upper arris, is at the stop.
    piece = piece.placed(turn).moved((0.0, -w if turn is TURNED else 0.0, t if turn is TUMBLED else 0.0))
    arris = [p for p in piece.corners if abs(p[1]) < 1e-6 and abs(p[2] - t) < 1e-6]
    left = min(p[0] for p in arris)
    at_blade = through[0] + (through[1] * second[1] + (through[2] - t) * second[2]) / second[0]
    piece = piece.moved((at_blade - length - left, 0.0, 0.0)).kept_below(through, second)
    back = piece.moved((0.0, w if turn is TURNED else 0.0, -t if turn is TUMBLED else 0.0)).placed(turn)
    return back, first, unit(turn.direction(second))


def unit_inside(frame, direction):
    """A direction of the outer frame in the inner one's axes."""
    return tuple(dot(direction, axis) for axis in (frame.x_axis, frame.y_axis, frame.z_axis))


def wanted(job):
    """The finished leg of (+x, +y) in its own axes: x down it, z into its outer wide face, far edge y = 0."""
    c, s = cos(radians(job.splay_deg)), sin(radians(job.splay_deg))
    c, s = (0.0, 1.0) if job.splay_deg == 90 else (c, s)
    out = (0.0, s, c)
    raked = (sin(radians(job.rake_deg)), 0.0, 0.0 if job.rake_deg == 90 else cos(radians(job.rake_deg)))
    down = unit(cross(out, raked))
    down = down if down[2] < 0 else scale(down, -1)
    up = scale(out, -1)
    axes = (down, cross(up, down), up)
    # The same rotation the other way round: rows for columns.
    reveal = job.housing.reveal_mm
    start = (job.top.length_mm / 2 - job.inset_mm, job.top.width_mm / 2, 0.0)
    bar = slab(job, job.leg.width_mm, job.leg.thickness_mm - reveal, 0.0).kept_below(
        add(start, scale(out, reveal)), out
    )
    leg = bar.kept_below((0.0, 0.0, 0.0), (0.0, 0.0, 1.0)).kept_below((0.0, 0.0, -job.height_mm), (0.0, 0.0, -1.0))
    solid = leg.placed(Frame((0.0, 0.0, 0.0), *zip(*axes, strict=True)))
    (_, _, low), (_, far, _) = solid.bounds
    return solid.moved((0.0, -far, -low))


def differences(one, other):
    """Volumes that one has and the other has not, and back, once both end at the same x; mm³."""
    other = other.moved((one.bounds[0][0] - other.bounds[0][0], 0.0, 0.0))
    return one.minus(other).volume, other.minus(one).volume


def angle_deg(a, b):
    """Between two lines, 0 to 90."""
    from math import atan2, degrees

    c = cross(a, b)
    return degrees(atan2(hypot(*c), abs(dot(a, b))))
