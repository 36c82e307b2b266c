"""Where everything of the housing jig lies: Trestle and Shop in, JigLayout out. Jig frame and plate plane; mm, degrees.

Jig frame (right-handed): origin on the board's top arris in the middle of the jig, X along the board to the operator's
right, Y up out of the worked edge, Z out of the top face toward the operator.
Plate plane: X as above, v rising away from the operator along (0, cos b, -sin b), m out of the wood along
(0, sin b, cos b), b the splay; m = 0 is the plane through the top arris parallel to the housing's floor.
Bearer plane: q = -Z (rearward, to the right), y = Y.
The hand: R has its stop at the operator's right, L is the mirror image. A one-handed jig has its stop plane at X = 0.
"""

from itertools import product
from math import acos, asin, ceil, degrees, floor
from typing import Literal

from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import SCREW_HOLE_MM
from jigmaker.parts.housing_planes import HousingPlanes
from jigmaker.parts.relief import Bites, bites_of, mortise_width
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH

TENON_SHORT_MM = 1.5  # tenons end this far below the face they point at, so that nothing stands proud
ALONG_MM = 0.2  # a mortise is this much longer than its tenon
LAND_MM = 8.0  # wood between a slot and the nearest bearer
WEB_MM = 12.0  # plate beyond an end bearer
BETWEEN_MM = 10.0  # from the side bearer to the end bearer, for the stop's bolts
OVER_FENCE_MM = 5.0  # bearer over the fence
LEAST_OVER_FENCE_MM = 2.0  # the same, where the hand router's cutter would not reach otherwise
STRIP_PLAY_MM = 1.5  # how far the back strip follows a board thicker or thinner than asked
STRIP_IN_MM = 6.0  # strips of a one-handed jig stop this far inside the plate's edge
STOP_GAP_MM = 1.5  # strips stop this far short of the end bearer: with its thickness, the corner for chips
CLEAR_MM = 3.0  # the router's base stays this far inside the plate
LEAST_SUPPORT_MM = 25.0  # the router's axis stays this far inside of what carries the base, or a third of its radius
BEARER_DEPTH_MM = 12.0  # least depth of a bearer's arm under the plate
LUG_MM = 24.0  # width of a bearer's lug before the fence and behind the back strip
TENON_MM = 13.0  # least height of a lug's tenon into fence or back strip
OVER_TENON_MM = 9.0  # from such a tenon up to the board's edge
UNDER_TENON_MM = 18.0  # and down to the lug's foot
SCREW_UP_MM = 8.0  # the fence's screw over the lug's foot
BOLT_UP_MM = 18.0  # the stop's bolts over the lug's foot
BOLT_HOLE_MM = 6.2  # for an M6 bolt
LEAD_MM = 10.0  # from the plate's front edge to a bearer's front mortise
ARM_IN_MM = 4.0  # from the plate's front and rear edges to the ends of a bearer's arms

PLATE_WEB_MM = 6.0  # no web of the plate is narrower, whatever the cutter
STRIP_WEB_MM = 5.0  # nor one of fence and back strip
# A bite of the widest cutter that needs no more room than a sharp corner is given anyway:
SMALL_BITE_MM = 1.0  # behind a wall that carries something
SMALLER_BITE_MM = 0.5  # where there is little wood already

# The jig on the board, seen from the board's right end (bearer plane: q rearward, y up out of the worked edge; O is
# the top arris). The plate lies on the bearers, 90 - b off level; the cutter, square to it, cuts the floor m = -d.
#
#       y                          __..--  v
#       |        plate     __..--''
#       |          __..--''     m = standoff: the plate's underside, the bearers' seat
#       |  __..--''
#   __..--''
#   ___     O______________    ___              m = 0 passes O
#   |  |    |  worked edge |   |  |
#   |  |----|              |---|  |             lugs of the bearers hold fence and back strip by their tenons
#   |  |    |   board,     |   |  |
#   fence   |   t thick    |  back strip        it follows a board up to STRIP_PLAY_MM thicker or thinner
#   |  |    |              |   |  |
#   |__|    |              |   |__|  --> q      both reach below the lugs, for clamps
#
# Along the board, from above, X to the right: slot L, centre bearer (X = 0), slot R, side bearer, and at X = half the
# stop plane, against the board's end. A slot's walls run outward by wall_slope for each mm of v.

