"""The glued trestle on its flat reference, and where the legs' screws are. Paper mm.

Left the whole from its +x end with a clamp over two legs; right the heads of an R and of an L leg, square to their
outer face, so that what is marked on them is true.
"""

from math import copysign

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.view import RIGHT, View
from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.lettering import Anchor, text_width
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.papers.pictures.canvas import OUTLINE, SMALL_MM, THIN, Canvas, Spot, bounds_of_bodies
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import rule_text
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part
from jigmaker.parts.wedges import STRAIGHT_MM, lay_out_wedges
from jigmaker.trestle.angles import cotangent
from jigmaker.trestle.fixings import Screw, fixings, leg_marks
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import at_seat, board_solid, housing_solid, leg_solid, trestle_solids

_END_MM, _HIGH_MM, _COLUMN_MM = 31.0, 50.0, 30.0
_HEAD_MM, _APART_MM, _AWAY_MM = 24.0, 18.0, 16.0  # a leg's head; between the two; from the whole to them
_WIDEST_MM, _HEAD_HIGH_MM = 34.0, 41.0  # head and board round it, of legs that lean far
_FLOOR_MM = 40.0
_WEDGE_MM, _TIP_MM, _ARM_MM, _OVER_MM, _WIDE_MM = 6.0, 7.0, 18.0, 30.0, 30.0  # the clamp, at full size
_BELOW, _ASIDE = 0.5, 0.2  # leg below the board, and board beside it, in widths of the leg
_SEATS = (("R", 1), ("L", -1))
_DOT_MM = 0.45
SCREW_NUMBERS = {"upper": "1", "lower": "2"}
_BESIDE: dict[str, tuple[float, Anchor]] = {"upper": (1.0, "left"), "lower": (-1.0, "right")}
_HEAD_SHARE = 0.8  # radius of a screw's head over the screw's diameter


def gluing_picture(trestle: Trestle, kit: Kit | None = None) -> Picture:
    """Feet on the flat, legs drawn home by a clamp over wedges, braces up under the board; the screws of the legs.

    kit: in whose wedges the clamp is set, where it has any for that.
    """
    canvas, screws = Canvas(), fixings(trestle).screws
    bodies = gluing_bodies(trestle, kit)
    drawn = project(bodies, RIGHT)
    x, y, far_x, far_y = bounds_of_bodies(drawn)
    size = min(_END_MM / (far_x - x), _HIGH_MM / (far_y - y))
    spot = Spot(size, -size * x, -size * y)
    for body in drawn:
        is_timber = body.name.startswith(("top", "leg", "brace"))
        canvas.bodies([body], spot, (OUTLINE if is_timber else THIN, THIN))
    for screw in screws:
        if screw.joins == "brace to leg" and screw.seat[0] == 1:
            canvas.add(THIN, Circle(spot.point(RIGHT.point(screw.at)), _DOT_MM))
    right = canvas.bounds[2]
    a_leg = sum(screw.joins == "leg to board" for screw in screws) // 4
    # What holds what, in the view from the end.
    wedge = _clamping_wedge(kit)
    job, y = trestle.job, trestle.foot.spread_across_mm / 2
    thick = job.top.thickness_mm
    until = ("the glue is hard", "the screw holds", "both screws hold")[a_leg]
    at = {
        f"clamp, until {until}": (-0.3 * y, _OVER_MM + _ARM_MM / 2),
        f"{wedge.name}, ear up" if wedge else "wedge, sawn at the splay": (
            -_out_at(trestle, 0.5 * thick) - _WEDGE_MM / 2,
            -0.6 * thick,
        ),
        "brace tight under the board": (-0.2 * trestle.brace.top_mm, -thick - 0.6 * job.brace.depth_mm),
        "flat reference": (-0.9 * y, -job.height_mm - 6.0),
    }
    names = [NameLabel(words, spot.point(place), "left") for words, place in at.items()]
    name_beside(canvas, names, _COLUMN_MM)
    if a_leg:
        _heads(trestle, screws, canvas, right + _AWAY_MM)
    return canvas.picture("Gluing and screwing" if a_leg else "Gluing")


