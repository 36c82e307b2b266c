"""The leg box put together from its parts as cut, a leg sawn in it, and what is wrong with either. Box frame; mm.

Box frame: z = 0 where the leg lies, on its outer wide face; y away from the operator, x to the right. What the walls'
slots have between them is the saw's plane; the strips give the leg's direction and its far edge. A leg is what lies
between that plane and the same plane a leg's length farther to the head's end: the board is slid along, never turned.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import acos, asin, degrees

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract, unit
from jigmaker.geometry.vectors import length as size
from jigmaker.job.job import Job
from jigmaker.job.shop import HandSaw
from jigmaker.proof.checks.measured import Unmeasured, missing_finding
from jigmaker.proof.checks.wood import wood_findings
from jigmaker.proof.expected import UP, directions, leg_as_sawn
from jigmaker.proof.expected_numbers import expected_leg
from jigmaker.proof.records import CutPart, Folder
from jigmaker.proof.use.assemble import (
    EXACT_MM,
    cut_findings,
    held,
    mortise_findings,
    off_finding,
    overlap_findings,
    sawn_leg_findings,
)
from jigmaker.proof.use.jig import JigAsCut, JigPiece, jig_as_cut, piece_named
from jigmaker.proof.use.joints import joint_findings
from jigmaker.proof.use.seats import ends_of, off_line, off_plane
from jigmaker.record import dataclass

LEG_BOX = "leg box"
SAWN_INTO = "leg box bottom"  # the saw may cut into this piece and into no other
_SIDES = ("near", "far")
_STROKE_MM = 250.0
_LOOSE_MM = 0.1  # a slot over the kerf, at most
_UNDER_LEG_MM = (0.5, 2.0)  # the teeth below the leg
_SEAT_MM = 0.1  # so far below its seat a tongue is nothing but tongue
_HOOK_MM = 10.0  # the hook below the bottom, at least; common practice, no source


@dataclass(frozen=True, slots=True)
class LegBox:
    """The box's pieces, and the saw that runs in it; box frame. Raises Unmeasured where something asked for is not
    there.
    """

    box: JigAsCut
    saw: HandSaw

    @property
    def job(self) -> Job:
        """Whose legs are sawn."""
        return self.box.job

    @property
    def pieces(self) -> list[JigPiece]:
        """Every piece where kit.json places it."""
        return self.box.pieces("both")

    def walls(self, side: str) -> list[JigPiece]:
        """A wall, or both halves of it. Raises Unmeasured."""
        found = [piece for piece in self.pieces if piece.name.startswith(f"leg box {side}")]
        if not found:
            raise Unmeasured(missing_finding(LEG_BOX, f"kit.json places no {side} wall in the leg box"))
        return found

    def slot_face(self, side: str, which: str) -> tuple[Vector, Vector]:
        """A slot's "left" or "right" face where it meets the wall's underside: its lower and its upper end."""
        for wall in self.walls(side):
            if wall.part.names(f"slot, {which} face"):
                low, high = sorted(ends_of(wall, wall.part.edge(f"slot, {which} face")), key=lambda p: p[2])
                return low, high
        raise Unmeasured(missing_finding(LEG_BOX, f"kit.json tells no {which} face of the slot in the {side} wall"))

    def middle(self, side: str) -> tuple[Vector, Vector]:
        """Two points half way between the faces of a wall's slot: where the leg lies, and as high as the walls are."""
        lines = []
        for which in ("left", "right"):
            low, high = self.slot_face(side, which)
            up = subtract(high, low)
            lines.append([add(low, scale(up, (z - low[2]) / up[2])) for z in (0.0, self.tops[0])])
        first, second = (scale(add(a, b), 0.5) for a, b in zip(*lines, strict=True))
        return first, second

    # Seen from above, the operator below:
    #
    #   far wall   ===========||===========    ||: the slots, one behind the other in the saw's plane, which holds y
    #                   ____--||------ foot    The leg lies askew to the walls, its far edge against the strips.
    #      head  -------      ||    ____
    #                   ____--||----
    #   near wall  ===========||===========    hooked over the bench's edge
    #
    @property
    def saw_plane(self) -> tuple[Vector, Vector]:
        """A point in the saw's plane and the direction out of it, to the foot's side."""
        (near, above), (far, _) = self.middle("near"), self.middle("far")
        out = unit(cross(subtract(far, near), subtract(above, near)))
        return near, out if dot(out, self.axis) > 0 else scale(out, -1)

    @property
    def strips(self) -> list[JigPiece]:
        """The pieces that the leg's far edge lies against."""
        return [piece for piece in self.pieces if piece.part.declared.slug == "leg-box-strip"]

    @property
    def axis(self) -> Vector:
        """From a leg's head to its foot as it lies in the box: along the strips. Raises Unmeasured."""
        if not self.strips:
            raise Unmeasured(missing_finding(LEG_BOX, "kit.json places no strips in the leg box"))
        return self.strips[0].frame.x_axis

    @property
    def across(self) -> Vector:
        """From the leg's near edge to its far one, level."""
        return cross(UP, self.axis)

    @property
    def leg_frame(self) -> Frame:
        """box_from_leg: x down the leg, y toward the strips, z up; the leg's far edge and outer face at y = z = 0."""
        # Of two strips out of line the nearer one stops the leg; that they are in line is held elsewhere.
        face = [dot(p, self.across) for strip in self.strips for p in _marked_corners(strip)]
        return Frame(scale(self.across, min(face)), self.axis, self.across, UP)

    def blank(self, low: float, high: float) -> Solid:
        """A board for legs from low to high along the leg's axis."""
        leg = self.job.leg
        return Solid.block((low, -leg.width_mm, 0.0), (high, 0.0, leg.thickness_mm)).placed(self.leg_frame)

    def swept(self, half_mm: float) -> Solid:
        """All that a blade half_mm thick to either side of the saw's plane passes through, its back on the walls."""
        # `up` runs along the saw's depth: in its plane, square to the stroke.
        at, out = self.saw_plane
        up = unit(subtract(UP, scale(out, dot(UP, out))))
        back = self.back_on_walls
        frame = Frame(add(at, scale(up, (back - at[2]) / up[2])), cross(up, out), up, out)
        reach = _STROKE_MM
        return Solid.block((-reach, -self.saw.depth_mm, -half_mm), (reach, 0.0, half_mm)).placed(frame)

    @property
    def back_on_walls(self) -> float:
        """z of the middle of the back's underside: being square to the saw, it lands on the walls by an arris."""
        # A back as wide as b, square to a plate that leans: its lower arris lies b / 2 x sin(lean) under the middle.
        lean = abs(self.saw_plane[1][2])
        return self.tops[1] + self.saw.back_mm / 2 * lean

    @property
    def tops(self) -> tuple[float, float]:
        """z of the walls' tops, the lowest and the highest."""
        edges = [
            (wall, wall.part.edge(name))
            for side in _SIDES
            for wall in self.walls(side)
            for name in wall.part.names("top, ")
        ]
        zs = [p[2] for wall, edge in edges for p in ends_of(wall, edge)]
        return min(zs), max(zs)


