"""The coupon, cut and measured before the first kit: Shop and unit in, one Part out. Part frame; mm, degrees.

Six stations: A strips across x and B across y for the kerf, C a comb of slots for the joints, D two lengths in x and
two in y for the scale, E a square of holes whose diagonals show skew, F a hole and the disc out of it. The strips and
the disc are what drops out of windows; the cut-off corner is where x and y start.
"""

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, Point
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import Corner, across, draw_outline, mortise, round_hole
from jigmaker.parts.coupon_marks import coupon_marks
from jigmaker.parts.coupon_places import CouponPlaces, lay_out_coupon
from jigmaker.parts.coupon_size import COMB_LOW_MM, STEP_MM, WIDEST_CUT_MM, CouponSize, coupon_size
from jigmaker.parts.part import Feature, Hole, Part, Placement, Setting
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit, length_text

ASSEMBLY = "coupon"
CUT_OFF_MM = 8.0
COMB_DEPTH_MM = 11.0
NOTCH_DEPTH_MM = 10.0


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
    holes, hole_features = _holes(size, places)
    return Part(
        name="coupon",
        slug="coupon",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet.thickness_mm,
        outline=outline,
        holes=holes,
        features=(*pieces, *_lengths(pieces, size), *_slot_widths(pieces, size), *hole_features),
        marks=coupon_marks(size, places, shop, unit, COMB_DEPTH_MM),
        settings=_settings(size, shop, unit),
        placements=(Placement("coupon", "both", Frame()),),
        lies_unturned=True,
    )


def _corners(size: CouponSize) -> list[Corner]:
    """Anticlockwise from the cut-off corner. The upper right corner carries both short lengths."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    notch_x, notch_y = long_x - short_x, long_y - short_y
    return [
        *_comb_corners(size),
        Corner((long_x, 0.0), "right edge, lower"),
        Corner((long_x, notch_y - size.notch), "right notch, lower side", "free"),
        Corner((long_x - NOTCH_DEPTH_MM, notch_y - size.notch), "right notch, bottom", "free"),
        Corner((long_x - NOTCH_DEPTH_MM, notch_y), "right notch, upper side"),
        Corner((long_x, notch_y), "right edge, upper"),
        Corner((long_x, long_y), "top edge, right"),
        Corner((notch_x, long_y), "top notch, right side"),
        Corner((notch_x, long_y - NOTCH_DEPTH_MM), "top notch, bottom", "free"),
        Corner((notch_x - size.notch, long_y - NOTCH_DEPTH_MM), "top notch, left side", "free"),
        Corner((notch_x - size.notch, long_y), "top edge, left", "free"),
        Corner((0.0, long_y), "left edge"),
        Corner((0.0, CUT_OFF_MM), "cut-off corner", "free"),
    ]


def _comb_corners(size: CouponSize) -> list[Corner]:
    """The bottom edge from the cut-off corner on, slot by slot; its last piece is the one that lengths end on."""
    names = [f"tooth {i}" for i in range(1, len(size.slots))] + ["bottom edge, right"]
    corners = [Corner((CUT_OFF_MM, 0.0), "bottom edge, left" if size.slots else "bottom edge, right")]
    for i, (width, name) in enumerate(zip(size.slots, names, strict=False), 1):
        low = COMB_LOW_MM + (i - 1) * size.pitch
        corners += [
            Corner((low, 0.0), f"slot {i}, left wall", "recess"),
            Corner((low, COMB_DEPTH_MM), f"slot {i}, end", "recess"),
            Corner((low + width, COMB_DEPTH_MM), f"slot {i}, right wall", "recess"),
            Corner((low + width, 0.0), name),
        ]
    return corners


def _lengths(pieces: tuple[Feature, ...], size: CouponSize) -> tuple[Feature, ...]:
    """The four lengths, each between two outside edges, and the notches."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    return (
        across(pieces, "left edge", "right edge, lower", "D, long in x", "edge", long_x),
        across(pieces, "top notch, right side", "right edge, upper", "D, short in x", "edge", short_x),
        across(pieces, "bottom edge, right", "top edge, right", "D, long in y", "edge", long_y),
        across(pieces, "right notch, upper side", "top edge, right", "D, short in y", "edge", short_y),
        across(pieces, "right notch, lower side", "right notch, upper side", "right notch, width", "edge", size.notch),
        across(pieces, "top notch, left side", "top notch, right side", "top notch, width", "edge", size.notch),
    )


