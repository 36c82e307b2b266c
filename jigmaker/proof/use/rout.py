"""The housings routed with the jig as cut, and the legs put in (4xx).

The bush runs all over the slot that was read, the cutter goes with it, in the plane in which the bearers as cut hold
the plate. What that takes out of the board is held against the housing that the job asks for. Timber frame; mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import atan2, degrees

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, cross, dot, scale, subtract, unit
from jigmaker.job.job import Job
from jigmaker.proof.checks.sweep import grown
from jigmaker.proof.expected import SEATS, CornerName, Seat, at_seat, board, housing, housing_corners, leg, leg_planes
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.assemble import EXACT_MM, board_in_jig, cut_findings, held, off_finding
from jigmaker.proof.use.jig import HANDS, JigAsCut
from jigmaker.record import dataclass

Corners = dict[CornerName, Vector]
_OTHER_HAND_MM = 1.0  # a housing off by more, with the other slant, is the other hand's
_ROUNDED_MM = 0.0005  # over the floor: six decimals of an inch, in several files, leave less than this
_VOLUME_MM = 0.02  # wood left or gone, as a mean over the housing's faces


@dataclass(frozen=True, slots=True)
class RoutedHousing:
    """One housing as routed, and the leg in it, mm and degrees. Gaps are the smallest between leg and each face."""

    seat: Seat
    hand: str
    width_on_arris_mm: float
    depth_top_mm: float
    depth_bottom_mm: float
    start_top_mm: float
    start_bottom_mm: float
    edge_line_deg: float
    near_gap_mm: float
    far_gap_mm: float
    reveal_mm: float
    corners: Corners


def rout_housings(jig: JigAsCut) -> tuple[list[RoutedHousing], list[Finding]]:
    """All four housings routed and measured, with the tools' way through the jig. Raises Unmeasured."""
    findings: list[Finding] = []
    needed, router = needed_projection(jig), jig.shop.router
    projection = jig.settings.get("projection", needed)
    if "projection" not in jig.settings:
        findings.append(Finding(341, "kit.json tells no projection of the cutter", AGAIN, part="kit.json"))
    elif abs(projection - needed) > EXACT_MM:
        findings.append(off_finding(459, "kit.json", "settings", "the projection", projection, needed))
    figures: list[RoutedHousing] = []
    cutters: dict[str, Solid] = {}
    for hand in HANDS:
        if jig.bush_region(hand).is_empty:
            says = f"the bush does not go into slot {hand}"
            findings.append(Finding(460, says, AGAIN, "shop hand_router.bush", jig.plate(hand).declared.name))
            continue
        cutters[hand] = swept_tool(jig, hand, router.cutter_mm, -projection)
        # The cutter must cut the board, and scores fence and back strip where the housing runs out; the bush must touch
        # neither the board nor any other part of the jig.
        pieces, at = jig.pieces(hand), f"slot {hand}"
        bodies = [(p.name, p.solid) for p in pieces if not p.name.startswith(("fence", "back strip"))]
        tools = [("the cutter", cutters[hand], bodies)]
        if router.bush_length_mm and not router.is_bearing_guided:
            bush = swept_tool(jig, hand, router.bush_mm, -router.bush_length_mm)
            tools.append(("the bush", bush, [*bodies, ("board", board_in_jig(jig, hand))]))
        for tool, solid, others in tools:
            for name, body in others:
                findings += cut_findings(f"{tool} in {at}", solid, name, body, "shop hand_router", at)
    for seat, (hand, edge) in SEATS.items():
        if hand in cutters:
            frame = timber_from_stop(jig.job, jig.stop_plane(hand), hand, edge)
            found, faults = prove_housing(jig.job, seat, cutters[hand].placed(frame), f"slot {hand}")
            figures += [found] if found else []
            findings += faults
    return figures, once_each(findings)


def once_each(findings: Iterable[Finding]) -> list[Finding]:
    """Without those that say the same of the same place again."""
    return list({(f.code, f.part, f.at, f.says): f for f in findings}.values())