PLATES = ("plate", "plate-r", "plate-l")

Hands = Literal["both", "R", "L"]


@dataclass(frozen=True, slots=True)
class JigLayout(HousingPlanes):
    """The layout's figures, all mm unless named otherwise; what each is for stands beside it.

    For hands == "R" or "L" the figures are those of the R jig with its stop plane at X = 0; L mirrors them in X.
    """

    hands: Hands
    splay_deg: float
    face_deg: float  # level line across the leg's wide face off its arris: the slant of the slot's walls off the stop
    sheet: float
    top_thickness: float
    depth_square: float  # leg thickness less reveal
    housing_width: float  # leg width and clearance
    leg_width: float
    clearance: float
    inset: float
    guide_offset: float
    bush_radius: float
    cutter_radius: float
    base_radius: float
    standoff: float  # underside of the plate above m = 0
    projection: float  # cutter's tip below the router's base
    cut_front: float  # v of the cutter's edge at the operator's end of the slot: parked clear of the wood
    cut_rear: float  # v of the cutter's edge at the far end: right through the back strip
    half: float  # X of the stop plane; 0 for a one-handed jig
    plate_low: float  # X of the plate's left edge (R jig)
    plate_high: float  # X of the plate's right edge
    plate_front: float  # v
    plate_rear: float  # v
    lug_depth: float
    strip_depth: float
    joint: float  # how much wider a mortise is than the sheet as measured
    bites: Bites  # what the machine's cutter takes at relieved corners

    @property
    def land(self) -> float:
        """Wood between a slot and the nearest bearer; in fence and back strip their mortises' bites lie in it."""
        return _land(self.bites)

    @property
    def between(self) -> float:
        """The least from the side bearer to the end bearer, in X: the plate keeps its web between their mortises."""
        return max(BETWEEN_MM, PLATE_WEB_MM + 1.5 * self.joint + 2 * self.bites.aside)

    @property
    def lead(self) -> float:
        """From the plate's front edge to a plain bearer's front mortise: the bearer's seat before it and its arm."""
        return max(LEAD_MM, ARM_IN_MM + self.bites.seat(0.0))

    @property
    def over_tenon(self) -> float:
        """From a lug's tenon up to the board's edge: a shoulder with a bite at either end."""
        return self.bites.between(OVER_TENON_MM)

    @property
    def under_tenon(self) -> float:
        """From a lug's tenon down to its foot: room in the fence for the screw's hole."""
        return _under_tenon(self.bites)

    @property
    def tenon_height(self) -> float:
        """Of a lug's tenon into fence or back strip."""
        return self.lug_depth - self.under_tenon - self.over_tenon

    @property
    def slot_front(self) -> float:
        """v of the slot's end toward the operator."""
        return self.cut_front - self.guide_offset

    @property
    def slot_rear(self) -> float:
        """v of the slot's far end."""
        return self.cut_rear + self.guide_offset

    @property
    def slot_width(self) -> float:
        """Opening square to the walls: housing width + bush - cutter."""
        return self.housing_width + 2 * self.guide_offset

    @property
    def wall_slope(self) -> float:
        """cot of the face angle: how far the slot's walls run outward for each mm of v."""
        return cotangent(self.face_deg)

    def near_wall(self, v: float) -> float:
        """X of slot R's wall nearer the stop, at v."""
        # The leg's near arris meets the board's top arris `inset` from its end. The housing is wider there by half the
        # clearance, the slot by the guide offset as well, both square to the wall: along X they count 1 / sin.
        opened = (self.clearance / 2 + self.guide_offset) / sine(self.face_deg)
        return self.half - self.inset + v * self.wall_slope + opened

    def far_wall(self, v: float) -> float:
        """X of slot R's wall further from the stop, at v."""
        return self.near_wall(v) - self.slot_width / sine(self.face_deg)

    def centre_line(self, v: float) -> float:
        """X of the middle of slot R at v; also the middle of the housing."""
        return (self.near_wall(v) + self.far_wall(v)) / 2

    @property
    def side_bearer(self) -> float:
        """X of the left face of the bearer between slot R and the stop."""
        return self.near_wall(self.slot_rear) + self.land

    @property
    def bearer_faces(self) -> tuple[tuple[str, float], ...]:
        """Name and X of the left face of every plain bearer (R jig for a one-handed one)."""
        if self.hands == "both":
            right, left = ("side R", self.side_bearer), ("side L", -self.side_bearer - self.sheet)
            return ("centre", -self.sheet / 2), right, left
        return (("side", self.side_bearer), ("far side", self.far_wall(self.slot_front) - self.land - self.sheet))

    @property
    def strip_low(self) -> float:
        """X of the left end of fence and back strip."""
        return -self.strip_high if self.hands == "both" else self.plate_low + STRIP_IN_MM

    @property
    def strip_high(self) -> float:
        """X of the right end of fence and back strip: short of the end bearer."""
        return self.half - self.sheet - STOP_GAP_MM

    @property
    def front_bolt(self) -> float:
        """q of the stop's bolt before the fence."""
        return -(self.sheet + 8)

    @property
    def rear_bolt(self) -> float:
        """q of the stop's bolt behind the back strip."""
        return self.top_thickness + self.sheet + STRIP_PLAY_MM + 8

    @property
    def parks_clear(self) -> bool:
        """True where the cutter at the slot's front end is clear of the fence, down to the housing's floor."""
        rear = self.cut_front + 2 * self.cutter_radius
        return self.bearer_point(rear, -self.depth_square)[0] < -self.sheet

    @property
    def needed_support(self) -> float:
        """How far inside of what carries the base the router's axis must stay."""
        return max(LEAST_SUPPORT_MM, self.base_radius / 3)

    @property
    def bush_travel(self) -> tuple[float, float]:
        """v of the bush's centre at the front and at the rear end of the slot."""
        return (self.cut_front + self.cutter_radius, self.cut_rear - self.cutter_radius)

    def support_left(self) -> float:
        """The least support of the base in a large opening, mm; `support.least_support` gives more.

        In the worst place it is just out of reach of the plate behind the slot and of that beyond one wall, and stands
        on what is before the slot and beyond the other. The axis is R cos(e / 2) from the line between the ends of
        these two on the base's rim, e being the angle that nothing carries; a wall's slant may be in it.
        """
        #     ____________________     seen from above: the bush by the slot's rear wall and one side wall
        #    |        slot        |
        #    |             .--.   |    R  the base's radius, its rim from one carried part to the other
        #    |           (  +e/2  )    e  the turn between them, with nothing under the rim; their chord passes
        #    |             `--'   |       the axis at R cos(e / 2), which is what keeps the router from tipping
        base, least = self.base_radius, self.bush_radius
        front, aside = (max(opening - base, least) for opening in (self.slot_rear - self.slot_front, self.slot_width))
        if max(front, aside) >= base:
            return 0.0
        empty_deg = 180 - degrees(acos(aside / base) - asin(front / base)) + abs(90 - self.face_deg)
        return base * cosine(empty_deg / 2)


