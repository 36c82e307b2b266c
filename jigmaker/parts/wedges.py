"""Wedges at the splay's angle, for clamps over splayed legs and for a vice that holds the board leaning back.

Trestle and Shop in; WedgeLayout, Parts and Findings out; mm, degrees. A wedge is a stack of layers of the sheet. Its
straight side lies against a jaw, its slope against what leans, and its ear, which is always up, on the jaw: at the
thick end of a front wedge, which clamps legs too, and at the thin end of a back wedge.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, shifted
from jigmaker.parts.housing_jig.layout import LUG_MM, STRIP_PLAY_MM, lay_out_jigs
from jigmaker.parts.housing_saw.layout import lay_out_saw
from jigmaker.parts.mark_list import short_name, words_of
from jigmaker.parts.part import Mark, Part, Placement, Said, Setting
from jigmaker.parts.relief import Bites, bites_of, relief_radius
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.records import Trestle
from jigmaker.units import fixed, length_text

ASSEMBLY = "wedges"
STACKS = 2
"""Of each kind: one before and one behind at either end of the jaws; one on each leg of a pair."""

THIN_MM = 6.0
STRAIGHT_MM = 48.0  # of a wedge below the jaw's top
EAR_MM, EAR_OUT_MM, EAR_SEAT_MM = 12.0, 14.0, 10.5  # an ear's least height, depth and seat on the jaw
JAW_DEEP_MM = 100.0  # a front jaw below its top; common practice, no source
CLEAR_MM = 0.5
AXIS_INSIDE_MM = 6.0  # the router's axis, inside what the ears span
BEARS_MM = 30.0  # plumb, of the fence on a front wedge
STACK_MM, LEAST_STACK_MM = 27.0, 20.0  # a stack's width, as nearly as whole layers come
CUTTER_CLEAR_MM = 5.0
LUG_CLEAR_MM = 3.0  # along the board's face
CLAMP_MM = 8.0  # a clamp's jaw above its middle; common practice, no source
SEEN_OFF_MM = 3.0  # what stands out over a leg's edge: two corners of about a hundredth of what bears
LEAST_LEAN_DEG = 0.2  # a board that leans less needs no wedges
STEEPEST_CLAMPED_DEG = 25.0  # on a leg that leans more a wedge slides in spite of abrasive paper; from memory
SLIPPERY_DEG = 15.0  # from here on its slope wants abrasive paper: tan 15 = 0.27, wood on wood; from memory
AWAY_MM = 1.5


# Leaning frame: the plate plane's (v, m) of the housing jig. The board leans back by 90 - b, b the splay, so that v is
# level, away from the operator, m plumb, up, and the housings' floor, m = -d, level. O is the board's top arris.
#
#                  O________
#      front       /       /    back           Cutter and saw come down to m = -d over the whole of v, before the
#      wedge  /   / board /   \ wedge          fence too: a wedge's top stays CUTTER_CLEAR_MM under it. The bearers'
#      ______/_  /       /  ___\_____          lugs hang down before the fence, and behind the back strip, where the
#     |ear  //| /       / /|    ear  |         lean lowers them most: the jaws' tops stay LUG_CLEAR_MM below them. An
#     ----.// |fence   /strip .-------         ear is so high between the two that BEARS_MM of the fence bear on its
#     jaw |/  /       /   /  \| jaw            wedge.


@dataclass(frozen=True, slots=True)
class Leaning:
    """One jig on the leaning board, by what the wedges must keep clear of and bear on; mm.

    lowest, fence_foot, board_foot: m of the lowest corner of its lugs, of the fence's lower edge, and of the lower
    arris of the board's top face. ceiling: m of the lowest that stands over the back wedge. thick: fence, board and
    what lies behind it. fence: thickness of the fence alone. axis: v of the router's axis when it is farthest back.
    """

    lowest: float
    fence_foot: float
    board_foot: float
    ceiling: float
    thick: float
    fence: float
    axis: float | None = None


@dataclass(frozen=True, slots=True)
class WedgeLayout:
    """The wedges of a kit and how they stand. leanings: by "rout" and "saw", what they hold leaning; empty if none."""

    splay_deg: float
    floor: float  # d: the housings' depth square to their floor
    layer: float
    clamps: bool
    leanings: dict[str, Leaning]
    bites: Bites

    @property
    def layers(self) -> int:
        """Of a stack."""
        return max(ceil(LEAST_STACK_MM / self.layer), round(STACK_MM / self.layer))

    @property
    def ear(self) -> float:
        """Height of an ear over the jaw, in whole mm: so that enough of the first fence that the wedges hold bears on
        them, as far as there is room.
        """
        for leaning in self.leanings.values():
            jaw = self._under_lugs(leaning)
            room, wanted = floor(self._highest - jaw + TOUCH_MM), ceil(leaning.fence_foot + BEARS_MM - jaw - EAR_MM)
            return EAR_MM + max(0, min(room, wanted))
        return EAR_MM

    @property
    def height(self) -> float:
        """Of a wedge, from its thin to its thick end."""
        return STRAIGHT_MM + self.ear

    @property
    def ear_out(self) -> float:
        """How far an ear lies on its jaw: a bite in its corner leaves it a seat."""
        return max(EAR_OUT_MM, self.bites.along + EAR_SEAT_MM)

    @property
    def back_thin(self) -> float:
        """A back wedge's thin end: the router's axis stays over what the ears span on the jaws."""
        wanted = [THIN_MM]
        for use, leaning in self.leanings.items():
            if leaning.axis is not None:
                strip = (leaning.thick - leaning.fence) / sine(self.splay_deg)
                slope = (self.jaw_top(use) + self.ear) * cotangent(self.splay_deg) + strip
                wanted.append(leaning.axis + AXIS_INSIDE_MM - self.ear_out - slope)
        return ceil(2 * max(wanted) - TOUCH_MM) / 2

    @property
    def thin(self) -> float:
        """A front wedge's thin end: fence and board, which come forward below it, stay clear of the jaw."""
        cot, wanted = cotangent(self.splay_deg), [THIN_MM]
        for use, leaning in self.leanings.items():
            top, fence = self.jaw_top(use), leaning.fence / sine(self.splay_deg)
            # From the slope at the thin end forward to fence and board at a level n: by cot b for each mm of fall.
            board = top - STRAIGHT_MM - max(leaning.board_foot, top - JAW_DEEP_MM)
            wanted += [(top - STRAIGHT_MM - leaning.fence_foot) * cot + CLEAR_MM, board * cot - fence + CLEAR_MM]
        return ceil(2 * max(wanted) - TOUCH_MM) / 2

    def thickness(self, up: float) -> float:
        """Of a front wedge between straight side and slope, so far from the thin end."""
        return self.thin + up * cotangent(self.splay_deg)

    @property
    def _highest(self) -> float:
        """m of the highest jaws that leave the least ear under cutter, saw and what stands over the back wedges."""
        ceilings = (leaning.ceiling for leaning in self.leanings.values())
        return min([-self.floor, *ceilings]) - CUTTER_CLEAR_MM - EAR_MM

    def _under_lugs(self, leaning: Leaning) -> float:
        return min(leaning.lowest - LUG_CLEAR_MM * sine(self.splay_deg), self._highest)

    def jaw_top(self, use: str) -> float:
        """m of the jaws' tops, under the board's top arris, so: below 0."""
        return min(self._under_lugs(self.leanings[use]), self._highest + EAR_MM - self.ear)

    def jaws_apart(self, use: str) -> float:
        """Level, from jaw to jaw: at any height front and back wedge together are as thick."""
        level = self.leanings[use].thick / sine(self.splay_deg)
        return self.thin + self.back_thin + self.height * cotangent(self.splay_deg) + level

    def front_jaw(self, use: str) -> float:
        """v of the front jaw's face: there the front wedge's thin end, STRAIGHT_MM below the jaw's top, meets it."""
        foot = self.jaw_top(use) - STRAIGHT_MM
        return foot * cotangent(self.splay_deg) - self.leanings[use].fence / sine(self.splay_deg) - self.thin

    def under_head(self, job: Job) -> float:
        """How far an ear's underside is below the head line of a leg that is clamped: a clamp at the middle of the
        board's thickness finds room under it.
        """
        return min(EAR_MM, max(0.0, floor(job.top.thickness_mm / 2 - CLAMP_MM)))

    def runs_off(self, trestle: Trestle) -> float:
        """How far a clamped stack stands out over the leg's edges, level, its middle over the leg's where it bears: at
        one edge at its upper end and as far at the other at its lower end; 0 or less where all of it bears.
        """
        # The stack stands upright and the leg rakes: from end to end of what bears it goes aside by cot a each mm.
        bears = STRAIGHT_MM + min(self.ear, self.under_head(trestle.job))
        aside = bears * cotangent(trestle.job.rake_deg)
        return (self.layers * self.layer + aside - trestle.leg.level_width_mm) / 2

    def clamp_apart(self, job: Job) -> float:
        """From one wedge's straight side to the other's, on the legs of a pair."""
        stands_out = job.housing.reveal_mm / sine(self.splay_deg)
        return job.top.width_mm + 2 * (stands_out + self.thickness(STRAIGHT_MM + self.under_head(job)))


