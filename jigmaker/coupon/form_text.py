"""The reading form as a TOML file to fill in: Shop and unit in, its text out; in that unit.

What the coupon was drawn for stands in it, so that it still reads right when the shop has been changed since.
"""

from collections.abc import Mapping

from jigmaker.coupon.form_rules import CALIPER_MM
from jigmaker.coupon.lines import Allowance, lines_for
from jigmaker.coupon.stations import stations
from jigmaker.job.shop import Shop
from jigmaker.parts.coupon_size import coupon_size, figure
from jigmaker.parts.witness import DRAWN_MM
from jigmaker.units import MM_PER_INCH, Unit, text

Answers = Mapping[str, str]
"""What stands behind a key, "readings.A", as TOML; a key without an answer is left to be filled in."""

_COLUMN = 24


def form_text(shop: Shop, unit: Unit, answers: Answers | None = None) -> str:
    """The form of a shop's coupon. Raises DoesNotFit when the machine's cut is too wide for one."""
    # What the files are corrected for stands in the form only where they are: an ideal machine's form has no [lines].
    size, given, blocks = coupon_size(shop, unit), answers or {}, [_HEAD, _coupon(shop, unit, answers or {})]
    lines, tool = lines_for(shop.machine), shop.machine.tool_mm
    if lines != Allowance(tool, tool):
        rows = [
            ("kerf_x", number(lines.kerf_x_mm, unit), "what the files are corrected for: leave all of it"),
            ("kerf_y", number(lines.kerf_y_mm, unit), ""),
            ("scale_x", text(lines.scale_x), ""),
            ("scale_y", text(lines.scale_y), ""),
            ("skew_deg", text(lines.skew_deg), ""),
        ]
        blocks.append(_section("lines", rows, {}))
    rows = [(each.key, "[]", f"{each.name}: drawn {figure(each.drawn_mm, unit)} {unit}") for each in stations(size)]
    head = "# E gives the skew, F a check on the kerf: either may stay empty.\n"
    blocks.append(_section("readings", rows, given, head))
    if size.gap is not None:
        rows = [
            ("marked_face", "[]", "from the narrow end to where the offcut stops, entered from the marked face"),
            ("other_face", "[]", "and from the other face; may stay empty"),
        ]
        how = "# C. A narrow offcut, upright, slid along the straight wall without force; the same one each time.\n"
        blocks.append(_section("gap", rows, given, how))
    rows = [
        ("opening", "[]", "between the two lines at their far ends"),
        ("length", number(DRAWN_MM[unit], unit), "of the lines, square to the batten"),
        ("leans", '""', 'the line drawn with the marks in sight leans "right" or "left"'),
        ("lay", '""', 'on the bed its marks read along x: "unturned"; along y: "quarter turn"'),
    ]
    head = "# Turn-over test of a bevel plate cut with the same settings as the coupon; may stay empty.\n"
    return "\n".join([*blocks, _section("turn_over", rows, given, head)])


_HEAD = """\
# Readings of the coupon. Put your figures between the brackets, three for each place, such as [45.02, 45, 45.04];
# form.html shows the places. Take the piece up and set the caliper anew each time; lift the wedge out. Then:
#   jigmaker coupon --read form.toml --shop shop.toml
"""


def number(mm: float, unit: Unit) -> str:
    """A length as it stands in the form, with its unit, so that it outlives a change of the form's units."""
    return f'"{text(mm, 6)} mm"' if unit == "mm" else f'"{text(mm / MM_PER_INCH, 8)} in"'


def _coupon(shop: Shop, unit: Unit, given: Answers) -> str:
    machine = shop.machine
    tool = "kerf" if machine.kind == "laser" else "cutter"
    known = "" if machine.compensation == "both" else machine.compensation
    file = f'"included" if the file with {tool} in its name was cut, "left out" if the finished-size one'
    rows = [
        ("units", f'"{unit}"', "of your readings"),
        ("form", "2", "this and the next four are the coupon's own: leave them"),
        ("drawn_in", f'"{unit}"', ""),
        ("machine", f'"{machine.kind}"', ""),
        ("made_for", number(machine.tool_mm, unit), tool),
        ("thickness", number(shop.sheet.thickness_mm, unit), "of the sheet"),
        ("compensation", f'"{known}"', file),
        ("added", "0", f"{tool} that the machine's own program added to the lines; 0 when it added none"),
        ("caliper", number(CALIPER_MM, unit), "its step, and how far readings of one place stray"),
    ]
    return _section("coupon", rows, given)


def _section(name: str, rows: list[tuple[str, str, str]], given: Answers, head: str = "") -> str:
    """Keys with their answers, or what stands for none, and what each means."""
    lines = [f"[{name}]"]
    for key, value, meaning in rows:
        setting = f"{key} = {given.get(f'{name}.{key}', value)}"
        lines.append(f"{setting:<{_COLUMN}}# {meaning}" if meaning else setting)
    return head + "\n".join(lines) + "\n"
