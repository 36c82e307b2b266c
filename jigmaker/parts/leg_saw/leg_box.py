"""The leg box, in which a hand saw cuts both ends of every leg: Trestle and Shop in, Parts and Findings out; mm.

Box frame: z = 0 on the bottom's top face, y away from the operator, x to the right; the origin is where the saw's plane
crosses the leg's middle. The leg lies on its outer wide face with its head to the left; its foot lies farther off, its
axis along (sin phi, cos phi), phi the face angle. A level plane of the trestle is then square to x but for its lean:
x = -(z - zw / 2) cot b, b the splay, so that the saw's top leans toward the head.

    from above                               from the operator: the slot leans toward the head
     ________________|x = 0_________          ________\\__________  z = zw: here lands the back of the saw
    |         =======|far wall=     |        |         \\         |
    |    ____________|__________/__/|        |          \\        |  z = t, the leg's upper face
    |_/_/    leg     |       ______/|        |___________\\_______|  z = 0; the teeth come down to z = -1
    |/______/________|______/       |
    |         =======|near wall     |        The walls stand square to the saw's line, the leg lies askew between them:
    |________________|______________|        so a slot is a plain slit that guides over the wall's whole thickness.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import chain
from math import acos, ceil, degrees

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, PlaneFrame
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.job import Job
from jigmaker.job.shop import HandSaw, Shop
from jigmaker.parts.corners import LEAST_WEB_MM, OutlineCorner, across, drawn_part, mortise
from jigmaker.parts.housing_saw.layout import ALONG_MM, TENON_SHORT_MM
from jigmaker.parts.housing_saw.saw_guide import AWAY_MM, named_inside
from jigmaker.parts.least_sizes import LeastSize, too_small
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Part, Placement
from jigmaker.parts.relief import HOLE_SPARE_MM, Bites, bites_of, mortise_width
from jigmaker.parts.text_box import Box, fill_inside
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine, stretch
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text, length_text

LEG_BOX = "leg box"
SLOT_PLAY_MM = 0.05  # a slot over the saw's kerf
UNDER_LEG_MM = 1.0  # how far the teeth go below the leg: the bottom is sawn into
SLOT_FLOOR_MM = -1.5  # z of the slot's floor
HOOK_MM = 25.0  # the near wall under the bottom: it hooks over the bench's edge
BESIDE_WALLS_MM = 80.0  # bottom on either side of the walls: half the leg's stance, and room for a clamp
CLEAR_MM = 2.0  # from leg and strips to the walls
SHOULDER_MM = 10.0  # at either end of a wall's tongue
STRIP_MM = 20.0  # height of the strips
STRIP_TENON_IN_MM = 15.0  # from a strip's ends to its tenon
LEAST_SHEET_MM = 6.0  # thinner walls spring, and too little is left of them under the slot; from memory, no source
LEAST_GUIDED_MM = 18.0  # of wall over the leg; common practice, no source
LEAST_STROKE_MM = 80.0  # a saw that moves less does not clear its teeth; common practice, no source


@dataclass(frozen=True, slots=True)
class BoxLayout:
    """What job and shop say, under the names of the formulas; all else follows. mm but for the angles.

    narrowest: the narrowest gap that the machine can cut.
    """

    splay_deg: float
    face_deg: float
    sheet: float
    joint: float
    leg_width: float
    leg_thickness: float
    saw: HandSaw
    bites: Bites
    narrowest: float

    @property
    def wall_top(self) -> float:
        """z of the walls' tops: the saw's back, as thick as it is, lands on them with the teeth under the leg."""
        lean = self.saw.back_mm / 2 * cosine(self.splay_deg)
        return self.saw.depth_mm * sine(self.splay_deg) - UNDER_LEG_MM - lean

    @property
    def slot(self) -> float:
        """Width of the slots, square to the saw."""
        return self.saw.kerf_mm + SLOT_PLAY_MM

    @property
    def in_halves(self) -> bool:
        """True when the slot is too narrow to be cut: each wall is then two parts, cut along the slot's faces."""
        return self.slot < self.narrowest - TOUCH_MM

    @property
    def wall_half(self) -> float:
        """Half the walls' length: 35 mm of wall beside the slot at top and bottom."""
        return float(max(40, ceil(35 + self.wall_top / 2 * cotangent(self.splay_deg) - TOUCH_MM)))

    @property
    def tongue_half(self) -> float:
        """Half the length of the walls' tongues in the bottom."""
        return self.wall_half - self.bites.seat(SHOULDER_MM)

    @property
    def bottom_half(self) -> float:
        """Half the bottom's length."""
        return self.wall_half + BESIDE_WALLS_MM

    @property
    def wall_face(self) -> float:
        """y of the far wall's inner face; the near wall's lies at minus that. The leg lies askew between them."""
        return self._leg_half + self.wall_half * cotangent(self.face_deg) + CLEAR_MM

    @property
    def bottom_width_half(self) -> float:
        """Half the bottom's width: under the leg and the strip behind it as far as the bottom's ends."""
        askew = self._leg_half + self.bottom_half * cotangent(self.face_deg) + self.sheet / sine(self.face_deg) + 8
        return max(askew, self.wall_face + self.sheet + self.joint / 2 + self.bites.aside + LEAST_WEB_MM)

    @property
    def _leg_half(self) -> float:
        """Half the leg's width as it lies across x = 0."""
        return self.leg_width / 2 / sine(self.face_deg)

    @property
    def strip_height(self) -> float:
        """Lower than the leg is thick, so that a clamp can take it."""
        return min(STRIP_MM, self.leg_thickness - 4)

    @property
    def strips(self) -> tuple[tuple[str, float, float], ...]:
        """Each strip's name and both ends along the leg's axis. A square end reaches farther in x at one corner."""
        inner, outer = (d * cosine(self.face_deg) for d in (self.leg_width / 2, self.leg_width / 2 + self.sheet))
        low, high = self.wall_half + CLEAR_MM, self.bottom_half - 6
        rise = sine(self.face_deg)
        left = ("left strip", (outer - high) / rise, (inner - low) / rise)
        return left, ("right strip", (low + outer) / rise, (high + inner) / rise)

    @property
    def along_leg(self) -> PlaneFrame:
        """(x, y) of a point at s along the leg's axis and d toward its far edge."""
        return PlaneFrame(0.0, 0.0, 90 - self.face_deg)

    @property
    def least_saw_depth(self) -> float:
        """The saw's least depth: its walls guide it over the leg."""
        lean = self.saw.back_mm / 2 * cosine(self.splay_deg)
        return (self.leg_thickness + LEAST_GUIDED_MM + UNDER_LEG_MM + lean) / sine(self.splay_deg)

    @property
    def least_saw_length(self) -> float:
        """The saw's least length: both walls covered, and a stroke besides."""
        return 2 * (self.wall_face + self.sheet) + LEAST_STROKE_MM

    def slot_x(self, z: float, side: int) -> float:
        """x of the slot's left face (side -1), its middle (0) or its right face (1) at a height."""
        return -(z - self.wall_top / 2) * cotangent(self.splay_deg) + side * self.slot / 2 / sine(self.splay_deg)