def box_as_cut(folder: Folder, parts: Sequence[CutPart]) -> LegBox | None:
    """The box of a shop that saws its legs by hand; None for any other."""
    saw = folder.shop.hand_saw
    if folder.shop.leg_saw.kind != "hand" or saw is None:
        return None
    return LegBox(jig_as_cut(folder, parts, LEG_BOX), saw)


def leg_box_findings(box: LegBox) -> Iterator[Finding]:
    """All that is wrong with the box as it goes together and with the leg that comes out of it. Raises Unmeasured."""
    yield from mortise_findings(box.box, either_way=True)
    yield from wood_findings(box.box)
    # The pieces as their joints see them: the halves of a wall lie in one mortise of the bottom, with the saw's slot
    # between them, and its tongue is all that reaches from the one half's end to the other's.
    whole = [piece for piece in box.pieces if piece.part.declared.slug in ("leg-box-bottom", "leg-box-strip")]
    for side in _SIDES:
        walls = box.walls(side)
        if len(walls) > 1:
            tongues = Solid.union(wall.solid.kept_below((0.0, 0.0, -_SEAT_MM), UP) for wall in walls)
            walls = [replace(walls[0], name=f"leg box {side} wall", solid=Solid.hull(tongues.corners))]
        whole += walls
    yield from joint_findings(box.box, whole)
    blank = box.blank(-600.0, 600.0)
    yield from overlap_findings(box.pieces, blank, set())
    yield from _stands(box)
    yield from _saw_findings(box)
    yield from _leg_findings(box)


