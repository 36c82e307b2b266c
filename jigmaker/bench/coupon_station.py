"""The third station: the coupon's files and what was read on it in; the machine found and the change to shop.toml out.

A coupon is read by the shop that it was cut for: that shop is kept beside the first reading, so that a change of
shop.toml does not make readings wrong that were taken before.
"""

from __future__ import annotations

from dataclasses import field

from jigmaker.bench.fields import label_of
from jigmaker.bench.rail import Rail
from jigmaker.bench.screen import Screen, fit
from jigmaker.bench.workplace import Files
from jigmaker.coupon.form_text import form_text
from jigmaker.coupon.machine_found import Estimate, MachineFound, machine_found
from jigmaker.coupon.readings import read_form
from jigmaker.coupon.shop_change import shop_changes, shop_notes
from jigmaker.coupon.stations import TIMES, stations
from jigmaker.errors import JobError
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Circle
from jigmaker.job.read import read_shop
from jigmaker.job.shop import Shop
from jigmaker.job.typed import number_or_text, toml_value
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_places import SLOTS_AT, lay_out_coupon
from jigmaker.parts.coupon_size import REST_MM, CouponSize, coupon_size, figure
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, fixed

ANSWERS, MADE_FOR = "the answers", "coupon:shop"
_SIZES = (("wide", 640.0, 470.0), ("narrow", 358.0, 290.0))
_LETTER_PX = 11.0


@dataclass(frozen=True, slots=True)
class MeasuredPlace:
    """One place to measure: its field's name without the number, what it is, how, and what is drawn there."""

    name: str
    title: str
    how: str
    drawn: str
    readings: tuple[str, ...]
    needed: bool
    spread: str = ""