def lay_out_wedges(trestle: Trestle, shop: Shop) -> WedgeLayout | None:
    """The wedges of this job and shop, None where it has none: none are wanted, or nothing leans."""
    splay_deg = trestle.job.splay_deg
    lean_deg = 90 - splay_deg
    clamps = "clamping wedges" in shop.also and lean_deg <= STEEPEST_CLAMPED_DEG
    leans = "leaning wedges" in shop.also
    if lean_deg <= LEAST_LEAN_DEG or not (clamps or leans):
        return None
    s, c = sine(splay_deg), cosine(splay_deg)
    board = -trestle.job.top.width_mm * s
    thick, leanings = trestle.job.top.thickness_mm, dict[str, Leaning]()
    if leans and shop.routs_housings:
        jig = lay_out_jigs(trestle, shop)[0]
        # The rear lug's outer corner: Y = -lug_depth, and as far behind the board as strip, play and lug are thick.
        behind = thick + jig.sheet + 2 * STRIP_PLAY_MM + LUG_MM
        foot = jig.sheet * c - jig.strip_depth * s
        axis = jig.bush_travel[1]
        lowest = -jig.lug_depth * s - behind * c
        leanings["rout"] = Leaning(lowest, foot, board, 0.0, thick + 2 * jig.sheet, jig.sheet, axis)
    if leans and shop.saws_housings:
        saw = lay_out_saw(trestle, shop)
        # It has lugs before the fence alone; an offcut as thick as the sheet lies behind the board.
        lowest, foot = (saw.sheet * c - depth * s for depth in (saw.lug_depth, saw.fence_depth))
        # The cheeks' lower edges go on behind the board, along the edge's own line.
        ceiling = -(saw.cheek_span[1] + saw.sheet) * cotangent(splay_deg) + CUTTER_CLEAR_MM - LUG_CLEAR_MM
        leanings["saw"] = Leaning(lowest, foot, board, ceiling, thick + 2 * saw.sheet, saw.sheet)
    layer = shop.sheet_for(ASSEMBLY).thickness_mm
    return WedgeLayout(splay_deg, trestle.housing.depth_square_mm, layer, clamps, leanings, bites_of(shop))


