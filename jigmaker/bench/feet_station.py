"""The fifth station: readings of a batch's feet as typed in; shims, the height to scribe at and the losses out; mm.

Each trestle is read levelled first: shims under the feet until its top is level, then one height. Readings by battens,
or of the rock alone, are the command's.
"""

from __future__ import annotations

from dataclasses import field

from jigmaker.bench.fields import Field
from jigmaker.bench.rail import Rail
from jigmaker.bench.screen import Screen
from jigmaker.errors import JobError
from jigmaker.geometry.frames import Point
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.job.typed import toml_value
from jigmaker.levelling.batch import Batch, level_batch
from jigmaker.levelling.feet import FEET, WHICH_IS_WHICH, Four
from jigmaker.levelling.level_form import MOST_TRESTLES
from jigmaker.levelling.level_rules import LEVEL
from jigmaker.levelling.levelling import Levelling, scribing_heights
from jigmaker.levelling.read_readings import read_level_form, trestle_title
from jigmaker.levelling.readings import RockOnly
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve
from jigmaker.units import Unit, length_text

ANSWERS = "the answers"
_PX = (356.0, 320.0)
# Where each foot stands seen from above, the marked end toward the reader: right, down.
_CORNERS: dict[str, tuple[int, int]] = {"near_r": (1, 1), "near_l": (-1, 1), "far_r": (-1, -1), "far_l": (1, -1)}


@dataclass
class FeetNow:
    """What the readings come to. picture: the board seen from above; scribe, height: what is large; rows: each foot."""

    which: str = "trestle_1"
    trestles: int = 1
    picture: str = ""
    scribe: str = ""
    height: str = ""
    rows: list[tuple[str, str, str]] = field(default_factory=list)
    batch: list[tuple[str, str]] = field(default_factory=list)
    faults: dict[str, list[str]] = field(default_factory=dict)
    cautions: list[str] = field(default_factory=list)

    def tell(self, batch: Batch, trestle: Trestle) -> None:
        """All trestles of the batch in a row each, and of the one chosen what its feet want."""
        unit = trestle.job.unit
        by_name = dict(zip(batch.names, batch.levellings, strict=True))
        self.batch = [(name, _length(each.rock_before_mm, unit)) for name, each in by_name.items()]
        self.cautions = [caution.sentence() for caution in batch.cautions]
        told = by_name.get(trestle_title(self.which))
        if told is None:
            return
        sheets = "1 sheet, the nose alone" if told.sheets == 1 else f"{told.sheets} sheets, the nose on top"
        self.scribe, self.height = f"{_length(told.scribing_mm, unit)}: {sheets}", _length(told.height_mm, unit)
        self.rows = [
            (foot.name, _length(under, unit), _length(loss, unit))
            for foot, under, loss in zip(FEET, told.shims_mm, told.losses_mm, strict=True)
        ]
        self.cautions += [caution.sentence() for caution in told.cautions]
        self.picture = _picture(told, unit)


def feet_fields(typed: dict[str, str], unit: Unit, which: str) -> tuple[Field, ...]:
    """The fields of one trestle, then what is wanted of all."""
    rows = [
        (
            "top",
            "Top levelled, over the floor",
            "Shim the feet until a level reads level along the top and across both ends.",
        )
    ]
    rows += [
        (f"under_{foot.key}", f"Under {foot.name}", "A shim, as thick as it is. Left empty, nothing.") for foot in FEET
    ]
    fields = [
        Field(f"feet:{which}.{key}", label, words, typed.get(f"feet:{which}.{key}", ""), unit=unit)
        for key, label, words in rows
    ]
    for rule in LEVEL.rules[1:]:
        name = f"feet:level.{rule.key}"
        label = {"height": "Finished height, all", "sheets": "Sheets in the block", "soles": "Feet sawn now"}[rule.key]
        length = unit if rule.kind == "length" else ""
        fields.append(
            Field(
                name,
                label,
                rule.meaning,
                typed.get(name, "angled" if rule.choices else ""),
                unit=length,
                choices=rule.choices,
            )
        )
    return tuple(fields)


