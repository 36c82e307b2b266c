"""Every direction that papers and parts give, worked out by the proof from the job and the jig as cut.

Timber and jig frames. Which way the saw swings and leans follows from the sawn end's normal and the way the piece lies;
where jig pieces stand is looked at on the pieces as cut.
"""

from jigmaker.geometry.frames import Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.geometry.vectors import Vector, cross, dot, scale
from jigmaker.job.job import Job
from jigmaker.proof.checks.measured import Unmeasured, missing_finding
from jigmaker.proof.expected import DOWN, SEATS, UP, directions
from jigmaker.proof.expected_numbers import expected_housing
from jigmaker.proof.use.jig import ASSEMBLY, HANDS, JigAsCut, JigPiece, piece_named

_SAME_MM, _BESIDE_MM = 1e-3, 0.5
_SLIGHT = 1e-4  # sine of an angle that is written as 0.00 degrees
_OTHER = {"R": "L", "L": "R"}


def timber_directions(job: Job) -> dict[str, str]:
    """How leg and brace lie at the saw and are cut, and how a housing runs. A leg lies on its outer face or its near
    edge, a brace with its inside face up; head at the left (a choice that the pictures show)."""
    d = directions(job)
    ends = ("head", "foot")
    mitre, tilt = _cut(DOWN, d.down, scale(d.wide, -1), ends)
    edge_mitre, edge_tilt = _cut(DOWN, d.down, scale(d.edge, -1), ends)
    front = cross(d.down, scale(d.edge, -1))
    housing = expected_housing(job)
    # Board edge up, top face toward the operator: his right is up x toward. On the floor he stands at the near end, at
    # +x, and faces the board.
    at_bench, facing = cross((0.0, 1.0, 0.0), UP), cross((-1.0, 0.0, 0.0), UP)
    found = {}
    for hand in HANDS:
        seat = next((x, y) for (x, y), (named, edge) in SEATS.items() if named == hand and edge == 1)
        found[f"rout.end_{hand}"] = "right" if seat[0] * at_bench[0] > 0 else "left"
        near = next((x, y) for (x, y), (named, _) in SEATS.items() if named == hand and x == 1)
        found[f"foot.{hand}"] = "right" if near[1] * facing[1] > 0 else "left"
        # A cutter turns clockwise; fed with the wall at its left it cuts against the feed and is drawn to the wall:
        # inside an opening that is clockwise (common practice, no source).
        found[f"rout.feed_{hand}"] = "clockwise"
    return {
        **found,
        "saw.head": "left",
        "saw.face_down": "outer",
        "saw.mitre": mitre,
        "saw.tilt": tilt,
        "saw_edge.head": "left",
        "saw_edge.edge_down": "near",
        "saw_edge.outer_face": "toward you" if dot(front, d.wide) > 0 else "away from you",
        "saw_edge.mitre": edge_mitre,
        "saw_edge.tilt": edge_tilt,
        "housing.wall_runs": _word(
            housing["start_top_mm"] - housing["start_bottom_mm"], TOUCH_MM, "toward", "away from"
        ),
        "housing.deeper_face": _word(housing["depth_top_mm"] - housing["depth_bottom_mm"], TOUCH_MM, "top", "bottom"),
        **_brace(job),
    }


def _brace(job: Job) -> dict[str, str]:
    """A brace's end at -y, which lies in the outer face of the leg there, at the saw."""
    d = directions(job)
    # The plane of the outer face of the leg at -y, mirrored; the brace lies with the normal of its raked face down.
    end, up, right = (d.wide[0], -d.wide[1], d.wide[2]), scale(d.raked, -1), (0.0, -1.0, 0.0)
    mitre, tilt = _cut(end, right, up, ("brace", "waste"))
    away = cross(up, right)
    return {
        "saw_brace.inside_face": "up",
        "saw_brace.top_edge": "at the fence" if away[2] > 0 else "toward you",
        "saw_brace.mitre": mitre,
        "saw_brace.tilt": tilt,
        "saw_brace.other_end": "left" if dot(end, right) > 0 else "right",
        # A step outward, along the raked normal, moves the end plane in where the two normals agree.
        "saw_brace.shorter_face": _word(dot(d.wide, d.raked), _SLIGHT, "outside", "inside"),
    }


def _cut(normal: Vector, right: Vector, up: Vector, ends: tuple[str, str]) -> tuple[str, str]:
    """Toward which end the far end of the kerf lies, and the top of the blade; none where square. normal: out of the
    sawn end, toward the right; the operator looks from the near side."""
    away = cross(up, right)
    # The sawn plane through the blade: where it is crossed going away from the operator it moves right by -y/x, going
    # up by -z/x. Nothing is said of less than the papers would show.
    x, y, z = (dot(normal, axis) for axis in (right, away, up))
    at_left, at_right = ends
    return _word(-y / x, _SLIGHT, at_right, at_left), _word(-z / x, _SLIGHT, at_right, at_left)


