"""Bevel setting plates and their stock strips: Trestle and Shop in, Parts out. Part frame; mm, degrees.

An hourglass: two parallel reference edges, below and above, and a flank at each of the four corners between them. Each
corner holds its flank's angle inside. Notches at the waist part the flanks, so that a flank of 90 degrees ends too.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import degrees, radians, tan

from jigmaker.errors import DoesNotFit
from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_flanks import SQUARE, Flank, plates_of_flanks, share_flanks, use_settings, wanted_uses
from jigmaker.parts.bevel_marks import plate_marks, strip_marks
from jigmaker.parts.bevel_size import FREE_FLANK_MM, NOTCH_SPARE_MM, STRIP_MM, PlateSize, inward, size_on_bed
from jigmaker.parts.brace_template import notch_of
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, draw_rectangle, round_hole
from jigmaker.parts.part import Hole, Part, Placement, Setting
from jigmaker.parts.witness import witness_mark, witness_settings, witness_window
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH, length_text

ASSEMBLY = "bevel plate"
CORNERS = ("lower left", "lower right", "upper left", "upper right")
"""The order in which a plate's flanks go to its corners."""

NOTCH_DEPTH_MM = 6.0
STRAIGHT_MM = 1.5  # of a notch's sides between the flank and the round that a cutter leaves in the corner


def plates_for(trestle: Trestle, shop: Shop) -> tuple[tuple[Flank, ...], ...]:
    """The flanks of every plate; one that the brace template holds is on none."""
    notch = notch_of(trestle, shop)
    return plates_of_flanks([f for f in share_flanks(wanted_uses(trestle, shop)) if notch is None or f != notch.flank])


