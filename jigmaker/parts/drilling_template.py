"""The drilling template, through which the holes for a leg's screws are drilled: Trestle and Shop in, Parts out; mm.

A plate on the leg's outer face, a strip along its head and one along its near edge, toward the board's end; three
pieces. Both strips stand out alike on both faces of the plate, so the template is its own mirror image in the plate's
middle plane: turned over it is the template of the other hand. Screws of R and L legs lie at other heights, so the
plate has the holes of both.

Template frame: origin at the near corner of the head as sawn, on the outer face of an R leg; seen from outside, head
up, x to the right, y up, z out of the leg. The near edge runs down to the left from the origin, off the head's line by
the face angle phi. Figures v and s run down: v square to the head's line, s along the near edge; e square to that edge.

              head strip                   seen along the board:     ||   head strip, its lip on both faces
         ____________________                                        ||__________
        O____________________\\   v = 0                       gap  -> |  plate    |   z = 0: the leg's outer face
       //  o R         o L    \\                                      ||\\---------------
      //   o L         o R     \\                                     || \\  leg: the head falls away from the outer
     //_________________________\\   v = length                      ||  \\ face, so the lip touches it deep down, and
     side strip                                                          \\ the gap tells outer from inner face
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from math import ceil, dist

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import LEAST_WEB_MM, OutlineCorner, across, drawn_part, round_hole
from jigmaker.parts.housing_planes import HousingPlanes
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import TEXT_MM, text_mark
from jigmaker.parts.part import Feature, Mark, Part, Placement, Said, Setting
from jigmaker.parts.relief import Bites, bites_of, hole_diameter, mortise_width
from jigmaker.parts.text_box import CLEAR_MM, Box, fill_inside
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cotangent
from jigmaker.trestle.fixings import leg_marks
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.screw_pattern import leg_pattern
from jigmaker.units import MM_PER_INCH, Unit, length_text

DRILLING_TEMPLATE = "drilling template"
DRILL_PLAY_MM = 0.1  # a hole's diameter over its drill's
LIP_MM = 16.0  # of the strips over the plate at most: a chuck comes so near to the plate; common practice, no source
SHORT_OF_LEG_MM = 6.0  # lips end this far before the leg's other face
FAR_IN_MM = 6.0  # the leg's far arris is seen beside the plate by so much
BELOW_MM = 38.0  # plate below its lowest hole, for its words
LEAST_LENGTH_MM = 70.0  # along the near edge: a shorter strip lets the template turn; common practice, no source
TENON_SHORT_MM = 1.5  # tenons end this far below the face they point at
ALONG_MM = 0.2  # a mortise is this much longer than its tenon
TENON_MM = 18.0
STRIP_BACK_MM = 2.0  # the head strip ends so far before the leg's edges
CORNER_MM = 6.0  # the side strip begins so far down the near edge
SEEN_MM = 0.5  # less is no gap that anyone sees, and does as little; common practice, no source
AWAY_MM = 2.0  # letters keep this far from holes


@dataclass(frozen=True, slots=True)
class TemplateHole:
    """A hole: for screws of legs in these housings, "R", "L" or both; v, e: its middle; edge: the one it is beside."""

    hands: str
    edge: str
    v: float
    e: float

    @property
    def name(self) -> str:
        """What it is called, for one hand or for both."""
        return f"screw {self.hands} {self.edge}" if len(self.hands) == 1 else f"screw {self.edge}"


@dataclass(frozen=True, slots=True)
class TemplateLayout(HousingPlanes):
    """What job and shop say, and the screws; all else follows. mm but for the angles."""

    splay_deg: float
    face_deg: float
    sheet: float
    joint: float
    leg_width: float
    leg_thickness: float
    bites: Bites
    clearance_drill: float
    drill: float
    hole: float
    holes: tuple[TemplateHole, ...]

    @property
    def gap_shows(self) -> bool:
        """False where the leg stands nearly plumb across the board: its two wide faces are then all but alike."""
        return self.gap >= SEEN_MM

    @property
    def only_pricks(self) -> bool:
        """True where no cutter of this shop cuts a hole as narrow as the screws': a wider drill pricks its middle."""
        return self.drill > self.clearance_drill + TOUCH_MM

    @property
    def lip(self) -> float:
        """How far both strips stand out on either face of the plate."""
        return min(LIP_MM, self.leg_thickness - SHORT_OF_LEG_MM)

    @property
    def gap(self) -> float:
        """From the head's arris on the outer face to the head strip, which the head meets at the foot of its lip."""
        return self.lip * cotangent(self.splay_deg)

    @property
    def nearer(self) -> float:
        """How much nearer to the head the holes come on the inner face, where the head's arris touches the strip."""
        return self.leg_thickness * cotangent(self.splay_deg) - self.gap

    @property
    def gape(self) -> float:
        """How far the side strip's foot stands off the edge of a leg for the other hand, not turned over, square to it.

        The head's line and the edge make phi on one hand and 180 - phi on the other: the edge runs out by 2 cot phi for
        1 down, from where the strip begins.
        """
        return 2 * (self.length - CORNER_MM * self.rise) * self.lie

    @property
    def tenon(self) -> float:
        """The length of a tenon along its edge."""
        return max(TENON_MM, self.bites.least_length)

    @property
    def end(self) -> float:
        """From a mortise to the end of its strip, and from a tenon to a corner of the plate."""
        return max(5.0, LEAST_WEB_MM + ALONG_MM / 2 + self.bites.endwise, self.bites.seat(0.0))

    @property
    def between(self) -> float:
        """From one tenon to the next at the least."""
        return max(self.bites.between(4.0), LEAST_WEB_MM + ALONG_MM + 2 * self.bites.endwise)

    @property
    def far_in(self) -> float:
        """The plate's far edge inside the leg's far arris, square to it."""
        beside = min(self.leg_width - hole.e for hole in self.holes) - self.hole / 2
        return min(FAR_IN_MM, beside - LEAST_WEB_MM)

    @property
    def length(self) -> float:
        """v of the plate's lower edge."""
        low = max(hole.v for hole in self.holes) + BELOW_MM
        tenons = CORNER_MM + 2 * (self.end + self.tenon) + self.between
        return max(low, LEAST_LENGTH_MM * self.rise, tenons * self.rise)

    @property
    def head_strip(self) -> tuple[float, float]:
        """x of both ends of the head strip."""
        return self.point(-self.gap, 0.0)[0] + STRIP_BACK_MM, self.leg_width / self.rise - STRIP_BACK_MM

    @property
    def head_tenons(self) -> tuple[tuple[float, float], ...]:
        """x of both ends of the plate's tenons in the head strip: one at either end, or one where two find no room."""
        (low, high), far = self.head_strip, self.point(-self.gap, self.leg_width - self.far_in)[0]
        low, high = low + self.end, min(high, far) - self.end
        if high - low >= 2 * self.tenon + self.between:
            return (low, low + self.tenon), (high - self.tenon, high)
        middle = (low + high) / 2
        return ((middle - self.tenon / 2, middle + self.tenon / 2),)

    @property
    def side_tenons(self) -> tuple[tuple[float, float], ...]:
        """s of both ends of the plate's tenons in the side strip."""
        low, high = CORNER_MM + self.end, self.length / self.rise - self.end
        return (low, low + self.tenon), (high - self.tenon, high)

    def point(self, v: float, e: float) -> Point:
        """(x, y) of the point v below the head's line and e inside the near edge."""
        return (e - v * self.lie) / self.rise, -v

    def beside(self, s: float, out: float) -> Point:
        """(x, y) of the point s down the near edge and so far out of it."""
        return -s * self.lie - out * self.rise, -s * self.rise + out * self.lie

    @property
    def has_hand(self) -> bool:
        """False where legs in R and L housings are alike and have their screws at the same places."""
        return self.lie > TOUCH_MM or any(len(hole.hands) == 1 for hole in self.holes)

    def no_room(self) -> str:
        """Why the plate or its strips find no room, in words after "the drilling template"; "" where they do."""
        if self.lip < LEAST_WEB_MM + self.joint / 2 + self.bites.aside - TOUCH_MM:
            return "has no wood beside its tenons: a leg so thin leaves its lips too low"
        (low, high), far = self.head_strip, self.point(-self.gap, self.leg_width - self.far_in)[0]
        if min(high, far) - low < 2 * self.end + self.tenon - TOUCH_MM:
            return "finds no room for a tenon along the head of a leg so narrow"
        if self.far_in < -TOUCH_MM:
            return "would reach over the leg's far edge: holes lie too near to it"
        apart = [
            dist(self.point(a.v, a.e), self.point(b.v, b.e)) - self.hole / 2 for a, b in combinations(self.holes, 2)
        ]
        apart += [far for hole in self.holes for far in (hole.v + self.gap, hole.e)]
        if min(apart) < self.hole / 2 + LEAST_WEB_MM - TOUCH_MM:
            return "keeps too little wood round its holes"
        return ""