def feet_now(typed: dict[str, str], job: Job | None, shop: Shop | None) -> FeetNow:
    """The batch as read so far, all to one height; the picture shows the trestle that is chosen."""
    now = FeetNow(f"trestle_{typed.get('feet:which', '1')}", min(job.trestles, MOST_TRESTLES) if job else 1)
    now.picture = _picture(None, "mm")
    if job is None or shop is None:
        now.faults[""] = ["The job and the shop must be known first: stations 1 and 2."]
        return now
    if job.further_sizes:
        now.faults[""] = ["This job has several sizes: jigmaker level levels them, each to its own height."]
        return now
    # What is typed becomes a form as the command reads it, nothing as long as no top is measured. A foot without a
    # word on what is under it stands on the floor.
    held: dict[str, dict[str, str]] = {}
    for name, words in typed.items():
        section, _, key = name.removeprefix("feet:").partition(".")
        if name.startswith("feet:") and key and words.strip():
            held.setdefault(section, {})[key] = toml_value(words)
    trestles = {name: keys for name, keys in sorted(held.items()) if name.startswith("trestle_") and "top" in keys}
    if not trestles:
        return now
    level = {"units": f'"{job.unit}"', **held.get("level", {})}
    if not (soles := level.get("soles", '"')).startswith('"'):
        level["soles"] = f'"{soles}"'
    unders = {f"under_{foot.key}": "0" for foot in FEET}
    sections = {"level": level, **{name: {**unders, **keys} for name, keys in trestles.items()}}
    lines = [
        line for name, keys in sections.items() for line in (f"[{name}]", *(f"{k} = {v}" for k, v in keys.items()))
    ]
    form = "\n".join(lines).encode()
    trestle = solve(job)
    try:
        told = read_level_form(form, ANSWERS)
        measured = {trestle_title(name): each for name, each in told.readings.items() if not isinstance(each, RockOnly)}
        batch = level_batch(trestle, scribing_heights(shop.sheet.thickness_mm), measured, told.wanted)
    except JobError as error:
        for i, sentence in enumerate(error.faults):
            key = error.keys[i] if i < len(error.keys) else ""
            name = f"feet:{key}" if "." in key else ""
            now.faults.setdefault(name, []).append(
                sentence.partition(": ")[2] if sentence.startswith(ANSWERS) else sentence
            )
        return now
    now.tell(batch, trestle)
    return now


def feet_rail(now: FeetNow) -> Rail:
    """The height to scribe at, and the next trestle."""
    number = int(now.which.removeprefix("trestle_"))
    following = (
        (f"Next: trestle {number + 1}", f"which:{number + 1}")
        if number < now.trestles
        else ("Back to the kit", "go:kit")
    )
    if any(now.faults.values()):
        return Rail("This cannot be levelled as read.", "", *following, is_wrong=True)
    if not now.scribe:
        return Rail("Give the height of the levelled top.", "", "Go to it", f"field:feet:{now.which}.top")
    return Rail(f"Scribe at {now.scribe}.", f"{now.height} finished.", *following)


def _picture(told: Levelling | None, unit: Unit) -> str:
    """The board seen from above with its four feet; under each what is to be put there, once it is known."""
    #      far R ______ far L      as the reader stands at the marked end: the board in the middle, a leg from each
    #           |      |           corner, and at its foot what goes under it
    #     near L|_mark_|near R
    (wide, high), screen = _PX, Screen(*_PX)
    x, y, half, deep = wide / 2, high / 2, 84.0, 60.0
    screen.line(
        [(x - half, y - deep), (x + half, y - deep), (x + half, y + deep), (x - half, y + deep)], "outline", True
    )
    screen.words("your mark: near end", (x, y + deep - 10), "", "middle")
    shims: Four | tuple[None, ...] = told.shims_mm if told else (None,) * 4
    for foot, shim in zip(FEET, shims, strict=True):
        across, down = _CORNERS[foot.key]
        start: Point = (x + across * half, y + down * deep * 0.7)
        end = (start[0] + across * 62, start[1] + down * 40)
        screen.line([start, end], "heavy")
        screen.words(foot.name, (end[0], end[1] + (20 if down > 0 else -32)), "", "middle")
        if shim is not None:
            screen.words(_length(shim, unit), (end[0], end[1] + (42 if down > 0 else -10)), "big", "middle")
    return screen.svg(f"The trestle from above, its marked end toward you. {WHICH_IS_WHICH}", "feet")


def _length(mm: float, unit: Unit) -> str:
    """To a tenth of a millimetre or a 64th of an inch: what a rule and feeler shims show."""
    return length_text(round(mm, 6), unit, 1)
