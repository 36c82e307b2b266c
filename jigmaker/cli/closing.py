"""What make says when it is done: a Plan and where its files lie in, a short table for the workshop out; 100 columns.

Lengths in the unit of the job for the timber, of the shop for sheet, machine and router.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigmaker.cli.speech import row
from jigmaker.cli.verdict import verdict_lines
from jigmaker.cutting.cut_picture import reference_words
from jigmaker.first_off.play import play
from jigmaker.job.changed_defaults import changed_defaults
from jigmaker.job.practice import fit_word
from jigmaker.making.naming import FULL_SIZE
from jigmaker.making.ownership import NOTHING, Found
from jigmaker.parts.leg_saw.leg_cradle import cradle_of
from jigmaker.record import dataclass
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.stance import chosen_lean_words
from jigmaker.units import MM_PER_INCH, Unit, caliper_text, fixed, length_text, text

if TYPE_CHECKING:
    from jigmaker.cli.reading import Asked
    from jigmaker.job.job import Job
    from jigmaker.job.shop import Shop
    from jigmaker.making.plan import Plan
    from jigmaker.proof.prove import Report
    from jigmaker.trestle.records import Trestle

_TOLD = 4  # so many figures of a replaced kit; the rest are counted

NO_PLATFORM = "A trestle is no working platform: nobody stands on it."


@dataclass(frozen=True)
class _Closing:
    """What is said of one plan."""

    plan: Plan

    def heading(self, asked: Asked, target: Path, names: tuple[str, ...]) -> list[str]:
        job, unit = self.plan.job, self.plan.job.unit
        count = "1 trestle" if job.all_trestles == 1 else f"{job.all_trestles} trestles"
        # Each size has a top of its own length; one that several share is told once.
        lengths = " / ".join(dict.fromkeys(length_text(size.top_length_mm, unit) for size in job.sizes))
        top = " x ".join([lengths, *(length_text(mm, unit) for mm in (job.top.width_mm, job.top.thickness_mm))])
        leg = " x ".join(length_text(mm, unit) for mm in (job.leg.width_mm, job.leg.thickness_mm))
        asked_for = f"{count} {job.high} high; top {top}; legs {leg}."
        lines = row("", f"{job.name}: {len(names)} files in {target}", column=0) + row("", asked_for, column=0)
        if job.angle_chosen:
            lines += row("", f"No angle was given. {chosen_lean_words(job)}", column=0)
        if asked.is_demo:
            demo = 'This is the built-in demo. "jigmaker new DIR" writes a job and a shop of your own to start from.'
            lines += row("", demo, column=0)
        return [*lines, ""]

    def open_first(self, target: Path, names: tuple[str, ...]) -> list[str]:
        """The machine's first cut file and what its lines allow for; the paper at full size where there is none."""
        machine, alone = (
            self.plan.shop.machine,
            "Each part by itself lies in parts, at finished size, for a CAD program.",
        )
        if machine.is_paper:
            first = next(name for name in names if name.endswith(f"{FULL_SIZE}.pdf"))
            how = "Print it at 100 %, never fitted to the page; glue, saw beside the lines, file to their middle."
            return row("open first", f"{target / first}", how, alone)
        first = next(name for name in names if name.startswith("sheets/") and name.endswith(".dxf"))
        width = f"the {'kerf' if machine.kind == 'laser' else 'cutter'} of {self.measured(machine.tool_mm)}"
        advice, corrected = {
            "included": (
                f"Its lines have {width} in them: no other program must add it again.",
                "They are corrected for the machine's scale and skew.",
            ),
            "left out": (
                f"Its lines are at finished size: your machine's program must add {width}.",
                "They are not corrected for the machine's scale and skew.",
            ),
            "both": (
                f"Its lines have {width} in them. If your machine's program adds that itself, take the files in "
                "sheets/finished-size instead; never let both add it.",
                "They are corrected for the machine's scale and skew, those in finished-size are not.",
            ),
        }[machine.compensation]
        says = [f"or the .svg of that name. {advice}", *([corrected] if machine.is_corrected else []), alone]
        if self.plan.shop.files.operations != "together":
            says.append(
                "Each file holds one operation: -mark, then -inner, then -outer, the sheet not moved between them."
            )
        return row("open first", f"{target / first}", *says)

    def pieces(self) -> list[str]:
        pieces = sum(part.pieces for part in self.plan.kit.parts)
        spares = sum(part.spares for part in self.plan.kit.parts)
        sheets = "1 sheet" if len(self.plan.sheets) == 1 else f"{len(self.plan.sheets)} sheets"
        stocks = dict.fromkeys(sheet.stock or self.plan.shop.sheet for sheet in self.plan.sheets)
        sizes = [" x ".join(self.shop_length(mm) for mm in (stock.length_mm, stock.width_mm)) for stock in stocks]
        size = " and ".join(dict.fromkeys(sizes))
        spare = f", {spares} of them spare," if spares else ""
        names = "The pictures in papers tell which piece is which; they are not for cutting."
        lines = [
            (part, line)
            for part in self.plan.kit.parts
            for line in (part.outline, *(hole.contour for hole in part.holes))
        ]
        contours = [(part.pieces, line) for part, line in lines]
        number, metres = sum(n for n, _ in contours), sum(n * line.length for n, line in contours) / 1000
        way = f"{fixed(metres, 1)} m" if self.plan.shop.files.unit == "mm" else f"{fixed(metres / 0.3048, 0)} ft"
        through = f"{number} contours to cut through, {way} along them."
        if self.plan.shop.machine.is_paper:
            thick = self.measured(self.plan.shop.sheet.thickness_mm)
            return row(
                "to saw", f"{pieces} pieces{spare} from a sheet {thick} thick: {number} contours, {way} along them."
            )
        return row("to cut", f"{pieces} pieces{spare} on {sheets} of {size}: {through}", names)

    def router(self) -> list[str]:
        router = self.plan.shop.router
        # The tip's way is in the job's unit, as the marks say it; in inches decimals follow, for a caliper sets it.
        projection = next(setting.value for setting in self.plan.kit.settings if setting.name == "projection")
        tools = f"Bush {self.shop_length(router.bush_mm)}, cutter {self.shop_length(router.cutter_mm)}"
        if router.is_bearing_guided:
            tools = f"Bearing-guided cutter {self.shop_length(router.cutter_mm)}"
        stands = length_text(projection, self.plan.job.unit)  # as the marks on plate and gauge say it
        if "in" in (self.plan.job.unit, self.plan.shop.files.unit):
            stands += f" ({self.measured(projection)})"
        set_up = row("hand router", f"{tools}; the cutter's tip {stands} below the base, the housing's full depth.")
        found, unit = play(self.plan.job, self.plan.shop), self.plan.job.unit
        least, most = (f"{caliper_text(mm, unit)} ({fit_word(mm)})" for mm in (found.least_mm, found.most_mm))
        return set_up + row(
            "fit",
            *(
                f"A {self.plan.job.housing.joint} joint with {length_text(found.asked_mm, unit)} of play: a leg goes "
                f"in {fit_word(found.asked_mm)}.",
                f"As cut it may be {least} to {most}: expect to correct it once at the first-off.",
            ),
        )

    def measured(self, mm: float) -> str:
        """A length as a caliper shows it: inches as decimals."""
        return length_text(mm, "mm") if self.plan.shop.files.unit == "mm" else f'{text(mm / MM_PER_INCH, 3)}"'

    def shop_length(self, mm: float) -> str:
        return length_text(mm, self.plan.shop.files.unit)


