"""The kit's parts as solids, and the jig put together: Kit in, solids in the jig frame out; frames to the timber; mm.

Jig frame: origin on the board's top arris in the middle of the jig (in the stop plane for a one-handed jig), X to the
operator's right, Y up out of the worked edge, Z out of the top face toward the operator.
"""

from typing import Literal

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part, Placement, State

JIG = "housing jig"
"""What the jig's parts belong to."""

Worked = Literal["R", "L"]
EdgeSign = Literal[1, -1]
"""Which edge of the board is up: the one at +y (1) or the one at -y (-1), the board turned end for end."""

CHORDS = 6
"""Chords a quarter turn: enough for the eye, few enough for pictures."""


def part_solid(part: Part, per_quarter: int = CHORDS) -> Solid:
    """One part at finished size, part frame, its thickness up z; round outlines as so many chords a quarter turn."""
    return Solid.prism(part.outline, [hole.contour for hole in part.holes], part.thickness_mm, per_quarter)


def jig_places(kit: Kit, state: State) -> list[tuple[Part, Placement]]:
    """Every piece of the jig as set for R or for L, part and place, in the kit's order; "both" leaves out the rest."""
    return [
        (part, place)
        for part in kit.parts
        if part.assembly == JIG
        for place in part.placements
        if place.state in ("both", state)
    ]


def assembled(kit: Kit, state: State, per_quarter: int = CHORDS) -> dict[str, Solid]:
    """The jig set for R or for L: every piece by its place's name, jig frame. For a one-handed kit: that hand's jig."""
    places = jig_places(kit, state)
    parts = {part.slug: part for part, _ in places}
    bodies = {slug: part_solid(part, per_quarter) for slug, part in parts.items()}
    return {place.name: bodies[part.slug].placed(place.assembly_from_part) for part, place in places}


def stop_plane_x(kit: Kit, hand: Worked) -> float:
    """X of the plane that the board's end meets, jig frame."""
    half = kit.layout.half
    return half if hand == "R" else -half


def timber_from_jig(kit: Kit, hand: Worked, edge: EdgeSign = 1) -> Frame:
    """Where the jig sits on the board for the housing of this hand in this edge."""
    top, stop_x = kit.trestle.job.top, stop_plane_x(kit, hand)
    along = top.length_mm / 2 - stop_x if hand == "R" else -top.length_mm / 2 - stop_x
    if edge == 1:
        return Frame((along, top.width_mm / 2, 0.0))
    return Frame((-along, -top.width_mm / 2, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0))


def board_under_jig(kit: Kit, hand: Worked) -> Solid:
    """The board as clamped for this hand, without housings: worked edge at Y = 0, end on the stop plane; jig frame."""
    top, stop_x = kit.trestle.job.top, stop_plane_x(kit, hand)
    low, high = (stop_x - top.length_mm, stop_x) if hand == "R" else (stop_x, stop_x + top.length_mm)
    return Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0.0, 0.0))
