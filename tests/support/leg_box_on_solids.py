"""The leg box put together and used in numbers: the saw swept in the slots as drawn, legs sawn off a board.

Nothing here reads the layout: outlines and placements come from the parts, the leg from the job alone. Box frame: the
leg on its outer wide face with its head to the left, y away from the operator, z up; mm.
"""

from math import cos, radians, sin, tan

from jig_on_solids import body

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot, scale, subtract, unit

DOWN, UP = (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)
LONG = 3000.0


def pieces(parts):
    """{name: (part, frame, solid)} of everything in the box."""
    return {
        place.name: (part, place.assembly_from_part, body(part).placed(place.assembly_from_part))
        for part in parts
        if part.assembly == "leg box"
        for place in part.placements
    }


def slot_lines(parts, side):
    """Of the faces of a wall's slot, left and right: (x at z = 0, how far it runs to the right for 1 of height)."""
    found = []
    for which in ("left", "right"):
        for name, (part, frame, _) in pieces(parts).items():
            feature = next((f for f in part.features if f.name == f"slot, {which} face"), None)
            if feature and side in name:
                line = part.outline.segments[feature.pieces[0]]
                a, b = (frame.point((*end, 0.0)) for end in (line.start, line.end))
                slope = (b[0] - a[0]) / (b[2] - a[2])
                found.append((a[0] - a[2] * slope, slope))
    return found


def saw_frame(parts):
    """box_from_saw: y up in the saw's plane, z square to it toward the foot, the origin where it meets z = y = 0."""
    (left, slope), (right, _) = slot_lines(parts, "near")
    z = unit((1.0, 0.0, -slope))
    y = unit((slope, 0.0, 1.0))
    return Frame(((left + right) / 2, 0.0, 0.0), cross(y, z), y, z)


def saw_at_work(parts, saw, thick):
    """A blade of this thickness with its back on the walls, over its whole stroke; and the back itself."""
    frame = saw_frame(parts)
    top = max(solid.bounds[1][2] for name, (_, _, solid) in pieces(parts).items() if "wall" in name or "half" in name)
    # The back's underside is square to the saw: its lower arris lands first, half its thickness aside of the middle.
    up = frame.y_axis[2]
    high = (top + saw.back_mm / 2 * abs(frame.y_axis[0])) / up
    blade = Solid.block((-250.0, high - saw.depth_mm, -thick / 2), (250.0, high, thick / 2))
    back = Solid.block((-250.0, high, -saw.back_mm / 2), (250.0, high + 10.0, saw.back_mm / 2))
    return blade.placed(frame), back.placed(frame)


def _leg_directions(job):
    """Down the (+x, +y) leg's axis, out of its wide face, and square to both; timber frame."""
    cot_a, cot_b = (0.0 if v == 90 else 1 / tan(radians(v)) for v in (job.rake_deg, job.splay_deg))
    down, wide = unit((cot_a, cot_b, -1.0)), (0.0, sin(radians(job.splay_deg)), cos(radians(job.splay_deg)))
    return down, wide, cross(down, wide)


def lying(job):
    """(box_from_timber of the (+x, +y) leg as it lies in the box, its axis there)."""
    down, wide, third = _leg_directions(job)
    # The trestle's x axis lies in the wide face and is level: in the box it runs along y.
    axis = (third[0], down[0], 0.0)
    across = cross(axis, DOWN)
    rows = [tuple(down[k] * axis[i] + wide[k] * DOWN[i] + third[k] * across[i] for i in range(3)) for k in range(3)]
    return Frame((0.0, 0.0, 0.0), *rows), axis


def board_in_box(job):
    """A board for legs on the bottom, its middle over the origin."""
    (w, t), axis = (job.leg.width_mm, job.leg.thickness_mm), lying(job)[1]
    frame = Frame((0.0, 0.0, 0.0), axis, cross(UP, axis), UP)
    return Solid.block((-LONG, -w / 2, 0.0), (LONG, w / 2, t)).placed(frame)


def sawn(job, parts, length):
    """What is left of the board between two cuts, the board slid along its axis between them."""
    saw, axis = saw_frame(parts), lying(job)[1]
    first = board_in_box(job).kept_below(saw.origin, saw.z_axis)
    return first.kept_below(subtract(saw.origin, scale(axis, length)), scale(saw.z_axis, -1))


def wanted(job, parts):
    """The job's leg as it lies in the box, its foot in the saw's plane."""
    _, wide, third = _leg_directions(job)
    solid = Solid.block((-LONG,) * 3, (LONG,) * 3)
    for out, thick in ((wide, job.leg.thickness_mm), (third, job.leg.width_mm)):
        solid = solid.kept_below(scale(out, thick / 2), out).kept_below(scale(out, -thick / 2), scale(out, -1))
    frame, axis = lying(job)
    solid = solid.kept_below((0.0, 0.0, 0.0), UP).kept_below((0.0, 0.0, -job.height_mm), DOWN).placed(frame)
    solid, saw = solid.moved((0.0, 0.0, job.leg.thickness_mm / 2)), saw_frame(parts)
    reach = max(dot(subtract(p, saw.origin), saw.z_axis) for p in solid.corners) / dot(axis, saw.z_axis)
    return solid.moved(scale(axis, -reach))
