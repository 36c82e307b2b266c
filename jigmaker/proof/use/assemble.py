"""The jig put together from the parts as cut, and what is wrong with it (5xx). Jig frame; mm, degrees.

Every distance that matters is measured on the outlines; kit.json's placements are held against them.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import acos, degrees

from jigmaker.findings import Finding
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import dot, length, subtract
from jigmaker.job.job import Job
from jigmaker.proof.expected import X, directions
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.base_support import base_findings
from jigmaker.proof.use.jig import HANDS, JigAsCut, JigPiece, mortises
from jigmaker.proof.use.joints import joint_findings
from jigmaker.proof.use.seats import seat_findings
from jigmaker.units import fixed

EXACT_MM = 0.0012
"""What depends on nothing but the files must be right to this."""

EXACT_DEG = 0.0015
OVERLAP_MM = 0.0015
"""So deep may two bodies lie in each other where they touch; an edge of a part may lie that far off."""

_NOTHING_MM3 = 1e-3  # of a body of no account, whose depth is that of its corners
BAND_MM = 15.0  # the least height of the free band for jaws or clamps
_PROUD_MM = 0.01


def assembly_findings(jig: JigAsCut) -> Iterator[Finding]:
    """All that is wrong with the jig as it goes together, for both hands; some of it twice. Raises Unmeasured."""
    # Tilt and height of every seat of the plain bearer, and that its seats lie in one line.
    wanted = 90 - jig.job.splay_deg
    for seat in jig.bearer.seats:
        what = "the seat's tilt off the foot"
        yield from held(503, "bearer", seat.name, what, seat.tilt_deg, wanted, "°", "job trestle.splay_deg")
        what = "the seat's height over the top arris"
        yield from held(504, "bearer", seat.name, what, seat.standoff_mm, jig.standoff_mm)
    declared = jig.settings.get("standoff")
    if declared is not None and abs(declared - jig.standoff_mm) > EXACT_MM:
        yield off_finding(504, "bearer", "seat of the plate", "the standoff", jig.standoff_mm, declared)
    yield from mortise_findings(jig)
    paired: set[tuple[str, str]] = set()
    for hand in HANDS:
        pieces = jig.pieces(hand)
        # kit.json's place of the plate against the one that bearers and tenons give it. Over the arris nothing of the
        # tilt shows; at the corners 0.0015 degrees over a plate's depth are 0.004 mm.
        plate, placed, real = jig.plate(hand), jig.declared_frame(jig.plate(hand)), jig.plate_frame(hand)
        low_x, low_y, high_x, high_y = plate.cut.material.bounds
        corners = [(x, y, 0.0) for x in (low_x, high_x) for y in (low_y, high_y)]
        arris = ((low_x + high_x) / 2, jig.arris_y(hand), 0.0)
        for points, within in (([arris], EXACT_MM), (corners, 4 * EXACT_MM)):
            off = max(length(subtract(placed.point(p), real.point(p))) for p in points)
            if off > within:
                what = "the placement's distance from its joints'"
                yield off_finding(509, plate.declared.name, "placement", what, off, 0.0)
                break
        yield from _slot_findings(jig, hand, pieces)
        yield from joint_findings(jig, pieces, {name for pair in paired for name in pair})
        yield from overlap_findings(pieces, board_in_jig(jig, hand), paired)
        # Nothing stands above the face on which the router runs.
        plate_from_jig = jig.plate_frame(hand).inverse
        top = jig.plate(hand).declared.thickness_mm
        for piece in pieces:
            high = piece.solid.placed(plate_from_jig).bounds[1][2]
            if high > top + _PROUD_MM:
                yield off_finding(506, piece.name, "", "its height over the plate's face", high - top, 0.0)
        yield from _strip_findings(jig, pieces)
        yield from seat_findings(jig, hand, pieces)
        yield from base_findings(jig, hand)


def off_finding(
    code: int, part: str, at: str, what: str, value: float, wanted: float, unit: str = "mm", key: str = ""
) -> Finding:
    """A figure that is not what it should be; unit "mm" or "°"."""
    space = " " if unit == "mm" else ""
    is_text, wanted_text = (f"{fixed(v, 4)}{space}{unit}" for v in (value, wanted))
    says = f"{part}: {what} is {is_text}, must be {wanted_text}"
    return Finding(code, says, AGAIN, key, part, is_text, wanted_text, at=at)


def held(
    code: int,
    part: str,
    at: str,
    what: str,
    value: float,
    wanted: float,
    unit: str = "mm",
    key: str = "",
    within: float | None = None,
) -> Iterator[Finding]:
    """A finding where a figure is farther off than `within`; than EXACT_MM or EXACT_DEG where nothing else is said."""
    most = within if within is not None else EXACT_MM if unit == "mm" else EXACT_DEG
    if abs(value - wanted) > most:
        yield off_finding(code, part, at, what, value, wanted, unit, key)


def mortise_findings(jig: JigAsCut, either_way: bool = False) -> Iterator[Finding]:
    """Every mortise is as wide as the sheet at its thickest and the play asked for.

    either_way: some lie along x, some along y; else all are wide in x. Those of a thick sheet may be wider than long.
    """
    sheet = jig.shop.sheet
    wanted = sheet.thickness_mm + sheet.thickness_spread_mm + sheet.joint_clearance_mm
    for part in jig.parts:
        own = jig.shop.sheet_for(part.declared.slug, part.declared.assembly).thickness_mm
        yield from held(335, part.declared.name, "", "the thickness", part.declared.thickness_mm, own)
        for mortise in mortises(part):
            width = mortise.x[1] - mortise.x[0]
            if either_way:
                width = min((width, mortise.y[1] - mortise.y[0]), key=lambda side: abs(side - wanted))
            key = "shop sheet.joint_clearance"
            yield from held(335, part.declared.name, mortise.name, "the mortise's width", width, wanted, key=key)


def _slot_findings(jig: JigAsCut, hand: str, pieces: list[JigPiece]) -> Iterator[Finding]:
    """The slot's opening and slant, by the job's vectors; how far it lies from the stop plane, and the stop in that."""
    plate, d, slot = jig.plate(hand), directions(jig.job), f"slot {hand}"
    near, far = (plate.edge(f"{slot}, {side} wall") for side in ("near", "far"))
    opening = jig.job.leg.width_mm + jig.job.housing.clearance_mm + 2 * jig.shop.router.guide_offset_mm
    for edge, other, side in ((near, far, "near wall"), (far, near, "far wall")):
        worst = max((abs(edge.left(p)) for p in (other.start, other.end)), key=lambda w: abs(w - opening))
        key = "shop hand_router.bush"
        yield from held(335, plate.declared.name, slot, f"the opening off the {side}", worst, opening, key=key)
    up = dot(d.down, X)  # how far a wall runs outward for each mm along the leg
    wanted = degrees(acos(up)) if hand == "R" else 180 - degrees(acos(up))
    for edge, side in ((near, "near wall"), (far, "far wall")):
        what = "the wall's direction off the stop-to-stop line"
        yield from held(335, plate.declared.name, f"{slot}, {side}", what, edge.direction_deg, wanted, "°")
    # From the stop plane to the near wall on the arris: half the clearance and the bush's offset open the wall, which
    # along the board is that over the cosine of its slant.
    (x, y), (ux, uy) = near.start, near.along
    distance = abs(jig.stop_x(hand) - (x + (jig.arris_y(hand) - y) * ux / uy))
    opened = jig.job.housing.clearance_mm / 2 + jig.shop.router.guide_offset_mm
    wanted = jig.job.inset_mm - opened / dot(d.edge, X)
    what = "the way from the stop plane to the slot's near wall, along the arris,"
    yield from held(505, plate.declared.name, slot, what, distance, wanted, key="job trestle.inset")
    plane = jig.stop_plane(hand)
    for piece in (piece for piece in pieces if piece.part.declared.slug in ("stop", "end-bearer")):
        low, high = (corner[0] for corner in piece.solid.bounds)
        is_bearer = piece.part.declared.slug == "end-bearer"
        faces = [low, high] if is_bearer else [low if hand == "R" else high]
        off = min(abs(face - plane) for face in faces)
        if not is_bearer or abs(plane - sum(faces) / 2) <= 50:  # not the other end's
            yield from held(505, piece.name, "placement", "its face's distance from the stop plane", off, 0.0)


def board_in_jig(jig: JigAsCut, hand: str) -> Solid:
    """The board as clamped, its end against the stop plane."""
    x, top = jig.stop_plane(hand), jig.job.top
    low, high = (x - top.length_mm, x) if hand == "R" else (x, x + top.length_mm)
    return Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0.0, 0.0))


def overlap_findings(
    pieces: list[JigPiece], wood: Solid, paired: set[tuple[str, str]], timber: str = "board"
) -> Iterator[Finding]:
    """Every two pieces, and every piece and the timber; pairs already looked at for the other hand are left out."""
    bodies = [(piece.name, piece.solid) for piece in pieces] + [(timber, wood)]
    boxes = [solid.bounds for _, solid in bodies]
    for i, j in combinations(range(len(bodies)), 2):
        (a, b), (c, d) = boxes[i], boxes[j]
        pair = (bodies[i][0], bodies[j][0])
        if pair in paired:
            continue
        if pair[1] != timber:
            paired.add(pair)
        if any(a[k] >= d[k] - 1e-6 or c[k] >= b[k] - 1e-6 for k in range(3)):
            continue
        yield from same_place_findings(*bodies[i], *bodies[j])


def same_place_findings(one: str, body: Solid, other: str, solid: Solid, at: str = "") -> Iterator[Finding]:
    """A finding where two bodies, by their names, want the same place; at: where, else the other's name."""
    volume, allowed = overlap_mm3(body, solid)
    if volume > allowed:
        says = f"{one} and {other} want the same place: {fixed(volume, 3)} mm³"
        yield Finding(501, says, AGAIN, "", one, f"{fixed(volume, 4)} mm³", f"{fixed(allowed, 4)} mm³", at=at or other)


