"""The coupon, cut and measured before the first kit: Shop and unit in, one Part out. Part frame; mm, degrees.

Six stations: A and B two wedges, each with the slot that it is put into, for the kerf across x and across y; C a gap
that widens, for the joints; D two lengths in x and two in y for the scale; E a square of holes whose diagonals show
skew; F a hole and the disc out of it. Wedges and disc are what drops out of windows; the cut-off corner is where x and
y start.
"""

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, Point
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, round_hole
from jigmaker.parts.coupon_marks import coupon_marks
from jigmaker.parts.coupon_places import SLOTS_AT, lay_out_coupon
from jigmaker.parts.coupon_size import GAP_TAPER, REST_MM, THROW, WEDGES_MM, WIDEST_CUT_MM, CouponSize, coupon_size
from jigmaker.parts.part import Feature, Hole, Part, Placement, Setting
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit, length_text

ASSEMBLY = "coupon"
CUT_OFF_MM = 8.0
NOTCH_DEPTH_MM = 10.0

Opening = tuple[Hole, tuple[Feature, ...]]


def coupon_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """The coupon, or nothing when the machine's cut is too wide for one."""
    return () if shop.machine.tool_mm > WIDEST_CUT_MM else (coupon(shop, trestle.job.unit),)


def check_coupon(trestle: Trestle, shop: Shop) -> list[Finding]:
    """A caution when the kit comes without a coupon."""
    tool, unit = shop.machine.tool_mm, trestle.job.unit
    if tool <= WIDEST_CUT_MM:
        return []
    says = f"a cutter of {length_text(tool, unit)} is too wide for the coupon, so that none is made"
    do = "use a narrower cutter, or measure the cut's width in scrap"
    limit = length_text(WIDEST_CUT_MM, unit)
    return [Finding(371, says, do, "shop machine.cutter", ASSEMBLY, length_text(tool, unit), limit, "caution")]


def coupon(shop: Shop, unit: Unit) -> Part:
    """The coupon for a shop, its figures in `unit`. Raises DoesNotFit when the machine's cut is too wide for one."""
    size = coupon_size(shop, unit)
    places = lay_out_coupon(size)
    outline, pieces = draw_outline(_corners(size))
    openings = _openings(size)
    # The four lengths, each between two outside edges, and the notches.
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    return Part(
        name="coupon",
        slug="coupon",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("coupon").thickness_mm,
        outline=outline,
        holes=tuple(hole for hole, _ in openings),
        features=(
            *pieces,
            across(pieces, "left edge", "right edge, lower", "D, long in x", "edge", long_x),
            across(pieces, "top notch, right side", "right edge, upper", "D, short in x", "edge", short_x),
            across(pieces, "bottom edge", "top edge, right", "D, long in y", "edge", long_y),
            across(pieces, "right notch, upper side", "top edge, right", "D, short in y", "edge", short_y),
            across(
                pieces, "right notch, lower side", "right notch, upper side", "right notch, width", "edge", size.notch
            ),
            across(pieces, "top notch, left side", "top notch, right side", "top notch, width", "edge", size.notch),
            *(feature for _, found in openings for feature in found),
        ),
        marks=coupon_marks(size, places, shop, unit),
        settings=_settings(size, shop, unit),
        placements=(Placement("coupon", "both", Frame()),),
        lies_unturned=True,
    )


