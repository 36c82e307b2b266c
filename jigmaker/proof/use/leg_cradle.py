"""The sloping cradle as cut, and the leg that a plain mitre saw makes of a blank on it. Cradle frame; mm, degrees.

Cradle frame: z = 0 on the saw's table, y = 0 at the saw's fence and y < 0 toward the operator, x along the fence to the
right. The blade stands upright and turns about the origin. In its own axes a leg has x down it, y across it and z up,
its outer wide face down: so it lies for its first end, with its foot at the blade. For the second end it is tumbled:
half a turn about y.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import asin, atan2, cos, degrees, radians, sin

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, cross, dot, scale, subtract, unit
from jigmaker.job.job import Job
from jigmaker.proof.checks.wood import wood_findings
from jigmaker.proof.expected import UP, Y, directions, leg_as_sawn
from jigmaker.proof.expected_numbers import expected_angles, expected_leg
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import CutPart, Folder
from jigmaker.proof.use.assemble import (
    EXACT_MM,
    held,
    mortise_findings,
    off_finding,
    overlap_findings,
    overlap_mm3,
    sawn_leg_findings,
)
from jigmaker.proof.use.jig import JigAsCut, JigPiece, jig_as_cut, piece_named
from jigmaker.proof.use.joints import joint_findings
from jigmaker.proof.use.seats import ends_of, off_line, off_plane
from jigmaker.proof.words.figures import AsCut, Value
from jigmaker.record import dataclass
from jigmaker.units import fixed

CRADLE = "sloping cradle"
SWINGS = {"right": 1, "left": -1}
"""Where the blade's far end goes, by the sign of its x."""
WRONG = 466
_CARRYING = ("cradle near rib", "cradle far rib")
_BLADE_MM = 4.0  # thicker than blades of mitre saws are; common practice, no source
_CLEAR_MM = 10.0  # from the blade to any piece
_FAR_MM = 4000.0
_TUMBLED = Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))