def overlap_mm3(one: Solid, other: Solid) -> tuple[float, float]:
    """What two bodies hold in common, mm³, and how much of it may be: OVERLAP_MM over the area where they touch.

    A thin body has that area twice, on its two sides.
    """
    # Where two bodies only touch, rounding leaves them a film in common: its volume over its area is how deep they lie
    # in each other, and that may be OVERLAP_MM.
    common = one.common(other)
    volume = common.volume
    return volume, max(_NOTHING_MM3, OVERLAP_MM * common.surface / 2) if volume > _NOTHING_MM3 else _NOTHING_MM3


def cut_findings(
    tool: str, swept: Solid, name: str, body: Solid, key: str, at: str = "", the: str = ""
) -> Iterator[Finding]:
    """A finding where a tool, over all of its way, cuts into a body that it should not touch; the: an article."""
    volume, allowed = overlap_mm3(swept, body)
    if volume > allowed:
        says = f"{tool} cuts {fixed(volume, 3)} mm³ out of {the}{name}"
        yield Finding(456, says, AGAIN, key, name, f"{fixed(volume, 4)} mm³", f"{fixed(allowed, 4)} mm³", at=at)


def sawn_leg_findings(job: Job, code: int, jig: str, how: str, missing: float, left_on: float) -> Iterator[Finding]:
    """What a leg sawn in a jig lacks of the job's leg, and what it has too much of, mm³; how: "in" or "on" the jig."""
    # As a film over a leg's section: each of both ends may be off by two such figures as must be exact.
    allowed = 4 * EXACT_MM * job.leg.width_mm * job.leg.thickness_mm
    for off, what in ((missing, "is missing"), (left_on, "is left on")):
        if off > allowed:
            says = f"of a leg sawn {how} the {jig} {fixed(off, 1)} mm³ {what}"
            yield Finding(code, says, AGAIN, "", jig, f"{fixed(off, 4)} mm³", f"{fixed(allowed, 4)} mm³", at="leg")


def _strip_findings(jig: JigAsCut, pieces: list[JigPiece]) -> Iterator[Finding]:
    """Fence on the top face, strips below the worked edge, and a free band under all other parts."""
    #   plate  _________      y = 0: the worked edge, between fence and back strip, which lie on the board's two
    #         ||       ||     faces a little below it. Under everything else a band of the board must stay free
    #      fence|board|strip  to hold it by.
    strips = [piece for piece in pieces if piece.name.startswith(("fence", "back strip"))]
    for piece in strips:
        (_, _, back), (_, high, front) = piece.solid.bounds
        face, wanted = (back, 0.0) if piece.name.startswith("fence") else (front, -jig.job.top.thickness_mm)
        yield from held(510, piece.name, "", "the place of its face on the board", face, wanted)
        if not -1.0 <= high <= 1e-3:
            yield off_finding(510, piece.name, "upper edge", "its height over the worked edge", high, -0.3)
    others = min((piece.solid.bounds[0][1] for piece in pieces if piece not in strips), default=0.0)
    band = others - max((piece.solid.bounds[0][1] for piece in strips), default=others)
    if band < BAND_MM - EXACT_MM:
        yield off_finding(508, "fence or back strip", "", "the free band for jaws or clamps", band, BAND_MM)
