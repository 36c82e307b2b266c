"""The drilling template as cut, laid on legs of both hands, and what is wrong with it. Template frame; mm.

Template frame: origin at the near corner of the head as sawn, on the outer face of an R leg; seen from outside, head
up, x to the right, y up, z out of the leg. The near edge runs down to the left, off the head's line by the face angle.
An L leg is its mirror image: on it lies what the template is when it is turned over, and lies on the R leg as seen in a
mirror. So whatever is alike on both sides of the plate's middle plane serves both hands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.segments import segment_gap
from jigmaker.geometry.vectors import add, cross, dot, scale, subtract
from jigmaker.job.job import Job
from jigmaker.job.screw_sizes import screw_sizes
from jigmaker.proof.checks.measured import missing_finding
from jigmaker.proof.checks.wood import wood_findings
from jigmaker.proof.expected import directions, leg_as_sawn, start_point
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import CutPart, Folder
from jigmaker.proof.use.assemble import EXACT_MM, held, mortise_findings, off_finding, overlap_findings
from jigmaker.proof.use.jig import HANDS, JigAsCut, JigPiece, jig_as_cut, piece_named
from jigmaker.proof.use.joints import joint_findings
from jigmaker.proof.use.seats import ends_of, off_line
from jigmaker.record import dataclass

DRILLING_TEMPLATE = "drilling template"
LIPS = ("lip, turned over", "lip, marked face up")
_HOLE = "screw "
_DRILL_PLAY_MM = (0.05, 0.2)  # a hole's diameter over its drill's
_LEAST_HOLD_MM = 15.0  # a screw that reaches less far into the board is no use
_TIP_MM, _APART_MM = 4.0, 4.0  # wood about a screw's tip, and between screws from opposite edges; common practice
_FROM_EDGE = 2.0  # wood beside a screw over its diameter, at the least


@dataclass(frozen=True, slots=True)
class HoleAsCut:
    """A hole as cut: its name, the hands that it serves, how far below the head's line and inside the near edge."""

    name: str
    hands: str
    v: float
    e: float
    diameter: float


@dataclass(frozen=True, slots=True)
class TemplateAsCut:
    """The three pieces for one job and shop. Raises Unmeasured where something that is asked for is not there."""

    jig: JigAsCut

    @property
    def job(self) -> Job:
        """Whose screws it is for."""
        return self.jig.job

    def piece(self, what: str) -> JigPiece:
        """The "plate", the "head strip" or the "side strip"."""
        pieces, missing = self.jig.pieces("both"), f"{what} of the {DRILLING_TEMPLATE}"
        return piece_named(pieces, f"{DRILLING_TEMPLATE} {what}", DRILLING_TEMPLATE, missing)

    @property
    def timber_from_template(self) -> Frame:
        """Where it lies on the +x +y leg, an R leg."""
        #        0-----------> x   head, level      Seen from outside on an R leg, y up. From the near outer arris at
        #       /           /                       the board's edge up along the leg to the level of the top face, and
        #      / near edge / far edge               on by the horn: there is the origin.
        d, job = directions(self.job), self.job
        corner = add(start_point(job), scale(d.wide, job.housing.reveal_mm))
        head = subtract(corner, scale(d.down, corner[2] / d.down[2] + job.leg.horn_mm))
        right = (-1.0, 0.0, 0.0)
        return Frame(head, right, cross(d.wide, right), d.wide)

    @property
    def edge_down(self) -> Point:
        """(x, y) of the unit direction down the near edge."""
        d = directions(self.job).down
        frame = self.timber_from_template
        return dot(d, frame.x_axis), dot(d, frame.y_axis)

    @property
    def drill_mm(self) -> float:
        """The drill that goes through its holes, as kit.json tells it."""
        plate = self.piece("plate").part
        return next((value for name, value, _ in plate.declared.settings if name == "drill"), 0.0)

    @property
    def gap_mm(self) -> float:
        """From the head strip to the head's arris on the outer face."""
        strip = self.piece("head strip")
        return min(point[1] for point in ends_of(strip, strip.part.edge(LIPS[0])))

    @property
    def nearer_mm(self) -> float:
        """How much nearer to the head the holes come on the inner face."""
        d = directions(self.job).wide
        return self.job.leg.thickness_mm * d[2] / d[1] - self.gap_mm

    @property
    def gape_mm(self) -> float:
        """How far the side strip's foot stands off an L leg's edge when the template is not turned over."""
        strip, (ux, _) = self.piece("side strip"), self.edge_down
        ends = [point[1] for point in ends_of(strip, strip.part.edge(LIPS[0]))]
        return 2 * (max(ends) - min(ends)) * -ux

    @property
    def face_hand(self) -> str:
        """The hand of the legs on which the plate's marked face looks out: the side strip is at their near edge."""
        plate = self.piece("plate")
        strip, middle = self.piece("side strip").solid.bounds, sum(corner[0] for corner in plate.solid.bounds) / 2
        is_left = (strip[0][0] + strip[1][0]) / 2 < middle
        return "R" if is_left == (plate.frame.z_axis[2] > 0) else "L"

    def holes(self) -> list[HoleAsCut]:
        """Every hole for a screw, where it is on an R leg."""
        plate, (ux, uy) = self.piece("plate"), self.edge_down
        found = []
        for name in plate.part.names(_HOLE):
            (x, y), diameter = plate.part.hole(name)
            x, y, _ = plate.frame.point((x, y, 0.0))
            hand = name.split()[1]
            # Left of the way down the near edge, as seen from outside, is the leg.
            found.append(HoleAsCut(name, hand if hand in HANDS else "RL", -y, ux * y - uy * x, diameter))
        return found


