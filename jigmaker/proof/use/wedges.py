"""Wedges as cut, and the board leaning between jaws with them: what is wrong (3xx to 5xx). Jig frame; mm, degrees.

v runs level and away from the operator and n plumb and up once the board leans back by 90 degrees less the splay. Each
wedge hangs by its ear on its jaw, its straight side against the jaw; the front one's slope lies on the fence, the back
one's on what is behind the board. So the wedges' angles alone make the board lean.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale
from jigmaker.job.job import Job
from jigmaker.proof.checks.measured import MeasuredPart, Unmeasured, missing_finding
from jigmaker.proof.checks.wood import wood_findings
from jigmaker.proof.expected import directions
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.assemble import board_in_jig, cut_findings, held, off_finding, same_place_findings
from jigmaker.proof.use.gauges import KitAsCut
from jigmaker.proof.use.housing_saw import HandGuides, clamped_board
from jigmaker.proof.use.jig import HANDS, JigAsCut, JigPiece, piece_named
from jigmaker.proof.use.rout import needed_projection, swept_tool
from jigmaker.record import dataclass

FRONT, BACK = ("front-wedge", "clamping-wedge"), "back-wedge"
STACKS = 2
SAW_GUIDE_USE, JIG_USE = "saw guide", "housing jig"
TOLD = ("jaws apart", "jaws below the top arris")
"""Settings of the front wedge, a comma and the use behind each."""

_STACK_MM = 20.0  # a stack narrower than this tips on its jaw
_EAR_MM = 10.0  # what of an ear must lie on the jaw, and how high it must be
_JAW_MM = (60.0, 100.0)  # thickness and depth of a vice's jaw; common practice, no source
_BEARS_MM = 20.0  # of the fence on a front wedge, plumb
_TOLD_MM = 0.02  # a figure over several parts as cut
_UNDER_MM = 3.0  # lugs over the jaws, along the board's face, and wedges under the cutter
_AXIS_MM = 5.0  # the router's axis inside of what carries it
_STROKE_MM = 250.0


@dataclass(frozen=True)
class Wedge:
    """One kind of wedge as cut. Every figure raises Unmeasured where an edge is not there."""

    part: MeasuredPart

    @property
    def lean_deg(self) -> float:
        """Slope off the straight side, and so the lean of what lies on it off what the other touches."""
        # Directions of lines, not of arrows: two of them enclose an angle and what is left of half a turn.
        turned = (self.part.edge("slope").direction_deg - self.part.edge("straight side").direction_deg) % 180
        return min(turned, 180 - turned)

    @cached_property
    def ear_mm(self) -> float:
        """From the ear's seat on the jaw to the wedge's upper end, along the straight side."""
        return self._along("ear, on the jaw", self.upper)

    @cached_property
    def below_mm(self) -> float:
        """From the ear's seat to the lower end."""
        return self._along("ear, on the jaw", "thin end" if self.upper == "thick end" else "thick end")

    @cached_property
    def upper(self) -> str:
        """The end that the ear is at."""
        ends = {end: self._along("ear, on the jaw", end) for end in ("thin end", "thick end")}
        return min(ends, key=lambda end: ends[end])

    def thickness(self, end: str) -> float:
        """Between straight side and slope at the "thin end" or the "thick end", mm."""
        # From the end of the slope that is there to the straight side.
        slope, at = self.part.edge("slope"), self.part.edge(end)
        corner = min((slope.start, slope.end), key=lambda p: abs(at.left(p)))
        return abs(self.part.edge("straight side").left(corner))

    def _along(self, one: str, other: str) -> float:
        return abs(self.part.edge(other).left(self.part.edge(one).middle))

    @property
    def layers(self) -> int:
        """How many layers of sheet a stack is glued of."""
        return self.part.declared.needed // STACKS

    @property
    def stack_mm(self) -> float:
        """How wide a stack is along its jaw, mm."""
        return self.part.declared.thickness_mm * self.layers

    def standing(self, x: float, face: float, top: float, way: int, v: Vector, n: Vector) -> Solid:
        """A stack whose straight side lies against a jaw at v = face, its ear on the jaw's top at n = top; its middle
        at X = x. way: +1 where its slope looks along v, -1 where it looks against it.
        """
        ring = list(self.part.cut.material.exterior.coords)[:-1]
        body = Solid.prism_of_points([ring], self.stack_mm).moved((0.0, 0.0, -self.stack_mm / 2))
        side, seat = self.part.edge("straight side"), self.part.edge("ear, on the jaw").middle
        # The part's x runs from the thin end to the thick one, its y from the straight side to the slope.
        up = 1 if self.upper == "thick end" else -1
        # The foot, on the straight side's line, of the perpendicular from the middle of the ear's seat: that point
        # comes to rest on the jaw's upper arris.
        share = side.left(seat)
        on_side = (seat[0] + side.along[1] * share, seat[1] - side.along[0] * share)
        x_axis, y_axis = scale(n, up), scale(v, way)
        corner = add(add((x, 0.0, 0.0), scale(v, face)), scale(n, top))
        origin = add(corner, add(scale(x_axis, -on_side[0]), scale(y_axis, -on_side[1])))
        return body.placed(Frame(origin, x_axis, y_axis, cross(x_axis, y_axis)))