def _up_to(value: float, step: float) -> float:
    """The next multiple of step at or above value; a value a hair above a multiple counts as that multiple."""
    return ceil(value / step - TOUCH_MM) * step


def least_standoff(sheet_mm: float, splay_deg: float, behind_mm: float = 0.0) -> float:
    """The lowest standoff that leaves 2 mm of bearer over the fence, mm; more where bites reach so far behind a wall.

    A bite at a plate tenon's root can lie over the one beside the fence.
    """
    over = LEAST_OVER_FENCE_MM + 2 * max(0.0, behind_mm - SMALLER_BITE_MM)
    return (over + sheet_mm * cotangent(splay_deg)) * sine(splay_deg)


def _standoff(trestle: Trestle, shop: Shop) -> float:
    """5 mm of bearer over the fence, on a round figure; lower, down to the least, when the cutter would not reach."""
    p, b, d = shop.sheet.thickness_mm, trestle.job.splay_deg, trestle.housing.depth_square_mm
    step, behind = 0.5 if trestle.job.unit == "mm" else MM_PER_INCH / 32, bites_of(shop).behind
    over = OVER_FENCE_MM + max(0.0, behind - SMALL_BITE_MM)
    wanted = _up_to((over + p * cotangent(b)) * sine(b), step)
    reach = shop.router.cutter_reach_mm
    return wanted if p + wanted + d <= reach else max(reach - p - d, least_standoff(p, b, behind))