def lay_out_template(trestle: Trestle, shop: Shop) -> TemplateLayout | None:
    """The layout for this trestle; None where no template is wanted, or no screw goes through a leg."""
    if DRILLING_TEMPLATE not in shop.also or (pattern := leg_pattern(trestle)) is None:
        return None
    job = trestle.job
    holes: dict[tuple[float, float], TemplateHole] = {}
    for mark in leg_marks(trestle):
        for hand in mark.hand or "RL":
            # Seen from outside the near edge of an R leg is at the left, that of an L leg at the right.
            is_near = (mark.side == "left") == (hand == "R")
            e = mark.from_edge_mm if is_near else job.leg.width_mm - mark.from_edge_mm
            at = (round(mark.from_head_mm, 6), round(e, 6))
            same = holes.setdefault(at, TemplateHole("", "near" if is_near else "far", mark.from_head_mm, e))
            holes[at] = replace(same, hands=same.hands + hand)
    drill = pattern.size.clearance_hole_mm
    if hole_diameter(shop, drill + DRILL_PLAY_MM) > drill + DRILL_PLAY_MM:
        # The next drill of a usual set whose hole the cutter can cut: it pricks the middle, a thinner one follows.
        step = 1.0 if job.unit == "mm" else MM_PER_INCH / 16
        drill = ceil((hole_diameter(shop, 0.0) - DRILL_PLAY_MM) / step - TOUCH_MM) * step
    return TemplateLayout(
        splay_deg=job.splay_deg,
        face_deg=trestle.angles.leg_face_deg,
        sheet=shop.sheet.thickness_mm,
        joint=mortise_width(shop) - shop.sheet.thickness_mm,
        leg_width=job.leg.width_mm,
        leg_thickness=job.leg.thickness_mm,
        bites=bites_of(shop),
        clearance_drill=pattern.size.clearance_hole_mm,
        drill=drill,
        hole=drill + DRILL_PLAY_MM,
        holes=tuple(holes[at] for at in sorted(holes)),
    )


