"""Tenons in mortises: how much play each has (502). Part frame of the part with mortises; mm.

Each part with mortises is cut through at half its thickness; what other pieces put through that plane are tenons.
"""

from __future__ import annotations

from collections.abc import Container, Iterator

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, PlaneFrame, Point
from jigmaker.geometry.outline import Bounds
from jigmaker.job.shop import SheetMaterial
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.jig import JigAsCut, JigPiece, Mortise, mortises
from jigmaker.units import fixed

_TIGHT_MM = 0.002  # play may be this much below nothing: rounding in the files
_LOOSE_MM = 0.3  # over the play asked for
_ASIDE_MM = 0.0008
STOPPED = "mortise, end"
_UNDER_END_MM = (1.65, 2.15)  # a tenon ends 1.5 mm under the face that it points at, 2 mm in a back strip
_LENGTHWISE_MM = 0.1  # play at either end of a tenon, at least half of it


def joint_findings(jig: JigAsCut, pieces: list[JigPiece], done: Container[str] = ()) -> Iterator[Finding]:
    """Every mortise of every piece has one tenon, with play on all sides and not too much; pieces done are left out."""
    sheet = jig.shop.sheet
    most = sheet.joint_clearance_mm + sheet.thickness_spread_mm + _LOOSE_MM
    for piece in pieces:
        holes = [] if piece.name in done else mortises(piece.part)
        boxes = {
            turn_deg: _through(piece, pieces, jig.shop.machine.kind == "cnc", turn_deg)
            for turn_deg in {mortise.turn_deg for mortise in holes}
        }
        for mortise in holes:
            (left, right), (front, rear) = mortise.x, mortise.y
            inside = [
                (name, box)
                for name, box in boxes[mortise.turn_deg]
                if 2 * left < box[0] + box[2] < 2 * right and 2 * front < box[1] + box[3] < 2 * rear
            ]
            if len(inside) != 1:
                says = f"{piece.name}: {len(inside)} tenons in {mortise.name}, must be 1"
                yield Finding(502, says, AGAIN, "", piece.name, at=mortise.name)
                continue
            yield from _play_findings(piece, mortise, *inside[0], most, jig.shop.sheet)


def _play_findings(
    piece: JigPiece, mortise: Mortise, tenon: str, box: Bounds, most: float, sheet: SheetMaterial
) -> Iterator[Finding]:
    #    mortise.y[1] _____________ rear        Play on each side: from the tenon's box to the mortise's wall.
    #                |   ._____.   |
    #           left |   |tenon|   | right
    #                |___'-----'___|
    #    mortise.y[0]     front
    sides = {
        "left": box[0] - mortise.x[0],
        "right": mortise.x[1] - box[2],
        "front": box[1] - mortise.y[0],
        "rear": mortise.y[1] - box[3],
    }
    # A tenon has as much play on one side as on the other; an end bearer's lies against the stop plane.
    pairs = [("front", "rear")] if mortise.name.startswith(STOPPED) else [("front", "rear"), ("left", "right")]
    for one, other in pairs:
        aside = abs(sides[one] - sides[other]) / 2
        if aside > _ASIDE_MM:
            between = f"{mortise.name}, between its {one} and {other} walls"
            says = f"{tenon} stands {fixed(aside, 4)} mm aside of the middle of {between}"
            do = AGAIN
            yield Finding(502, says, do, "", piece.name, f"{fixed(aside, 4)} mm", f"{_ASIDE_MM} mm", at=mortise.name)
    # A mortise is as wide as a sheet and its play, whichever way it lies; the other way it has the play of tenons'
    # ends. In a thick sheet it may be wider than long.
    wide = sheet.thickness_mm + sheet.thickness_spread_mm + sheet.joint_clearance_mm
    in_x, in_y = mortise.x[1] - mortise.x[0], mortise.y[1] - mortise.y[0]
    across = ("left", "right") if abs(in_x - wide) <= abs(in_y - wide) else ("front", "rear")
    for side, play in sides.items():
        least = -_TIGHT_MM if side in across else _LENGTHWISE_MM / 2
        if not least <= play <= most:
            says = f"{tenon} has {fixed(play, 3)} mm of play at the {side} of {mortise.name}"
            do = "write the folder again, or change sheet.joint_clearance"
            value, limit = f"{fixed(play, 4)} mm", f"{fixed(max(least, 0.0), 2)} to {fixed(most, 2)} mm"
            yield Finding(502, says, do, "shop sheet.joint_clearance", piece.name, value, limit, at=mortise.name)


def _through(piece: JigPiece, pieces: list[JigPiece], is_bitten: bool, turn_deg: float) -> list[tuple[str, Bounds]]:
    """Boxes of what other pieces put through the middle plane of this one, in its part frame turned by turn_deg.

    is_bitten: the bite of a wide cutter at a tenon's root can reach above that plane; just under where a tenon ends
    it has its true size.
    """
    # Everything as seen from the part with the mortises: its middle plane is at half its thickness, z = thickness / 2.
    (cx, cy), (sx, sy) = (
        PlaneFrame(0.0, 0.0, turn_deg).point((1.0, 0.0)),
        PlaneFrame(0.0, 0.0, turn_deg).point((0.0, 1.0)),
    )
    turned = Frame(x_axis=(cx, cy, 0.0), y_axis=(sx, sy, 0.0))
    part_from_jig, thickness = (piece.frame @ turned).inverse, piece.part.declared.thickness_mm
    found = []
    for other in pieces:
        if other is piece or lies_parallel(other, piece):
            continue
        body = other.solid.placed(part_from_jig)
        planes = [thickness - mm for mm in _UNDER_END_MM] + [_UNDER_END_MM[0]] if is_bitten else []
        ends = [_box(ring) for plane in planes for ring in body.outlines_at(plane)]
        for box in map(_box, body.outlines_at(thickness / 2)):
            above = [end for end in ends if end[0] < box[2] and box[0] < end[2] and end[1] < box[3] and box[1] < end[3]]
            low_x, low_y, high_x, high_y = zip(box, *above, strict=True)
            found.append((other.name, (min(low_x), min(low_y), max(high_x), max(high_y))))
    return found


def _box(ring: list[Point]) -> Bounds:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs), min(ys), max(xs), max(ys))


def lies_parallel(other: JigPiece, piece: JigPiece) -> bool:
    """True when the two lie parallel: a tenon comes from a piece that stands across."""
    a, b = other.frame.z_axis, piece.frame.z_axis
    return abs(a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) > 0.5
