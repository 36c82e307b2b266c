"""Where everything of the saw guide and the paring guide lies: Trestle and Shop in, SawLayout out; mm, degrees.

Frames and planes are the routing jig's: jig frame (X along the board to the operator's right, Y up out of the worked
edge, Z out of the top face toward the operator), here with the board's end at X = 0; plate plane (X, v, m) with v along
(0, cos b, -sin b) and m along n = (0, sin b, cos b), b the splay; bearer plane (q, y) with q = -Z. Figures are those of
the R guide, whose board lies at X <= 0; the L guide is its mirror image in X = 0.

A cheek stands square to the plate along the leg's axis l = cos phi X + sin phi v, phi the face angle; its faces look
along e = sin phi X - cos phi v. (l, n, e) is right-handed. In a cheek's own plane s runs along l, m along n.

          n  the saw's back lands on the cheek's top, m = hc, with the teeth on the housing's floor, m = -d
          |
          |__________ hc                 The walls of a housing are square to its floor, but meet the fence 7 to 14
          | cheek    |                   degrees off square. So only square joints lead from the fence to the cheek:
    ------+--plate---+--- m = g          fence - bearer (square to X) - plate (parallel to the floor) - cheek (square
          |__________|                   to the plate).
              board
"""

from math import ceil, floor

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.geometry.vectors import Vector
from jigmaker.job.shop import Chisel, HandSaw, Shop
from jigmaker.parts.corners import LEAST_WEB_MM, SCREW_HOLE_MM
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.housing_planes import HousingPlanes
from jigmaker.parts.relief import Bites, bites_of, mortise_width
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.records import Trestle

GuideSpan = tuple[float, float]

TENON_SHORT_MM = 1.5  # tenons end this far below the face they point at
ALONG_MM = 0.2  # a mortise is this much longer than its tenon
BELOW_EDGE_MM = 0.3  # the fence's upper edge under the worked edge, so that it carries nothing
CHEEK_WEB_MM = 6.0  # a cheek below its mortises
SCREW_UP_MM = 8.0  # the fence's screw over the lug's foot
SMALL_BITE_MM = 1.0  # a bite that reaches no farther behind a wall needs no more room