@dataclass
class CouponNow:
    """What was read so far, and what it tells. rows: what, found, within, the shop now; changes: TOML by dotted key."""

    places: list[MeasuredPlace] = field(default_factory=list)
    choices: tuple[str, ...] = ()
    added: str = ""
    read: int = 0
    picture: str = ""
    unit: Unit = "mm"
    rows: list[tuple[str, str, str, str]] = field(default_factory=list)
    changes: dict[str, str] = field(default_factory=dict)
    told: list[tuple[str, str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    faults: dict[str, list[str]] = field(default_factory=dict)
    is_found: bool = False
    is_of_paper: bool = False

    def find(self, typed: dict[str, str], shop: Shop, there: Shop) -> None:
        """The machine that the readings tell, or what is against them; and what of the shop's file that changes."""
        form = form_text(shop, self.unit, coupon_answers(typed, self.unit, shop)).encode()
        try:
            found = machine_found(read_form(form, ANSWERS, shop))
        except JobError as error:
            for i, sentence in enumerate(error.faults):
                key = error.keys[i] if i < len(error.keys) else ""
                is_place = any(place.name == f"coupon:{key}" for place in self.places)
                said = sentence.partition(": ")[2] if sentence.startswith(ANSWERS) else sentence
                self.faults.setdefault(f"coupon:{key}" if is_place else "", []).append(said)
            return
        self.is_found = True
        self.rows = _rows(found, there)
        self.notes = shop_notes(found, there)
        self.changes = shop_changes(found, there)
        # What the shop says now of the keys that a coupon changes, as figures.
        machine, by, places = there.machine, *((1.0, 3) if there.files.unit == "mm" else (MM_PER_INCH, 4))
        lengths = {
            "machine.kerf": machine.tool_mm,
            "machine.cutter": machine.tool_mm,
            "machine.kerf_x": machine.kerf_x_mm,
            "machine.kerf_y": machine.kerf_y_mm,
            "sheet.joint_clearance": there.sheet.joint_clearance_mm,
        }
        old = {key: fixed(mm / by, places) for key, mm in lengths.items() if mm is not None}
        old |= {f"machine.scale_{way}": fixed(getattr(machine, f"scale_{way}"), 5) for way in ("x", "y")}
        old["machine.skew_deg"] = fixed(machine.skew_deg, 3)
        self.told = [(label_of(f"shop:{key}"), old.get(key, ""), value) for key, value in self.changes.items()]


def coupon_now(typed: dict[str, str], files: Files) -> CouponNow:
    """Places, readings and result, for the shop that the coupon was cut for."""
    now = CouponNow()
    try:
        there = read_shop(files.shop or b"", "shop.toml") if files.shop is not None else None
        shop = read_shop(typed[MADE_FOR].encode(), "shop.toml") if MADE_FOR in typed else there
    except JobError as error:
        now.faults[""] = list(error.faults)
        return now
    if shop is None or there is None:
        now.faults[""] = ["The coupon is drawn for a shop: answer station 2 and write the files first."]
        return now
    now.unit = shop.files.unit
    if shop.machine.is_paper:
        now.is_of_paper = True
        now.faults[""] = ["The kit is printed and sawn by hand: there is no machine for a coupon to measure."]
        return now
    size = coupon_size(shop, now.unit)
    now.choices = ("included", "left out") if shop.machine.compensation == "both" else ()
    now.added = typed.get("coupon:coupon.added", "")
    places = [
        (
            f"readings.{each.key}",
            each.name,
            f"{each.tool}: {each.how}",
            f"{figure(each.drawn_mm, now.unit)} {now.unit}",
            each.needed,
        )
        for each in stations(size)
    ]
    for key, words in (("marked_face", "marked"), ("other_face", "other")) if size.gap is not None else ():
        how = f"from the narrow end to where an offcut of the sheet stops, slid in without force, from the {words} face"
        places.append((f"gap.{key}", f"C, gap, {words} face", how, "", False))
    for key, title, how, drawn, needed in places:
        given = tuple(typed.get(f"coupon:{key} {i}", "") for i in range(1, TIMES + 1))
        spread, numbers = "", [each for each in map(number_or_text, map(str.strip, given)) if isinstance(each, float)]
        if len(numbers) > 1:
            differ = fixed(max(numbers) - min(numbers), 2 if now.unit == "mm" else 4)
            spread = f"Spread so far: {differ} {now.unit}."
        now.places.append(MeasuredPlace(f"coupon:{key}", title, how, drawn, given, needed, spread))
    # A place is read when all its readings are there; the machine is found as soon as the needed places are.
    now.read = sum(all(each.strip() for each in place.readings) for place in now.places)
    now.picture = "".join(_picture(shop, size, *each) for each in _SIZES)
    if all(all(each.strip() for each in place.readings) for place in now.places if place.needed):
        now.find(typed, shop, there)
    return now


def coupon_rail(now: CouponNow) -> Rail:
    """How many places are read; then the change that is proposed."""
    if now.is_of_paper:
        return Rail("There is nothing to measure.", "", "Next: the kit", "go:kit")
    if any(now.faults.values()):
        name = next((name for name in now.faults if name), "")
        return Rail(
            "These readings cannot all be right." if now.read else "Not yet.",
            "",
            "Go to it" if name else "",
            f"field:{name} 1" if name else "",
            True,
        )
    if not now.is_found:
        needed = [place for place in now.places if place.needed]
        left = [place for place in needed if not all(each.strip() for each in place.readings)]
        says = f"{len(needed) - len(left)} of {len(needed)} places that must be read."
        return Rail(
            says,
            "Kept as you type. The coupon can be left out: then the kerf is what you typed.",
            "Next place",
            "place:next",
        )
    if now.changes:
        return Rail("The machine is known.", "shop.toml does not say so yet.", "Take it into shop.toml", "take")
    return Rail("The shop says what was measured.", "", "Next: the kit", "go:kit")


def coupon_answers(typed: dict[str, str], unit: Unit, shop: Shop) -> dict[str, str]:
    """What was typed as the form's values, by its dotted keys."""
    cut: str = shop.machine.compensation
    cut = typed.get("coupon:coupon.compensation", "included") if cut == "both" else cut
    answers = {
        "coupon.units": f'"{unit}"',
        "coupon.compensation": f'"{cut}"',
        "coupon.added": toml_value(typed.get("coupon:coupon.added", "").strip() or "0"),
    }
    # A place's fields are "coupon:readings.A_hole 1", 2, ...: each place once, in the order in which they were typed.
    keys = dict.fromkeys(name.removeprefix("coupon:").rpartition(" ")[0] for name in typed if name[-2:-1] == " ")
    for key in keys:
        given = [words for i in range(1, TIMES + 1) if (words := typed.get(f"coupon:{key} {i}", "").strip())]
        if given:
            answers[key] = f"[{', '.join(map(toml_value, given))}]"
    return answers


def _rows(found: MachineFound, shop: Shop) -> list[tuple[str, str, str, str]]:
    """What was found, with the half width of the interval that holds it 19 times in 20."""
    # `sign` is what a figure is in: lengths in the shop's unit, inches with one digit more than millimetres; a scale is
    # in nothing, and an angle in degrees whatever the unit.
    machine, unit = shop.machine, shop.files.unit
    width = "Kerf" if machine.kind == "laser" else "Width of the cut"
    rows: list[tuple[str, Estimate | None, float, int, str]] = [
        (f"{width} in x", found.kerf_x, machine.cut_width_mm[0], 3, unit),
        (f"{width} in y", found.kerf_y, machine.cut_width_mm[1], 3, unit),
        ("Scale in x", found.scale_x, machine.scale_x, 5, ""),
        ("Scale in y", found.scale_y, machine.scale_y, 5, ""),
        ("Skew off square", found.skew_deg, machine.skew_deg, 3, "°"),
        ("Play of joints", found.joint.clearance if found.joint else None, shop.sheet.joint_clearance_mm, 3, unit),
    ]
    told = []
    for words, each, before, places, sign in rows:
        by, more = (MM_PER_INCH, 1) if sign == "in" else (1.0, 0)
        end = f" {sign}" if sign in ("mm", "in") else sign
        cells = (
            ["not measured", ""]
            if each is None
            else [f"{fixed(v / by, places + more)}{end}" for v in (each.value, each.within)]
        )
        told.append((words, *cells, f"{fixed(before / by, places + more)}{end}"))
    return [(a, b, c, d) for a, b, c, d in told]


def _picture(shop: Shop, size: CouponSize, look: str, wide: float, high: float) -> str:
    """The coupon with its marks in sight, a letter at each place, and each place's own dimension."""
    part, spans, screen = coupon(shop, shop.files.unit), _spans(size), Screen(wide, high)
    spot = fit([p for ends in spans.values() for p in ends], wide - 70, high - 50, 35, 25)
    for contour in (part.outline, *(hole.contour for hole in part.holes)):
        points = contour.points(8 if isinstance(contour, Circle) else 4)
        screen.line([spot.point(p) for p in points], "outline", is_closed=True)
    for name, (start, end) in spans.items():
        a, b = spot.point(start), spot.point(end)
        screen.line([a, b], "broken" if "E_" in name else "thin")
        # The two diagonals share a letter, and so do F's hole and disc and the gap's two faces: the first carries it.
        letter = name.partition(".")[2][0] if name.startswith("readings") else "C"
        if name.split(".")[1] not in ("E_falling", "F_disc", "other_face"):
            middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
            is_flat = abs(b[0] - a[0]) > abs(b[1] - a[1])
            screen.words(
                letter,
                (middle[0] + (0 if is_flat else _LETTER_PX), middle[1] - (5 if is_flat else -5)),
                "big",
                "middle",
            )
        line = Screen(0, 0)
        line.heads(a, b)
        screen.group(line.marks, "span", f"coupon:{name}")
    return screen.svg("The coupon, its marks in sight, with the places to measure", look)


def _spans(size: CouponSize) -> dict[str, tuple[Point, Point]]:
    """From where to where each place is measured, coupon's frame, mm; as the form's picture shows it."""
    # Dimensions of the four lengths stand outside the outline, the short ones nearer to it. A wedge's gap lies behind
    # its thick end, along its slot. Diagonals go from outside edge to outside edge of two holes: half a hole's width
    # over its middle, at 45 degrees.
    places, long = lay_out_coupon(size), size.slot_ends()[2]
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    spans: dict[str, tuple[Point, Point]] = {
        "readings.D_long_x": ((0.0, -9.0), (long_x, -9.0)),
        "readings.D_short_x": ((long_x - short_x, long_y + 9.0), (long_x, long_y + 9.0)),
        "readings.D_long_y": ((long_x + 20.0, 0.0), (long_x + 20.0, long_y)),
        "readings.D_short_y": ((long_x + 9.0, long_y - short_y), (long_x + 9.0, long_y)),
    }
    for name in ("A", "B"):
        turned = PlaneFrame(*SLOTS_AT[name], 0.0 if name == "A" else -90.0)
        spans[f"readings.{name}_wedge"] = (turned.point((0.0, long - REST_MM)), turned.point((0.0, long)))
    square, reach = places.square, size.square_hole / 2 / 2**0.5
    (x, y), (high_x, high_y) = square["lower left"], square["upper right"]
    spans["readings.E_rising"] = ((x - reach, y - reach), (high_x + reach, high_y + reach))
    spans["readings.E_falling"] = ((x - reach, high_y + reach), (high_x + reach, y - reach))
    (x, y), radius = places.disc, size.disc / 2
    spans |= dict.fromkeys(("readings.F_hole", "readings.F_disc"), ((x - radius, y), (x + radius, y)))
    if size.gap is not None:
        (x, y), (narrow, _) = places.gap, size.gap
        spans |= dict.fromkeys(("gap.marked_face", "gap.other_face"), ((x + narrow / 2, y), (x + narrow / 2, y + 25.0)))
    return spans
