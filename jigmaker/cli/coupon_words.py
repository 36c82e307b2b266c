"""What jigmaker coupon --read says: the machine as found in, a table and the change to the shop file out; 100 columns.

Lengths in the shop's unit, as a caliper shows them.
"""

from __future__ import annotations

from difflib import unified_diff
from typing import TYPE_CHECKING

from jigmaker.signs import spelled
from jigmaker.units import MM_PER_INCH, fixed

if TYPE_CHECKING:
    from jigmaker.coupon.machine_found import Estimate, MachineFound
    from jigmaker.job.shop import Shop
    from jigmaker.units import Unit

_NAME, _FIGURE = 24, 12


def found_text(found: MachineFound, shop: Shop) -> str:
    """A row a figure: the value found, its 95 % interval, and what the shop says now."""
    from jigmaker.coupon.lines import lines_for

    unit, now = shop.files.unit, lines_for(shop.machine)
    width = "kerf" if shop.machine.kind == "laser" else "cut's width"
    skew, joint, turn = found.skew_deg, found.joint, f"{fixed(now.skew_deg, 3)}°"
    skew_row, joint_rows = _row("skew", "not measured", "", turn), list[str]()
    if skew is not None:
        says = f"{'rising' if skew.value > 0 else 'falling'} diagonal longer"
        says = "no skew to be seen" if abs(skew.value) <= skew.within else says
        skew_row = _row("skew", f"{fixed(skew.value, 3)}°", f"{fixed(skew.within, 3)}°", turn, says)
    if joint is not None:
        slot = f"slot {_length(joint.slot_mm, unit, 2)}"
        joint_rows.append(_length_row("slot for joints, as cut", joint.opening, None, unit, slot))
        joint_rows.append(_length_row("play of joints", joint.clearance, shop.sheet.joint_clearance_mm, unit))
    # A laser's beam narrows or widens on its way through the sheet: the slot is not as wide on both faces. What lies
    # within its own uncertainty is not called wide, and a skew not one.
    if joint is not None and (taper := joint.taper_mm) is not None:
        wider = f"wide on the {'marked' if taper.value > 0 else 'other'} face"
        wider = "none to be seen" if abs(taper.value) <= taper.within else wider
        wall = f"{fixed(abs(joint.taper_deg or 0.0), 2)}° a wall, {wider}"
        joint_rows.append(_length_row("taper of the cut", taper, None, unit, wall))
    rows = [
        _row("", "found", "±", "shop now"),
        _length_row(f"{width} in x", found.kerf_x, now.kerf_x_mm, unit),
        _length_row(f"{width} in y", found.kerf_y, now.kerf_y_mm, unit),
        _length_row(f"{width}, mean", found.kerf, shop.machine.tool_mm, unit),
        _plain_row("scale in x", found.scale_x, now.scale_x, 5),
        _plain_row("scale in y", found.scale_y, now.scale_y, 5),
        skew_row,
        *joint_rows,
    ]
    return "\n".join([*rows, "± holds the true figure 19 times in 20."])


def change_text(before: bytes, after: bytes, name: str) -> str:
    """The change to the shop file, line by line."""
    old, new = (data.decode("utf-8-sig").replace("\r\n", "\n").split("\n") for data in (before, after))
    return "\n".join(unified_diff(old, new, spelled(name), f"{spelled(name)}, changed", n=1, lineterm=""))


def _length_row(name: str, found: Estimate, now: float | None, unit: Unit, says: str = "") -> str:
    shown = "" if now is None else _length(now, unit)
    return _row(name, _length(found.value, unit), _length(found.within, unit), shown, says)


def _plain_row(name: str, found: Estimate, now: float, places: int) -> str:
    return _row(name, fixed(found.value, places), fixed(found.within, places), fixed(now, places))


def _row(name: str, found: str, within: str, now: str, says: str = "") -> str:
    cells = f"{name:<{_NAME}}{found:>{_FIGURE}}{within:>{_FIGURE}}{now:>{_FIGURE}}"
    return f"{cells}  {says}".rstrip()


def _length(mm: float, unit: Unit, places: int = 3) -> str:
    return f"{fixed(mm, places)} mm" if unit == "mm" else f'{fixed(mm / MM_PER_INCH, places + 1)}"'