def _corners(size: CouponSize) -> list[OutlineCorner]:
    """Anticlockwise from the cut-off corner. The upper right corner carries both short lengths."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    notch_x, notch_y = long_x - short_x, long_y - short_y
    return [
        OutlineCorner((CUT_OFF_MM, 0.0), "bottom edge"),
        OutlineCorner((long_x, 0.0), "right edge, lower"),
        OutlineCorner((long_x, notch_y - size.notch), "right notch, lower side", "free"),
        OutlineCorner((long_x - NOTCH_DEPTH_MM, notch_y - size.notch), "right notch, bottom", "free"),
        OutlineCorner((long_x - NOTCH_DEPTH_MM, notch_y), "right notch, upper side"),
        OutlineCorner((long_x, notch_y), "right edge, upper"),
        OutlineCorner((long_x, long_y), "top edge, right"),
        OutlineCorner((notch_x, long_y), "top notch, right side"),
        OutlineCorner((notch_x, long_y - NOTCH_DEPTH_MM), "top notch, bottom", "free"),
        OutlineCorner((notch_x - size.notch, long_y - NOTCH_DEPTH_MM), "top notch, left side", "free"),
        OutlineCorner((notch_x - size.notch, long_y), "top edge, left", "free"),
        OutlineCorner((0.0, long_y), "left edge"),
        OutlineCorner((0.0, CUT_OFF_MM), "cut-off corner", "free"),
    ]


def _openings(size: CouponSize) -> list[Opening]:
    """Slots and windows of the wedges, the gap, the square's holes and the disc's."""
    places = lay_out_coupon(size)
    made = [_tapered(f"{each}, slot", SLOTS_AT[each], each, size.slot_ends()) for each in WEDGES_MM]
    made += [_tapered(f"{each}, wedge", places.windows[each], each, size.window_ends(each)) for each in WEDGES_MM]
    if size.gap:
        # One wall straight up, the other leaning away from it, so that an offcut slides along the straight one.
        (x, y), (narrow, length), name = places.gap, size.gap, "C, gap"
        corners = [
            OutlineCorner((x, y), f"{name}, straight wall", "recess"),
            OutlineCorner((x, y + length), f"{name}, wide end", "free"),
            OutlineCorner((x + narrow + GAP_TAPER * length, y + length), f"{name}, leaning wall", "recess"),
            OutlineCorner((x + narrow, y), f"{name}, narrow end", "recess"),
        ]
        outline, features = draw_outline(corners, name)
        made.append((Hole(name, outline), features))
    made += [round_hole(f"E, {name}", at, size.square_hole) for name, at in places.square.items()]
    return [*made, round_hole("F, hole and disc", places.disc, size.disc)]


def _tapered(name: str, at: Point, wedge: str, ends: tuple[float, float, float]) -> Opening:
    """An opening that widens from the middle of its thin end, A's upward, B's to the right. Corners need no relief:
    nothing sits in them, and a wedge comes out sharp."""
    (x, y), (thin, thick, length) = at, ends
    points = [(-thin, 0.0), (-thick, length), (thick, length), (thin, 0.0)]
    if wedge == "B":
        points = [(v, -u) for u, v in points]
    sides = ("one flank", "thick end", "other flank", "thin end")
    corners = [
        OutlineCorner((x + u, y + v), f"{name}, {side}", "free" if side == "thin end" else "recess")
        for (u, v), side in zip(points, sides, strict=True)
    ]
    outline, features = draw_outline(corners, name)
    return Hole(name, outline), features


def _settings(size: CouponSize, shop: Shop, unit: Unit) -> tuple[Setting, ...]:
    """What is drawn, and the sum that turns a reading into a setting."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    loose = "; it comes loose: hold it down with tape" if shop.machine.kind == "cnc" else ""
    kerf, all_of = ("kerf", "the kerf") if shop.machine.kind == "laser" else ("cut", "the cut's width")
    wedge = (
        f"the wedge put into its slot as it lay, to where it rests; {kerf} = {length_text(size.tool, unit)} + "
        f"(gap less {length_text(REST_MM, unit)}) / {THROW:.0f}, whatever the lines allow for{loose}"
    )
    scale = f"scale = (long less short, measured) / (long less short, drawn): {all_of} drops out"
    skew = (
        "r from the lower left hole to the upper right one, f the other diagonal, each over the holes' far sides less "
        f"{all_of}: sin(skew) = (r r - f f) / (r r + f f), positive when the machine's y axis leans toward its x axis"
    )
    disc = f"{kerf} on a curve = (hole less disc, measured) / 2, whatever the lines allow for"
    gap = []
    if size.gap:
        narrow, length = size.gap
        why = "joints take the width at which an offcut stops that slides toward the narrow end"
        for name, width in (("narrow", narrow), ("wide", narrow + GAP_TAPER * length)):
            gap.append(Setting(f"C, {name} end of the gap, drawn", width, "mm", why, "across x"))
    return (
        Setting("A, gap behind the wedge, drawn", REST_MM, "mm", wedge, f"along y; the longer wedge: {kerf} in x"),
        Setting("B, gap behind the wedge, drawn", REST_MM, "mm", wedge, f"along x; the shorter wedge: {kerf} in y"),
        *gap,
        Setting("D, long in x, drawn", long_x, "mm", scale, "left edge to right edge"),
        Setting("D, short in x, drawn", short_x, "mm", scale, "top notch to right edge"),
        Setting("D, long in y, drawn", long_y, "mm", scale, "bottom edge to top edge"),
        Setting("D, short in y, drawn", short_y, "mm", scale, "right notch to top edge"),
        Setting("E, side of the square", size.square, "mm", skew, "between the centres of the holes"),
        Setting("F, hole and disc, drawn", size.disc, "mm", disc, "across"),
    )
