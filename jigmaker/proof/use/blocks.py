"""Foot block, pads and taper gauge as cut, held against the job (338), and the coupon (340). mm, degrees."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, atan, cos, degrees, dist, radians, sin, tan

from jigmaker.findings import Finding
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.expected import leg
from jigmaker.proof.expected_numbers import expected_angles, expected_leg
from jigmaker.proof.use.assemble import EXACT_DEG, EXACT_MM, held, off_finding
from jigmaker.proof.use.gauges import KitAsCut, across_findings

ASKEW_DEG = 10.0  # how far from square to the leg's face the block may be pushed
SPARE_REACH_MM = 2.0
RISE = 1 / 20
THROW = 30.0  # the gap behind a wedge of the coupon grows by so many times what the cut is wider
DOWELS_MM = (6.0, 8.0, 10.0, 12.0, 16.0)
"""Dowel rod as sold; common practice, no source."""

DOWEL_PLAY_MM = 0.1


def foot_block_findings(kit: KitAsCut) -> Iterator[Finding]:
    """The nose reaches far enough, layers and nose lie on each other, every scribing height is so many sheets."""
    nose, layer = kit.part("foot-block-nose"), kit.part("foot-block-layer")
    sheets = layer.declared.needed + nose.declared.needed
    thickness = kit.shop.sheet_for("foot block").thickness_mm
    flattest = min(kit.job.rake_deg, kit.job.splay_deg)
    width = nose.across("right edge", "left edge")
    #     |\ leg          The leg leans away from the block by h / tan(angle) at the height h of the stacked sheets;
    #   h | \             the nose must reach that far, and farther where the block is pushed askew against the leg.
    #   __|__\__ bench
    recedes = 0.0 if flattest == 90 else sheets * thickness * cos(radians(flattest)) / sin(radians(flattest))
    reach = recedes + width / 2 * tan(radians(ASKEW_DEG)) + SPARE_REACH_MM
    body = layer.across("rear edge", "front edge")
    yield from across_findings(
        nose, "rear edge", "nose tip", "the nose tip's way from the rear edge", body + reach, 338
    )
    yield from across_findings(layer, "right edge", "left edge", "the layer's width", width, 338)
    for count in range(1, sheets + 1):
        name = f"scribing height, {count} {'sheet' if count == 1 else 'sheets'}"
        declared = kit.setting("foot-block-nose", name)
        yield from held(338, nose.declared.name, name, name, declared or 0.0, count * thickness)
    # The dowel holes of nose and layers lie over each other, and not so that a turned layer goes on.
    for number in (1, 2):
        name = f"dowel hole {number}"
        places = [_place(part, part.hole(name)[0]) for part in (nose, layer)]
        if dist(*places) > EXACT_MM:
            yield off_finding(
                338, layer.declared.name, name, "the holes' distance in nose and layer", dist(*places), 0.0
            )
        for part in (nose, layer):
            diameter = part.hole(name)[1]
            wanted = min((dowel + DOWEL_PLAY_MM for dowel in DOWELS_MM), key=lambda d: abs(d - diameter))
            if abs(diameter - wanted) > part.diameter_off_mm(name, EXACT_MM):
                yield off_finding(338, part.declared.name, name, "the hole's diameter for a dowel", diameter, wanted)
    first, second = (_place(layer, layer.hole(f"dowel hole {number}")[0]) for number in (1, 2))
    if abs(first[1] - second[1]) < 1.0:
        yield off_finding(338, layer.declared.name, "dowel hole 2", "the dowels' distance across the block", 0.0, 12.0)


def _place(part: MeasuredPart, at: tuple[float, float]) -> tuple[float, float]:
    """From the rear edge and the right edge, which nose and layer share."""
    return abs(part.edge("rear edge").left(at)), abs(part.edge("right edge").left(at))


def pad_findings(kit: KitAsCut) -> Iterator[Finding]:
    """A pad lies inside the foot, a parallelogram; all sides as declared."""
    pad, foot = kit.part("foot-pad"), leg(kit.job)
    on_floor = [p for p in foot.corners if p[2] < -kit.job.height_mm + 1e-6]
    # The foot as the leg's four lowest corners: how far it reaches across the board.
    deep = max(p[1] for p in on_floor) - min(p[1] for p in on_floor)
    # The foot's section on the floor is a parallelogram: its ends lean by the twist, and a rectangle in it is shorter.
    lean = deep * tan(radians(expected_angles(kit.job)["edge_twist"]))
    rooms = {"along": expected_leg(kit.job)["level_width_mm"] - lean, "across": deep}
    sides = {"along": ("left end", "right end"), "across": ("near edge", "far edge")}
    for way, (one, end) in sides.items():
        size, declared = pad.across(one, end), kit.setting("foot-pad", f"pad, {way} the foot")
        if size > rooms[way] + EXACT_MM:
            yield off_finding(338, pad.declared.name, f"{way} the foot", f"the size {way} the foot", size, rooms[way])
        yield from held(338, pad.declared.name, f"{way} the foot", f"the size {way} the foot", size, declared or 0.0)


def taper_findings(kit: KitAsCut) -> Iterator[Finding]:
    """One in twenty from the thin end on, which lies as far from the grip's end as the scale is long: they are laid on
    each other flush at the grip, and the scale's scores count from its other end. The gauge of kit 1 has no grip.
    """
    gauge = kit.part("taper-gauge")
    floor, slope = gauge.edge("edge on the floor"), gauge.edge("slope")
    angle, wanted = (slope.direction_deg - floor.direction_deg) % 180, degrees(atan(RISE))
    yield from held(
        338, gauge.declared.name, "slope", "the slope off the floor", angle, wanted, "°", within=EXACT_DEG / 2
    )
    thin = kit.setting("taper-gauge", "thin end")
    ends = sorted(abs(floor.left(p)) for p in (slope.start, slope.end))
    yield from held(338, gauge.declared.name, "thin end", "the thin end", ends[0], thin or 0.0)
    if kit.number < KIT_NUMBER and not gauge.names("end of the grip"):
        return
    reach = kit.part("taper-scale").across("left end", "right end")
    yield from across_findings(gauge, "thin end", "end of the grip", "the thin end's way from the grip's", reach, 338)


_LENGTHS = (
    ("D, long in x, drawn", "left edge", "right edge, lower"),
    ("D, short in x, drawn", "top notch, right side", "right edge, upper"),
    ("D, long in y, drawn", "bottom edge", "top edge, right"),
    ("D, short in y, drawn", "right notch, upper side", "top edge, right"),
)


def coupon_findings(kit: KitAsCut) -> Iterator[Finding]:
    """What the readings are reckoned from is what is drawn. A kit may come without a coupon.

    That of kit 1 has strips in place of wedges and other names, and is not measured here.
    """
    if "coupon" not in kit.parts or kit.number < KIT_NUMBER:
        return
    coupon = kit.part("coupon")
    for name, one, other in _LENGTHS:
        declared = kit.setting("coupon", name) or 0.0
        yield from across_findings(coupon, one, other, name, declared, 340)
    # Four sides of the square, and both diagonals from either end.
    corners = ("lower left", "lower right", "upper right", "upper left")
    holes = [coupon.hole(f"E, {corner}")[0] for corner in corners]
    side = kit.setting("coupon", "E, side of the square") or 0.0
    for i, corner in enumerate(corners):
        for step, wanted in ((1, side), (2, side * 2**0.5)):
            way = dist(holes[i], holes[(i + step) % 4])
            yield from held(340, coupon.declared.name, f"E, {corner}", "the way to another hole", way, wanted)
    # The square's four holes are alike, and the hole whose disc is measured too is as declared.
    names = [f"E, {corner}" for corner in corners]
    sizes = dict.fromkeys(names, min(coupon.hole(name)[1] for name in names))
    sizes["F, hole and disc"] = kit.setting("coupon", "F, hole and disc, drawn") or 0.0
    for name, size in sizes.items():
        diameter = coupon.hole(name)[1]
        if abs(diameter - size) > coupon.diameter_off_mm(name, EXACT_MM):
            yield off_finding(340, coupon.declared.name, name, f"the diameter of {name}", diameter, size)
    for wedge in ("A", "B"):
        yield from _wedge_findings(kit, coupon, wedge)
    if not coupon.names("C, gap"):
        return
    # The gap for an offcut is as wide as declared at both its ends; one wall is straight up.
    straight, leaning = coupon.edge("C, gap, straight wall"), coupon.edge("C, gap, leaning wall")
    for end in ("wide", "narrow"):
        # Where the walls' lines meet: a cutter leaves the corner itself round.
        wall = coupon.edge(f"C, gap, {end} end")
        share = wall.left(leaning.start) / (wall.left(leaning.start) - wall.left(leaning.end))
        x, y = (a + share * (b - a) for a, b in zip(leaning.start, leaning.end, strict=True))
        name, width = f"C, {end} end of the gap, drawn", abs(straight.left((x, y)))
        declared = kit.setting("coupon", name) or 0.0
        yield from held(340, coupon.declared.name, name, f"the gap's width at its {end} end", width, declared)
    square = (straight.direction_deg - coupon.edge("C, gap, narrow end").direction_deg) % 180
    yield from held(340, coupon.declared.name, "C, gap, narrow end", "the corner of the gap", square, 90.0, "°")


def _wedge_findings(kit: KitAsCut, coupon: MeasuredPart, wedge: str) -> Iterator[Finding]:
    """Flanks of window and slot lean alike, and so that the gap grows THROW times what the cut is wider; and the wedge
    that a true cut of the shop's width leaves of its window comes to rest where declared, touching both flanks.
    """
    tool, named = kit.shop.machine.tool_mm, coupon.declared.name
    slot, window = (
        {side: coupon.edge(f"{wedge}, {what}, {side}") for side in ("one flank", "other flank", "thick end")}
        for what in ("slot", "wedge")
    )
    for side in ("one flank", "other flank"):
        lean = abs((slot[side].direction_deg - slot["thick end"].direction_deg) % 180 - 90)
        if abs(lean - degrees(asin(1 / (THROW - 1)))) > EXACT_DEG / 2:
            wanted = degrees(asin(1 / (THROW - 1)))
            yield off_finding(340, named, f"{wedge}, slot, {side}", "the lean of a flank", lean, wanted, "°")
        turned = abs((slot[side].direction_deg - window[side].direction_deg + 90) % 180 - 90)
        if turned > EXACT_DEG / 2:
            yield off_finding(340, named, f"{wedge}, wedge, {side}", "the lean off the slot's flank", turned, 0.0, "°")
    # All openings run clockwise, wood on the left: right of an edge lies the opening. What brings the wedge's flanks
    # against the slot's is a vector, worked out from both distances.
    moves = []
    for side in ("one flank", "other flank"):
        (ux, uy), off = slot[side].along, slot[side].left(window[side].middle) - tool
        moves.append((-uy, ux, -off))
    (ax, ay, a), (bx, by, b) = moves
    # Two equations for the move m: a unit normal n of each flank, n . m = -distance. By Cramer's rule.
    turn = ax * by - ay * bx
    on = ((a * by - b * ay) / turn, (ax * b - bx * a) / turn)
    end, (x, y) = slot["thick end"], window["thick end"].middle
    gap, declared = (
        tool - end.left((x + on[0], y + on[1])),
        kit.setting("coupon", f"{wedge}, gap behind the wedge, drawn"),
    )
    # A file saved again with three decimals may have its flanks 0.0006 mm off, which the gap shows THROW fold.
    within = EXACT_MM * THROW / 2 if coupon.cut.is_changed else EXACT_MM
    if declared is None or abs(gap - declared) > within:
        at = f"{wedge}, gap behind the wedge, drawn"
        yield off_finding(340, named, at, "the gap behind the wedge at rest", gap, declared or 0.0)