#   front jaw |    / fence,  board,  strip /  | back jaw     Seen along the board, the operator at the left. Between the
#             |   /                       /   |              plumb jaws and the leaning board go two wedges, hung by
#             |  /                       /    |              their ears on the jaws: the front one with its thick end
#             | /                       /     |              up, the back one with its thin end up.
@dataclass(frozen=True)
class LeaningBoard:
    """A jig or saw guide on the board for a hand, leaning between jaws that are set as kit.json tells.

    apart_mm: from jaw to jaw; jaw_top: n of the jaws' tops.
    """

    use: str
    hand: str
    pieces: Sequence[JigPiece]
    job: Job
    board: Solid
    front: Wedge
    back: Wedge
    apart_mm: float
    jaw_top: float

    @cached_property
    def axes(self) -> tuple[Vector, Vector]:
        """(v, n): unit vectors, level away from the operator, and plumb upward; jig frame."""
        n = directions(self.job).wide
        return cross(n, (1.0, 0.0, 0.0)), n

    @cached_property
    def fence(self) -> JigPiece:
        """The piece that lies on the board's top face. Raises Unmeasured."""
        return piece_named(self.pieces, ("fence", "saw guide fence"), self.use, f"fence of the {self.use}")

    @cached_property
    def behind_mm(self) -> float:
        """How far behind the board's top face lies what the back wedge bears on: the back strip, or an offcut."""
        sheet = self.fence.part.declared.thickness_mm
        strips = [-piece.solid.bounds[0][2] for piece in self.pieces if piece.name.startswith("back strip")]
        return max(strips, default=self.job.top.thickness_mm + sheet)

    @cached_property
    def bodies(self) -> dict[str, Solid]:
        """Pieces, board and offcut by name; jig frame."""
        found = {piece.name: piece.solid for piece in self.pieces} | {"board": self.board}
        thick, (low, high) = self.job.top.thickness_mm, self.fence.solid.bounds
        if self.behind_mm > thick and not any(name.startswith("back strip") for name in found):
            found["offcut"] = Solid.block((low[0], low[1], -self.behind_mm), (high[0], 0.0, -thick))
        return found

    @property
    def highest_jaws(self) -> float:
        """n of the highest jaws: under everything that hangs beside the board, wedges under the housings' floor."""
        # _UNDER_MM counts along the board's face, which is Y: plumb it is that times n . Y.
        _, n = self.axes
        strips = ("fence", "saw guide fence", "back strip")
        lowest = min(dot(p, n) for each in self.pieces if not each.name.startswith(strips) for p in each.solid.corners)
        floor = self.job.leg.thickness_mm - self.job.housing.reveal_mm
        return min(lowest - _UNDER_MM * n[1], -floor - 5.0 - max(self.front.ear_mm, self.back.ear_mm))

    @property
    def touching(self) -> tuple[float, float]:
        """v of both jaws' faces where wedges hang on them and lie on the fence, and on the offcut or back strip."""
        # A plane Z = z of the leaning board meets the level n at v = (n cos - z) / sin of the splay's angle.
        (_, rise, run), front, back = self.axes[1], self.front, self.back
        low, high = self.jaw_top - front.below_mm, self.jaw_top + back.ear_mm
        fence = (low * run - self.fence.solid.bounds[1][2]) / rise
        return fence - front.thickness("thin end"), (high * run + self.behind_mm) / rise + back.thickness("thin end")

    @property
    def jaws(self) -> tuple[float, float]:
        """v of both jaws' faces, the front wedges on the fence and the back jaw where it is told."""
        front, _ = self.touching
        return front, front + self.apart_mm

    @cached_property
    def places(self) -> tuple[float, float]:
        """X of both stacks' middles, as far apart as they can stand before the fence and no lug. Raises Unmeasured."""
        # From left to right the free stretches of the fence, between lugs, that a stack has room in: one stack stands
        # at the left end of the first of them, one at the right end of the last.
        low, high, wide = self.fence.solid.bounds[0][0], self.fence.solid.bounds[1][0], self.front.stack_mm
        lugs = [each.solid.bounds for each in self.pieces if "bearer" in each.name or each.name.startswith("stop")]
        at, gaps = low, list[tuple[float, float]]()
        for start, end in [*sorted((box[0][0], box[1][0]) for box in lugs), (high, high)]:
            if min(start, high) - at >= wide:
                gaps.append((at, min(start, high)))
            at = max(at, end)
        if not gaps or gaps[-1][1] - gaps[0][0] < STACKS * wide:
            raise Unmeasured(missing_finding(self.use, f"no two wedges stand between the lugs of the {self.use}"))
        return gaps[0][0] + wide / 2, gaps[-1][1] - wide / 2

    @cached_property
    def holding(self) -> dict[str, Solid]:
        """Wedges and jaws by name; jig frame. Raises Unmeasured."""
        (v, n), (front, back), top = self.axes, self.jaws, self.jaw_top
        found: dict[str, Solid] = {}
        for x in self.places:
            found[f"front wedge at {x:.0f}"] = self.front.standing(x, front, top, 1, v, n)
            found[f"back wedge at {x:.0f}"] = self.back.standing(x, back, top, -1, v, n)
        level = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), v, n)
        (low, *_), (high, *_) = self.fence.solid.bounds
        thick, deep = _JAW_MM
        for name, near, far in (("front jaw", front - thick, front), ("back jaw", back, back + thick)):
            found[name] = Solid.block((low, near, top - deep), (high, far, top)).placed(level)
        return found