def lay_out_box(trestle: Trestle, shop: Shop) -> BoxLayout:
    """The layout for this trestle in a shop with a hand saw. Checks nothing: check_leg_box does."""
    assert shop.hand_saw is not None  # Shop holds that itself
    return BoxLayout(
        splay_deg=trestle.job.splay_deg,
        face_deg=trestle.angles.leg_face_deg,
        sheet=shop.sheet.thickness_mm,
        joint=mortise_width(shop) - shop.sheet.thickness_mm,
        leg_width=trestle.job.leg.width_mm,
        leg_thickness=trestle.job.leg.thickness_mm,
        saw=shop.hand_saw,
        bites=bites_of(shop),
        narrowest=shop.machine.widest_cut_mm + (HOLE_SPARE_MM if shop.machine.kind == "cnc" else 0.0),
    )


_LIMITS: tuple[LeastSize[BoxLayout], ...] = (
    (
        231,
        lambda lay: (lay.saw.depth_mm, lay.least_saw_depth),
        "the hand saw reaches {0}, the leg box needs {1}: through the leg and along its walls over it",
        "use a saw {1} deep or more, or thinner legs",
        "shop hand_saw.depth",
    ),
    (
        232,
        lambda lay: (lay.saw.length_mm, lay.least_saw_length),
        "the hand saw is {0} long, the leg box needs {1}: over both walls and to move it",
        "use a saw {1} long or more, or narrower legs",
        "shop hand_saw.length",
    ),
    (
        233,
        lambda lay: (lay.sheet, LEAST_SHEET_MM),
        "the sheet is {0} thick: walls of a leg box so thin spring when the saw leans on them",
        "cut the kit from a sheet {1} thick or more",
        "shop sheet.thickness",
    ),
)


