"""The sloping cradle, on which a mitre saw that does not tilt cuts the legs: Trestle and Shop in, Parts and Findings
out; mm, degrees.

Cradle frame: z = 0 on the saw's table, y = 0 at the saw's fence and y < 0 toward the operator, x along the fence to the
right; the upright blade, set square, crosses the fence at x = 0. The leg lies on a wide face, its far edge at y = -p
against the fence rib, and rises to the left by the slope d; p is the sheet.

      from the operator           20                    from above, first end
        ____                  ___/                      ______________ y = 0, saw's fence   / blade, far end
       |    `````----.....___|    leg                   _fence rib____|  ------ packing ---/- to the right
       |  cradle   d (       ````--|                    _far rib______|   leg             /
    ---'---------------------------'--!-- table         |  |       |  |                  /  mu off square
       x0          Lc             x1  blade, x = 0      _near rib_____|_________________/

With outer wide face down and foot to the right the trestle's level planes look along n = (1/D, -cos phi sin b, cos b)
in the leg's own axes, D its length for 1 of height, phi the face angle, b the splay. Turned about the leg's width by d,
tan d = D cos b, n has no upright part left: an upright blade cuts it, mu off square, sin mu = cos phi sin b. Both are
the angles with which a leg is sawn on its narrow edge. For the other end n must point the other way: the leg is turned
end for end *and* laid on its other wide face, which leaves d as it is and brings mu to the other side of the scale.
Turned end for end only, at the same mitre, the cut is off by 2 (90 - b).
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import ceil

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import LEAST_WEB_MM, OutlineCorner, PartOpening, across, drawn_part
from jigmaker.parts.housing_saw.layout import ALONG_MM, TENON_SHORT_MM
from jigmaker.parts.housing_saw.saw_guide import AWAY_MM, back_to_front, named_inside
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import FeatureKind, Part, Placement
from jigmaker.parts.relief import Bites, bites_of, mortise_width
from jigmaker.parts.text_box import CLEAR_MM, Box, fill_inside
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, stretch, tangent
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least
from jigmaker.units import fixed, length_text

LEG_CRADLE = "sloping cradle"
CLEAR_OF_BLADE_MM = 15.0
NOSE_MM = 28.0  # the ribs' height at the blade
LEAST_UNDER_MM = 15.0  # leg over the table at the blade
OVER_MIDDLE_MM = 40.0  # cradle beyond the leg's middle, so that it lies there by itself
BESIDE_LEG_MM = 20.0  # fence rib over the leg's underside, square to it
CLAMPED_OVER_MM = 22.0  # what must be clamped over the ribs' highest point, fence rib and all
LEG_OUT_MM = 4.0  # leg over the near rib
FREE_MM = 2.0  # cross pieces off the table and off the leg
HIGHEST_MM = 200.0  # higher a leg cannot be clamped at a mitre saw's fence; common practice, no source
LOW_IN_MM, HIGH_IN_MM = 40.0, 30.0  # from the ribs' ends to the cross pieces
PACKING_MM = (150.0, 40.0)


@dataclass(frozen=True, slots=True)
class CradleLayout:
    """What job and shop say, under the names of the formulas; all else follows. mm but for the angles.

    leg_length: of the longest leg, as sawn, along an arris.
    """

    slope_deg: float
    mitre_deg: float
    face_deg: float
    sheet: float
    joint: float
    leg_width: float
    leg_thickness: float
    leg_length: float
    bites: Bites

    @property
    def rise(self) -> float:
        """tan d: how much the leg rises to the left for 1 along the table."""
        return tangent(self.slope_deg)

    @property
    def swings(self) -> bool:
        """True where the saw is swung for either end."""
        return self.mitre_deg != 0

    @property
    def from_blade(self) -> float:
        """From the blade, set square, to the ribs: clear of it at either swing."""
        return CLEAR_OF_BLADE_MM + (self.leg_width + 2 * self.sheet) * tangent(self.mitre_deg)

    @property
    def under_leg(self) -> float:
        """z of the leg's underside where the blade, set square, crosses it."""
        low, high = self.tenon_low, self.over_tenon
        # Where the low cross piece stands, the rib is as high as the least tenon and both its shoulders.
        least = low + max(8.0, self.bites.least_length) + high - LOW_IN_MM * self.rise
        return max(LEAST_UNDER_MM, max(NOSE_MM, least) - self.from_blade * self.rise)

    @property
    def tenon_low(self) -> float:
        """z of the lower side of a cross piece's tenons: over a shoulder that starts off the table."""
        return FREE_MM + self.bites.seat(6.0)

    @property
    def over_tenon(self) -> float:
        """From a tenon's upper side to the leg."""
        return FREE_MM + self.bites.seat(8.0)

    @property
    def length(self) -> float:
        """The ribs' length: the leg's middle lies on them."""
        slant = self.leg_width * cotangent(self.face_deg)
        return float(ceil(self.leg_length / 2 + slant + OVER_MIDDLE_MM - self.from_blade - TOUCH_MM))

    @property
    def ends(self) -> tuple[float, float]:
        """x of the ribs' left and right ends."""
        return -self.from_blade - self.length, -self.from_blade

    def seat(self, x: float) -> float:
        """z of the leg's underside."""
        return self.under_leg - x * self.rise

    @property
    def fence_over(self) -> float:
        """The fence rib over the leg's underside, upright."""
        return BESIDE_LEG_MM / cosine(self.slope_deg)

    @property
    def rib_faces(self) -> tuple[float, float]:
        """y of the near and of the far carrying rib's face away from the operator."""
        return LEG_OUT_MM - self.leg_width, -self.sheet

    @property
    def cross_pieces(self) -> tuple[tuple[str, float], ...]:
        """Each cross piece's name and x of its left face."""
        low, high = self.ends
        return ("low", high - LOW_IN_MM - self.sheet), ("high", low + HIGH_IN_MM)

    def cross_tenon(self, x: float) -> tuple[float, float]:
        """z of both sides of the tenons of the cross piece whose left face is at x; its right side is under the leg's
        lower part."""
        return self.tenon_low, self.seat(x + self.sheet) - self.over_tenon

    @property
    def between(self) -> float:
        """Between the carrying ribs: the cross pieces' length without tenons."""
        near, far = self.rib_faces
        return far - self.sheet - near

    @property
    def least_between(self) -> float:
        """Cross pieces hold together between the bites at their tenons."""
        return LEAST_WEB_MM + 1 + 2 * self.bites.behind

    @property
    def height_to_cut(self) -> float:
        """The highest point of wood that the blade meets, over the table: where it swings farthest toward the cradle
        under the leg, turning about the fence.
        """
        left = (self.leg_width + self.sheet) * tangent(self.mitre_deg)
        return self.seat(-left) + self.leg_thickness / cosine(self.slope_deg)

    @property
    def waste(self) -> float:
        """How long the waste may stand out beyond the blade before it meets the table, along the leg."""
        return self.under_leg / self.rise / cosine(self.slope_deg)