def needed_projection(jig: JigAsCut) -> float:
    """From the face the router runs on down to the housing's floor, by the parts as cut and the job, mm."""
    return jig.plate("R").declared.thickness_mm + jig.standoff_mm + jig.depth_mm


def swept_tool(jig: JigAsCut, hand: str, diameter: float, low: float, high: float = 0.0) -> Solid:
    """All that a round tool in the bush passes through between two heights over the base. Jig frame."""
    # Where the bush's centre can be, grown by the tool's radius: all that the tool passes through, seen from above.
    area = grown(jig.bush_region(hand), diameter)
    frame = jig.plate_frame(hand)
    top = jig.plate(hand).declared.thickness_mm
    base = Frame(frame.point((0.0, 0.0, top + low)), frame.x_axis, frame.y_axis, frame.z_axis)
    return Solid.prism_of_points([list(area.exterior.coords)[:-1]], high - low).placed(base)


def timber_from_stop(job: Job, x: float, hand: str, edge: int) -> Frame:
    """Where a jig sits on the board, its stop (at X = x) at the board's end, the +y edge (1) or the -y edge (-1) up."""
    top = job.top
    shift = (top.length_mm / 2 if hand == "R" else -top.length_mm / 2) - x
    if edge == 1:
        return Frame((shift, top.width_mm / 2, 0.0))
    return Frame((-shift, -top.width_mm / 2, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))


def prove_housing(job: Job, seat: Seat, gone: Solid, by: str) -> tuple[RoutedHousing | None, list[Finding]]:
    """A housing held against the one asked for. gone: all that tools pass through, timber frame; by: what guided them,
    "slot R".
    """
    routed = at_seat(board(job).common(gone), seat)
    at, wanted = housing_corners(routed, job), housing_corners(housing(job), job)
    place, hand = f"leg {'+' if seat[0] > 0 else '-'}x {'+' if seat[1] > 0 else '-'}y", SEATS[seat][0]
    if at is None or wanted is None:
        says = f"the housing of the {place} does not reach from the board's top face to its bottom face"
        return None, [Finding(460, says, AGAIN, "", by, at=place)]
    figures = _figures(job, seat, hand, at)
    findings = list(_housing_findings(job, by, place, at, wanted))
    # The bare leg goes in without cutting wood, and stands as proud as asked.
    tight = board(job).minus(routed).common(leg(job)).volume
    allowed = _ROUNDED_MM * _floor_mm2(job)
    if tight > allowed:
        says, limit = f"{tight:.2f} mm³ of the board stand where the {place} should", f"{allowed:.2f} mm³"
        findings.append(Finding(457, says, AGAIN, "job housing.clearance", by, f"{tight:.2f} mm³", limit, at=place))
    if abs(figures.reveal_mm - job.housing.reveal_mm) > EXACT_MM:
        what = "the leg's height over the board's edge"
        findings.append(off_finding(458, by, place, what, figures.reveal_mm, job.housing.reveal_mm))
    if not findings:
        # Corners right and still wood left or gone between them.
        ideal, area = housing(job), _floor_mm2(job)
        for what, volume in (("left", ideal.minus(routed).volume), ("gone too much", routed.minus(ideal).volume)):
            if volume > _VOLUME_MM * area:
                says = f"{volume:.1f} mm³ of wood are {what} in the housing of the {place}"
                limit = f"{_VOLUME_MM * area:.1f} mm³"
                findings.append(Finding(460, says, AGAIN, "", by, f"{volume:.1f} mm³", limit, at=place))
    return figures, findings