def _word(amount: float, least: float, above: str, below: str) -> str:
    return "" if abs(amount) < least else above if amount > 0 else below


def jig_directions(jig: JigAsCut) -> dict[str, str]:
    """Where stop, mask, fence and openings lie on the jig as it goes together. Raises Unmeasured."""
    import shapely

    found: dict[str, str] = {}
    for hand in HANDS:
        centre = slot_x(jig, hand)
        found[f"rout.stop_{hand}"] = "right" if jig.stop_plane(hand) > centre else "left"
        masks = [piece for piece in jig.pieces(hand) if piece.part.declared.slug.startswith("mask-for-slot")]
        found[f"rout.mask_{hand}"] = mask_slot(jig, masks[0]) if masks else _OTHER[hand]
    fence, back = (_first(jig, name) for name in ("fence", "back strip"))
    bearer = _first(jig, "bearer")
    tenon, other = (bearer.part.edge(f"{name} tenon, end").middle for name in ("fence", "back strip"))
    stop = _first(jig, "stop")
    plate, frame = jig.plate("R"), jig.plate_frame("R")
    ends = [plate.edge(f"slot R, {end} end").middle for end in ("front", "rear")]
    # A notch opens to the side of its sill on which there is no wood.
    sill = stop.part.edge("window, sill").middle
    is_above = not stop.part.cut.material.contains(shapely.Point(sill[0], sill[1] + _BESIDE_MM))
    # Mortises lie above or below the middle of their part, which stands upright or on its head.
    heights = [y for name, hole in fence.part.declared.holes if name.startswith("mortise") for y in hole.bounds[1::2]]
    if not heights:
        raise Unmeasured(missing_finding(fence.name, f"kit.json tells no mortise of the {fence.name}", "mortise"))
    _, low, _, high = fence.part.cut.material.bounds
    are_high = sum(heights) / len(heights) > (low + high) / 2
    # The wall of the end bearers' mortises that is the stop plane lies outside the piece that is pushed against it.
    names = [name for name in plate.names("mortise, end") if name.endswith(("left wall", "right wall"))]
    if not names:
        raise Unmeasured(missing_finding(plate.declared.name, "kit.json tells no mortises for the end bearers"))
    outermost = max(plate.edge(name).middle[0] for name in names)
    return found | {
        # v rises away from the operator; the end of the slot in front of the board's top face is the one to park in.
        "rout.park": "front" if frame.point((*ends[0], 0.0))[2] > frame.point((*ends[1], 0.0))[2] else "rear",
        "jig.marks": "up" if jig.declared_frame(plate).z_axis[1] > 0 else "down",
        "jig.top_face": _toward(fence.frame.origin[2] - back.frame.origin[2]),
        "jig.fence_side": _toward(_z(bearer, tenon) - _z(bearer, other)),
        "jig.mortises": "upward" if (fence.frame.y_axis[1] > 0) is are_high else "downward",
        "jig.notch": "upward" if (stop.frame.y_axis[1] > 0) is is_above else "downward",
        "jig.push": "outward" if abs(outermost - jig.stop_x("R")) < _SAME_MM else "inward",
    }


def slot_x(jig: JigAsCut, hand: str) -> float:
    """X of the middle of a slot, jig frame."""
    return jig.declared_frame(jig.plate(hand)).origin[0] + slot_middle(jig, hand)[0]


def slot_middle(jig: JigAsCut, hand: str) -> Point:
    """The middle of a slot's two walls, part frame of the plate."""
    (ax, ay), (bx, by) = (jig.plate(hand).edge(f"slot {hand}, {side} wall").middle for side in ("near", "far"))
    return ((ax + bx) / 2, (ay + by) / 2)


def mask_slot(jig: JigAsCut, mask: JigPiece) -> str:
    """The hand of the slot in which a mask lies."""
    low_x, low_y, high_x, high_y = mask.part.declared.outline.bounds
    x = mask.frame.point(((low_x + high_x) / 2, (low_y + high_y) / 2, 0.0))[0]
    return min(HANDS, key=lambda hand: abs(slot_x(jig, hand) - x))


def _first(jig: JigAsCut, name: str) -> JigPiece:
    return piece_named(jig.pieces("R"), name, ASSEMBLY, f"{name} on the jig")


def _z(piece: JigPiece, at: tuple[float, float]) -> float:
    return piece.frame.point((*at, 0.0))[2]


def _toward(z: float) -> str:
    return "toward you" if z > 0 else "away from you"