def template_as_cut(folder: Folder, parts: Sequence[CutPart]) -> TemplateAsCut | None:
    """The template of a kit that has one; None for any other."""
    jig = jig_as_cut(folder, parts, DRILLING_TEMPLATE)
    return TemplateAsCut(jig) if jig.parts else None


def template_findings(template: TemplateAsCut) -> Iterator[Finding]:
    """All that is wrong with it as it goes together, on the leg, and with its holes. Raises Unmeasured."""
    pieces = [plate, head, side] = [template.piece(what) for what in ("plate", "head strip", "side strip")]
    yield from mortise_findings(template.jig, either_way=True)
    yield from wood_findings(template.jig)
    yield from joint_findings(template.jig, pieces)
    leg = leg_as_sawn(template.job).placed(template.timber_from_template.inverse)
    yield from overlap_findings(pieces, leg, set(), "leg")
    # The plate on the outer face, the strips along head and near edge, alike on both sides of the plate's middle.
    thick, d, (ux, uy) = plate.part.declared.thickness_mm, directions(template.job).wide, template.edge_down
    low, high = plate.solid.bounds
    yield from off_line(509, plate, "placement", "the way from its face to the leg's outer face", [low[2]])
    yield from off_line(509, plate, "placement", "the way from its other face to its thickness", [high[2] - thick])
    for strip in (head, side):
        low, high = strip.solid.bounds
        what = "the difference of its lips on both sides of the plate"
        yield from off_line(509, strip, "placement", what, [low[2] + high[2] - thick])
        for name in LIPS:
            ends = ends_of(strip, strip.part.edge(name))
            if strip is head:
                # The head is level: it falls away from the outer face by cos b / sin b for each mm of depth; the lip on
                # the other side of the plate lies as deep once the template is turned over.
                depths = [min(z, thick - z) for _, _, z in ends]
                off = [y + z * d[2] / d[1] for (_, y, _), z in zip(ends, depths, strict=True)]
                yield from off_line(509, head, name, "the way from its lip to the leg's head", off)
            else:
                off = [ux * y - uy * x for x, y, _ in ends]
                yield from off_line(509, side, name, "the way from its face to the leg's near edge", off)
    yield from _hole_findings(template)