@dataclass(frozen=True, slots=True)
class SawLayout(HousingPlanes):
    """What job and shop say, under the names of the formulas; all else follows. mm but for the angles."""

    splay_deg: float
    face_deg: float
    sheet: float
    joint: float
    top_length: float
    top_thickness: float
    top_width: float
    depth_square: float
    leg_width: float
    clearance: float
    inset: float
    saw: HandSaw
    chisel: Chisel
    bites: Bites

    @property
    def cot_splay(self) -> float:
        """How far a splayed line runs out for 1 of fall."""
        return cotangent(self.splay_deg)

    @property
    def deep_in_face(self) -> float:
        """How deep the housing is in the board's top face."""
        return self.depth_square / sine(self.splay_deg)

    @property
    def near_face(self) -> float:
        """X of the near cheek's face at v = m = 0: as far behind the wall as the teeth stand out of the saw's plate."""
        return -self.inset + (self.clearance / 2 - self.saw.set_mm) / self.rise

    @property
    def far_face(self) -> float:
        """X of the far cheek's face at v = m = 0."""
        return -self.inset - (self.leg_width + self.clearance / 2 - self.saw.set_mm) / self.rise

    @property
    def cheek_top(self) -> float:
        """m of the cheeks' top: the saw's back lands on it with the teeth on the floor."""
        return self.saw.depth_mm - self.depth_square

    @property
    def plate_under(self) -> float:
        """m of the plates' underside: 3 mm of bearer over the fence, and a cheek that is whole below its mortises."""
        p, cot = self.sheet, self.cot_splay
        bearer = (LEAST_WEB_MM + 2 * max(0.0, self.bites.behind - SMALL_BITE_MM) + p * cot) * sine(self.splay_deg)
        # The mortise's corner nearest to the edge is 8 mm before v = 0, where the cheek's lower edge has risen.
        web = CHEEK_WEB_MM + max(0.0, self.bites.aside - SMALL_BITE_MM)
        cheek = (8 + p * self.lie) * cot + web
        return ceil(max(bearer, cheek) * 2 - TOUCH_MM) / 2

    @property
    def plate_span(self) -> GuideSpan:
        """v of the plates' front and rear edges."""
        # Behind the rear mortise, which ends 3 mm behind the arris, bearers have a seat and the plate 4 mm more.
        return -(self.sheet + 20), self._rear + max(12.0, 3 + self.bites.seat(0.0) + 4)

    @property
    def cheek_span(self) -> GuideSpan:
        """v of the cheeks' front and rear ends, on their own faces."""
        return -(self.sheet + 25), self.plate_span[1] + 13

    @property
    def _rear(self) -> float:
        """v of the board's bottom arris, under a thin board farther: the plates' two tenons and mortises have room."""
        room = max(25.0, LEAST_WEB_MM + 3 * self.bites.along + 2 * self.bites.least_length)
        return max(self.top_thickness, room) * sine(self.splay_deg)

    @property
    def cheek_tenons(self) -> tuple[GuideSpan, GuideSpan]:
        """s of both ends of a plate's mortises in its cheek, front and rear."""
        front = max(16.0, self.bites.least_length + ALONG_MM)
        rear = max(20.0, self.bites.least_length + ALONG_MM)
        # The far plate's edge ends as much earlier as its cheek is thick.
        end = (self.plate_span[1] - max(4.0, self.bites.seat(0.0) + self.sheet * self.lie)) / self.rise
        return (-8 / self.rise, -8 / self.rise + front), (end - rear, end)

    @property
    def plate_mortises(self) -> tuple[GuideSpan, GuideSpan]:
        """v of both ends of the mortises in a plate, front and rear; stop and bearers fit the same."""
        front, rear = self.plate_span[0] + max(10.0, 6.0 + self.bites.seat(0.0)), self._rear
        least = self.bites.least_length + ALONG_MM
        return (front, front + max(18.1 + self.sheet - 9.1, least)), (rear - max(16.0, least - 3.0), rear + 3.0)

    @property
    def lug_depth(self) -> float:
        """How far the bearers' lugs reach below the edge: below the saw's notch, and as deep as their tenons need."""
        notch = ceil(self.deep_in_face + (self.sheet + 1.5) * self.cot_splay + 10 - TOUCH_MM)
        tenon = self.under_tenon + max(18.0, self.bites.least_length) + self.over_tenon
        return float(max(45, notch, ceil(tenon - TOUCH_MM)))

    @property
    def over_tenon(self) -> float:
        """From a lug's tenon up to the board's edge: a shoulder with a bite at either end."""
        return self.bites.between(9.0)

    @property
    def under_tenon(self) -> float:
        """From a lug's tenon down to its foot: room in the fence for the screw's hole."""
        hole = SCREW_UP_MM + self.bites.least_hole(SCREW_HOLE_MM)
        return max(18.0, hole + LEAST_WEB_MM + ALONG_MM / 2 + self.bites.endwise)

    @property
    def fence_depth(self) -> float:
        """Lugs and a free band of 30 mm or more for jaws or clamps; never past the board's far edge."""
        return float(min(ceil(max(self.lug_depth + 30, self.top_width - 65)), floor(self.top_width - 3)))

    @property
    def near_bearer(self) -> float:
        """X of the near bearer's left face."""
        return -self.sheet - max(12.0, LEAST_WEB_MM + 1.5 * self.joint + 2 * self.bites.aside)

    @property
    def far_bearer(self) -> float:
        """X of the far bearer's left face: clear of the saw where its lug comes farthest to the front."""
        s, c = sine(self.splay_deg), cosine(self.splay_deg)
        front = min(-self.lug_depth * c - (self.sheet + 20) * s, self.cheek_span[0])
        wall = self.far_face - self.saw.set_mm / self.rise
        return wall + (front * self.lie - self.sheet) / self.rise - 8 - self.sheet

    @property
    def left_end(self) -> float:
        """X of the left end of fence and far plate."""
        return self.far_bearer - max(12.0, LEAST_WEB_MM + self.joint / 2 + self.bites.aside + 2)

    @property
    def right_end(self) -> float:
        """X of the near plate's right edge, beyond the board's end."""
        return self.sheet + self.joint + max(10.0, LEAST_WEB_MM + self.bites.aside)

    @property
    def spacer_width(self) -> float:
        """Between the cheeks: the housing's width less the set of the teeth on both sides."""
        return self.leg_width + self.clearance - 2 * self.saw.set_mm

    @property
    def least_saw_depth(self) -> float:
        """The saw's least depth: its back 10 mm over the plates."""
        return self.depth_square + self.plate_under + self.sheet + 10

    @property
    def stroke_left(self) -> float:
        """How much of the saw's length is left to move once the cheeks are covered."""
        return self.saw.length_mm - (self.cheek_span[1] - self.cheek_span[0]) / self.rise

    @property
    def least_inset(self) -> float:
        """Room between the near cheek and the stop for the near bearer."""
        between = self.near_bearer + self.sheet  # X of its right face, below 0
        return (self.sheet + self.plate_span[1] * self.lie) / self.rise + self.sheet - between + 6

    def cheek_point(self, face_x: float, s: float, e: float) -> Point:
        """(X, v) of the point at s along a cheek and e out of its face, whose line crosses v = 0 at face_x."""
        return (face_x + s * self.lie + e * self.rise, s * self.rise - e * self.lie)

    @property
    def axes(self) -> tuple[Vector, Vector, Vector]:
        """(v, n, l): the plate's slope, out of the wood, the leg's axis; jig frame, R."""
        s, c = sine(self.splay_deg), cosine(self.splay_deg)
        return (0.0, c, -s), (0.0, s, c), (self.lie, self.rise * c, -self.rise * s)

    # The paring guide: a ramp in the plane of the floor before the top face; X = 0 in its middle.

    @property
    def window_floor(self) -> float:
        """y of the bottom of the fence's window: under the ramp's plane where that meets the fence's front."""
        return -self.deep_in_face - self.sheet * self.cot_splay - 0.5

    @property
    def ramp_rear(self) -> float:
        """v of the ramp's rear end: its lower arris clears the fence."""
        back = self.sheet + BELOW_EDGE_MM + (self.depth_square + self.sheet) * cosine(self.splay_deg)
        return -back / sine(self.splay_deg)

    @property
    def reach(self) -> float:
        """v of the floor's rear end."""
        return self.top_thickness / sine(self.splay_deg) - self.depth_square * self.cot_splay

    @property
    def ramp_length(self) -> float:
        """As long as the chisel leaves it: 5 mm before the bolster, at most 60 unless its tenons want more."""
        return min(max(60.0, self.least_ramp), self.chisel.blade_mm - 5 - (self.reach - self.ramp_rear))

    @property
    def ramp_tenon(self) -> float:
        """How long each of the two tenons at either side of the ramp is."""
        room = self.ramp_length - 2 * self.ramp_shoulder - self.bites.between(4.0)
        return min(max(18.0, self.bites.least_length), room / 2)

    @property
    def ramp_shoulder(self) -> float:
        """From the ramp's front and rear ends to its tenons."""
        return self.bites.seat(8.0)

    @property
    def least_ramp(self) -> float:
        """The ramp's least length: a chisel's back that lies on less rocks (common practice, no source), and the ramp's
        tenons have room.
        """
        tenons = self.bites.between(4.0) + 2 * (self.bites.least_length + ALONG_MM)
        return max(35.0, 2 * self.ramp_shoulder + tenons)

    @property
    def ramp_front(self) -> float:
        """v of the ramp's front end."""
        return self.ramp_rear - self.ramp_length

    @property
    def ramp_width(self) -> float:
        """A chisel along either wall of a housing of either hand stays between the ribs."""
        slant = self.lie / self.rise
        width = self.leg_width + self.clearance
        return float(ceil(width / self.rise + (self.reach - self.ramp_front) * slant + 6 - TOUCH_MM))

    @property
    def paring_depth(self) -> float:
        """How far the paring guide's fence reaches below the edge."""
        return float(min(ceil(62 - self.window_floor - TOUCH_MM), floor(self.top_width - 3)))