def wedge_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Two stacks of front wedges, which clamp too, and two of back wedges; clamping wedges alone where nothing leans
    but legs.
    """
    lay = lay_out_wedges(trestle, shop)
    if lay is None:
        return ()
    if not lay.leanings:
        return (_wedge(lay, "clamping wedge", 0, trestle.job, shop),)
    return (_wedge(lay, "front wedge", 0, trestle.job, shop), _wedge(lay, "back wedge", 1, trestle.job, shop))


def _wedge(lay: WedgeLayout, name: str, kind: int, job: Job, shop: Shop) -> Part:
    """kind: 0 with the ear at the thick end, 1 at the thin end. Part frame: x from the thin end, the ear below."""
    #                        ___+                   ___+       x to the right from the thin end, y up, 0 at the ear's
    #          slope ___----    | thick      ___----   |       outer side once all is shifted by `out`
    #         +-----            | end     +--          |
    #    thin |                 |         |            |
    #    end  +-------------+   |         |   +--------+
    #          straight side|   |         |   |straight side
    #                       +---+ ear     +---+ ear
    #              front                    back
    #
    # Outside corners run anticlockwise from the lower left. The corner between ear and straight side takes the jaw's
    # arris, so it gets the relief that a cutter or the beam needs there.
    long, ear, out, thin = lay.height, lay.ear, lay.ear_out, lay.back_thin if kind else lay.thin
    slope = [
        OutlineCorner((long, thin + long * cotangent(lay.splay_deg)), "slope"),
        OutlineCorner((0.0, thin), "thin end", "free"),
    ]
    if kind == 0:
        run = [
            OutlineCorner((0.0, 0.0), "straight side"),
            OutlineCorner((long - ear, 0.0), "ear, on the jaw", "edge", True),
            OutlineCorner((long - ear, -out), "ear, outer side", "free"),
            OutlineCorner((long, -out), "thick end", "free"),
        ]
    else:
        run = [
            OutlineCorner((0.0, -out), "ear, outer side", "free"),
            OutlineCorner((ear, -out), "ear, on the jaw"),
            OutlineCorner((ear, 0.0), "straight side", "edge", True),
            OutlineCorner((long, 0.0), "thick end", "free"),
        ]
    outline, features = draw_outline(shifted([*run, *slope], (0.0, out)), relief_mm=relief_radius(shop))
    slug, count = name.replace(" ", "-"), STACKS * lay.layers
    part = Part(
        name=name,
        slug=slug,
        assembly=ASSEMBLY,
        hand="",
        needed=count,
        spares=0,
        thickness_mm=lay.layer,
        outline=outline,
        features=(*features, across(features, "thin end", "thick end", "height", "free", long)),
        settings=_settings(lay, job) if kind == 0 else (),
        # As they are glued: each stack flat on the bench, one beside the other, layer on layer.
        placements=tuple(
            Placement(
                f"{name} {i // lay.layers + 1}, layer {i % lay.layers + 1}",
                "both",
                Frame((kind * (long + 20.0), i // lay.layers * 2 * long, i % lay.layers * lay.layer)),
            )
            for i in range(count)
        ),
    )
    return replace(part, marks=_marks(lay, slug, shop))


def _settings(lay: WedgeLayout, job: Job) -> tuple[Setting, ...]:
    told = [Setting("wedge", 90 - lay.splay_deg, "deg", "slope off the straight side: 90 less the splay", "wedge")]
    if lay.clamps:
        why = "over wedges on the legs of a pair, at the middle of the board's thickness"
        told.append(Setting("clamp's jaws apart", lay.clamp_apart(job), "mm", why, "level"))
    for use, jig in (("rout", "housing jig"), ("saw", "saw guide")):
        if use in lay.leanings:
            why = f"from jaw to jaw, both wedges and the board with its {jig} between"
            told.append(Setting(f"jaws apart, {jig}", lay.jaws_apart(use), "mm", why, "level"))
            why = "so that lugs hang clear of the jaws, and wedges stay under cutter and saw"
            told.append(Setting(f"jaws below the top arris, {jig}", -lay.jaw_top(use), "mm", why, "plumb"))
    return tuple(told)


def _marks(lay: WedgeLayout, family: str, shop: Shop) -> tuple[Mark, ...]:
    """Name and lean between straight side and slope, as much of it as goes, else the two letters of the name."""
    words = words_of(family, ["name", "lean"], shop, lean=fixed(90 - lay.splay_deg, 2))
    low, away = lay.ear_out + AWAY_MM + lay.bites.behind, AWAY_MM / sine(lay.splay_deg)
    boxes = []
    for up in range(4, floor(THIN_MM + lay.height * cotangent(lay.splay_deg))):
        # The higher a box, the farther from the thin end it begins, or the slope cuts its corner off.
        begins = (low - lay.ear_out + up + away - THIN_MM) / cotangent(lay.splay_deg)
        boxes.append(Box(max(AWAY_MM, begins), low, lay.height - AWAY_MM, low + up))
    for lines in (words, [Said(short_name(family), "name")]):
        tried = (fill_box(lines, box, 5.0) for box in boxes)
        marks = max(tried, key=lambda marks: (len({mark.fact for mark in marks}), -len(marks)), default=())
        if marks:
            return marks
    return ()


def check_wedges(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """Cautions where wedges that the shop file asks for by name are not made, where a leg is too narrow for them to
    bear all over, and where its vice does not take them.
    """
    lean_deg, asked = 90 - trestle.job.splay_deg, shop.kit.also or ()
    for name in ("clamping wedges", "leaning wedges"):
        if name not in asked:
            continue
        if lean_deg <= LEAST_LEAN_DEG:
            says, do = "nothing leans at this splay", "clamp legs and board without them"
        elif name == "clamping wedges" and lean_deg > STEEPEST_CLAMPED_DEG:
            says = f"a clamp's wedges slide on legs that lean {fixed(lean_deg, 2)}° off plumb"
            do = "screw the legs, or clamp them to a block screwed to the board"
        else:
            continue
        yield Finding(246, f"asks for {name}, which are not made: {says}", do, "shop kit.also", severity="caution")
    opens, lay = shop.kit.jaws_mm, lay_out_wedges(trestle, shop)
    if lay and lay.clamps and (off := lay.runs_off(trestle)) >= SEEN_OFF_MM:
        wide, out, middle = (
            length_text(mm, trestle.job.unit, 1)
            for mm in (lay.layers * lay.layer, off, (STRAIGHT_MM + lay.under_head(trestle.job)) / 2)
        )
        says = f"a stack of wedges {wide} wide does not bear all over on a leg so narrow and raked"
        says += f": a corner at either end stands {out} out"
        do = f"set its middle over the leg's middle {middle} below the top face, where its corners need not bear"
        yield Finding(248, says, do, "job leg.width", value=out, severity="caution")
    apart = max((lay.jaws_apart(use) for use in lay.leanings), default=0.0) if lay else 0.0
    if opens and opens < apart:
        told, wanted = (length_text(mm, trestle.job.unit) for mm in (opens, apart))
        says = f"the vice opens {told}, the board between its wedges needs {wanted}"
        do = "clamp the board by the free band of the fence, or use a vice that opens as far"
        yield Finding(247, says, do, "shop kit.jaws", value=told, limit=wanted, severity="caution")