def _figures(job: Job, seat: Seat, hand: str, at: Corners) -> RoutedHousing:
    half_length, half_width = job.top.length_mm / 2, job.top.width_mm / 2
    (outer, wide), _, (near, near_out), (far, far_out) = leg_planes(job)
    # The leg lies on the deepest corner of the floor: what of its thickness is over stands out of the edge, the reveal.
    floor = [at[key] for key in at if key[1] == "floor"]
    deepest = max(dot(subtract(outer, p), wide) for p in floor)
    line = subtract(at["near", "arris", "bottom"], at["near", "arris", "top"])
    return RoutedHousing(
        seat=seat,
        hand=hand,
        width_on_arris_mm=at["near", "arris", "top"][0] - at["far", "arris", "top"][0],
        depth_top_mm=half_width - at["near", "floor", "top"][1],
        depth_bottom_mm=half_width - at["near", "floor", "bottom"][1],
        start_top_mm=half_length - at["near", "arris", "top"][0],
        start_bottom_mm=half_length - at["near", "arris", "bottom"][0],
        edge_line_deg=degrees(atan2(-line[2], line[0])),
        near_gap_mm=min(dot(subtract(at[key], near), near_out) for key in at if key[0] == "near"),
        far_gap_mm=min(dot(subtract(at[key], far), far_out) for key in at if key[0] == "far"),
        reveal_mm=job.leg.thickness_mm - (deepest - job.housing.reveal_mm),
        corners=at,
    )


def _housing_findings(job: Job, by: str, place: str, at: Corners, wanted: Corners) -> Iterator[Finding]:
    """Width, start, slant and depth, each at both faces of the board, against the ideal housing's corners."""
    #    L \    / R    A slot for the other hand is the mirror image: its wall leans as much the other way. An error
    #       \  /        in the right slot changes the lean a little and never turns it over.
    leans, should = (c["near", "arris", "bottom"][0] - c["near", "arris", "top"][0] for c in (at, wanted))
    off = abs(at["near", "arris", "top"][0] - wanted["near", "arris", "top"][0])
    if abs(should) > _OTHER_HAND_MM and leans * should < 0 and abs(leans + should) < abs(should) + off:
        says = f"{by} cuts the other hand's housing for the {place}"
        yield Finding(455, says, "use the slot of the stop's side, or write the folder again", "", by, at=place)
        return
    part, half_length, half_width = by, job.top.length_mm / 2, job.top.width_mm / 2
    for face in ("top", "bottom"):
        for where in ("arris", "floor"):
            width, want = (c["near", where, face][0] - c["far", where, face][0] for c in (at, wanted))
            what = f"the housing's width along the {where} in the {face} face"
            yield from held(451, part, place, what, width, want, key="job housing.clearance")
            start, want = (half_length - c["near", where, face][0] for c in (at, wanted))
            what = f"the housing's start on the {face} {where}"
            yield from held(453, part, place, what, start, want, key="job trestle.inset")
        for wall in ("near", "far"):
            depth, want = (half_width - c[wall, "floor", face][1] for c in (at, wanted))
            what = f"the housing's depth in the {face} face at its {wall} wall"
            yield from held(452, part, place, what, depth, want, key="job leg.thickness")
    # The walls' slant on the board's edge.
    for wall in ("near", "far"):
        lines = [subtract(c[wall, "arris", "bottom"], c[wall, "arris", "top"]) for c in (at, wanted)]
        slant, want = (degrees(atan2(-line[2], line[0])) for line in lines)
        what = f"the {wall} wall's slant on the board's edge"
        yield from held(454, part, place, what, slant, want, "°", "job trestle.rake_deg")


def _floor_mm2(job: Job) -> float:
    """The housing's mean section parallel to its floor, mm²."""
    return housing(job).volume / (job.leg.thickness_mm - job.housing.reveal_mm)


def seat_frame(corners: Corners) -> tuple[Vector, Vector, Vector]:
    """Directions of a leg that lies on the floor between the walls as routed: down its length, out of its wide face,
    toward the board's end."""
    # The leg lies on the floor along the near wall: its length is the line from face to face, its width the line from
    # wall to wall, and its wide face is square to both.
    down = unit(subtract(corners["near", "floor", "bottom"], corners["near", "floor", "top"]))
    level = unit(subtract(corners["near", "floor", "top"], corners["far", "floor", "top"]))
    wide = unit(cross(level, down))
    wide = wide if wide[1] > 0 else scale(wide, -1)
    return down, wide, unit(cross(down, wide))