def _hole_findings(template: TemplateAsCut) -> Iterator[Finding]:
    """Each hole where kit.json tells the trestle's screw, wide enough for its drill; of two the upper one at the left,
    on both hands; all of the screw in wood, and clear of those from the opposite edge.
    """
    plate, holes, job = template.piece("plate").part, template.holes(), template.job
    told = {name: value for name, value, _ in plate.declared.settings}
    name, size = plate.declared.name, screw_sizes(job.leg.thickness_mm, job.unit)[0]
    if not holes:
        yield missing_finding(name, f"{name}: kit.json tells no hole for a screw")
    for hole in holes:
        for where, value in (("head", hole.v), ("edge", hole.e)):
            what, wanted = f"{hole.name}, from the {where}", told.get(f"{hole.name}, from the {where}", inf)
            yield from held(336, name, hole.name, what, value, wanted, within=2 * EXACT_MM)
        play = hole.diameter - template.drill_mm
        if not _DRILL_PLAY_MM[0] - EXACT_MM <= play <= _DRILL_PLAY_MM[1] or template.drill_mm < size.clearance_hole_mm:
            drill = max(template.drill_mm, size.clearance_hole_mm)
            yield off_finding(336, name, hole.name, "the hole's diameter", hole.diameter, drill + 0.1)
        yield from _in_wood(template, name, hole, size.diameter_mm)
    for hand in HANDS:
        own = sorted((hole for hole in holes if hand in hole.hands), key=lambda hole: hole.v)
        # Seen from outside, head up, the near edge of an R leg is at the left, that of an L leg at the right.
        if len(own) == 2 and own[1].v - own[0].v > EXACT_MM and (own[0].e < own[1].e) is not (hand == "R"):
            says = f"{name}: of a leg's screws in {hand} housings the upper one is at the right, must be at the left"
            yield Finding(336, says, AGAIN, "", name, at=own[0].name)
    bodies = {hand: [_screw(template, hole) for hole in holes if hand in hole.hands] for hand in HANDS}
    for one in bodies["R"]:
        for (x0, y0, z0), (x1, y1, z1) in bodies["L"]:
            apart = segment_gap(one, ((x0, -y0, z0), (x1, -y1, z1))) - size.diameter_mm
            if apart < _APART_MM:
                yield off_finding(336, name, "", "the wood between screws from opposite edges", apart, _APART_MM)


def _screw(template: TemplateAsCut, hole: HoleAsCut) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """From the outer face to the least depth that holds, on the +x +y leg; timber frame."""
    # Back from v and e, as HoleAsCut has them, to x and y: e = ux y - uy x with y = -v.
    (ux, uy), frame = template.edge_down, template.timber_from_template
    x, y = (-hole.e - ux * hole.v) / uy, -hole.v
    reach = template.job.leg.thickness_mm + _LEAST_HOLD_MM
    return frame.point((x, y, 0.0)), frame.point((x, y, -reach))


def _in_wood(template: TemplateAsCut, name: str, hole: HoleAsCut, diameter: float) -> Iterator[Finding]:
    """Wood beside the screw to the leg's edges and, where it enters it, to the board's faces; some about its tip."""
    job = template.job
    head, tip = _screw(template, hole)
    share = job.leg.thickness_mm / (job.leg.thickness_mm + _LEAST_HOLD_MM)
    # Where the screw leaves the leg and enters the board; heights count from the top face down.
    entry = head[2] + share * (tip[2] - head[2])
    ways = {
        "the leg's near edge": (hole.e, _FROM_EDGE * diameter),
        "the leg's far edge": (job.leg.width_mm - hole.e, _FROM_EDGE * diameter),
        "the board's top face": (-entry, _FROM_EDGE * diameter),
        "the board's bottom face": (entry + job.top.thickness_mm, _FROM_EDGE * diameter),
        "the board's bottom face, from its tip": (tip[2] + job.top.thickness_mm, _TIP_MM),
    }
    for where, (left, least) in ways.items():
        if left < least - EXACT_MM:
            yield off_finding(336, name, hole.name, f"the wood from its screw to {where}", left, least)
