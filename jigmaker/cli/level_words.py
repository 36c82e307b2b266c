"""What jigmaker level says: levellings in, tables and cautions out; 100 columns, lengths in the asked unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.cli.speech import row
from jigmaker.geometry.tolerance import SHOP_MM
from jigmaker.levelling.feet import ARRISES, FEET, PICTURE, WHICH_IS_WHICH
from jigmaker.units import fixed, length_text

if TYPE_CHECKING:
    from jigmaker.findings import Finding
    from jigmaker.levelling.batch import Batch
    from jigmaker.levelling.feet import Four
    from jigmaker.levelling.levelling import ErrorGrowth, Levelling
    from jigmaker.levelling.pads import PadLevelling
    from jigmaker.making.job_check import Source
    from jigmaker.units import Unit

_NAME, _FIGURE = 34, 11


def batch_text(batch: Batch, growth: ErrorGrowth, pads: tuple[float, float], unit: Unit) -> str:
    """One height, which trestle decides it, and a table for each; then what holds for all of them."""
    several = len(batch.names) > 1
    lines = [*PICTURE, WHICH_IS_WHICH, ""]
    if several:
        # What each could be by itself beside what it gives up for the others: by that one decides whether one trestle
        # that is too low is better left lower.
        lines += [*_together(batch, unit), ""]
        lines.append(f"{'':<{_NAME}}{'could be':>{_FIGURE}}{'gives up':>{_FIGURE}}{'rock now':>{_FIGURE}}")
        for name, high, told in zip(batch.names, batch.highest_mm, batch.levellings, strict=True):
            figures = (high, high - batch.height_mm, told.rock_before_mm)
            lines.append(f"{name:<{_NAME}}" + "".join(f"{_cell(figure, unit):>{_FIGURE}}" for figure in figures))
        lines.append("")
    for name, told in zip(batch.names, batch.levellings, strict=True):
        lines += [*([name.upper()] if several else []), *_trestle(told, unit), ""]
    return "\n".join([*lines, *_for_all(growth, pads, unit)])


def pads_text(told: PadLevelling, sizes: tuple[float, float], unit: Unit) -> str:
    """Which feet stand on pads, which one is sawn, and what it loses."""
    first, second = (foot.name for foot in told.saw)
    gap, along = _length(told.loss_mm, unit), _length(told.along_mm, unit)
    others = " and ".join(foot.name for foot in FEET if foot not in told.saw)
    lines = [
        *PICTURE,
        WHICH_IS_WHICH,
        "",
        *row(
            "rock", f"{gap} under {told.hangs.name}: the trestle stands on {first} and {second}, the longer diagonal."
        ),
        *row("saw", f"One of {first} and {second}: the one where the top stands higher by a level."),
        *row(
            "pads",
            f"{_length(told.pad_mm, unit)} thick, three: under {others}, and under the one of {first} and {second} "
            f"that is not sawn; {_pad_sizes(sizes, unit)}",
        ),
        *row("", f"The foot to saw hangs free, its tip {_length(told.clear_mm, unit)} over the floor."),
        *row("loses", f"{gap} upright, {along} along the leg: lay the saw on the spare pad and saw the foot flush."),
        *row("afterwards", f"The rock is {_length(told.rock_after_mm, unit)}; the height is not looked after."),
    ]
    return "\n".join(lines)


def caution_text(cautions: tuple[Finding, ...], source: Source) -> list[str]:
    """Cautions, folded, each with its place in the job."""
    return [line for caution in cautions for line in row("caution", source.sentence(caution))]


def rows_text(batch: Batch, unit: Unit) -> list[str]:
    """A row a trestle: what goes under each foot, where it is scribed, and what it comes to."""
    from jigmaker.papers.level_page import HEAD, level_rows

    head = ("put under", *(words.removeprefix("under ") for words in HEAD[1:]))
    cells = [head, *level_rows(batch, unit)]
    wide = [max(map(len, column)) for column in zip(*cells, strict=True)]
    table = [
        "  ".join([f"{cell[0]:<{wide[0]}}", *(f"{words:>{wide[i]}}" for i, words in enumerate(cell[1:], 1))])
        for cell in cells
    ]
    return [*_together(batch, unit), "", *table] if len(batch.names) > 1 else table


def batch_caution_text(batch: Batch, source: Source) -> list[str]:
    """The batch's cautions, folded."""
    return [line for words in batch_sentences(batch, source) for line in row("caution", words)]


