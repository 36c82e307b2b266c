"""The brace template, the outline of a brace's inside face at full size: Trestle and Shop in, Part out; mm, degrees.

The inside face is the one that touches the legs. Top edge and ends are undercut from it, so a brace sawn square along
the template has wood to spare. The outline is its own mirror image: one template serves all braces.
Part frame: bottom edge along x, top edge above it. When it is too long for the bed it becomes half a template, from the
middle of the brace at x = 0 to its end. A fifth angle near square, which would want a bevel plate to itself, is cut as
the flank of a notch in the bottom edge.
"""

from math import degrees, radians, sin

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_flanks import FLANKS_PER_PLATE, Flank, share_flanks, use_settings, wanted_uses
from jigmaker.parts.bevel_size import inward
from jigmaker.parts.corners import OutlineCorner, across, draw_outline
from jigmaker.parts.gauge_limits import AWAY_MM
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import TEXT_MM, text_mark
from jigmaker.parts.part import Feature, Mark, Part, Setting
from jigmaker.parts.text_box import LINE_PITCH, Box, fill_box
from jigmaker.record import dataclass
from jigmaker.trestle.records import Brace, Trestle
from jigmaker.units import fixed, length_text

ASSEMBLY = "brace template"
LARGEST_TEXT_MM = 5.0

SHALLOW_DEG = 86.0
LEAST_FLANK_MM = 80.0
MOUTH_MM = 28.0  # of the notch: a bevel's blade lies in it
ABOVE_MM, BESIDE_MM = 24.0, 14.0  # wood left over the notch, and between it and the end
REFERENCE_MM = 80.0
"""Least length of the bottom edge that a bevel's stock goes on to."""


@dataclass(frozen=True, slots=True)
class Notch:
    """A notch in the bottom edge, from left to right there and so deep; its left wall is a flank."""

    #      top_left ________
    #             \         |        wood on all sides but below. The flank's angle is the wood's own, under 90 degrees,
    #     _________\        |_____   between the bottom edge at its left, on which a bevel's stock lies, and the flank
    #           left        right

    flank: Flank
    left: float
    right: float
    deep: float

    @property
    def top_left(self) -> float:
        """Where the flank ends; it leans away from the notch, so that its angle is in the wood."""
        return self.left - inward(self.deep, self.flank.angle_deg)

    @property
    def corners(self) -> list[OutlineCorner]:
        """Up the flank, across, and square down to the rest of the bottom edge."""
        return [
            OutlineCorner((self.left, 0.0), "flank", "flank"),
            OutlineCorner((self.top_left, self.deep), "notch, bottom", "free"),
            OutlineCorner((self.right, self.deep), "notch, right side", "free"),
            OutlineCorner((self.right, 0.0), "bottom edge, right"),
        ]

    def settings(self, shop: Shop) -> tuple[Setting, ...]:
        """Its uses, as on a bevel plate, and how far off it can come out: two ends out by so much, opposite ways, on
        the flank and on the edge that it is off."""
        accuracy = shop.machine.accuracy_mm
        flank_mm = self.deep / sin(radians(self.flank.angle_deg))
        worst = degrees(2 * accuracy / flank_mm) + degrees(2 * accuracy / self.left)
        why = f"each end of flank and bottom edge out by {shop.machine.accuracy_words}, opposite ways"
        return (
            *use_settings(self.flank, "brace template", "flank of the brace template"),
            Setting("worst error, flank", worst, "deg", why, "off the bottom edge"),
        )

    def marks(self, shop: Shop) -> tuple[Mark, ...]:
        """Against the flank, from the bottom edge up: its angle, then what it is for."""
        words = words_of("brace-template", ["angle"], shop, angle=fixed(self.flank.angle_deg, 2))
        for line in self.flank.words():
            words += words_of("brace-template", ["use"], shop, use=line)
        x = self.left - inward(2 * len(words) * TEXT_MM, self.flank.angle_deg) - AWAY_MM
        rows = [AWAY_MM + LINE_PITCH * TEXT_MM * row for row in reversed(range(len(words)))]
        return tuple(text_mark(line, (x, y), anchor="right") for line, y in zip(words, rows, strict=True))


def notch_of(trestle: Trestle, shop: Shop) -> Notch | None:
    """The notch for the last angle near square, when that saves a plate of its own and the template has room."""
    if "brace-template" in shop.left_out:
        return None
    flanks, share = share_flanks(wanted_uses(trestle, shop)), _share_on_bed(trestle.brace, shop)
    # Only a flank that is left over when all plates are full, and would want one to itself, is worth a notch.
    shallow = [flank for flank in flanks if flank.angle_deg >= SHALLOW_DEG]
    if not shallow or not share or len(flanks) % FLANKS_PER_PLATE != 1 or len(flanks) == 1:
        return None
    deep = trestle.brace.depth_mm - ABOVE_MM
    right = share * trestle.brace.bottom_mm - inward(deep, trestle.angles.brace_end_deg) - BESIDE_MM
    left = right - max(MOUTH_MM, shop.machine.tool_mm + 4.0)
    return Notch(shallow[-1], left, right, deep) if deep >= LEAST_FLANK_MM and left >= REFERENCE_MM else None


