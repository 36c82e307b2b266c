"""The saw guide and the paring guide put together and used in numbers: saw and chisel swept along the parts as made.

Nothing here reads the layout: outlines and placements come from the parts, the ideal housing from the job alone.
"""

from functools import cache

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid

FAR = 400.0


@cache
def body(part):
    """The part as drawn, part frame."""
    return Solid.prism(part.outline, [hole.contour for hole in part.holes], part.thickness_mm, 8)


def pieces(parts, assembly, hand):
    """(name, part, frame, solid in the jig frame) of everything in the guide of this hand."""
    return [
        (place.name, part, place.assembly_from_part, body(part).placed(place.assembly_from_part))
        for part in parts
        if part.assembly == assembly
        for place in part.placements
        if place.state in ("both", hand)
    ]


def board_at(job, hand):
    """The board as clamped: its end at X = 0, worked edge at Y = 0, top face at Z = 0."""
    top = job.top
    low, high = (-top.length_mm, 0) if hand == "R" else (0, top.length_mm)
    return Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0, 0))


def timber_from_guide(job, hand, edge):
    """Where the guide sits on the board: edge +1 is the +y edge, -1 the -y edge with the board turned end for end."""
    along = job.top.length_mm / 2 if hand == "R" else -job.top.length_mm / 2
    if edge == 1:
        return Frame((along, job.top.width_mm / 2, 0.0))
    return Frame((-along, -job.top.width_mm / 2, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0))


def along_cheek(parts, which, hand, low, high, depth, stroke=FAR):
    """A slab that lies on a cheek's inner face: from `low` to `high` out of that face, down to `depth` under its top.

    The saw plate, or its kerf; jig frame. stroke: how far it reaches to either side of v = 0.
    """
    _, part, frame, _ = next(p for p in pieces(parts, "housing saw guide", hand) if p[0].startswith(f"{which} cheek"))
    box = part.outline.bounds
    inside = (which == "near") == (hand == "R")  # then the face is the part's underside, z = 0
    # Out of the face: down from z = 0, or up from the marked face.
    z0, z1 = (-high, -low) if inside else (part.thickness_mm + low, part.thickness_mm + high)
    slab = Solid.block((-stroke, box[3] - depth, z0), (box[2] + stroke, box[3] + FAR, z1))
    return slab.placed(frame)


def floor_plane(parts):
    """(a point, the direction out of the wood) of the ramp's upper face, jig frame."""
    _, part, frame, _ = next(p for p in pieces(parts, "paring guide", "R") if "ramp" in p[0])
    return frame.point((0.0, 0.0, part.thickness_mm)), frame.z_axis