@dataclass(frozen=True)
class Wedges:
    """The wedges of a kit. back: None where they only clamp; leanings: one for each hand that is worked with them."""

    front: Wedge
    back: Wedge | None
    leanings: tuple[LeaningBoard, ...]


def wedges_as_cut(kit: KitAsCut, jig: JigAsCut, guides: HandGuides | None) -> Wedges | None:
    """The wedges of this kit, None where it has none. Raises Unmeasured."""
    fronts = [kit.parts[slug] for slug in FRONT if slug in kit.parts]
    if not fronts:
        return None
    front, back = Wedge(fronts[0]), Wedge(kit.parts[BACK]) if BACK in kit.parts else None
    leanings: list[LeaningBoard] = []
    for hand in HANDS if back else ():
        on_board: list[tuple[str, list[JigPiece], Solid]] = []
        if kit.shop.routs_housings:
            on_board.append((JIG_USE, jig.pieces(hand), board_in_jig(jig, hand)))
        if guides:
            wood = clamped_board(kit.job, 0.0 if hand == "R" else kit.job.top.length_mm)
            on_board.append((SAW_GUIDE_USE, guides.saw_guide.pieces(hand), wood))
        for use, pieces, wood in on_board:
            apart, below = (kit.declared(front.part.declared.slug, f"{what}, {use}") for what in TOLD)
            leanings.append(LeaningBoard(use, hand, pieces, kit.job, wood, front, back or front, apart, -below))
    return Wedges(front, back, tuple(leanings))