def brace_template_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """The template, whole or half; nothing when the bed has no room for half of it."""
    share = _share_on_bed(trestle.brace, shop)
    if not share:
        return ()
    is_half = share < 1
    notch = notch_of(trestle, shop)
    outline, pieces = draw_outline(_corners(trestle.brace, is_half, notch))
    # Lengths along both edges (half of them on half a template; the bottom edge up to a notch) and the depth.
    numbers = {feature.name: feature.pieces for feature in pieces}
    bottom = notch.left if notch else trestle.brace.bottom_mm * share
    lengths = (("top edge", trestle.brace.top_mm * share), ("bottom edge", bottom))
    brace, angles = trestle.brace, trestle.angles
    flush = "ends lie flush with the legs' outer faces, undercut below the inside face"
    part = Part(
        name="brace template",
        slug="brace-template",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("brace-template", "brace template").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            *(
                Feature(f"{name}, length", "edge", "outer", numbers[name], "length_mm", value)
                for name, value in lengths
            ),
            across(pieces, "bottom edge", "top edge", "depth", "edge", trestle.brace.depth_mm),
        ),
        marks=_marks(trestle, is_half, shop, notch),
        settings=(
            Setting("brace, top length", brace.top_mm, "mm", "tight under the board, end to end", "inside face"),
            Setting("brace, bottom length", brace.bottom_mm, "mm", "from leg to leg at the lower edge", "inside face"),
            Setting("brace, end", angles.brace_end_deg, "deg", "follows the legs' outer faces", "off the long edge"),
            Setting("brace, end tilt", angles.brace_end_tilt_deg, "deg", flush, "blade off upright, inside face up"),
            Setting(
                "brace, top edge", angles.brace_edge_deg, "deg", "lies under the board, undercut", "off the inside face"
            ),
            *(notch.settings(shop) if notch else ()),
        ),
    )
    return (part,)


def check_brace_template(trestle: Trestle, shop: Shop) -> list[Finding]:
    """A caution when the bed takes only half of the template, or not even that."""
    share, unit = _share_on_bed(trestle.brace, shop), trestle.job.unit
    if share == 1:
        return []
    size = f"{length_text(trestle.brace.bottom_mm, unit)} by {length_text(trestle.brace.depth_mm, unit)}"
    says = f"a brace, {size}, is larger than the bed: its template shows one half, from the middle to the end"
    do = "turn it over at the middle for the other end, or use a larger sheet"
    if not share:
        says = f"a brace, {size}, is so much larger than the bed that no template of it is made"
        do = "mark braces out by their lengths and angles, or use a larger sheet"
    return [Finding(363, says, do, "shop sheet.length", ASSEMBLY, severity="caution")]


def _share_on_bed(brace: Brace, shop: Shop) -> float:
    """1 when the whole template fits the bed, 0.5 for half of it, 0 for nothing; lying either way.

    Beside a sharp corner the tool's path runs out less than a tool's width on each side.
    """
    sheet, spare = shop.sheet, 2 * shop.machine.tool_mm
    edge = 2 * max(sheet.margin_mm, 1.0) + spare
    bed = sorted((sheet.length_mm - edge, sheet.width_mm - edge))
    for share in (1.0, 0.5):
        low, high = sorted((share * brace.bottom_mm, brace.depth_mm))
        if low <= bed[0] and high <= bed[1]:
            return share
    return 0.0


def _corners(brace: Brace, is_half: bool, notch: Notch | None) -> list[OutlineCorner]:
    """Anticlockwise from the lower left."""
    #        __________top__________
    #       /                       \      the brace's inside face, its ends psi off the bottom edge,
    #      /____   __________________\     which may have a notch whose left wall is a flank
    #           \_|
    top, bottom, depth = brace.top_mm, brace.bottom_mm, brace.depth_mm
    inward = (bottom - top) / 2
    left, right, shift = (0.0, bottom / 2, bottom / 2) if is_half else (inward, bottom, 0.0)
    return [
        OutlineCorner((0.0, 0.0), "bottom edge"),
        *(notch.corners if notch else ()),
        OutlineCorner((right, 0.0), "right end"),
        OutlineCorner((bottom - inward - shift, depth), "top edge"),
        OutlineCorner((left, depth), "middle" if is_half else "left end"),
    ]


def _marks(trestle: Trestle, is_half: bool, shop: Shop, notch: Notch | None) -> tuple[Mark, ...]:
    """Lines from the top edge down, in the rectangle under it, left of a notch and over what it says."""
    brace = trestle.brace
    inward = (brace.bottom_mm - brace.top_mm) / 2
    left, right = (0.0, brace.top_mm / 2) if is_half else (inward, inward + brace.top_mm)
    beside = notch.marks(shop) if notch else ()
    low = max((mark.at[1] + 2 * TEXT_MM for mark in beside), default=AWAY_MM)
    far = notch.top_left if notch else right
    box = Box(left + AWAY_MM, low, far - AWAY_MM, brace.depth_mm - AWAY_MM)
    angles = trestle.angles
    end, edge, tilt = (fixed(a, 2) for a in (angles.brace_end_deg, angles.brace_edge_deg, angles.brace_end_tilt_deg))
    whats = ["top", *(["half"] if is_half else []), "face", "ends"]
    # A saw that does not tilt leaves the ends square: they are planed in their place.
    is_square = tilt == "0.00" or shop.leg_saw.kind != "tilting"
    whats += ["square edge" if edge == "90.00" else "edge", "square ends" if is_square else "tilt"]
    words = words_of("brace-template", whats, shop, end=end, edge=edge, tilt=tilt)
    return (*fill_box(words, box, LARGEST_TEXT_MM), *beside)