def _cut_ends(trestle: Trestle, shop: Shop, parks_clear: bool) -> tuple[float, float]:
    """v of the cutter's edge at the front and rear ends of its travel.

    Front: the whole cutter clear of board and fence, so that it can be started and plunged there; else of the board.
    Rear: right through the back strip, with the board up to STRIP_PLAY_MM thicker than asked.
    """
    p, b, rc = shop.sheet.thickness_mm, trestle.job.splay_deg, shop.router.cutter_mm / 2
    s = sine(b)
    # The floor, m = -d, meets the board's top face, q = 0, at v = -d cot b (q = v sin b - m cos b). The fence lies p
    # nearer to the operator, p / sin b along v; a cutter that is clear of it is a whole cutter beyond.
    out = (p + 1.5) / s + 2 * rc if parks_clear else max((p + 1.5) / s, 2 * rc + 1.5)
    through = max((p + STRIP_PLAY_MM + 1.5) * s, rc * (1 + cosine(trestle.angles.leg_face_deg)) + CLEAR_MM)
    return -trestle.housing.depth_square_mm * cotangent(b) - out, trestle.job.top.thickness_mm * s + through


def _land(bites: Bites) -> float:
    return max(LAND_MM, LAND_MM - SMALL_BITE_MM + bites.aside)


def _under_tenon(bites: Bites) -> float:
    hole = SCREW_UP_MM + bites.least_hole(SCREW_HOLE_MM)
    return max(UNDER_TENON_MM, hole + STRIP_WEB_MM + ALONG_MM / 2 + bites.endwise)


def _across(trestle: Trestle, shop: Shop, ends: tuple[float, float], hands: Hands) -> tuple[float, float, float]:
    """(half, plate_low, plate_high): X of the stop plane and of the plate's ends, R jig."""
    p, router, land = shop.sheet.thickness_mm, shop.router, _land(bites_of(shop))
    web = max(WEB_MM, STRIP_IN_MM + STRIP_WEB_MM + (mortise_width(shop) - p) / 2 + bites_of(shop).aside)
    face_deg, inset = trestle.angles.leg_face_deg, trestle.job.inset_mm
    slope, s = cotangent(face_deg), sine(face_deg)
    off, c = router.guide_offset_mm, trestle.job.housing.clearance_mm
    rc, rb, base = router.cutter_mm / 2, router.bush_mm / 2, router.base_mm / 2
    # All along X, where walls run outward by `slope` for each mm of v, so that the far wall lies farthest left at the
    # slot's front end, v = ends[0] - off, and the near wall farthest right at its rear end:
    #
    #     X = 0            far wall, front             near wall, rear       X = half
    #     |= p / 2 =|- land -|.........................|- land -|= p =|- ... -|= p =|
    #      centre bearer              slot R                side bearer     end bearer
    #
    # `far`: from the board's end to slot R's far wall, along the top arris.
    far = inset + (trestle.job.leg.width_mm + c / 2 + off) / s
    step = 1.0 if trestle.job.unit == "mm" else MM_PER_INCH / 16
    half = _up_to(p / 2 + land + far - (ends[0] - off) * slope, step) if hands == "both" else 0.0
    # The plate carries the whole base where the bush is nearest to the stop: by the near wall at the rear end.
    base_right = half - inset + (ends[1] - rc) * slope + (c / 2 + off - rb) / s + base + CLEAR_MM
    high = max(half + web, base_right)
    if hands == "both":
        return half, -high, high
    far_front = half - far + (ends[0] - off) * slope
    base_left = half - far + (ends[0] + rc) * slope + rb / s - base - CLEAR_MM
    return half, min(far_front - land - p - web, base_left), high