def gluing_bodies(trestle: Trestle, kit: Kit | None = None) -> list[Body]:
    """What is seen from the +x end: pieces of the trestle, clamp, wedges, floor; timber frame."""
    solids = trestle_solids(trestle)
    seen = [Body(name, solid) for name, solid in solids.items() if "-x" not in name]
    y, floor = trestle.foot.spread_across_mm / 2 + _FLOOR_MM, -trestle.job.height_mm
    ground = Solid.block((-1.0, -y, floor - 12.0), (1.0, y, floor))
    # The wedge on the +y leg, and y of its upright face: the kit's, or an off-cut sawn at the splay.
    thick, x = trestle.job.top.thickness_mm, _at_leg(trestle)
    lay, part = lay_out_wedges(trestle, kit.shop) if kit else None, _clamping_wedge(kit)
    if lay and part:
        out, up = lay.clamp_apart(trestle.job) / 2, -STRAIGHT_MM - lay.under_head(trestle.job)
        # The part's x runs up from its thin end, its y from the ear, which is out, to the slope.
        own = Frame((x - _WIDE_MM / 2, out + lay.ear_out, up), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))
        wedge = Solid.prism(part.outline, [], _WIDE_MM, 6).placed(own)
    else:
        out = _out_at(trestle, thick) + _WEDGE_MM
        section = [(_out_at(trestle, down), -down) for down in (0.1 * thick, 0.9 * thick)]
        section += [(out, -0.9 * thick), (out, -0.1 * thick)]
        wedge = Solid.hull([(x + side, y, z) for side in (-_WIDE_MM / 2, _WIDE_MM / 2) for y, z in section])
    return [
        *seen,
        Body("wedge +y", wedge),
        Body("wedge -y", wedge.mirrored((0.0, 1.0, 0.0))),
        Body("clamp", _clamp(trestle, out)),
        Body("floor", ground),
    ]


def _clamping_wedge(kit: Kit | None) -> Part | None:
    """The kit's wedge for clamps, None where it has none."""
    if kit is None or "clamping wedges" not in kit.shop.also:
        return None
    return next((part for part in kit.parts if part.slug in ("front-wedge", "clamping-wedge")), None)


def _at_leg(trestle: Trestle) -> float:
    """x of the middle of the leg, where it leaves the board."""
    near, far = leg_corners(trestle)[:2]
    return (near[0] + far[0]) / 2


def _out_at(trestle: Trestle, down: float) -> float:
    """y of the leg's outer face so far below the top face."""
    return leg_corners(trestle)[0][1] + down * cotangent(trestle.job.splay_deg)