def lay_out_cradle(trestle: Trestle, shop: Shop) -> CradleLayout:
    """The layout for this trestle, for the longest leg of all its sizes. Checks nothing: check_leg_cradle does."""
    job, angles = trestle.job, trestle.angles
    along = stretch(job.rake_deg, job.splay_deg)
    return CradleLayout(
        slope_deg=angles.saw_mitre_on_edge_deg,
        mitre_deg=angles.saw_tilt_on_edge_deg,
        face_deg=angles.leg_face_deg,
        sheet=shop.sheet.thickness_mm,
        joint=mortise_width(shop) - shop.sheet.thickness_mm,
        leg_width=job.leg.width_mm,
        leg_thickness=job.leg.thickness_mm,
        leg_length=job.highest_mm * along + job.leg.horn_mm + job.leg.trim_mm,
        bites=bites_of(shop),
    )


_BY_HAND = 'saw the legs by hand to lines marked with the bevel, or in a leg box with kind = "hand"'

# Code; the value and the most that goes; what is wrong, "{0}" the value, "{1}" the most; what to do; where.
#
# All are cautions: the rest of the kit is sound, and its bevel plate has both angles of the ends for a saw in the
# hand.
_LIMITS: tuple[tuple[int, Callable[[CradleLayout, Shop], tuple[float, float]], str, str, str], ...] = (
    (
        236,
        lambda lay, shop: (lay.seat(lay.ends[0]) + CLAMPED_OVER_MM, HIGHEST_MM),
        "a sloping cradle for these legs would be {0} high, and over {1} a leg cannot be clamped to it",
        _BY_HAND,
        "shop leg_saw.kind",
    ),
    (
        237,
        lambda lay, shop: (lay.height_to_cut, shop.leg_saw.cutting_height_mm or 0.0),
        "on a sloping cradle a leg stands {0} high at the blade and the saw cuts {1}",
        f"use a saw that cuts higher, {_BY_HAND}",
        "shop leg_saw.cutting_height",
    ),
    (
        238,
        lambda lay, shop: _over_sheet(lay, shop),
        "a sloping cradle's ribs measure {0} with their cut and the sheet less its margins {1}",
        f"use a longer sheet, {_BY_HAND}",
        "shop sheet.length",
    ),
    (
        239,
        lambda lay, shop: (lay.least_between - lay.between, 0.0),
        "under a leg so narrow a sloping cradle's ribs lack {0} of room for the pieces between them",
        f"cut the kit from a thinner sheet, {_BY_HAND}",
        "shop sheet.thickness",
    ),
)