def check_leg_box(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """Whether this saw can cut these legs in a box."""
    yield from too_small(_LIMITS, lay_out_box(trestle, shop), trestle.job.unit)


def turned_deg(trestle: Trestle) -> dict[str, float]:
    """How far a leg's second end comes out of the plane of its first when it is turned between the cuts: end for end on
    the same wide face, or rolled over on the other one, its head where it was.

    Of the ends' normal cos b lies through the leg's thickness and 1 / D along its axis. Half a turn about the thickness
    leaves the former as it is, one about the axis the latter, and reverses the rest; so the two planes meet at
    2 asin(cos b) or at 2 acos(1 / D).
    """
    along = 1 / stretch(trestle.job.rake_deg, trestle.job.splay_deg)
    return {"end_for_end": 2 * (90 - trestle.job.splay_deg), "rolled": 2 * degrees(acos(along))}


def leg_box_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Both walls, whole or in halves; bottom; two strips."""
    lay = lay_out_box(trestle, shop)
    if lay.in_halves:
        left = [_wall(lay, f"leg box {side} half", (side,), shop) for side in ("near", "far")]
        walls = (*left, _wall(lay, "leg box right half", ("near", "far"), shop))
    else:
        walls = tuple(_wall(lay, f"leg box {side} wall", (side,), shop) for side in ("near", "far"))
    return (*walls, _bottom(lay, trestle.job, shop), _strip(lay, shop))


def _beside_slot(lay: BoxLayout, depth: float) -> tuple[list[OutlineCorner], list[OutlineCorner]]:
    """A wall's corners left of its slot and right of it, its tongue so deep; anticlockwise in the plane x, z."""
    #     ________\ \________    z = wall_top, on which the saw's back lands
    #    |         \ \       |
    #    |__        \ \    __|   z = 0, on the bottom
    #       |________\ \__|      z = -depth: the tongue. The way runs from the slot's top on the left round to its top
    #                            on the right; what closes it there is the slot's floor, or nothing in halves
    left = [
        OutlineCorner((lay.slot_x(lay.wall_top, -1), lay.wall_top), "top, left: the saw's back lands here"),
        OutlineCorner((-lay.wall_half, lay.wall_top), "left end", "free"),
        OutlineCorner((-lay.wall_half, 0.0), "seat on the bottom, left"),
        OutlineCorner((-lay.tongue_half, 0.0), "tongue, left side", "tenon", True),
        OutlineCorner((-lay.tongue_half, -depth), "tongue, end", "tenon"),
    ]
    return left, [
        OutlineCorner((lay.tongue_half, -depth), "tongue, right side", "tenon"),
        OutlineCorner((lay.tongue_half, 0.0), "seat on the bottom, right", "edge", True),
        OutlineCorner((lay.wall_half, 0.0), "right end", "free"),
        OutlineCorner((lay.wall_half, lay.wall_top), "top, right: the saw's back lands here"),
        OutlineCorner((lay.slot_x(lay.wall_top, 1), lay.wall_top), "slot, right face", "slot_wall"),
    ]


def _wall(lay: BoxLayout, name: str, sides: Sequence[str], shop: Shop) -> Part:
    """A wall, or what is left or right of its slot, with its marked face toward the operator; plane: x, z.

    sides: the walls that it is in. The near wall's tongue hooks over the bench's edge; of one in halves only the left
    half's does, where the leaning slot leaves it wide.
    """
    depth = lay.sheet + HOOK_MM if sides == ("near",) else lay.sheet - TENON_SHORT_MM
    left, right = _beside_slot(lay, depth)
    foot = -depth if lay.in_halves else SLOT_FLOOR_MM
    left_foot = OutlineCorner((lay.slot_x(foot, -1), foot), "slot, left face", "slot_wall")
    right_foot = OutlineCorner((lay.slot_x(foot, 1), foot), "slot, floor", "free")
    if lay.in_halves:
        right_foot = replace(right_foot, piece="tongue, end", kind="tenon")
        corners = [right_foot, *right] if name.endswith("right half") else [*left, left_foot]
    else:
        corners = [*left, *right, right_foot, left_foot]
    part, (x, z) = drawn_part(name, LEG_BOX, corners, shop)
    if not lay.in_halves:
        wide = across(part.features, "slot, left face", "slot, right face", "slot, width", "slot_wall", lay.slot)
        part = replace(part, features=(*part.features, wide))
    low, high = AWAY_MM, lay.wall_top - AWAY_MM
    beside = {
        "left": Box(AWAY_MM - lay.wall_half, low, lay.slot_x(high, -1) - AWAY_MM, high).moved(-x, -z),
        "right": Box(lay.slot_x(low, 1) + AWAY_MM, low, lay.wall_half - AWAY_MM, high).moved(-x, -z),
    }
    lettered = [fill_inside(part, (words_of(part.slug, w, shop),), beside[at], 8.0) for at, *w in _LETTERED[part.slug]]
    places = []
    for side in sides:
        y = -lay.wall_face if side == "near" else lay.wall_face + lay.sheet
        plane = Frame((x, y, z), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
        places.append(Placement(name.replace("right", f"{side} right"), "both", plane, "middle"))
    return replace(part, needed=len(sides), marks=tuple(chain(*lettered)), placements=tuple(places))


# By slug: on which side of the slot which marks are scored.
_LETTERED = {
    "leg-box-near-wall": (("left", "head"), ("right", "slide")),
    "leg-box-far-wall": (("left", "name"), ("right", "face")),
    "leg-box-near-half": (("left", "head"),),
    "leg-box-far-half": (("left", "name", "face"),),
    "leg-box-right-half": (("right", "slide"),),
}


def _bottom(lay: BoxLayout, job: Job, shop: Shop) -> Part:
    """Carries all; sawn into by as much as the teeth go below the leg. Plane: x, y of the box frame."""
    out, wide, rise = lay.bottom_half, lay.bottom_width_half, sine(lay.face_deg)
    corners = [
        OutlineCorner((-out, -wide), "front edge", "free"),
        OutlineCorner((out, -wide), "right edge", "free"),
        OutlineCorner((out, wide), "rear edge", "free"),
        OutlineCorner((-out, wide), "left edge", "free"),
    ]
    half, joint = lay.tongue_half + ALONG_MM / 2, lay.joint / 2
    ys = {"near": -lay.wall_face - lay.sheet, "far": lay.wall_face}
    walls = [(f"mortise, {side} wall", (-half, y - joint), (half, y + lay.sheet + joint)) for side, y in ys.items()]
    part, (x, y) = drawn_part("leg box bottom", LEG_BOX, corners, shop, walls)
    made, near, place = [], lay.leg_width / 2, PlaneFrame(-x, -y, 90 - lay.face_deg)
    for name, low, high in lay.strips:
        in_mm = STRIP_TENON_IN_MM - ALONG_MM / 2
        span = (low + in_mm, near - joint), (high - in_mm, near + lay.sheet + joint)
        made.append(mortise(f"mortise, {name}", *span, lay.bites, place=place))
    # At the right before the leg, in sight while it lies in the box; and at the left of the walls before the strip.
    slant, under = cotangent(lay.face_deg), lay.leg_width / 2 / rise
    before = Box(lay.wall_half + AWAY_MM, AWAY_MM - wide, out - AWAY_MM, lay.wall_half * slant - under - AWAY_MM)
    left = Box(AWAY_MM - out, AWAY_MM - wide, -lay.wall_half - AWAY_MM, under - out * slant - AWAY_MM)
    unit, saw = job.unit, lay.saw
    figures = {
        "kit": WIDEST,
        "depth": length_text(saw.depth_mm, unit),
        "kerf": caliper_text(saw.kerf_mm, unit),
        "leg": f"{length_text(job.leg.width_mm, unit)} × {length_text(job.leg.thickness_mm, unit)}",
    }
    holes, features = (*part.holes, *(hole for hole, _ in made)), (*part.features, *(f for _, fs in made for f in fs))
    part = replace(part, holes=holes, features=features)
    marks = [
        fill_inside(part, (words_of(part.slug, whats, shop, **figures),), box.moved(-x, -y), 8.0)
        for whats, box in ((("face",), before), (("name", "kit", "saw", "leg"), left))
    ]
    plane = Frame((x, y, -lay.sheet), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    return replace(part, marks=tuple(chain(*marks)), placements=(Placement(part.name, "both", plane, "over"),))


def _strip(lay: BoxLayout, shop: Shop) -> Part:
    """The leg lies against it; both are alike. Plane: s along the leg's axis, z; the marked face is the leg's."""
    _, low, high = lay.strips[0]
    long, tenon = high - low, STRIP_TENON_IN_MM
    depth = lay.sheet - TENON_SHORT_MM
    corners = [
        OutlineCorner((0.0, 0.0), "seat on the bottom, left"),
        OutlineCorner((tenon, 0.0), "tenon, left side", "tenon", True),
        OutlineCorner((tenon, -depth), "tenon, end", "tenon"),
        OutlineCorner((long - tenon, -depth), "tenon, right side", "tenon"),
        OutlineCorner((long - tenon, 0.0), "seat on the bottom, right", "edge", True),
        OutlineCorner((long, 0.0), "right end", "free"),
        OutlineCorner((long, lay.strip_height), "upper edge", "free"),
        OutlineCorner((0.0, lay.strip_height), "left end", "free"),
    ]
    part, (x, z) = drawn_part("leg box strip", LEG_BOX, corners, shop)
    free = Box(AWAY_MM, AWAY_MM, long - AWAY_MM, lay.strip_height - AWAY_MM)
    marks = named_inside(part, "leg-box-strip", free.moved(-x, -z), shop)
    axis = (sine(lay.face_deg), cosine(lay.face_deg), 0.0)
    places = []
    for name, start, _ in lay.strips:
        at = lay.along_leg.point((start + x, lay.leg_width / 2 + lay.sheet))
        plane = Frame((*at, z), axis, (0.0, 0.0, 1.0), (axis[1], -axis[0], 0.0))
        places.append(Placement(f"leg box {name}", "both", plane, "middle"))
    return replace(part, needed=2, marks=marks, placements=tuple(places))