def wedge_findings(kit: KitAsCut, jig: JigAsCut, guides: HandGuides | None) -> Iterator[Finding]:
    """All that is wrong with the wedges, and with what leans between them. Raises Unmeasured."""
    wedges = wedges_as_cut(kit, jig, guides)
    if wedges is None:
        return
    yield from _shape_findings(kit, wedges.front, "thick end")
    if wedges.back:
        yield from _shape_findings(kit, wedges.back, "thin end")
    parts = tuple(each.part for each in (wedges.front, wedges.back) if each)
    yield from wood_findings(JigAsCut(kit.job, kit.shop, parts, {}))
    for leaning in wedges.leanings:
        name, (front, back) = leaning.front.part.declared.name, leaning.touching
        apart, below = (f"{what}, {leaning.use}" for what in TOLD)
        yield from held(349, name, apart, apart, leaning.apart_mm, back - front, within=_TOLD_MM)
        if (
            leaning.jaw_top > leaning.highest_jaws + _TOLD_MM
        ):  # lower ones hold as well, while enough of the fence bears
            yield off_finding(349, name, below, below, -leaning.jaw_top, -leaning.highest_jaws)
        yield from _place_findings(leaning, jig, guides)
        if leaning.use == JIG_USE:
            yield from _weight_findings(leaning, jig)


def _shape_findings(kit: KitAsCut, wedge: Wedge, upper: str) -> Iterator[Finding]:
    """The angle, the end that the ear is at, and a stack wide enough to stand."""
    name, lean = wedge.part.declared.name, 90 - kit.job.splay_deg
    what = "the slope off the straight side"
    yield from held(349, name, "slope", what, wedge.lean_deg, lean, "°", "job trestle.splay_deg")
    if wedge.upper != upper:
        says = f"{name}: its ear is at the {wedge.upper}, must be at the {upper}"
        yield Finding(349, says, AGAIN, part=name, value=wedge.upper, limit=upper, at="ear, on the jaw")
    seat, side = wedge.part.edge("ear, on the jaw"), wedge.part.edge("straight side")
    square = (seat.direction_deg - side.direction_deg) % 180
    yield from held(349, name, "ear, on the jaw", "the ear's seat off the straight side", square, 90.0, "°")
    least = {"ear on the jaw": (seat.length, _EAR_MM), "height of the ear": (wedge.ear_mm, _EAR_MM)}
    least["width of a stack"] = (wedge.stack_mm, _STACK_MM)
    for what, (value, wanted) in least.items():
        if value < wanted:
            says = f"{name}: the {what} is {value:.2f} mm, must be {wanted:.0f} mm or more"
            yield Finding(349, says, AGAIN, part=name, value=f"{value:.2f} mm", limit=f"{wanted:.0f} mm", at=what)


