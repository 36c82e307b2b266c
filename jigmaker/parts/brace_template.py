"""The brace template, the outline of a brace's inside face at full size: Trestle and Shop in, Part out; mm, degrees.

The inside face is the one that touches the legs. Top edge and ends are undercut from it, so a brace sawn square along
the template has wood to spare. The outline is its own mirror image: one template serves all braces.
Part frame: bottom edge along x, top edge above it. When it is too long for the bed it becomes half a template, from the
middle of the brace at x = 0 to its end.
"""

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import Corner, across, draw_outline
from jigmaker.parts.gauge_limits import AWAY_MM
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Feature, Mark, Part, Setting
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.trestle.records import Brace, Trestle
from jigmaker.units import fixed, length_text

ASSEMBLY = "brace template"
LARGEST_TEXT_MM = 5.0


def brace_template_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """The template, whole or half; nothing when the bed has no room for half of it."""
    share = _share_on_bed(trestle.brace, shop)
    if not share:
        return ()
    is_half = share < 1
    outline, pieces = draw_outline(_corners(trestle.brace, is_half))
    part = Part(
        name="brace template",
        slug="brace-template",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet.thickness_mm,
        outline=outline,
        features=(*pieces, *_sizes(pieces, trestle.brace, share)),
        marks=_marks(trestle, is_half, shop),
        settings=_settings(trestle),
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


def _corners(brace: Brace, is_half: bool) -> list[Corner]:
    """Anticlockwise from the lower left."""
    top, bottom, depth = brace.top_mm, brace.bottom_mm, brace.depth_mm
    inward = (bottom - top) / 2
    left, right, shift = (0.0, bottom / 2, bottom / 2) if is_half else (inward, bottom, 0.0)
    return [
        Corner((0.0, 0.0), "bottom edge"),
        Corner((right, 0.0), "right end"),
        Corner((bottom - inward - shift, depth), "top edge"),
        Corner((left, depth), "middle" if is_half else "left end"),
    ]


def _sizes(pieces: tuple[Feature, ...], brace: Brace, share: float) -> tuple[Feature, ...]:
    """Lengths along both edges (half of them on half a template) and the depth."""
    numbers = {feature.name: feature.pieces for feature in pieces}
    lengths = (("top edge", brace.top_mm * share), ("bottom edge", brace.bottom_mm * share))
    return (
        *(Feature(f"{name}, length", "edge", "outer", numbers[name], "length_mm", value) for name, value in lengths),
        across(pieces, "bottom edge", "top edge", "depth", "edge", brace.depth_mm),
    )


def _marks(trestle: Trestle, is_half: bool, shop: Shop) -> tuple[Mark, ...]:
    """Lines from the top edge down, in the rectangle under it."""
    brace = trestle.brace
    inward = (brace.bottom_mm - brace.top_mm) / 2
    left, right = (0.0, brace.top_mm / 2) if is_half else (inward, inward + brace.top_mm)
    box = Box(left + AWAY_MM, AWAY_MM, right - AWAY_MM, brace.depth_mm - AWAY_MM)
    angles = trestle.angles
    end, edge, tilt = (fixed(a, 2) for a in (angles.brace_end_deg, angles.brace_edge_deg, angles.brace_end_tilt_deg))
    whats = ["top", *(["half"] if is_half else []), "face", "ends"]
    whats += ["square edge" if edge == "90.00" else "edge", "square ends" if tilt == "0.00" else "tilt"]
    return fill_box(words_of("brace-template", whats, shop, end=end, edge=edge, tilt=tilt), box, LARGEST_TEXT_MM)


def _settings(trestle: Trestle) -> tuple[Setting, ...]:
    brace, angles = trestle.brace, trestle.angles
    flush = "ends lie flush with the legs' outer faces, undercut below the inside face"
    return (
        Setting("brace, top length", brace.top_mm, "mm", "tight under the board, end to end", "inside face"),
        Setting("brace, bottom length", brace.bottom_mm, "mm", "from leg to leg at the lower edge", "inside face"),
        Setting("brace, end", angles.brace_end_deg, "deg", "follows the legs' outer faces", "off the long edge"),
        Setting("brace, end tilt", angles.brace_end_tilt_deg, "deg", flush, "blade off upright, inside face up"),
        Setting(
            "brace, top edge", angles.brace_edge_deg, "deg", "lies under the board, undercut", "off the inside face"
        ),
    )
