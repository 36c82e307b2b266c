"""What a mark must say because of where it lies. Part frame; mm, degrees.

Which slot, end, notch or flank a mark belongs to is measured on the part; what that slot, end,
notch or flank is, the proof has shown by then.
"""

from __future__ import annotations

from collections.abc import Callable
from math import cos, dist, radians, sin

from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import text_width
from jigmaker.proof.checks.measured import CutEdge, MeasuredPart, Unmeasured, missing_finding
from jigmaker.proof.records import DeclaredMark
from jigmaker.proof.use.assemble import EXACT_DEG
from jigmaker.proof.use.bevels import SQUARE_DEG, flanks_as_cut, needed_angles
from jigmaker.proof.use.jig import HANDS
from jigmaker.proof.words.figures import Value
from jigmaker.proof.words.known_directions import mask_slot, slot_middle, slot_x
from jigmaker.proof.words.known_facts import KitFacts

Here = dict[str, Value]
_OTHER = {"R": "L", "L": "R"}
_BESIDE_MM = 2.5  # a score's figure ends or begins within this of it


def here_of(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """What stands for "here." at this mark. Raises Unmeasured."""
    place = _PLACES.get(family_of(part.declared.slug))
    found = place(facts, part, mark) if place else {}
    return {f"here.{name}": value for name, value in found.items()}


def family_of(slug: str) -> str:
    """The slug without a number or a hand behind it."""
    return next((name for name in _FAMILIES if slug == name or slug.startswith(f"{name}-")), slug)


_GUIDE_PARTS = ("saw-guide-fence", "saw-guide-near-plate", "saw-guide-far-plate")
_FAMILIES = ("plate", "bevel-plate", "mask-for-slot", *_GUIDE_PARTS)


def middle(mark: DeclaredMark) -> Point:
    """The middle of a line of words, part frame, mm."""
    along, up, turn = text_width(mark.text, mark.height_mm) / 2, mark.height_mm / 2, radians(mark.turn_deg)
    return (mark.at[0] + along * cos(turn) - up * sin(turn), mark.at[1] + along * sin(turn) + up * cos(turn))


def _to_edge(edge: CutEdge, at: Point) -> float:
    """How far a point lies from an edge, not from its line."""
    (ux, uy), (x, y) = edge.along, edge.start
    along = min(max((at[0] - x) * ux + (at[1] - y) * uy, 0.0), edge.length)
    return dist(at, (x + along * ux, y + along * uy))


def _on_jig(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """On a plate the slot and the end that it stands at, in front or behind; on a bearer the face of the board; on the
    stop and the masks the ends of the board, and the slot in work."""
    jig, (x, y) = facts.jig, middle(mark)
    ends = {hand: "RIGHT" if jig.stop_plane(hand) > slot_x(jig, hand) else "LEFT" for hand in HANDS}
    match family_of(part.declared.slug):
        case "plate":
            hands = [hand for hand in HANDS if jig.plate(hand).declared.slug == part.declared.slug]
            slots = {hand: slot_middle(jig, hand) for hand in hands}
            if not hands:
                raise Unmeasured(missing_finding(part.declared.name, f"the {part.declared.name} serves no hand"))
            hand = min(hands, key=lambda each: abs(slots[each][0] - x))
            # A plate for one hand has one stop plane; its other end stands for the other hand.
            stops = {each: jig.stop_x(each) for each in hands}
            low, _, high, _ = part.cut.material.bounds
            if len(hands) == 1:
                stops[_OTHER[hand]] = low if abs(stops[hand] - high) < abs(stops[hand] - low) else high
            frame = jig.plate_frame(hand)
            ahead = frame.point((x, y, 0.0))[2] - frame.point((*slots[hand], 0.0))[2]
            stop_for = min(stops, key=lambda each: abs(stops[each] - x))
            return {"hand": hand, "stop_for": stop_for, "face": "TOP" if ahead > 0 else "BOTTOM"}
        case "stop":
            return {f"end_{hand}": end for hand, end in ends.items()}
        case "mask-for-slot":
            # The slot that it lies in, and the hand in work while it does.
            placed = [(hand, piece) for hand in HANDS for piece in jig.pieces(hand)]
            lies = [(hand, piece) for hand, piece in placed if piece.part.declared.slug == part.declared.slug]
            return {"hand": mask_slot(jig, lies[0][1]), "work": lies[0][0], "end": ends[lies[0][0]]} if lies else {}
        case _:
            # Before the middle of the board, or behind it.
            z = part.declared.placements[0].frame.point((x, y, 0.0))[2] if part.declared.placements else 0.0
            return {"side": "FENCE" if z > -facts.kit.job.top.thickness_mm / 2 else "BACK"}


def _on_flank(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """On a bevel plate the flank of the corner that it stands in; on the brace template the notch's flank, the long
    edge that it is nearer to, and where the middle of a half lies."""
    x, y = middle(mark)
    low_x, low_y, high_x, high_y = part.cut.material.bounds
    corner, found = "of the notch", Here()
    if part.declared.slug == "brace-template":
        is_top = _to_edge(part.edge("top edge"), (x, y)) < _to_edge(part.edge("bottom edge"), (x, y))
        found["edge"] = "THIS" if is_top else "OTHER"
        if part.names("middle"):
            found["middle"] = "LEFT" if 2 * part.edge("middle").middle[0] < low_x + high_x else "RIGHT"
    else:
        row, side = "upper" if 2 * y > low_y + high_y else "lower", "right" if 2 * x > low_x + high_x else "left"
        corner = f"{row} {side}"
        plates = sorted(name for name in facts.kit.parts if name.startswith("bevel-plate"))  # off sheets in any order
        found["number"] = f"{plates.index(part.declared.slug) + 1} OF {len(plates)}"
    # The flank's angle by the uses that it is cut for: as cut it may be a little off.
    cut = [each for each in flanks_as_cut(facts.kit) if each.plate == part.declared.name and each.corner == corner]
    wanted = (*needed_angles(facts.kit.job).values(), SQUARE_DEG)
    angles = tuple(angle for each in cut for angle in wanted if abs(angle - each.angle_deg) <= 2 * EXACT_DEG)
    return found | {"angle": angles, "complement": tuple(90 - angle for angle in angles)}


def _score(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """The thickness at the score that a figure stands at: the gauge's as cut, the scale's by the line on it."""
    gauge = facts.kit.parts.get("taper-gauge") or part
    floor, slope = gauge.edge("edge on the floor"), gauge.edge("slope")
    left, right = mark.at[0], mark.at[0] + text_width(mark.text, mark.height_mm)
    scores = [row[0][0] for each in part.declared.marks for row in each.lines if abs(row[0][0] - row[-1][0]) < 1e-6]
    is_scale = part.declared.slug == "taper-scale"
    # On the scale a figure stands over its score, on the gauge beside it. The thickness there is the height of the
    # slope over the floor.
    gaps = {x: abs((left + right) / 2 - x) if is_scale else max(left - x, x - right) for x in scores}
    near = min((x for x in gaps if gaps[x] >= 0), key=lambda x: gaps[x], default=None)
    found: Here = {"unit": facts.kit.job.unit}
    if near is not None and gaps[near] <= _BESIDE_MM:
        (x, y), (ux, uy) = slope.start, slope.along
        found["score"] = abs(floor.left((near, y + (near - x) * uy / ux)))
    return found


def _on_gauge(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """The limit that it stands at, and that limit's size, which is held to the part as cut."""
    at, table = middle(mark), facts.table
    match part.declared.slug:
        case "leg-gauge":
            # The limits stand over one another as the notches do; one that runs over two lines begins with its name.
            walls = {"GO": "go, left wall", "THICKNESS": "thickness, lower wall", "NO-GO": "no-go, left wall"}
            order = sorted(walls, key=lambda name: -part.edge(walls[name]).middle[1])
            limits = [each for each in part.declared.marks if each.fact == mark.fact and each.text[:1].isupper()]
            rows = sorted({each.at[1] for each in limits}, reverse=True)
            if len(rows) != len(order) or mark.at[1] not in rows:
                return {}
            name = order[rows.index(mark.at[1])]
            size = {"GO": "leg_gauge.go", "THICKNESS": "leg.thickness", "NO-GO": "leg_gauge.no_go"}[name]
            return {"limit": name, "size": table[size]}
        case "housing-plug":
            # At the low end or at the high one; nearer to which side.
            low, high, straight = (part.edge(f"{name} side") for name in ("low", "high", "straight"))
            is_low = abs(low.middle[0] - at[0]) < abs(high.middle[0] - at[0])
            is_straight = _to_edge(straight, at) < min(_to_edge(low, at), _to_edge(high, at))
            found: Here = {"limit": "LOW", "size": table["plug.low"], "must": "GO IN"}
            if not is_low:
                found = {"limit": "HIGH", "size": table["plug.high"], "must": "STOP"}
            return found | {"dress": "THIS" if is_straight else "OTHER"}
        case _:
            # Which of the depth gauge's four shoulders.
            keys = [(face, limit) for face in ("top", "bottom") for limit in ("low", "high")]
            face, limit = min(keys, key=lambda key: _to_edge(part.edge(f"{key[0]} face, {key[1]} shoulder"), at))
            size_mm = facts.kit.setting("depth-gauge", f"depth gauge, {face} face, {limit}") or 0.0
            must = {"low": "LIE ON", "high": "STAND OFF"}[limit]
            return {"face": face.upper(), "limit": limit.upper(), "size": size_mm, "must": must}


def _guide(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """The hand of the guide that it is in, which the housing proved; the board's face that it lies on; whether it
    stands at the stop's end; nearer to the board's end than the other cheek, or farther."""
    if facts.by_hand.guides is None or not part.declared.placements:
        return {}
    place = part.declared.placements[0]
    hand = place.state if place.state in HANDS else "R"
    at, thick = place.frame.point((*middle(mark), 0.0)), facts.kit.job.top.thickness_mm
    stop = facts.by_hand.guides.piece("stop", hand).solid.bounds
    cheeks = {side: facts.by_hand.guides.piece(f"{side} cheek", hand) for side in ("near", "far")}
    ends = {side: min(abs(x) for x, _, _ in piece.solid.bounds) for side, piece in cheeks.items()}
    own = next((side for side in cheeks if part.declared.slug == f"saw-guide-{side}-cheek"), "near")
    away = min(abs(at[0] - stop[0][0]), abs(at[0] - stop[1][0]))
    return {
        "hand": hand,
        "face": "TOP" if place.frame.origin[2] >= -thick / 2 else "BOTTOM",
        "end": "OUT" if away < min(abs(at[0] - x) for x, _, _ in cheeks["near"].solid.bounds) else "IN",
        "side": "NEAR" if ends[own] == min(ends.values()) else "FAR",
    }


def _leg_box(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """Whether the mark lies where a leg's head does; which wall it is on; whether its face looks to the operator."""
    if facts.by_hand.box is None or not part.declared.placements:
        return {}
    frame = part.declared.placements[0].frame
    x, y, _ = frame.point((*middle(mark), 0.0))
    head = -facts.by_hand.box.axis[0]  # which way along x, from the saw
    return {
        "end": "THIS" if (x - facts.by_hand.box.saw_plane[0][0]) * head > 0 else "OTHER",
        "side": "NEAR" if y < 0 else "FAR",
        "face": "THIS" if frame.z_axis[1] < 0 else "OTHER",
    }


def _cradle(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """Which way the saw swings for either end; whether the mark is nearer to the blade's end than to the other; which
    cross piece stands where the leg is lower."""
    if facts.by_hand.cradle is None or not part.declared.placements:
        return {}
    x, _, _ = part.declared.placements[0].frame.point((*middle(mark), 0.0))
    (low, _, _), (high, _, _) = facts.by_hand.cradle.piece("cradle near rib").solid.bounds
    tops = {slug: facts.by_hand.cradle.cradle.part(slug).cut.material.bounds[3] for slug in _CROSS_PIECES}
    first, second = (facts.table.get(f"cradle.{name}", "") for name in ("first", "second"))
    return {
        "first": str(first).upper(),
        "second": str(second).upper(),
        "across": "" if first else "SQUARE",
        "end": "THIS" if high - x < x - low else "OTHER",
        "cross": "LOW" if tops.get(part.declared.slug) == min(tops.values()) else "HIGH",
    }


_CROSS_PIECES = ("cradle-low-cross-piece", "cradle-high-cross-piece")


def _template(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """The hand of the nearest hole; that of the legs which the marked face of the plate is turned away from, whose near
    edge the side strip then is at; that for which a lip of the head strip stands up.
    """
    template = facts.by_hand.template
    if template is None or not part.declared.placements:
        return {}
    frame, at = part.declared.placements[0].frame, middle(mark)
    plate, holes = template.piece("plate"), template.holes()
    middles = {hole.name: plate.part.hole(hole.name)[0] for hole in holes}
    nearest = min(holes, key=lambda hole: dist(middles[hole.name], at))
    face_hand = template.face_hand
    is_over = frame.point((*at, 0.0))[2] > plate.part.declared.thickness_mm / 2
    return {
        "hole_hand": nearest.hands if part.declared.slug == plate.part.declared.slug else "",
        "face_hand": face_hand,
        "lip_hand": face_hand if is_over else _OTHER[face_hand],
    }


def _coupon(facts: KitFacts, part: MeasuredPart, mark: DeclaredMark) -> Here:
    """The station whose opening is nearest; the axis whose arrow ends there."""
    at = middle(mark)
    # The distance from a box: that to the point of it which is nearest, both coordinates clamped to its sides.
    boxes = [(name, hole.bounds) for name, hole in part.declared.holes]
    near = [(dist(at, (min(max(at[0], a), c), min(max(at[1], b), d))), name) for name, (a, b, c, d) in boxes]
    station = min(near, key=lambda each: each[0], default=(0.0, ""))[1]
    arrows = [arrow for each in part.declared.marks if each.fact == "axis arrow" for arrow in arrow_of(each)]
    tail, tip = min(arrows, key=lambda arrow: dist(arrow[1], at), default=((0.0, 0.0), (0.0, 0.0)))
    ways = {"X": (tip[0] - tail[0], tip[1] - tail[1]), "Y": (tip[1] - tail[1], tip[0] - tail[0])}
    axis = next((name for name, (along, aside) in ways.items() if along > 0 and abs(aside) < 1e-6 * along), "")
    return {"station": (station[:1], "D"), "axis": axis}


def arrow_of(mark: DeclaredMark) -> list[tuple[Point, Point]]:
    """Tail and tip of an arrow: its shaft, and the middle point of its head."""
    if len(mark.lines) != 2 or len(mark.lines[1]) != 3:
        return []
    shaft, head = mark.lines
    tip = (head[1][0], head[1][1])
    ends = sorted(((shaft[0][0], shaft[0][1]), (shaft[-1][0], shaft[-1][1])), key=lambda end: dist(end, tip))
    return [(ends[1], tip)] if dist(ends[0], tip) < 1e-3 else []


_PLACES: dict[str, Callable[[KitFacts, MeasuredPart, DeclaredMark], Here]] = {
    **dict.fromkeys(("plate", "bearer", "end-bearer", "stop", "mask-for-slot"), _on_jig),
    **dict.fromkeys(("bevel-plate", "brace-template"), _on_flank),
    **dict.fromkeys(("taper-gauge", "taper-scale"), _score),
    **dict.fromkeys(("leg-gauge", "housing-plug", "depth-gauge"), _on_gauge),
    "coupon": _coupon,
    **dict.fromkeys((*_GUIDE_PARTS, "saw-guide-near-cheek", "saw-guide-far-cheek", "paring-guide-fence"), _guide),
    **dict.fromkeys((f"leg-box-{each}" for each in ("near-wall", "near-half", "far-wall", "far-half")), _leg_box),
    **dict.fromkeys(("cradle-rib", *_CROSS_PIECES), _cradle),
    **dict.fromkeys(("drilling-template-plate", "drilling-template-head-strip"), _template),
}