def _place_findings(leaning: LeaningBoard, jig: JigAsCut, guides: HandGuides | None) -> Iterator[Finding]:
    """Wedges and jaws in nothing else, enough of the fence on the front wedges; cutter or saw over the whole of their
    way in no wedge and no jaw.
    """
    n, fence = leaning.axes[1], leaning.fence
    foot = min(dot(p, n) for p in fence.solid.corners if p[2] > fence.solid.bounds[1][2] - 1.0)
    bears = leaning.jaw_top + leaning.front.ear_mm - foot
    if bears < _BEARS_MM:
        says = f"{bears:.1f} mm of the {fence.name} bear on the front wedges, must be {_BEARS_MM:.0f} mm"
        yield Finding(508, says, AGAIN, part=fence.name, value=f"{bears:.2f} mm", limit=f"{_BEARS_MM:.0f} mm")
    at = f"{leaning.use} {leaning.hand}, leaning"
    for one, body in leaning.holding.items():
        for other, solid in leaning.bodies.items():
            yield from same_place_findings(one, body, other, solid, at)
    tools, key = list[tuple[str, Solid]](), "shop hand_router"
    if leaning.use == JIG_USE:
        # A bush that does not go into its slot is told elsewhere.
        if not jig.bush_region(leaning.hand).is_empty:
            cutter = swept_tool(jig, leaning.hand, jig.shop.router.cutter_mm, -needed_projection(jig))
            tools.append(("the cutter", cutter))
    elif guides:
        saw, hand, key = guides.saw, leaning.hand, "shop hand_saw"
        for side in ("near", "far"):
            plate = guides.beside_cheek(side, hand, 0.0, saw.plate_mm, saw.depth_mm, _STROKE_MM)
            tools.append((f"the saw at the {side} cheek", plate))
    for tool, swept in tools:
        for name, body in leaning.holding.items():
            yield from cut_findings(tool, swept, name, body, key, at, "the ")


def _weight_findings(leaning: LeaningBoard, jig: JigAsCut) -> Iterator[Finding]:
    """The router's axis, wherever its bush can be, and the middle of the jig stand over what the ears span on the jaws.

    So does the weight of both together, however heavy each is.
    """
    import shapely

    v, _ = leaning.axes
    (front, back), wide = leaning.jaws, leaning.front.stack_mm / 2
    # Both stacks stand on the jaws with their ears: seen from above, what those span carries all the weight. Whatever
    # acts inside of it tips nothing. It is convex: where router and jig are inside of it, so is what both weigh
    # together.
    ears = [wedge.part.edge("ear, on the jaw").length for wedge in (leaning.front, leaning.back)]
    low, high = leaning.places
    feet = shapely.box(low - wide, front - ears[0], high + wide, back + ears[1])
    region, frame = jig.bush_region(leaning.hand), jig.plate_frame(leaning.hand)
    if region.is_empty:
        return
    points = [frame.point((x, y, 0.0)) for x, y in region.exterior.coords]
    # Where the jig's weight acts: its pieces are all of one wood, so each counts by its volume.
    weight, moment = 0.0, (0.0, 0.0, 0.0)
    for piece in leaning.pieces:
        flat, thick = piece.part.cut.material, piece.part.declared.thickness_mm
        weight += flat.area * thick
        middle = piece.frame.point((flat.centroid.x, flat.centroid.y, thick / 2))
        moment = add(moment, scale(middle, flat.area * thick))
    points.append(scale(moment, 1 / weight))
    for what, each in (("router's axis", points[:-1]), ("middle of the jig", points[-1:])):
        spots = shapely.points([(p[0], dot(p, v)) for p in each])
        away, is_in = shapely.distance(spots, feet.exterior), shapely.contains(feet, spots)
        margin = min(d if ok else -d for d, ok in zip(away.tolist(), is_in.tolist(), strict=True))
        if margin < _AXIS_MM:
            says = f"the {what} is {margin:.1f} mm inside of what the ears span on the jaws, must be {_AXIS_MM:.0f} mm"
            value, limit, at = f"{margin:.2f} mm", f"{_AXIS_MM:.0f} mm", f"{leaning.use} {leaning.hand}, leaning"
            yield Finding(519, says, AGAIN, "", leaning.front.part.declared.name, value, limit, at=at)