def batch_sentences(batch: Batch, source: Source) -> list[str]:
    """The batch's cautions, then those of its trestles: named, or said once when they are the same for all."""
    # A caution that all trestles share is one sentence; of one that some have, those are named before it.
    told = [source.sentence(caution) for caution in batch.cautions]
    named = {
        name: [source.sentence(caution) for caution in told.cautions]
        for name, told in zip(batch.names, batch.levellings, strict=True)
    }
    for said in dict.fromkeys(sentence for sentences in named.values() for sentence in sentences):
        about = [name for name, sentences in named.items() if said in sentences]
        told.append(said if len(about) == len(named) else f"{', '.join(about)}: {said}")
    return told


def _together(batch: Batch, unit: Unit) -> list[str]:
    return row(
        "all",
        f"{len(batch.names)} trestles come to one height: {_length(batch.height_mm, unit)}.",
        f"By themselves they could differ by {_length(batch.differ_mm, unit)}; {batch.shortest} is the lowest.",
    )


def _trestle(told: Levelling, unit: Unit) -> list[str]:
    sheets = "1 sheet, the nose alone" if told.sheets == 1 else f"{told.sheets} sheets, the nose on top"
    # One row when all arrises of a foot lose alike, as they do under a sole sawn to the angles; else one an arris.
    corners = list(enumerate(ARRISES))
    if all(max(four) - min(four) < 1e-6 for four in told.arrises_mm):
        corners = [(0, "along all four arrises")]
    along = []
    for i, name in corners:
        first, second, third, fourth = (four[i] for four in told.arrises_mm)
        along.append(_row(f"it loses, {name}", (first, second, third, fourth), unit))
    # What is under the longest leg, and so under all; nothing when the longest leg stands on the floor.
    longest = FEET[told.lengths_mm.index(max(told.lengths_mm))].name
    shims = [f"Nothing under {longest}, the longest; under the others until the top is level."]
    if told.packing_mm >= SHOP_MM:
        packing, without = _length(told.packing_mm, unit), _length(told.height_mm - told.packing_mm, unit)
        shims = [
            f"{packing} under {longest}, the longest; under the others until the top is level.",
            f"With nothing under {longest} the trestle would come to {without}.",
        ]
    lines = [
        f"{'':<{_NAME}}" + "".join(f"{foot.name:>{_FIGURE}}" for foot in FEET),
        _row("top over the foot's lowest point", told.lengths_mm, unit),
        _row("put under it", told.shims_mm, unit),
        _row("it loses, upright", told.losses_mm, unit),
        *along,
        *row("shims", *shims),
        *row("scribe at", f"{_length(told.scribing_mm, unit)}: {sheets}. Saw off all that is below the line."),
        *row("height", f"{_length(told.height_mm, unit)}, finished, floor to top face."),
        *row("rock", f"{_length(told.rock_before_mm, unit)} now, {_length(told.rock_after_mm, unit)} as scribed."),
    ]
    if told.winding_mm is not None:
        lines += row("winding", f"{_length(abs(told.winding_mm), unit)} over the feet, by the battens.")
    return lines


def _for_all(growth: ErrorGrowth, pads: tuple[float, float], unit: Unit) -> list[str]:
    one = length_text(1.0, "mm") if unit == "mm" else '1/32"'
    return [
        *row("floor", "Flat and level where the feet stand: the block's line is only as true as the floor."),
        *row("", f"Shims: {_pad_sizes(pads, unit)}"),
        *row(
            "readings",
            f"A height read {one} wrong, on battens over the feet, puts the top {one} off there; read at the board's "
            f"own edges it would be {fixed(growth.from_board, 1)} times that. The feet stand flat all the same.",
        ),
    ]


def _pad_sizes(pads: tuple[float, float], unit: Unit) -> str:
    along, across = (_length(side, unit) for side in pads)
    return f"at most {along} x {across}, inside the foot, so that the block comes up to the leg."


def _row(name: str, figures: Four, unit: Unit) -> str:
    return f"{name:<{_NAME}}" + "".join(f"{_cell(figure, unit):>{_FIGURE}}" for figure in figures)


def _cell(mm: float, unit: Unit) -> str:
    """In a table tenths stand under each other."""
    return f"{fixed(mm, 1)} mm" if unit == "mm" else _length(mm, unit)


def _length(mm: float, unit: Unit) -> str:
    """To a tenth of a millimetre or a 64th of an inch: what a rule and feeler shims show."""
    return length_text(round(mm, 6), unit, 1)