@dataclass(frozen=True, slots=True)
class LegCradle:
    """The cradle's pieces where kit.json places them; cradle frame. Raises Unmeasured where one is not there."""

    cradle: JigAsCut

    @property
    def job(self) -> Job:
        """Whose legs are sawn."""
        return self.cradle.job

    @property
    def pieces(self) -> list[JigPiece]:
        """Every piece."""
        return self.cradle.pieces("both")

    @property
    def mitre_deg(self) -> float:
        """How far the saw is to swing, off square to its fence, by the job alone."""
        return expected_angles(self.job)["saw_tilt_on_edge"]

    # From the operator, and from above:
    #
    #         ____                              ===== fence rib =====|   / blade, swung off square
    #   high |    -----____ leg                    leg                  /
    #        | rib         ----|  |             ====== near rib =====| /
    #   _____|_________________|__|____ table
    #
    # The blade stays upright: the cradle's slope does what a tilted blade would do.
    def piece(self, name: str) -> JigPiece:
        """The piece of this name. Raises Unmeasured."""
        return piece_named(self.pieces, name, CRADLE, name)

    def seat(self, rib: str) -> tuple[Vector, Vector]:
        """The upper edge of a carrying rib, its left end first."""
        piece = self.piece(rib)
        left, right = sorted(ends_of(piece, piece.part.edge("seat of the leg")))
        return left, right

    @property
    def leg_frame(self) -> Frame:
        """cradle_from_leg: along the near rib's seat and the fence rib's face, from where the blade, set square, is."""
        # y of the leg is the fence's: it lies with one edge against the fence rib, and its slope is all in x and z. The
        # origin is where the seat's line, drawn on to the right, comes to x = 0.
        left, right = self.seat("cradle near rib")
        down = unit(subtract(right, left))
        z = right[2] - right[0] * down[2] / down[0]
        y = self.piece("cradle fence rib").solid.bounds[0][1]
        return Frame((0.0, y, z), down, (0.0, 1.0, 0.0), cross(down, (0.0, 1.0, 0.0)))

    @property
    def from_blade_mm(self) -> float:
        """From the blade, set square, to the nearest rib, along the fence, mm."""
        return -max(self.piece(name).solid.bounds[1][0] for name in (*_CARRYING, "cradle fence rib"))

    @property
    def waste_mm(self) -> float:
        """How long, along the leg, waste may stand out beyond the blade before it meets the table."""
        # The leg's underside falls by -x_axis z for each mm along it, from its height at the blade down to the table.
        frame = self.leg_frame
        return frame.origin[2] / -frame.x_axis[2]

    def blank(self, low: float, high: float) -> Solid:
        """A leg before its ends are sawn, from low to high along it, in its own axes."""
        leg = self.job.leg
        return Solid.block((low, -leg.width_mm, 0.0), (high, 0.0, leg.thickness_mm))

    def blade_in_leg(self, swing: int) -> tuple[Vector, Vector]:
        """A point of the blade's plane and the direction out of it, to the right, in the leg's own axes."""
        frame, out = self.leg_frame, blade_out(swing, self.mitre_deg)
        axes = (frame.x_axis, frame.y_axis, frame.z_axis)
        turned = (dot(out, axes[0]), dot(out, axes[1]), dot(out, axes[2]))
        return frame.inside((0.0, 0.0, 0.0)), turned

    def sawn(self, first: int, second: int) -> Solid:
        """The leg after both ends, in its own axes as it lay for the first; first, second: the swings."""
        leg, length = self.job.leg, expected_leg(self.job)["cut_length_mm"]
        # Everything is done in the leg's own axes: not the leg is turned under the blade, but the blade's plane is
        # given as the leg has it. After the first cut the leg is tumbled, and lies on the other wide face, a thickness
        # higher.
        through, out = self.blade_in_leg(first)
        piece = self.blank(-_FAR_MM, _FAR_MM).kept_below(through, out).placed(_TUMBLED).moved((0, 0, leg.thickness_mm))
        # On the far upper arris, y = 0 and z = t: x of the sawn end's point, which the stop touches, and of the blade.
        _, out = self.blade_in_leg(second)
        at_blade = through[0] + (through[1] * out[1] + (through[2] - leg.thickness_mm) * out[2]) / out[0]
        on_arris = [x for x, y, z in piece.corners if abs(y) < EXACT_MM and abs(z - leg.thickness_mm) < EXACT_MM]
        piece = piece.moved((at_blade - length - min(on_arris, default=0.0), 0.0, 0.0)).kept_below(through, out)
        return piece.moved((0.0, 0.0, -leg.thickness_mm)).placed(_TUMBLED)

    def off_mm3(self, first: int, second: int) -> tuple[float, float]:
        """What the job's leg has and the sawn one lacks, and what that has too much."""
        # From the timber frame to the leg's axes: x down it, z out of its inner face, y square to both. Those axes are
        # the rows of the matrix, while a Frame is given by its columns.
        d = directions(self.job)
        up = scale(d.wide, -1)
        rows = list(zip(d.down, cross(up, d.down), up, strict=True))
        asked = leg_as_sawn(self.job).placed(Frame((0.0, 0.0, 0.0), rows[0], rows[1], rows[2]))
        sawn = self.sawn(first, second)
        (low, _, under), (_, far, _) = asked.bounds
        asked = asked.moved((sawn.bounds[0][0] - low, -far, -under))
        return asked.minus(sawn).volume, sawn.minus(asked).volume


def blade_out(swing: int, mitre_deg: float) -> Vector:
    """Out of the blade to the right, cradle frame; its far end swings to the right for +1."""
    turned = radians(mitre_deg)
    return (cos(turned), -swing * sin(turned), 0.0)


def cradle_as_cut(folder: Folder, parts: Sequence[CutPart]) -> LegCradle | None:
    """The cradle of a shop whose mitre saw does not tilt; None where kit.json tells of none."""
    cradle = jig_as_cut(folder, parts, CRADLE)
    return LegCradle(cradle) if folder.shop.leg_saw.kind == "plain" and cradle.parts else None


def leg_cradle_findings(cradle: LegCradle) -> Iterator[Finding]:
    """All that is wrong with the cradle as it goes together and with the leg sawn on it. Raises Unmeasured."""
    yield from mortise_findings(cradle.cradle)
    yield from wood_findings(cradle.cradle)
    yield from joint_findings(cradle.cradle, cradle.pieces)
    yield from _stands(cradle)
    long = cradle.blank(-expected_leg(cradle.job)["cut_length_mm"], 0.0).placed(cradle.leg_frame)
    yield from overlap_findings(cradle.pieces, long, set())
    # The blade at either swing in no piece, nor near one: half as thick as any blade is, and clear of wood beside it.
    half = _BLADE_MM / 2 + _CLEAR_MM
    for way, swing in SWINGS.items():
        out = blade_out(swing, cradle.mitre_deg)
        plane = Frame((0.0, 0.0, 0.0), out, cross((0.0, 0.0, 1.0), out))
        kerf = Solid.block((-half, -_FAR_MM, 0.0), (half, _FAR_MM, _FAR_MM)).placed(plane)
        for piece in cradle.pieces:
            volume, allowed = overlap_mm3(kerf, piece.solid)
            if volume > allowed:
                says = f"the blade, swung to the {way}, comes nearer than {fixed(_CLEAR_MM, 0)} mm to {piece.name}"
                yield Finding(456, says, AGAIN, "", piece.name, at=f"swung to the {way}")
    off = cradle.off_mm3(SWINGS["right"], SWINGS["left"])
    yield from sawn_leg_findings(cradle.job, WRONG, CRADLE, "on", *off)