def closing_text(
    plan: Plan,
    asked: Asked,
    target: Path,
    names: tuple[str, ...],
    report: Report,
    before: Found = NOTHING,
    kept: Sequence[str] = (),
) -> str:
    """The table: what was made, what to open and to measure first, how jig and router are set, what to mind.

    `before` is what the folder held, also for defaults that have changed since; `kept` tells in sentences where it is.
    """
    said = _Closing(plan)
    source = asked.source
    files = ("job", source.job_text), ("shop", source.shop_text)
    changed = [each for table, data in files for each in changed_defaults(data, table, before.kit)]
    is_paper = plan.shop.machine.is_paper
    what, size = reference_words(plan.sheets, plan.shop)
    in_file = f"In the file of sheet 1: {what}, {size}, or the scale is wrong."
    sheet = plan.shop.sheet
    in_hand = f"The sheet, with a caliper: this kit fits {sheet.material} {said.measured(sheet.thickness_mm)} thick."
    scored = "the marked face is the one that shows." if plan.shop.machine.marking != "none" else "mark it as it lies."
    lines = [
        *said.heading(asked, target, names),
        *_replaced(plan.job, before, kept),
        *said.open_first(target, names),
        *row("measure first", _BARS if is_paper else in_file, in_hand),
        *said.pieces(),
        *row(
            "which face",
            _PRINTED_FACE if is_paper else f"Machine: no piece is turned over; {scored}",
            f"{goes_on_board(plan.shop)}: board clamped edge up, fence against the top face for all four housings.",
            how_legs_are_sawn(plan.kit.trestle, plan.shop),
        ),
        *(said.router() if plan.shop.routs_housings else ()),
        *verdict_lines(report),
    ]
    for caution in (*plan.cautions, *changed):
        lines += row("caution", source.sentence(caution))
    return "\n".join([*lines, "", NO_PLATFORM])