def drilling_template_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Plate, head strip and side strip; nothing where no template is wanted, or it finds no room."""
    lay = lay_out_template(trestle, shop)
    if lay is None or lay.no_room():
        return ()
    return _plate(lay, trestle, shop), *_strips(lay, shop)


def check_drilling_template(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """An error where a template that is asked for finds no room (365); a caution where the shop has it by itself."""
    lay = lay_out_template(trestle, shop)
    do, is_asked = "mark the screws by rule, and leave the template out of kit.also", shop.kit.also is not None
    if lay is None:
        if is_asked and DRILLING_TEMPLATE in shop.also:
            says = f"asks for a {DRILLING_TEMPLATE}, but no screw goes through a leg"
            yield Finding(365, says, "leave it out of kit.also", "shop kit.also", severity="caution")
    elif why := lay.no_room():
        says = f"the {DRILLING_TEMPLATE} {why}"
        yield Finding(365, says, do, "shop kit.also", severity="error" if is_asked else "caution")


def _plate(lay: TemplateLayout, trestle: Trestle, shop: Shop) -> Part:
    """On the leg's outer face; anticlockwise from the lower end of its far edge. Its marked face is up on an R leg."""
    far, tip = lay.leg_width - lay.far_in, lay.sheet - TENON_SHORT_MM
    corners = [OutlineCorner(lay.point(lay.length, far), "far edge", "free")]
    corners.append(OutlineCorner(lay.point(-lay.gap, far), "seat of the head strip, far"))
    for i, (low, high) in enumerate(reversed(lay.head_tenons), 1):
        corners += [
            OutlineCorner((high, lay.gap), f"head tenon {i}, far side", "tenon", True),
            OutlineCorner((high, lay.gap + tip), f"head tenon {i}, end", "tenon"),
            OutlineCorner((low, lay.gap + tip), f"head tenon {i}, near side", "tenon"),
            OutlineCorner((low, lay.gap), f"seat of the head strip {i}", "edge", True),
        ]
    corners.append(OutlineCorner(lay.point(-lay.gap, 0.0), "seat of the side strip, head"))
    for i, (low, high) in enumerate(lay.side_tenons, 1):
        corners += [
            OutlineCorner(lay.beside(low, 0.0), f"side tenon {i}, upper side", "tenon", True),
            OutlineCorner(lay.beside(low, tip), f"side tenon {i}, end", "tenon"),
            OutlineCorner(lay.beside(high, tip), f"side tenon {i}, lower side", "tenon"),
            OutlineCorner(lay.beside(high, 0.0), f"seat of the side strip {i}", "edge", True),
        ]
    corners.append(OutlineCorner(lay.point(lay.length, 0.0), "lower edge", "free"))
    part, (x, y) = drawn_part("drilling template plate", DRILLING_TEMPLATE, corners, shop)
    features, holes, settings = list[Feature](part.features), [], []
    for side, one, other, spans in (
        ("head", "far", "near", tuple(reversed(lay.head_tenons))),
        ("side", "upper", "lower", lay.side_tenons),
    ):
        for i, (low, high) in enumerate(spans, 1):
            names = (f"{side} tenon {i}, {one} side", f"{side} tenon {i}, {other} side")
            features.append(across(part.features, *names, f"{side} tenon {i}, length", "tenon", high - low))
    why = "where the trestle's screw is"
    for each in lay.holes:
        at = lay.point(each.v, each.e)
        hole, found = round_hole(each.name, (at[0] - x, at[1] - y), lay.hole)
        holes.append(hole)
        features += found
        settings.append(Setting(f"{each.name}, from the head", each.v, "mm", why, "square to the head's line as sawn"))
        settings.append(Setting(f"{each.name}, from the edge", each.e, "mm", why, "square to the leg's near edge"))
    settings.append(Setting("drill", lay.drill, "mm", "goes through the template's holes", "template"))
    part = replace(part, holes=tuple(holes), features=tuple(features), settings=tuple(settings))
    place = Placement(part.name, "both", Frame((x, y, 0.0)))
    return replace(part, placements=(place,), marks=_plate_marks(lay, part, (x, y), trestle.job.unit, shop))