def _stands(cradle: LegCradle) -> Iterator[Finding]:
    """All feet on the table; ribs upright along the fence, the fence rib at it and the far rib against that; the cross
    pieces' shoulders at the ribs; both carrying ribs slope as the leg's ends ask, in one plane, under the leg and
    beyond its middle.
    """
    for piece in cradle.pieces:
        what = "the way from its foot to the saw's table"
        yield from off_plane(509, piece, "foot on the saw's table", what, UP)
    near, far, fence = (cradle.piece(name).solid.bounds for name in (*_CARRYING, "cradle fence rib"))
    joins = (
        ("cradle fence rib", fence[1][1], 0.0, "the saw's fence"),
        ("cradle far rib", far[1][1], fence[0][1], "the fence rib"),
    )
    for name, face, at, to in joins:
        yield from off_line(509, cradle.piece(name), "placement", f"the way from its face to {to}", [face - at])
    for piece in (each for each in cradle.pieces if each.name.endswith("cross piece")):
        for side, face in (("near", near[1][1]), ("far", far[0][1])):
            what = f"the way from its shoulder to the {side} rib"
            yield from off_plane(509, piece, f"{side} shoulder", what, Y, (0.0, face, 0.0))
    frame, leg = cradle.leg_frame, cradle.job.leg
    wanted = expected_angles(cradle.job)["saw_mitre_on_edge"]
    for name in _CARRYING:
        left, right = cradle.seat(name)
        slope = degrees(atan2(left[2] - right[2], right[0] - left[0]))
        yield from held(WRONG, name, "seat of the leg", "its slope off the saw's table", slope, wanted, "°")
        heights = [frame.inside(p)[2] for p in (left, right)]
        yield from off_line(509, cradle.piece(name), "seat of the leg", "the way from its seat to the leg", heights)
        (_, low, _), (_, high, _) = cradle.piece(name).solid.bounds
        if low < frame.origin[1] - leg.width_mm - EXACT_MM or high > frame.origin[1] + EXACT_MM:
            yield off_finding(WRONG, name, "placement", "its face beyond the leg", high, frame.origin[1])
        # A leg of the highest size lies with its middle between the ribs' ends, or it would tip off the high one.
        middle = -cradle.job.highest_mm / -directions(cradle.job).down[2] / 2 * frame.x_axis[0]
        if left[0] > middle:
            yield off_finding(WRONG, name, "high end", "its end, where the leg's middle lies,", left[0], middle)


def cradle_facts(cradle: LegCradle) -> dict[str, Value]:
    """What the saw's sheet must say of the cradle, and which way the saw swings for either end. Raises Unmeasured."""
    volumes = {way: sum(cradle.off_mm3(swing, -swing)) for way, swing in SWINGS.items()}
    # Which way to swing first is tried, not reasoned: with the wrong one the leg that comes out is another.
    first = min(volumes, key=lambda way: volumes[way])
    second = next(way for way in SWINGS if way != first)
    is_square = cradle.mitre_deg < 1e-9
    return {
        "cradle.pieces": len(cradle.pieces),
        "cradle.from_blade": AsCut(cradle.from_blade_mm),
        "cradle.waste": AsCut(cradle.waste_mm),
        "cradle.high": "left" if cradle.leg_frame.x_axis[2] < 0 else "right",
        "cradle.low": "right" if cradle.leg_frame.x_axis[2] < 0 else "left",
        # Half a turn about the upright turns the ends' plane by twice its angle to that axis.
        "cradle.wrong_turn": 2 * degrees(asin(abs(cradle.blade_in_leg(SWINGS[first])[1][2]))),
        "cradle.first": "" if is_square else first,
        "cradle.second": "" if is_square else second,
    }