def lay_out(trestle: Trestle, shop: Shop, hands: Hands, parks_clear: bool = True) -> JigLayout:
    """The layout of a jig for both hands, or of the R or L jig of a pair. Checks nothing: check_kit does."""
    standoff, ends = _standoff(trestle, shop), _cut_ends(trestle, shop, parks_clear)
    job, router = trestle.job, shop.router
    rc, base = router.cutter_mm / 2, router.base_mm / 2
    # The plate carries the whole base wherever the router's axis can be: a cutter's radius inside the cut's two ends.
    front, rear = ends[0] + rc - base - CLEAR_MM, ends[1] - rc + base + CLEAR_MM
    half, low, high = _across(trestle, shop, ends, hands)
    # The floor meets the board's top face d / sin b below the edge and falls by cot b on its way out through the fence.
    # A lug reaches 12 mm below that cut, 16 mm below the bearer's own front end, and as deep as its tenons need.
    p, b, d = shop.sheet.thickness_mm, job.splay_deg, trestle.housing.depth_square_mm
    below_cut = ceil(d / sine(b) + (p + 1.5) * cotangent(b) + 12)
    below_arm = ceil(16 - front * cosine(b) - standoff * sine(b))
    bites = bites_of(shop)
    tenons = _under_tenon(bites) + max(TENON_MM, bites.least_length) + bites.between(OVER_TENON_MM)
    lug = float(max(ceil(tenons - TOUCH_MM), below_cut, below_arm))
    # Lugs and a free band of 30 mm or more for jaws or clamps, throat at most 65 mm; never past the far edge.
    return JigLayout(
        hands=hands,
        splay_deg=b,
        face_deg=trestle.angles.leg_face_deg,
        sheet=p,
        top_thickness=job.top.thickness_mm,
        depth_square=d,
        housing_width=trestle.housing.width_mm,
        leg_width=job.leg.width_mm,
        clearance=job.housing.clearance_mm,
        inset=job.inset_mm,
        guide_offset=router.guide_offset_mm,
        bush_radius=router.bush_mm / 2,
        cutter_radius=rc,
        base_radius=base,
        joint=shop.sheet.joint_clearance_mm + shop.sheet.thickness_spread_mm,
        standoff=standoff,
        projection=shop.sheet_for(*PLATES).thickness_mm + standoff + d,
        cut_front=ends[0],
        cut_rear=ends[1],
        half=half,
        plate_low=low,
        plate_high=high,
        plate_front=front,
        plate_rear=rear,
        lug_depth=lug,
        strip_depth=float(min(ceil(max(lug + 30, job.top.width_mm - 65)), floor(job.top.width_mm - 3))),
        bites=bites,
    )


def fits_bed(layout: JigLayout, shop: Shop) -> bool:
    """True when the plate, its cut and the margins lie on the bed."""
    free = shop.sheet.length_mm - 2 * shop.sheet.margin_mm
    return layout.plate_high - layout.plate_low + shop.machine.tool_mm <= free


def lay_out_jigs(trestle: Trestle, shop: Shop) -> tuple[JigLayout, ...]:
    """One layout for both hands when its plate fits the bed and its board, else one for R and one for L.

    The router parks clear of the fence where the longer slots leave that so and carry the base.
    """
    either: tuple[tuple[Hands, ...], ...] = (("both",), ("R", "L"))
    for hands, parks_clear in product(either, (True, False)):
        found = tuple(lay_out(trestle, shop, hand, parks_clear) for hand in hands)
        jig = found[0]
        if not fits_bed(jig, shop) or jig.half - jig.bearer_faces[-1][1] > trestle.job.shortest_top_mm:
            continue
        # A plate too long for bed or board was passed over. Longer slots also leave it shallow enough, and the base
        # carried: no job is refused for them.
        depth, free = jig.plate_rear - jig.plate_front, shop.sheet.width_mm - 2 * shop.sheet.margin_mm
        carried = depth + shop.machine.tool_mm <= free and jig.support_left() >= jig.needed_support
        if carried or not parks_clear:
            break
    return found


def tilt_deg(layout: JigLayout) -> float:
    """The plate's tilt off level when the board stands edge up, degrees."""
    return 90 - layout.splay_deg