def _slot_widths(pieces: tuple[Feature, ...], size: CouponSize) -> list[Feature]:
    return [
        across(pieces, f"slot {i}, left wall", f"slot {i}, right wall", f"C, slot {i}", "recess", width)
        for i, width in enumerate(size.slots, 1)
    ]


def _holes(size: CouponSize, places: CouponPlaces) -> tuple[tuple[Hole, ...], tuple[Feature, ...]]:
    """Windows of the strips, the square's holes and the disc's hole."""
    strip = size.strip
    made = [_window(f"A, strip {i}", at, strip, size.x_strip_length) for i, at in enumerate(places.x_strips, 1)]
    made += [_window(f"B, strip {i}", at, size.y_strip_length, strip) for i, at in enumerate(places.y_strips, 1)]
    made += [round_hole(f"E, {name}", at, size.square_hole) for name, at in places.square.items()]
    made.append(round_hole("F, hole and disc", places.disc, size.disc))
    return tuple(hole for hole, _ in made), tuple(feature for _, features in made for feature in features)


def _window(name: str, at: Point, long_x: float, long_y: float) -> tuple[Hole, tuple[Feature, ...]]:
    """A window whose waste is a strip. Its corners need no relief: the strip comes out sharp."""
    return mortise(name, at, (at[0] + long_x, at[1] + long_y), kind="hole")


def _settings(size: CouponSize, shop: Shop, unit: Unit) -> tuple[Setting, ...]:
    """What is drawn, and the sum that turns a reading into a setting."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    loose = "; all come loose: hold them down with tape" if shop.machine.kind == "cnc" else ""
    kerf = (
        f"{size.strips} strips pushed together; kerf = (drawn less measured) / {size.strips}, less the kerf that the "
        f"file's lines allow for{loose}"
    )
    scale = "scale = (long less short, measured) / (long less short, drawn): the kerf drops out"
    skew = (
        "r from the lower left hole to the upper right one, f the other diagonal, each over the holes' far sides less "
        "the kerf: sin(skew) = (r r - f f) / (r r + f f), positive when the machine's y axis leans toward its x axis"
    )
    disc = "kerf on a curve = (hole less disc, measured) / 2, whatever the lines allow for"
    return (
        Setting("A, strips across x, drawn", size.stack, "mm", kerf, "along x; the longer strips"),
        Setting("B, strips across y, drawn", size.stack, "mm", kerf, "along y; the shorter strips"),
        *_comb_settings(size, unit),
        Setting("D, long in x, drawn", long_x, "mm", scale, "left edge to right edge"),
        Setting("D, short in x, drawn", short_x, "mm", scale, "top notch to right edge"),
        Setting("D, long in y, drawn", long_y, "mm", scale, "bottom edge to top edge"),
        Setting("D, short in y, drawn", short_y, "mm", scale, "right notch to top edge"),
        Setting("E, side of the square", size.square, "mm", skew, "between the centres of the holes"),
        Setting("F, hole and disc, drawn", size.disc, "mm", disc, "across"),
    )


def _comb_settings(size: CouponSize, unit: Unit) -> list[Setting]:
    """The narrowest and the widest slot."""
    if not size.slots:
        return []
    why = f"slots in steps of {length_text(STEP_MM, unit)}: joints take the one in which an offcut slides without play"
    ends = (("narrowest", size.slots[0]), ("widest", size.slots[-1]))
    return [Setting(f"C, {name} slot, drawn", width, "mm", why, "comb along the bottom edge") for name, width in ends]
