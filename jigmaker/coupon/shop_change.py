"""What the found machine changes in the shop: MachineFound and Shop in, values by dotted key out, in the shop's unit.

Only what is off by more than its own uncertainty is changed: correcting by noise makes nothing truer, and a scale or
skew that is not there would only cost the arcs of the files.
"""

from math import hypot

from jigmaker.coupon.machine_found import Estimate, MachineFound
from jigmaker.job.shop import Shop
from jigmaker.units import MM_PER_INCH, Unit, length_text, text

PLAY_MM = 0.025
"""Less play more or less than this is not worth a change (common practice, no source)."""

Changes = dict[str, str]
"""Numbers as they stand in the file, by dotted key, in the order in which they are written."""


def shop_changes(found: MachineFound, shop: Shop) -> Changes:
    """The keys to write. Empty when the shop says already what was measured."""
    now, unit, x, y = shop.machine, shop.files.unit, found.scale_x, found.scale_y
    # kerf or cutter; kerf in x and y apart when a laser's differ, or when the shop has them already.
    changes: Changes = {}
    apart_now = (now.kerf_x_mm or now.tool_mm) - (now.kerf_y_mm or now.tool_mm)
    is_laser, apart = now.kind == "laser", found.kerf_apart
    if _is_off(found.kerf, now.tool_mm) or (is_laser and _is_off(apart, apart_now)):
        changes["machine.kerf" if is_laser else "machine.cutter"] = _length(found.kerf.value, unit)
        if is_laser and (now.kerf_x_mm is not None or _is_off(apart, 0.0)):
            changes |= {f"machine.{way}": _length(getattr(found, way).value, unit) for way in ("kerf_x", "kerf_y")}
    if _is_off(x, now.scale_x) or _is_off(y, now.scale_y):
        # Both; one figure for both where they do not differ, because one scale leaves circles circles.
        differ = abs(x.value - y.value) > hypot(x.within, y.within)
        pair = (x.value, y.value) if differ else ((x.value + y.value) / 2,) * 2
        changes |= {"machine.scale_x": text(pair[0], 5), "machine.scale_y": text(pair[1], 5)}
    if (skew := found.skew_deg) is not None and _is_off(skew, now.skew_deg):
        changes["machine.skew_deg"] = text(skew.value, 3)
    if found.joint is not None:
        # The play of the joints, when it is another by more than a hand feels.
        play, within = found.joint.opening.value - shop.sheet.thickness_mm, found.joint.opening.within
        if abs(play - shop.sheet.joint_clearance_mm) > max(PLAY_MM, within) and play >= -within:
            changes["sheet.joint_clearance"] = _length(max(0.0, play), unit, 2)
    return changes


def shop_notes(found: MachineFound, shop: Shop) -> list[str]:
    """What the user should know and no key can hold."""
    unit, notes = shop.files.unit, list[str]()
    if found.joint is not None and found.joint.clearance.value < -found.joint.clearance.within:
        slot = length_text(found.joint.opening.value, unit)
        thick = length_text(shop.sheet.thickness_mm, unit)
        notes.append(
            f"An offcut enters a slot that is {slot} wide, but the shop says the sheet is {thick} thick: measure the "
            "sheet again. joint_clearance is left as it is."
        )
    if shop.machine.kind == "cnc" and _is_off(found.kerf_apart, 0.0):
        notes.append("The cut is not as wide in x as in y: look for play in the machine's axes, which no file cures.")
    return notes


def _is_off(found: Estimate, now: float) -> bool:
    return abs(found.value - now) > found.within


def _length(mm: float, unit: Unit, places: int = 3) -> str:
    return text(mm, places) if unit == "mm" else text(mm / MM_PER_INCH, places + 2)
