"""The housing jig's parts and settings: Trestle and Shop in, Parts and Settings out. Part frames; mm, degrees."""

from dataclasses import replace

from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.bearer import bearer, end_bearer, stop
from jigmaker.parts.housing_jig.layout import JigLayout, lay_out_jigs, tilt_deg
from jigmaker.parts.housing_jig.mask import masks
from jigmaker.parts.housing_jig.plate import plate
from jigmaker.parts.housing_jig.plate_marks import plate_marks
from jigmaker.parts.housing_jig.strip import strip
from jigmaker.parts.part import Part, Setting
from jigmaker.trestle.records import Trestle


def housing_jig_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Plate (or an R and an L plate), bearers, end bearers, stop, fence and back strips, with their marks."""
    if not shop.routs_housings:
        return ()
    layouts = lay_out_jigs(trestle, shop)
    plates = [replace(plate(lay, shop), marks=plate_marks(lay, trestle.job, shop)) for lay in layouts]
    ribs = (bearer(layouts, shop), end_bearer(layouts, shop), stop(layouts, shop), strip(layouts, shop))
    return (*(replace(part, settings=jig_settings(layouts[0])) for part in plates), *ribs, *masks(layouts[0], shop))


def jig_settings(layout: JigLayout) -> tuple[Setting, ...]:
    """What the user sets or checks on the jig as a whole."""
    return (
        Setting("plate tilt", tilt_deg(layout), "deg", "90° less the splay", "off level, board clamped edge up"),
        Setting("standoff", layout.standoff, "mm", "plate's underside to the plane through the top arris", "jig frame"),
        Setting("guide offset", layout.guide_offset, "mm", "(bush less cutter) / 2", "each side of the slot"),
        Setting("slot width", layout.slot_width, "mm", "housing + bush less cutter", "square to the slot's walls"),
        Setting(
            "projection", layout.projection, "mm", "sheet + standoff + leg thickness less reveal", "below the base"
        ),
        Setting("stop to stop", 2 * layout.half, "mm", "between the two stop planes", "along the board"),
    )


def jig_numbers(layout: JigLayout) -> dict[str, float]:
    """The "jig" section of numbers.json: plate_tilt_deg, standoff_mm, guide_offset_mm, slot_width_mm, projection_mm."""
    return {
        "plate_tilt_deg": tilt_deg(layout),
        "standoff_mm": layout.standoff,
        "guide_offset_mm": layout.guide_offset,
        "slot_width_mm": layout.slot_width,
        "projection_mm": layout.projection,
    }


def off_cut_mm(layout: JigLayout) -> float:
    """The least length of a piece of top board for trial housings: both of a hand find room in it, and the jig stands
    on it as on the board.
    """
    return 2 * layout.half or layout.plate_high - layout.plate_low
