"""Housings sawn, chopped and pared with the guides as cut, and what is wrong with them (3xx to 5xx). Jig frame; mm.

Jig frame: the board's end at X = 0, worked edge at Y = 0, top face at Z = 0. A saw's plate lies on a cheek's inner face
with its back on the cheek's top, so its kerf begins the set of the teeth behind that face and ends the saw's depth
under that top. The waste is what lies between the two faces, down to the plane of the ramp on which the chisel lies.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot, scale, subtract
from jigmaker.job.job import Job
from jigmaker.job.shop import Chisel, HandSaw
from jigmaker.proof.checks.measured import Unmeasured, missing_finding
from jigmaker.proof.checks.wood import wood_findings
from jigmaker.proof.expected import SEATS, at_seat, board, directions, leg
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import CutPart, Folder
from jigmaker.proof.use.assemble import EXACT_MM, cut_findings, mortise_findings, off_finding, overlap_findings
from jigmaker.proof.use.jig import HANDS, JigAsCut, JigPiece, jig_as_cut, piece_named
from jigmaker.proof.use.joints import joint_findings
from jigmaker.proof.use.rout import RoutedHousing, prove_housing, timber_from_stop
from jigmaker.proof.use.seats import FOOT, NEAR_MM, SEAT, ends_of, off_line, off_plane
from jigmaker.record import dataclass

SAW_GUIDE, PARING_GUIDE = "housing saw guide", "paring guide"
SAWN_THROUGH = "fence"  # the saw may cut into this piece of its guide and into no other
_FAR_MM = 400.0
_STROKE_MM = 250.0
_BEFORE_MM = -6.0  # so far before the ramp's front end ribs may stand beside the chisel
_IN_THE_WAY_MM = 0.05  # wood in a leg's way, as a mean over its section: it does not go in
_CHISEL_MM = 5.0  # thickness of a chisel's blade; common practice, no source


@dataclass(frozen=True, slots=True)
class HandGuides:
    """The saw guide for R and for L, the paring guide, and the tools that run along them."""

    saw_guide: JigAsCut
    paring_guide: JigAsCut
    saw: HandSaw
    chisel: Chisel

    @property
    def job(self) -> Job:
        """What is made with them."""
        return self.saw_guide.job

    def of_job(self, job: Job) -> HandGuides:
        """The same guides on the board of another job, such as one of several sizes."""
        saw, paring = (replace(guide, job=job) for guide in (self.saw_guide, self.paring_guide))
        return replace(self, saw_guide=saw, paring_guide=paring)

    def piece(self, name: str, hand: str) -> JigPiece:
        """The piece of this name in the saw guide of a hand. Raises Unmeasured."""
        return piece_named(self.saw_guide.pieces(hand), name, SAW_GUIDE, f"{name} in the saw guide {hand}")

    # Square to the walls, out of the board upward:
    #
    #          [back]              [back]           lands on the cheek's top
    #    |cheek||                      ||cheek|     || the saw's plate, on the cheek's inner face
    #    |_____||______________________||_____|     board's edge
    #          ||        waste         ||
    #          ||______________________||           floor: the saw's depth under the tops, and the ramp's plane
    #
    def cheek_face(self, side: str, hand: str) -> tuple[JigPiece, Frame]:
        """A cheek, and jig_from_face of its face toward the other one: z into the waste, y out of the wood."""
        piece, other = (
            self.piece(f"{side} cheek", hand),
            self.piece("far cheek" if side == "near" else "near cheek", hand),
        )
        # A piece's z runs out of its marked face. Where the other cheek lies on that side the marked face is the inner
        # one; else the underside is, and x and z are turned about y, so that z again runs into the waste.
        z = piece.frame.z_axis
        if dot(subtract(other.frame.origin, piece.frame.origin), z) > 0:
            at = piece.frame.point((0.0, 0.0, piece.part.declared.thickness_mm))
            return piece, Frame(at, piece.frame.x_axis, piece.frame.y_axis, z)
        back = Frame(piece.frame.origin, scale(piece.frame.x_axis, -1), piece.frame.y_axis, scale(z, -1))
        return piece, back

    def beside_cheek(self, side: str, hand: str, low: float, high: float, depth: float, reach: float) -> Solid:
        """All that lies from `low` to `high` out of a cheek's face, down to `depth` under its top; jig frame."""
        piece, face = self.cheek_face(side, hand)
        top = piece.part.edge("top: the saw's back lands here").middle[1]
        return Solid.block((-reach, top - depth, low), (reach, top + _FAR_MM, high)).placed(face)

    def ramp(self) -> Frame:
        """jig_from_ramp: the ramp's upper face, z out of the wood. Raises Unmeasured."""
        pieces = self.paring_guide.pieces("both")
        ramp = piece_named(pieces, "paring guide ramp", PARING_GUIDE, "ramp in the paring guide")
        return replace(ramp.frame, origin=ramp.frame.point((0.0, 0.0, ramp.part.declared.thickness_mm)))

    def gone(self, hand: str) -> Solid:
        """All that saw and chisel pass through for one housing; jig frame."""
        # Two kerfs down to the saw's depth; between the cheeks' faces all down to the ramp's plane, chopped and pared.
        out = self.saw.set_mm
        kerfs = [
            self.beside_cheek(side, hand, -out, self.saw.plate_mm + out, self.saw.depth_mm, _FAR_MM)
            for side in ("near", "far")
        ]
        near, far = (self.beside_cheek(side, hand, 0.0, _FAR_MM, _FAR_MM, _FAR_MM) for side in ("near", "far"))
        ramp = self.ramp()
        waste = near.common(far).kept_below(ramp.origin, scale(ramp.z_axis, -1))
        return Solid.union([*kerfs, waste])

    @property
    def guided_mm(self) -> tuple[float, float]:
        """How long, up the slope, a cheek guides a wall, and how deep the bearers' lugs are, mm. Raises Unmeasured."""
        # Up the slope: in the plane of the floor, square across the board.
        cheek, up = self.piece("near cheek", "R"), cross(directions(self.job).wide, (1.0, 0.0, 0.0))
        slope = [dot(p, up) for p in ends_of(cheek, cheek.part.edge("top: the saw's back lands here"))]
        return max(slope) - min(slope), -self.piece("near bearer", "R").solid.bounds[0][1]

    def wrong_face_mm3(self) -> float:
        """What of a leg finds wood where the fence lay on the bottom face: the least of all four places."""
        # Half a turn about the board's length, and down by its thickness: the bottom face lies where the top face was.
        turned = Frame((0.0, 0.0, -self.job.top.thickness_mm), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
        sawn = self.gone("R").placed(timber_from_stop(self.job, 0.0, "R", 1)).placed(turned)
        left = board(self.job).minus(sawn)
        return min(left.common(at_seat(leg(self.job), seat)).volume for seat in SEATS)


def guides_as_cut(folder: Folder, parts: Sequence[CutPart]) -> HandGuides | None:
    """Both guides of a shop that saws its housings; None for any other."""
    saw, chisel = folder.shop.hand_saw, folder.shop.chisel
    if not folder.shop.saws_housings or saw is None or chisel is None:
        return None
    return HandGuides(jig_as_cut(folder, parts, SAW_GUIDE), jig_as_cut(folder, parts, PARING_GUIDE), saw, chisel)


def guide_findings(guides: HandGuides) -> Iterator[Finding]:
    """All that is wrong with both guides as they go together, and on the board. Raises Unmeasured."""
    job = guides.job
    for guide in (guides.saw_guide, guides.paring_guide):
        yield from mortise_findings(guide, either_way=True)
        yield from wood_findings(guide)
    for hand in HANDS:
        pieces = guides.saw_guide.pieces(hand)
        wood = clamped_board(job, 0.0 if hand == "R" else job.top.length_mm)
        yield from joint_findings(guides.saw_guide, pieces)
        yield from overlap_findings(pieces, wood, set())
        yield from _stands(pieces, guides.piece("saw guide near plate", hand))
        yield from _cheek_findings(guides, hand)
        # The saw's plate over its whole stroke in nothing but the fence.
        for side in ("near", "far"):
            plate = guides.beside_cheek(side, hand, 0.0, guides.saw.plate_mm, guides.saw.depth_mm, _STROKE_MM)
            for piece in guides.saw_guide.pieces(hand):
                if SAWN_THROUGH not in piece.name:
                    tool, at = f"the saw at the {side} cheek", f"saw guide {hand}"
                    yield from cut_findings(tool, plate, piece.name, piece.solid, "shop hand_saw", at)
    pieces = guides.paring_guide.pieces("both")
    yield from joint_findings(guides.paring_guide, pieces)
    yield from overlap_findings(pieces, clamped_board(job, job.top.length_mm / 2), set())
    yield from _stands(pieces, None)
    yield from _chisel_findings(guides)


def sawn_housings(guides: HandGuides) -> tuple[list[RoutedHousing], list[Finding]]:
    """All four housings sawn, chopped and pared, and the bare legs put in. Raises Unmeasured."""
    figures: list[RoutedHousing] = []
    findings: list[Finding] = []
    job, gone = guides.job, {hand: guides.gone(hand) for hand in HANDS}
    sawn = {seat: gone[hand].placed(timber_from_stop(job, 0.0, hand, edge)) for seat, (hand, edge) in SEATS.items()}
    for seat, (hand, _) in SEATS.items():
        found, faults = prove_housing(job, seat, sawn[seat], f"saw guide {hand}")
        figures += [found] if found else []
        findings += faults
    # In a board with one housing alone no leg goes in but its own: of any other leg's wood in the board more must be
    # left standing than a film.
    least = _IN_THE_WAY_MM * job.leg.width_mm * job.leg.thickness_mm
    legs = {seat: board(job).common(at_seat(leg(job), seat)) for seat in SEATS}
    for seat, other in product(sawn, legs):
        if other != seat and legs[other].minus(sawn[seat]).volume < least:
            own, its = (f"{'+' if x > 0 else '-'}x {'+' if y > 0 else '-'}y" for x, y in (seat, other))
            says = f"the leg {its} goes in where only the housing of the leg {own} is sawn"
            findings.append(Finding(468, says, AGAIN, part=f"saw guide {SEATS[seat][0]}", at=f"leg {its}"))
    return figures, findings


def clamped_board(job: Job, right_end: float) -> Solid:
    """The board in the jig frame, its right end at this X."""
    top = job.top
    return Solid.block((right_end - top.length_mm, -top.width_mm, -top.thickness_mm), (right_end, 0.0, 0.0))


def _stands(pieces: list[JigPiece], plate: JigPiece | None) -> Iterator[Finding]:
    """Feet on the board's edge, the fence on its top face, the stop at its end, seats under the plate."""
    for piece in pieces:
        low, high = piece.solid.bounds
        for name in piece.part.names(FOOT):
            ends = [p[1] for p in ends_of(piece, piece.part.edge(name))]
            if "cheek" in piece.name:  # it touches by one arris: the lower of both
                rise = piece.frame.z_axis[1] * piece.part.declared.thickness_mm
                ends = [y + min(0.0, rise) for y in ends]
            yield from off_line(509, piece, name, "the way from its foot to the board's edge", ends)
        if "fence" in piece.name:
            yield from off_line(510, piece, "placement", "the way from its face to the board's top face", [low[2]])
        if "hook on the board's edge" in piece.part.names():
            ends = [p[1] for p in ends_of(piece, piece.part.edge("hook on the board's edge"))]
            yield from off_line(509, piece, "hook", "the way from its hook to the board's edge", ends)
        if piece.name.startswith("stop"):
            face = min(low[0], high[0], key=abs)
            yield from off_line(505, piece, "placement", "its face's distance from the board's end", [face])
        if plate:
            what = "the way from its seat to the plate"
            yield from off_plane(504, piece, SEAT, what, plate.frame.z_axis, plate.frame.origin)


def _cheek_findings(guides: HandGuides, hand: str) -> Iterator[Finding]:
    """Each plate's edge lies along the outer face of its cheek, a spacer goes between their inner ones, and the saw's
    back lands on each top with the teeth on the housing's floor."""
    out, depth = directions(guides.job).wide, guides.saw_guide.depth_mm
    faces: dict[str, Frame] = {}
    for side in ("near", "far"):
        cheek, faces[side] = guides.cheek_face(side, hand)
        outer = faces[side].point((0.0, 0.0, -cheek.part.declared.thickness_mm))
        plate = guides.piece(f"saw guide {side} plate", hand)
        what = "the way from its edge to the cheek"
        yield from off_plane(509, plate, "seat of the cheek", what, cheek.frame.z_axis, outer)
        tops = ends_of(cheek, cheek.part.edge("top: the saw's back lands here"))
        for m in (dot(p, out) - guides.saw.depth_mm for p in tops):
            if abs(m + depth) > EXACT_MM:
                what = "the depth of a kerf, square to the floor,"
                yield off_finding(452, cheek.name, "top", what, -m, depth, key="shop hand_saw.depth")
                break
    apart = abs(dot(subtract(faces["near"].origin, faces["far"].origin), faces["near"].z_axis))
    spacer = next((part for part in guides.saw_guide.parts if part.declared.slug == "saw-guide-spacer"), None)
    if spacer is None:
        raise Unmeasured(missing_finding("saw guide spacer", "kit.json tells no spacer of the saw guide"))
    width = spacer.across("near side", "far side")
    if abs(width - apart) > NEAR_MM:
        yield off_finding(336, "saw guide spacer", f"saw guide {hand}", "its width between the cheeks", width, apart)


def _chisel_findings(guides: HandGuides) -> Iterator[Finding]:
    """The ramp lies in the plane of the floor; a chisel on it, along either wall of either hand, meets no rib."""
    ramp, job = guides.ramp(), guides.job
    out = directions(job).wide
    if abs(dot(ramp.origin, out) + guides.saw_guide.depth_mm) > EXACT_MM or abs(dot(ramp.z_axis, out) - 1) > 1e-9:
        what = "the depth of its upper face, square to the floor,"
        value = -dot(ramp.origin, out)
        yield off_finding(452, "paring guide ramp", "upper face", what, value, guides.saw_guide.depth_mm)
    # From before the ribs to the board's bottom face, where the ramp's plane runs out of it.
    inside = [ramp.inside(p) for p in clamped_board(job, 0.0).common(guides.gone("R")).corners]
    floor = [v for _, v, above in inside if abs(above) < NEAR_MM]
    blade = Solid.block((-_FAR_MM, _BEFORE_MM, 0.0), (_FAR_MM, max(floor, default=0.0), _CHISEL_MM)).placed(ramp)
    for hand in HANDS:
        near, far = (
            guides.beside_cheek(side, hand, -guides.saw.set_mm, _FAR_MM, _FAR_MM, _FAR_MM) for side in ("near", "far")
        )
        swept = near.common(far).common(blade)
        # The blade at both walls and all between, as far as it is shoved forward; brought to X = 0, where the guide is.
        if swept.is_empty:
            continue  # without a housing, which is reported elsewhere
        low, high = swept.bounds
        for piece in guides.paring_guide.pieces("both"):
            moved = swept.moved((-(low[0] + high[0]) / 2, 0.0, 0.0))
            yield from cut_findings("the chisel", moved, piece.name, piece.solid, "shop chisel", f"housing {hand}")