def _plate_marks(lay: TemplateLayout, part: Part, low: Point, unit: Unit, shop: Shop) -> tuple[Mark, ...]:
    """Beside each hole its hand, below them all else. low: the template frame's point where the part frame begins."""
    size, marks = 5.0, list[Mark]()
    beside = lay.hole / 2 + AWAY_MM
    # Letters stand toward the plate's middle; where two there would meet, small ones all at the left of their holes.
    level = [abs(a.e - b.e) for a, b in combinations(lay.holes, 2) if abs(a.v - b.v) < size]
    is_tight = min(level, default=lay.leg_width) / lay.rise < 2 * (beside + size)
    if is_tight:
        size, beside = TEXT_MM, lay.hole / 2 + CLEAR_MM
    for hole in lay.holes:
        x, y = lay.point(hole.v, hole.e)
        is_left = is_tight or hole.e > lay.leg_width / 2 + TOUCH_MM
        at = (x - low[0] + (-beside if is_left else beside), y - low[1] - size / 2)
        for letter in () if len(hole.hands) == 2 else words_of(part.slug, ["hand"], shop, hand=hole.hands):
            marks.append(text_mark(letter, at, size, anchor="right" if is_left else "left"))
    # Both edges run down to the left, and the lines between them: the box is that of the plate's foot.
    over, under = max(hole.v for hole in lay.holes) + beside, lay.length - AWAY_MM
    (left, foot), (right, _) = lay.point(under, 0.0), lay.point(under, lay.leg_width - lay.far_in)
    box = Box(left + AWAY_MM, foot, right - AWAY_MM, -over).moved(-low[0], -low[1])
    whats = [*(["face"] if lay.has_hand else []), "kit", "prick" if lay.only_pricks else "drill", "name"]
    drills = {"drill": length_text(lay.drill, unit), "then": length_text(lay.clearance_drill, unit)}
    words = words_of(part.slug, whats, shop, kit=WIDEST, **drills)
    return (*marks, *fill_inside(part, (words,), box, 5.0, slant=lay.lie / lay.rise))