def _over_sheet(lay: CradleLayout, shop: Shop) -> tuple[float, float]:
    """What the fence rib asks of the sheet that it is cut from, and what that has: lengthwise, else crosswise."""
    sheet, cut = shop.sheet_for("cradle-fence-rib", LEG_CRADLE), 2 * shop.machine.widest_cut_mm
    long, high = lay.length + cut, lay.seat(lay.ends[0]) + lay.fence_over + cut
    room, across_it = sorted(each - 2 * max(sheet.margin_mm, 1.0) for each in (sheet.length_mm, sheet.width_mm))[::-1]
    if high > across_it and long <= room:
        return high, across_it
    return max(long, high), room


def check_leg_cradle(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """A caution for each reason why there can be no cradle for these legs; nothing where none is wanted."""
    if not turns_legs(trestle, shop):
        return
    lay, unit = lay_out_cradle(trestle, shop), trestle.job.unit
    for code, measure, says, do, key in _LIMITS:
        value, most = measure(lay, shop)
        if value > most + TOUCH_MM:
            told, limit = at_least(value, unit), length_text(most, unit)
            says = f"{says.format(told, limit)}, so the kit has no cradle"
            yield Finding(code, says, do, key, severity="caution", value=told, limit=limit)


def cradle_of(trestle: Trestle, shop: Shop) -> CradleLayout | None:
    """The cradle's layout, None where the kit has none."""
    if not turns_legs(trestle, shop) or any(check_leg_cradle(trestle, shop)):
        return None
    return lay_out_cradle(trestle, shop)


def leg_cradle_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Two carrying ribs, fence rib, two cross pieces, packing strip; nothing where there is no cradle."""
    lay = cradle_of(trestle, shop)
    if lay is None:
        return ()
    pieces = tuple(_cross_piece(lay, name, x, shop) for name, x in lay.cross_pieces)
    return _rib(lay, trestle, shop), _fence_rib(lay, shop), *pieces, _packing_strip(lay, shop)


def _upright(y: float) -> Frame:
    """cradle_from_plane of (x, z), thickness toward the operator from y."""
    return Frame((0.0, y, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))


def _rib_corners(lay: CradleLayout, over: float, upper: str, kind: FeatureKind) -> list[OutlineCorner]:
    """A rib whose `upper` edge stands `over` the leg's underside. Plane: x, z."""
    low, high = lay.ends
    return [
        OutlineCorner((low, 0.0), "foot on the saw's table"),
        OutlineCorner((high, 0.0), "blade's end", "free"),
        OutlineCorner((high, lay.seat(high) + over), upper, kind),
        OutlineCorner((low, lay.seat(low) + over), "high end", "free"),
    ]


def _rib(lay: CradleLayout, trestle: Trestle, shop: Shop) -> Part:
    """Carries the leg: one under its near edge, one under its far edge."""
    openings: list[PartOpening] = []
    for name, x in lay.cross_pieces:
        low, high = lay.cross_tenon(x)
        left, right = x - lay.joint / 2, x + lay.sheet + lay.joint / 2
        openings.append((f"mortise, {name} cross piece", (left, low - ALONG_MM / 2), (right, high + ALONG_MM / 2)))
    corners = _rib_corners(lay, 0.0, "seat of the leg", "edge")
    part, at = drawn_part("cradle rib", LEG_CRADLE, corners, shop, openings)
    places = tuple(
        Placement(f"cradle {side} rib", "both", _upright(y) @ Frame((*at, 0.0)))
        for side, y in zip(("near", "far"), lay.rib_faces, strict=True)
    )
    # Its marks, in the part frame: what turns and swings between the cross pieces, at the blade's end its name.
    left, leg, unit = at[0], trestle.job.leg, trestle.job.unit
    figures = {
        "mitre": fixed(lay.mitre_deg, 2),
        "slope": fixed(lay.slope_deg, 2),
        "leg": f"{length_text(leg.width_mm, unit)} × {length_text(leg.thickness_mm, unit)}",
    }
    whats = [*(("first", "second") if lay.swings else ("square", "turn")), "slope", "name", "leg"]
    aside = AWAY_MM + lay.joint / 2 + lay.bites.aside
    (_, low), (_, high) = lay.cross_pieces
    low, high, end = low - left, high - left, lay.length
    across_low = high + lay.sheet + aside, low - aside
    # As high as the rib is in the middle of the free stretch, and narrower; or as long as it is, and lower.
    middle = sum(across_low) / 2
    boxes = [Box(across_low[0], AWAY_MM, x, lay.seat(x + left) - AWAY_MM) for x in (middle, across_low[1])]
    lines = words_of("cradle-rib", whats, shop, **figures)
    tries = (fill_inside(part, [lines[:count]], box, 6.0) for count in range(len(lines), 0, -1) for box in boxes)
    beside = Box(low + lay.sheet + aside, AWAY_MM, end - AWAY_MM, lay.seat(end + left) - AWAY_MM)
    blade = fill_inside(part, [words_of("cradle-rib", ["blade"], shop)], beside, 5.0)
    marks = (*next((found for found in tries if found), ()), *blade)
    return replace(part, needed=2, placements=places, marks=marks)


def _fence_rib(lay: CradleLayout, shop: Shop) -> Part:
    """Glued behind the far rib: the leg's far edge lies on it, and clamps and stop are held by it."""
    corners = _rib_corners(lay, lay.fence_over, "upper edge", "free")
    part, at = drawn_part("cradle fence rib", LEG_CRADLE, corners, shop)
    place = Placement("cradle fence rib", "both", _upright(0.0) @ Frame((*at, 0.0)))
    box = Box(AWAY_MM, AWAY_MM, lay.length / 2, lay.seat(lay.ends[0] + lay.length / 2) - AWAY_MM)
    return replace(part, placements=(place,), marks=named_inside(part, part.slug, box, shop))


def _cross_piece(lay: CradleLayout, name: str, x: float, shop: Shop) -> Part:
    """Between the carrying ribs, with a tenon in each. Plane: y from the middle between them, z."""
    low, high = lay.cross_tenon(x)
    top, half = lay.seat(x + lay.sheet) - FREE_MM, lay.between / 2
    tip = half + lay.sheet - TENON_SHORT_MM
    far = [
        OutlineCorner((half, FREE_MM), "far shoulder, lower"),
        OutlineCorner((half, low), "far tenon, lower side", "tenon", True),
        OutlineCorner((tip, low), "far tenon, end", "tenon"),
        OutlineCorner((tip, high), "far tenon, upper side", "tenon"),
        OutlineCorner((half, high), "far shoulder, upper", "edge", True),
        OutlineCorner((half, top), "upper edge", "free"),
    ]
    near = [replace(c, at=(-c.at[0], c.at[1]), piece=c.piece.replace("far", "near")) for c in far]
    corners = [*far, *back_to_front(near, "lower edge", "free")]
    part, at = drawn_part(f"cradle {name} cross piece", LEG_CRADLE, corners, shop)
    plane = Frame((x, lay.rib_faces[0] + half, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
    apart = across(
        part.features, "near shoulder, lower", "far shoulder, lower", "between the shoulders", "edge", lay.between
    )
    tall = across(part.features, "far tenon, lower side", "far tenon, upper side", "tenon, height", "tenon", high - low)
    # Between the shoulders, else over the tenons as well.
    boxes = (
        Box(AWAY_MM - half, FREE_MM + AWAY_MM, half - AWAY_MM, top - AWAY_MM),
        Box(CLEAR_MM - tip, low + CLEAR_MM, tip - CLEAR_MM, high - CLEAR_MM),
    )
    names = [named_inside(part, part.slug, box.moved(-at[0], -at[1]), shop) for box in boxes]
    return replace(
        part,
        features=(*part.features, apart, tall),
        placements=(Placement(part.name, "both", plane @ Frame((*at, 0.0))),),
        marks=names[0] or names[1],
    )


def _packing_strip(lay: CradleLayout, shop: Shop) -> Part:
    """At the saw's fence beyond the blade, as thick as the fence rib: the leg's far edge lies on it there."""
    long, high = PACKING_MM
    names = ("lower edge", "right end", "upper edge", "left end")
    points = ((0.0, 0.0), (long, 0.0), (long, high), (0.0, high))
    corners = [OutlineCorner(at, name, "free") for at, name in zip(points, names, strict=True)]
    part, _ = drawn_part("cradle packing strip", LEG_CRADLE, corners, shop)
    place = Placement(part.name, "both", _upright(0.0) @ Frame((lay.from_blade, 0.0, 0.0)))
    box = Box(AWAY_MM, AWAY_MM, long - AWAY_MM, high - AWAY_MM)
    return replace(part, placements=(place,), marks=named_inside(part, "cradle-packing-strip", box, shop))