def goes_on_board(shop: Shop) -> str:
    """What is held against the board to make its housings, at the head of a sentence."""
    on = ("jig", shop.routs_housings), ("saw guide", shop.saws_housings)
    return " and ".join(word for word, is_so in on if is_so).capitalize()


def _replaced(job: Job, before: Found, kept: Sequence[str]) -> list[str]:
    """Of a kit that was made for other figures, those; and where it is, if it is kept."""
    if kept:
        return row("kept", *(f"{sentence[:1].upper()}{sentence[1:]}." for sentence in kept))
    # Compared in words, not in numbers: what reads alike is no other figure to the user, whatever its last digits.
    old, new = (_figures(told, job.unit) for told in (before.job, asdict(job)))
    others = [f"{name} {words}" for name, words in old.items() if name in new and new[name] != words]
    if not others:
        return []
    more = f" and {len(others) - _TOLD} more figures" if len(others) > _TOLD else ""
    return row("replaced", f"the kit of {', '.join(others[:_TOLD])}{more}.")


def _figures(told: Mapping[str, Any], unit: Unit, above: str = "") -> dict[str, str]:
    """What a job in kit.json asks for, in words: {"height": "720 mm", "leg width": "70 mm"}."""
    found: dict[str, str] = {}
    for key, value in told.items():
        name = f"{above}{key}".replace("_", " ")
        if key == "further_sizes":
            for i, size in enumerate(value, 2):
                found |= _figures(size, unit, f"size {i} ")
        elif isinstance(value, Mapping):
            found |= _figures(value, unit, f"{name} ")
        elif isinstance(value, bool):
            continue  # whether the angles were chosen, which the angles tell
        elif key.endswith("_mm") and isinstance(value, int | float):
            found[name.removesuffix(" mm")] = length_text(value, unit)
        elif key.endswith("_deg") and isinstance(value, int | float):
            found[name.removesuffix(" deg")] = f"{text(value, 2)}°"
        else:
            found[name] = str(value)
    return found


_BARS = (
    "The bars of 100 mm and of 4 in, both directions, every page: where they are off, correct [paper] of the shop and "
    "make again."
)
_PRINTED_FACE = "Paper: no piece is turned over; the printed face is the one that shows."


def how_legs_are_sawn(trestle: Trestle, shop: Shop) -> str:
    """How a leg lies for the cuts at its ends."""
    angles = trestle.angles
    if shop.leg_saw.kind == "hand":
        return "Leg box: wide face down, head at your left, slid along and never turned."
    if not turns_legs(trestle, shop):
        mitre, tilt = fixed(angles.saw_mitre_deg, 2), fixed(angles.saw_tilt_deg, 2)
        return f"Saw: leg's wide face down, mitre {mitre}° off square, blade {tilt}° off upright."
    if not cradle_of(trestle, shop):
        return "Legs: both ends marked with the bevel and sawn by hand."
    swing = fixed(angles.saw_tilt_on_edge_deg, 2)
    if swing == "0.00":
        return "Sloping cradle: cut square across; then the leg end for end, other wide face down."
    return (
        f"Sloping cradle: mitre {swing}° off square, far end of the cut to your right; then the leg end for end, "
        "other wide face down, far end to your left."
    )