def _clamp(trestle: Trestle, tip: float) -> Solid:
    """A bow over the board, its tips on both wedges, at y = tip and its mirror image, in the middle of the legs."""
    # Seen along the board; the ring is drawn once on the +y side and mirrored:
    #
    #      ____________________
    #     |  ________________  |     over the board
    #     | |                | |
    #     | |_   ________   _| |     tips on the wedges, w
    #     |___| w|board  |w |___|
    #
    thick = trestle.job.top.thickness_mm
    out = tip + 16.0
    half = [(tip, -thick / 2 - _TIP_MM), (out + _ARM_MM, -thick / 2 - _TIP_MM), (out + _ARM_MM, _OVER_MM + _ARM_MM)]
    inner = [(out, _OVER_MM), (out, -thick / 2 + _TIP_MM), (tip, -thick / 2 + _TIP_MM)]
    ring = [*half, *((-y, z) for y, z in reversed(half)), *((-y, z) for y, z in reversed(inner)), *inner]
    # The prism's own z runs along the board.
    own = Frame((_at_leg(trestle) - 6.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    return Solid.prism_of_points([ring], 12.0).placed(own)


def _heads(trestle: Trestle, screws: tuple[Screw, ...], canvas: Canvas, left: float) -> None:
    """The heads of both legs at the board's +y edge, each under its hand."""
    view = View.from_viewer(leg_directions(trestle)[1])
    for hand, seat in _SEATS:
        drawn = project(head_bodies(trestle, seat), view)
        x, y, far_x, far_y = bounds_of_bodies(drawn)
        size = min(_HEAD_MM / trestle.leg.level_width_mm, _WIDEST_MM / (far_x - x), _HEAD_HIGH_MM / (far_y - y))
        spot = Spot(size, left - size * x, _HEAD_HIGH_MM - size * far_y)
        canvas.bodies(drawn[:1], spot)
        canvas.bodies(drawn[1:], spot, (THIN, THIN))
        for screw in screws:
            if screw.joins == "leg to board" and screw.seat == (seat, 1):
                at = spot.point(view.point(screw.at))
                # The head with its number beside it, toward the leg's middle: the upper one is by the left edge.
                radius, (away, anchor) = _HEAD_SHARE * screw.diameter_mm * size, _BESIDE[screw.name]
                canvas.add(THIN, Circle(at, radius))
                canvas.line([(at[0] - 0.5 * radius, at[1]), (at[0] + 0.5 * radius, at[1])])
                canvas.line([(at[0], at[1] - 0.5 * radius), (at[0], at[1] + 0.5 * radius)])
                beside = (at[0] + away + copysign(radius, away), at[1] - SMALL_MM / 2)
                canvas.words(SCREW_NUMBERS[screw.name], beside, anchor)
                if hand == "R":
                    # The head's line as sawn on the outer face; the arris behind it is seen a little higher.
                    head = add(leg_corners(trestle)[0], scale(leg_directions(trestle)[0], -trestle.job.leg.horn_mm))
                    head_y = spot.point(view.point(head))[1]
                    over = spot.point((0.0, max(p[1] for piece in drawn[0].visible for p in piece)))[1]
                    room = (head_y, over, left, left + size * (far_x - x))
                    _dimensions(trestle, canvas, screw, (at, spot), room)
        words = f"leg in {hand}, from outside"
        wide = max(size * (far_x - x), text_width(words, SMALL_MM))
        canvas.words(words, (left + size * (far_x - x) / 2, _HIGH_MM - SMALL_MM), "middle")
        left += wide + _APART_MM


def _dimensions(
    trestle: Trestle, canvas: Canvas, screw: Screw, at: tuple[Point, Spot], room: tuple[float, float, float, float]
) -> None:
    """From the head's line as sawn, and from the arris beside it, both square.

    room: the head's line, the highest of the leg that is seen, left and right of all.
    """
    (x, y), spot = at
    head_y, over, low_x, high_x = room
    marks = leg_marks(trestle)
    mark = next(mark for mark in marks if mark.name == screw.name and mark.hand != "L")
    out = scale(leg_directions(trestle)[2], mark.from_edge_mm if mark.edge == "near" else -mark.from_edge_mm)
    foot = spot.point(View.from_viewer(leg_directions(trestle)[1]).point(add(screw.at, out)))
    canvas.span((x, head_y), (x, y))
    # Of two screws each figure runs away from the other's, which is near it on a narrow leg.
    away: dict[str, tuple[float, Anchor]] = {"left": (2.0, "right"), "right": (-2.0, "left")}
    aside, anchor = away[mark.side] if len(marks) == 2 and not mark.hand else (0.0, "middle")
    canvas.words(rule_text(mark.from_head_mm, trestle.job.unit), (x + aside, over + 1.4), anchor)
    canvas.span(foot, (x, y))
    is_left = foot[0] < x
    end = low_x - 1.5 if is_left else high_x + 1.5
    canvas.line([foot, (end, foot[1])])
    shown = rule_text(mark.from_edge_mm, trestle.job.unit)
    canvas.words(shown, (end - 1.0 if is_left else end + 1.0, foot[1] - SMALL_MM / 2), "right" if is_left else "left")


def head_bodies(trestle: Trestle, seat: int) -> list[Body]:
    """The upper end of the leg at this end of the +y edge, as sawn, and the board round it; timber frame."""
    job, wide = trestle.job, trestle.job.leg.width_mm
    below: Vector = (0.0, 0.0, -job.top.thickness_mm - _BELOW * wide)
    leg = leg_solid(trestle, finished=False).kept_below(below, (0.0, 0.0, -1.0))
    near, far = (corner[0] for corner in leg_corners(trestle)[:2])
    board = board_solid(trestle).minus(housing_solid(trestle))
    reach = min(near + _ASIDE * wide, job.top.length_mm / 2)
    board = board.kept_below((reach, 0.0, 0.0), (1.0, 0.0, 0.0))
    board = board.kept_below((far - _ASIDE * wide, 0.0, 0.0), (-1.0, 0.0, 0.0))
    return [Body("leg", at_seat(leg, seat, 1)), Body("board", at_seat(board, seat, 1))]
