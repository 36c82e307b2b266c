"""A Plan in, the DXF and SVG files of its parts and sheets out as named bytes. Sheet frame; the shop's unit."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture, has_square, operations_apart, shape_counts
from jigmaker.cutting.cut_sheet import Compensation, Correction, CutSheet
from jigmaker.drawing.picture import Picture
from jigmaker.errors import TooNarrow
from jigmaker.job.shop import Operation, Shop
from jigmaker.making.naming import FORMATS, cut_stem, lone_words, sheet_stem
from jigmaker.making.plan import Plan, compensations
from jigmaker.parts.part import Part, Setting
from jigmaker.progress import counted
from jigmaker.sheets.sheet import Sheet
from jigmaker.units import fixed, length_text
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.svg import write_svg


@dataclass(frozen=True, slots=True)
class CutFile:
    """One written file: its name in the job's folder, its bytes, the sheet it shows and what was done to the lines.

    `operations` are those that the file holds lines of, the note aside, which is the square if it has one; `shapes`
    counts the lines of each, and of the note, as they follow one another.
    """

    name: str
    data: bytes
    sheet: str
    compensation: Compensation
    tool_mm: float
    offset_mm: float
    operations: tuple[Operation, ...] = ()
    shapes: tuple[tuple[Operation, int], ...] = ()
    cut_width_mm: tuple[float, float] | None = None
    correction: Correction | None = None
    has_square: bool = False


StemOf = Callable[[str, str, Compensation, Shop], str]


def cut_files(plan: Plan) -> tuple[CutFile, ...]:
    """Every part's own files, then every sheet's; of each the compensation the machine asks for, DXF before SVG.

    Raises TooNarrow with a line for every feature of every part that the tool cannot cut.
    """
    titles = {part.slug: _part_title(plan, part) for part in plan.kit.parts}
    titles |= {sheet.name: f"{plan.job.name}: {sheet.name} of {len(plan.sheets)}" for sheet in plan.sheets}
    notes = {part.slug: _part_notes(plan, part) for part in plan.kit.parts}
    written: list[CutFile] = []
    both = ((plan.part_sheets, cut_stem), (plan.sheets, sheet_stem))
    cuts = [(cut, stem_of) for sheets, stem_of in both for cut in _compensated(sheets, plan)]
    for cut, stem_of in counted("writing", cuts):
        whole = cut_picture(cut, plan.shop, titles[cut.name], notes.get(cut.name, ()))
        stem = stem_of(plan.job.slug, cut.name, cut.compensation, plan.shop)
        written += _written(cut, whole, plan.shop, stem)
    return tuple(written)


def lone_files(sheet: Sheet, shop: Shop, title: str, notes: tuple[str, ...], name: str) -> tuple[CutFile, ...]:
    """One sheet's files, in no folder and of no job: "coupon-kerf-0.20.dxf". Raises TooNarrow."""
    written: list[CutFile] = []
    for compensation in counted("writing", compensations(shop.machine)):
        cut = compensate(sheet, shop.machine, compensation, shop.files.unit)
        stem = f"{name}-{lone_words(compensation, shop)}"
        written += _written(cut, cut_picture(cut, shop, title, notes), shop, stem)
    return tuple(written)


def _compensated(sheets: Iterable[Sheet], plan: Plan) -> list[CutSheet]:
    """The sheets as the tool follows them; TooNarrow tells the faults of all of them, each once."""
    cuts: list[CutSheet] = []
    faults: dict[str, None] = {}
    for sheet in sheets:
        for compensation in compensations(plan.shop.machine):
            try:
                cuts.append(compensate(sheet, plan.shop.machine, compensation, plan.shop.files.unit))
            except TooNarrow as error:
                faults |= dict.fromkeys(str(error).splitlines())
    if faults:
        raise TooNarrow("\n".join(faults))
    return cuts


def _written(cut: CutSheet, whole: Picture, shop: Shop, stem: str) -> Iterator[CutFile]:
    """All operations in one file, or a file for each in cutting order; of each file the DXF before the SVG."""
    counts = shape_counts(cut, whole, shop)
    parted = operations_apart(whole, counts, shop)
    pictures = [("", tuple(parted), whole)]
    if shop.files.operations == "apart":
        pictures = [(f"-{operation}", (operation,), picture) for operation, picture in parted.items()]
    for ending, operations, picture in pictures:
        for form in FORMATS:
            name = f"{stem}{ending}.{form}"
            is_dxf = form == "dxf"
            data = (
                write_dxf(picture, shop.files.dxf, shop.files.unit) if is_dxf else write_svg(picture, Path(name).stem)
            )
            yield CutFile(
                name=name,
                data=data,
                sheet=cut.name,
                compensation=cut.compensation,
                tool_mm=cut.tool_mm,
                offset_mm=cut.offset_mm,
                operations=operations,
                shapes=tuple((key, count) for key, count in counts.items() if key in (*operations, "note")),
                cut_width_mm=cut.cut_width_mm,
                correction=cut.correction,
                has_square=has_square(cut, shop),
            )


def _part_title(plan: Plan, part: Part) -> str:
    return f"{plan.job.name}: {part.name} (cut {part.pieces})"


def _part_notes(plan: Plan, part: Part) -> tuple[str, ...]:
    """Words for whoever opens the file: how many are needed, and the settings that go with the part."""
    spare = f" and {part.spares} spare" if part.spares else ""
    settings = (f"{s.name}: {_figure(s, plan)}, {s.why}" for s in part.settings)
    return (f"Cut {part.pieces}: {part.needed} needed{spare}", *settings)


def _figure(setting: Setting, plan: Plan) -> str:
    if setting.unit == "deg":
        return f"{fixed(setting.value, 2)}°"
    return length_text(setting.value, plan.job.unit)