def lay_out_saw(trestle: Trestle, shop: Shop) -> SawLayout:
    """The layout for this trestle in a shop that saws its housings. Checks nothing: check_saw_guides does."""
    job = trestle.job
    assert shop.hand_saw is not None and shop.chisel is not None  # Shop holds that itself
    return SawLayout(
        splay_deg=job.splay_deg,
        face_deg=trestle.angles.leg_face_deg,
        sheet=shop.sheet.thickness_mm,
        joint=mortise_width(shop) - shop.sheet.thickness_mm,
        top_length=job.top.length_mm,
        top_thickness=job.top.thickness_mm,
        top_width=job.top.width_mm,
        depth_square=trestle.housing.depth_square_mm,
        leg_width=job.leg.width_mm,
        clearance=job.housing.clearance_mm,
        inset=job.inset_mm,
        saw=shop.hand_saw,
        chisel=shop.chisel,
        bites=bites_of(shop),
    )


def turned_over(frame: Frame, thickness: float) -> Frame:
    """Where a piece of the R guide stands in the L guide, turned over: the mirror image in X = 0 of what it fills."""

    def mirror(p: Vector) -> Vector:
        return (-p[0], p[1], p[2])

    x, y, z = mirror(frame.x_axis), mirror(frame.y_axis), mirror(frame.z_axis)
    return Frame(mirror(frame.point((0.0, 0.0, thickness))), x, y, (-z[0], -z[1], -z[2]))


def guided_mm(trestle: Trestle, shop: Shop) -> tuple[float, float]:
    """How long, up the slope from the top face, a wall of a housing is guided, and how deep the fence's lugs are, mm:
    by how much the machine's accuracy can turn the leg.
    """
    if not shop.routs_housings:
        lay = lay_out_saw(trestle, shop)
        return lay.cheek_span[1] - lay.cheek_span[0], lay.lug_depth
    layout = lay_out_jigs(trestle, shop)[0]
    return layout.slot_rear - layout.slot_front, layout.lug_depth