def _on_lips(
    lay: TemplateLayout, part: Part, shop: Shop, lips: Sequence[tuple[Sequence[str], str]]
) -> tuple[Mark, ...]:
    """Marks on the lip over the plate, then those on the lip below it, turned half about: they are read when the
    template is turned over. lips: names of the marks, and the hand that they tell of.
    """
    wide, high = part.outline.bounds[2:]
    free = (high + lay.sheet + lay.joint) / 2 + lay.bites.aside
    box, marks = Box(AWAY_MM, free + AWAY_MM / 2, wide - AWAY_MM, high - AWAY_MM), list[Mark]()
    brief = replace(shop, machine=replace(shop.machine, marking="short"))  # for strips of narrow legs
    for i, (whats, hand) in enumerate(lips):
        tried = [fill_inside(part, (words_of(part.slug, whats, each, hand=hand),), box, 5.0) for each in (shop, brief)]
        for mark in max(tried, key=lambda made: len({mark.fact for mark in made})):
            at = (wide - mark.at[0], high - mark.at[1]) if i else mark.at
            marks.append(text_mark(Said(mark.text, mark.fact), at, mark.height_mm, 180.0 if i else 0.0))
    return tuple(marks)


def _strips(lay: TemplateLayout, shop: Shop) -> Iterator[Part]:
    """Along the head, where its lip meets the head, and along the near edge; both square to the plate, their marked
    faces away from the leg. On the head strip's lip that stands up is told which legs it is set for.
    """
    #      end 1  __________________________  end 2     a strip as seen from outside, along it and z: its lips stand out
    #            |      ____      ____      |           alike on both sides of the plate, whose tenons go through the
    #            |     |____|    |____|     |           mortises, z = 0 to the sheet's thickness
    #            |__________________________|
    (low, high), out = lay.head_strip, (0.0, 0.0, 1.0)
    under, over = -lay.lip, lay.sheet + lay.lip
    told = ["hand" if lay.has_hand else "head", *(["gap"] if lay.gap_shows else [])]
    head = tuple((-b, -a) for a, b in reversed(lay.head_tenons))  # seen from outside they run the other way
    for what, (near, far), spans, plane, lips in (
        (
            "head",
            (-high, -low),
            head,
            Frame((0.0, lay.gap, 0.0), (-1.0, 0.0, 0.0), out, (0.0, 1.0, 0.0)),
            [(told, "R"), (told, "L")],
        ),
        (
            "side",
            (CORNER_MM, lay.length / lay.rise),
            lay.side_tenons,
            Frame((0.0, 0.0, 0.0), (-lay.lie, -lay.rise, 0.0), out, (-lay.rise, lay.lie, 0.0)),
            [(["name"], "")],
        ),
    ):
        corners = [
            OutlineCorner((near, under), "lip, turned over"),
            OutlineCorner((far, under), "end 2", "free"),
            OutlineCorner((far, over), "lip, marked face up"),
            OutlineCorner((near, over), "end 1", "free"),
        ]
        openings = [
            (f"mortise {i}", (a - ALONG_MM / 2, -lay.joint / 2), (b + ALONG_MM / 2, lay.sheet + lay.joint / 2))
            for i, (a, b) in enumerate(spans, 1)
        ]
        part, at = drawn_part(f"drilling template {what} strip", DRILLING_TEMPLATE, corners, shop, openings)
        height = across(part.features, "lip, turned over", "lip, marked face up", "height", "edge", over - under)
        part = replace(part, features=(*part.features, height))
        place = Placement(part.name, "both", plane @ Frame((*at, 0.0)))
        yield replace(part, placements=(place,), marks=_on_lips(lay, part, shop, lips))