def _marked_corners(piece: JigPiece) -> list[Vector]:
    """Corners of the box around a piece on its marked face, which is the one toward the leg."""
    low_x, low_y, high_x, high_y = piece.part.cut.material.bounds
    z = piece.part.declared.thickness_mm
    return [piece.frame.point((x, y, z)) for x in (low_x, high_x) for y in (low_y, high_y)]


def _stands(box: LegBox) -> Iterator[Finding]:
    """All on the bottom's top face, both strips in one line behind the leg, the hook under the near wall alone."""
    for piece in box.pieces:
        yield from off_plane(509, piece, "seat on the bottom", "the way from its seat to the bottom", UP)
    frame = box.leg_frame
    for strip in box.strips:
        ends = [frame.inside(p)[1] for p in _marked_corners(strip)]
        yield from off_line(509, strip, "placement", "the way from its face to the leg's edge", ends)
        if abs(dot(strip.frame.z_axis, box.across) + 1) > 1e-9:
            yield off_finding(
                509, strip.name, "placement", "the cosine of its face's turn off the leg's edge", 0.0, 1.0
            )
    bottom = piece_named(box.pieces, SAWN_INTO, LEG_BOX, "bottom of the leg box")
    yield from off_line(509, bottom, "placement", "the way from its face to the leg's", [bottom.solid.bounds[1][2]])
    under = bottom.solid.bounds[0][2]
    for side in _SIDES:
        hooks = under - min(wall.solid.bounds[0][2] for wall in box.walls(side))
        if (hooks >= _HOOK_MM) is not (side == "near") or (side == "far" and hooks > 0):
            what = "how far it reaches below the bottom"
            wanted = _HOOK_MM if side == "near" else 0.0
            yield off_finding(509, f"leg box {side} wall", "tongue, end", what, hooks, wanted)


def _saw_findings(box: LegBox) -> Iterator[Finding]:
    """Slots a little wider than the kerf, one behind the other in one plane that holds y; tops all level. Teeth
    come out a little below the leg; the kerf over the whole stroke meets nothing but the bottom.
    """
    (_, out), least = box.saw_plane, box.saw.kerf_mm
    for side in _SIDES:
        faces = [box.slot_face(side, which) for which in ("left", "right")]
        wide = [abs(dot(subtract(b, a), out)) for a, b in zip(*faces, strict=True)]
        for opening in wide:
            if not least + EXACT_MM < opening < least + _LOOSE_MM:
                what = "the slot's opening, square to the saw,"
                yield off_finding(335, f"leg box {side} wall", "slot", what, opening, least, key="shop hand_saw.kerf")
                break
    lines = [box.middle(side) for side in _SIDES]
    for (near, far), where in zip(zip(*lines, strict=True), ("where the leg lies", "at the walls' tops"), strict=True):
        what = f"how far the walls' slots lie aside of each other {where}"
        yield from held(465, LEG_BOX, "slot", what, near[0] - far[0], 0.0)
    low, high = box.tops
    yield from held(465, LEG_BOX, "top", "how far the walls' tops differ", high - low, 0.0)
    #         ___        The saw hangs with its back on the walls' tops and leans with its plane: so much of its depth
    #   _____\\______     as that times the cosine of its lean reaches below them.
    #         \\
    #   _______\\____     z = 0, where the leg lies; the teeth come a little below it
    lean = abs(out[2])
    under = -(box.back_on_walls - box.saw.depth_mm * (1 - lean**2) ** 0.5)
    if not _UNDER_LEG_MM[0] <= under <= _UNDER_LEG_MM[1]:
        what = "how far the teeth come below the leg"
        yield off_finding(465, LEG_BOX, "top", what, under, _UNDER_LEG_MM[0], key="shop hand_saw.depth")
    swept = box.swept(box.saw.kerf_mm / 2)
    for piece in box.pieces:
        if piece.name != SAWN_INTO:
            yield from cut_findings("the saw in its slots", swept, piece.name, piece.solid, "shop hand_saw")