def bevel_plates(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Every bevel plate of the job, then the stock strip. Raises DoesNotFit when the least plate is over the bed."""
    plates = plates_for(trestle, shop)
    size = size_on_bed(plates, shop, trestle.job.unit)
    made = [_plate(plates, i, size, trestle, shop) for i in range(len(plates))]
    return (*made, _strip(len(plates), size, shop))


def check_bevel_plates(trestle: Trestle, shop: Shop) -> list[Finding]:
    """An error when no plate fits the bed, a caution when the flanks had to be shortened to fit it."""
    plates, unit = plates_for(trestle, shop), trestle.job.unit
    try:
        size = size_on_bed(plates, shop, trestle.job.unit)
    except DoesNotFit as error:
        return [Finding(361, str(error), "use a larger sheet", "shop sheet.length", ASSEMBLY)]
    if size.free == FREE_FLANK_MM:
        return []
    flank = size.flank_length(SQUARE)
    says = f"the bevel plate is made smaller to fit the bed, with flanks of {length_text(flank, unit)}"
    do = "a larger sheet gives longer flanks and truer angles"
    wanted = length_text(STRIP_MM + FREE_FLANK_MM, unit)
    return [Finding(362, says, do, "shop sheet.length", ASSEMBLY, length_text(flank, unit), wanted, "caution")]


def _plate(plates: Sequence[Sequence[Flank]], index: int, size: PlateSize, trestle: Trestle, shop: Shop) -> Part:
    flanks = plates[index]
    outline, angles = draw_outline(_corners(flanks, size))
    hanging, hole_features = round_hole("hanging hole", (size.width / 2, size.height - STRIP_MM - 8), size.hole)
    holes: tuple[Hole, ...] = (hanging,)
    if _has_witness(index, shop):
        window, sides = witness_window(size)
        holes, hole_features = (hanging, window), (*hole_features, *sides)
    number = f" {index + 1}" if len(plates) > 1 else ""
    marks = plate_marks(plates[index], size, f"{index + 1} OF {len(plates)}" if len(plates) > 1 else "", shop)
    # The flanks carry the solved angle, not one read back from their corners.
    # A flank that leans to the right as it rises has its own angle in the part frame, the others its supplement.
    wanted = {
        f"flank {corner}": (flank.angle_deg if corner in ("lower left", "upper right") else 180 - flank.angle_deg)
        for corner, flank in zip(CORNERS, flanks, strict=True)
    }
    pieces = [replace(feature, value=wanted.get(feature.name, feature.value)) for feature in angles]
    return Part(
        name=f"bevel plate{number}",
        slug=f"bevel-plate{number.replace(' ', '-')}",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("bevel plate").thickness_mm,
        outline=outline,
        holes=holes,
        features=(
            *pieces,
            across(pieces, "lower reference edge", "upper reference edge", "height", "edge", size.height),
            across(pieces, "left notch, lower side", "left notch, upper side", "left notch, width", "edge", size.notch),
            across(
                pieces, "right notch, lower side", "right notch, upper side", "right notch, width", "edge", size.notch
            ),
            *hole_features,
        ),
        marks=(*marks, *witness_mark(size, shop)) if _has_witness(index, shop) else marks,
        settings=_settings(flanks, index, size, trestle, shop),
        placements=(Placement(f"bevel plate{number}", "both", _assembly_from_plate(index, size)),),
    )


def _has_witness(index: int, shop: Shop) -> bool:
    """In the first plate alone: all are cut on the same machine. What a hand saws tells of no machine."""
    return index == 0 and not shop.machine.is_paper


def _settings(
    flanks: Sequence[Flank], index: int, size: PlateSize, trestle: Trestle, shop: Shop
) -> tuple[Setting, ...]:
    uses = [each for at, flank in zip(CORNERS, flanks, strict=True) for each in use_settings(flank, at, f"flank {at}")]
    # Each flank's run, for proving it with a rule: on 100 mm, on 12 inches.
    rise = 100.0 if trestle.job.unit == "mm" else 12 * MM_PER_INCH
    runs = [0.0 if flank.angle_deg == 90 else rise / tan(radians(flank.angle_deg)) for flank in flanks]
    why = (
        f"along the reference edge, on a rise of {length_text(rise, trestle.job.unit)} square to it: proved with a rule"
    )
    proof = [
        Setting(f"run, flank {corner}", run, "mm", why, "off a line square to its reference edge")
        for corner, run in zip(CORNERS, runs, strict=True)
    ]
    # A line whose two ends are each out by e, opposite ways, is out by 2 e over its length; flank and edge add up.
    accuracy = shop.machine.accuracy_mm
    edge_deg = degrees(2 * accuracy / size.width)
    off = f"{length_text(accuracy, trestle.job.unit, 3)} out, opposite ways"
    own = "" if shop.machine.is_paper else "; a machine out of square adds its own"
    errors = [Setting("worst error of a reference edge", edge_deg, "deg", f"each end {off}")]
    for corner, flank in zip(CORNERS, flanks, strict=True):
        error = edge_deg + degrees(2 * accuracy / size.flank_length(flank))
        why = f"each end of flank and reference edge {off}{own}"
        errors.append(Setting(f"worst error, flank {corner}", error, "deg", why, "off its reference edge"))
    turned = witness_settings(list(zip(CORNERS, flanks, strict=True)), trestle.job.unit)
    return (*uses, *proof, *errors, *(turned if _has_witness(index, shop) else ()))


def _corners(flanks: Sequence[Flank], size: PlateSize) -> list[OutlineCorner]:
    """The outline anticlockwise from the lower left corner; each notch is deeper than the flanks beside it."""
    # Each flank comes in toward the waist by height x cot(its angle), so that the waist is narrower than the edges.
    width, low, high = size.width, size.half - size.notch / 2, size.half + size.notch / 2
    in_ll, in_lr, in_ul, in_ur = (inward(low, flank.angle_deg) for flank in flanks)
    deep = max(NOTCH_DEPTH_MM, (size.notch - NOTCH_SPARE_MM) / 2 + STRAIGHT_MM)
    left, right = max(in_ll, in_ul) + deep, width - max(in_lr, in_ur) - deep
    return [
        OutlineCorner((0.0, 0.0), "lower reference edge"),
        OutlineCorner((width, 0.0), "flank lower right", "flank"),
        OutlineCorner((width - in_lr, low), "right notch, lower side"),
        OutlineCorner((right, low), "right notch, bottom"),
        OutlineCorner((right, high), "right notch, upper side"),
        OutlineCorner((width - in_ur, high), "flank upper right", "flank"),
        OutlineCorner((width, size.height), "upper reference edge"),
        OutlineCorner((0.0, size.height), "flank upper left", "flank"),
        OutlineCorner((in_ul, high), "left notch, upper side"),
        OutlineCorner((left, high), "left notch, bottom"),
        OutlineCorner((left, low), "left notch, lower side"),
        OutlineCorner((in_ll, low), "flank lower left", "flank"),
    ]


def _assembly_from_plate(index: int, size: PlateSize) -> Frame:
    """Plates side by side, marks up."""
    return Frame((index * (size.width + 20), 0.0, 0.0))


def _strip(plates: int, size: PlateSize, shop: Shop) -> Part:
    """Two a plate, glued behind it, flush with the reference edges: rest of a bevel's stock, foot on a saw table."""
    length = size.strip_length
    outline, angles = draw_rectangle(
        length, STRIP_MM, {"lower edge": "edge", "right end": "free", "upper edge": "edge", "left end": "free"}
    )
    width = across(angles, "lower edge", "upper edge", "width", "edge", STRIP_MM)
    long = across(angles, "left end", "right end", "length", "edge", length)
    # Behind the plate, its own marks outward; its first edge flush at the upper reference edge, its second at the
    # lower: a rectangle fits both.
    placements = []
    for i in range(plates):
        for edge, top in (("lower", STRIP_MM), ("upper", size.height)):
            turned = Frame((size.setback, top, 0.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
            frame = _assembly_from_plate(i, size) @ turned
            placements.append(Placement(f"strip, plate {i + 1}, {edge} edge", "both", frame))
    why = "glued behind a reference edge, flush with it, set back at both ends so that a blade reaches the flank"
    where = "from either end of the reference edge"
    return Part(
        name="stock strip",
        slug="stock-strip",
        assembly=ASSEMBLY,
        hand="",
        needed=2 * plates,
        spares=0,
        thickness_mm=shop.sheet_for("bevel plate").thickness_mm,
        outline=outline,
        features=(*angles, width, long),
        marks=strip_marks(length, shop),
        settings=(Setting("stock strip, clear of a flank's corner", size.setback, "mm", why, where),),
        placements=tuple(placements),
    )