def _leg_findings(box: LegBox) -> Iterator[Finding]:
    """The saw's plane stands to the leg as the floor does; what is sawn is the job's leg."""
    (at, out), d, frame = box.saw_plane, directions(box.job), box.leg_frame
    # Three directions of the leg are known in both frames: down it, out of its wide face, and square to the two. What
    # has the parts p, q, r along them in the one has the same parts along them in the other.
    # Up in the timber frame is square to both ends; in the box the leg's outer face is down, its head at the left.
    down, wide = box.axis, scale(UP, -1)
    across = cross(down, wide)
    third = cross(d.down, d.wide)
    level = add(add(scale(down, dot(UP, d.down)), scale(wide, dot(UP, d.wide))), scale(across, dot(UP, third)))
    turn_deg = degrees(asin(min(1.0, size(cross(unit(level), out)))))
    yield from held(465, LEG_BOX, "slot", "the saw's plane off the plane of the leg's ends", turn_deg, 0.0, "°")
    # The job's leg, turned as it lies in the box, its foot against the saw's plane.
    from_timber = [add(add(scale(down, d.down[k]), scale(wide, d.wide[k])), scale(across, third[k])) for k in range(3)]
    asked = leg_as_sawn(box.job).placed(Frame((0.0, 0.0, 0.0), from_timber[0], from_timber[1], from_timber[2]))
    # Turned as it lies, it is moved home: its far edge to the strips, its outer face down, its foot to the saw's plane.
    corners = [frame.inside(p) for p in asked.corners]
    aside, low = max(y for _, y, _ in corners), min(z for _, _, z in corners)
    asked = asked.moved(frame.direction((0.0, -aside, -low)))
    length = expected_leg(box.job)["cut_length_mm"]
    reach = max(dot(subtract(p, at), out) for p in asked.corners) / dot(down, out)
    asked = asked.moved(scale(down, -reach))
    sawn = box.blank(-2 * length - 1000.0, 1000.0).kept_below(at, out)
    sawn = sawn.kept_below(subtract(at, scale(down, length)), scale(out, -1))
    off = asked.minus(sawn).volume, sawn.minus(asked).volume
    yield from sawn_leg_findings(box.job, 465, LEG_BOX, "in", *off)


def wrong_turns_deg(job: Job) -> dict[str, float]:
    """How far the second end comes out of the first one's plane when the leg is turned between the cuts: end for end on
    the same face, or rolled over on the other wide face, the head where it was.

    The ends' normal has three parts in the leg: down its axis, across its wide face, through its thickness. A half turn
    about one of these reverses the other two; the two planes then meet at twice the angle between the normal and that
    axis.
    """
    d = directions(job)
    along, through = abs(dot(UP, d.down)), abs(dot(UP, d.wide))
    return {"end_for_end": 2 * degrees(asin(through)), "rolled": 2 * degrees(acos(along))}
