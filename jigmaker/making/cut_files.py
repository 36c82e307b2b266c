"""A Plan in, the DXF and SVG files of its parts and sheets out as named bytes. Sheet frame; the shop's unit."""

from collections.abc import Iterator
from pathlib import Path

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture, has_square, operations_apart, shape_counts
from jigmaker.cutting.cut_sheet import Correction, CutSheet
from jigmaker.drawing.picture import Picture
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import Point
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Compensation, Operation, Shop
from jigmaker.making.naming import FORMATS, line_words, part_stem, sheet_stem
from jigmaker.making.plan import Plan, compensations
from jigmaker.progress import counted
from jigmaker.record import dataclass
from jigmaker.sheets.sheet import Sheet
from jigmaker.units import fixed, length_text
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.svg import write_svg


@dataclass(frozen=True, slots=True)
class CutFile:
    """One written file: its name in the job's folder, its bytes, the sheet it shows and what was done to the lines.

    `operations` are those that the file holds lines of, the note aside, which is square and crosses; `shapes`
    counts the lines of each, and of the note, as they follow one another. `screws_at`: middles of the note's crosses.
    cut_mm: the way along all contours of the whole sheet that are cut through; pierces: how many those are.
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
    screws_at: tuple[Point, ...] = ()
    cut_mm: float = 0.0
    pierces: int = 0


def cut_files(plan: Plan) -> tuple[CutFile, ...]:
    """Every part's own files, at finished size and as [files] parts asks; then every sheet's, as the machine takes it.

    DXF before SVG. A part at finished size is one file for any CAD program, whatever [files] operations says.
    Raises TooNarrow with a line for every feature of every part that the tool cannot cut.
    """
    shop, slug, count = plan.shop, plan.job.slug, len(plan.sheets)
    parts = {part.slug: part for part in plan.kit.parts}
    both = shop.files.parts == "both" and not shop.machine.is_paper
    of_parts: tuple[Compensation, ...] = ("left out", "included") if both else ("left out",)
    # All lines are moved before the first file is written, so that what is too narrow is told of all parts at once: a
    # part stands on its own sheet and on a whole one, and says the same on both.
    cuts: list[CutSheet] = []
    faults: dict[str, None] = {}
    wanted = [(plan.part_sheets, of_parts), (plan.sheets, compensations(shop.machine))]
    for sheet, compensation in ((sheet, how) for sheets, hows in wanted for sheet in sheets for how in hows):
        try:
            cuts.append(compensate(sheet, shop.machine, compensation, shop.files.unit))
        except TooNarrow as error:
            faults |= dict.fromkeys(str(error).splitlines())
    if faults:
        raise TooNarrow("\n".join(faults))
    written: list[CutFile] = []
    for cut in counted("writing", cuts):
        if part := parts.get(cut.name):
            # Words for whoever opens the file: how many are needed, and the settings that go with the part.
            notes = [f"Cut {part.pieces}: {part.needed} needed{f' and {part.spares} spare' if part.spares else ''}"]
            for each in part.settings:
                told = f"{fixed(each.value, 2)}°" if each.unit == "deg" else length_text(each.value, plan.job.unit)
                notes.append(f"{each.name}: {told}, {each.why}")
            whole = cut_picture(cut, shop, f"{plan.job.name}: {part.name} (cut {part.pieces})", tuple(notes))
            stem = part_stem(slug, part, cut.compensation, shop)
            written += _written(cut, whole, shop, stem, is_for_cad=cut.compensation == "left out")
        else:
            whole = cut_picture(cut, shop, f"{plan.job.name}: {cut.name} of {count}")
            written += _written(cut, whole, shop, sheet_stem(slug, cut.name, count, cut.compensation, shop))
    return tuple(written)


def ways_cut(plan: Plan) -> tuple[tuple[float, int], ...]:
    """Of each sheet the way along all that is cut through, mm, and how many lines that are, as its first files tell."""
    machine, unit = plan.shop.machine, plan.shop.files.unit
    return tuple(_way_cut(compensate(sheet, machine, compensations(machine)[0], unit)) for sheet in plan.sheets)


def lone_files(sheet: Sheet, shop: Shop, title: str, notes: tuple[str, ...], name: str) -> tuple[CutFile, ...]:
    """One sheet's files, in no folder and of no job: "coupon-kerf-0.20.dxf". Raises TooNarrow."""
    written: list[CutFile] = []
    for compensation in counted("writing", compensations(shop.machine)):
        cut = compensate(sheet, shop.machine, compensation, shop.files.unit)
        stem = f"{name}-{line_words(compensation, shop)}"
        written += _written(cut, cut_picture(cut, shop, title, notes), shop, stem)
    return tuple(written)


def _written(cut: CutSheet, whole: Picture, shop: Shop, stem: str, is_for_cad: bool = False) -> Iterator[CutFile]:
    """All operations in one file, or a file for each in cutting order; of each file the DXF before the SVG."""
    counts = shape_counts(cut, whole, shop)
    parted = operations_apart(whole, counts, shop)
    cut_mm, pierces = _way_cut(cut)
    lines: tuple[Operation, ...] = ("inner", "outer") if shop.files.contours == "line and arc" else ()
    apart = frozenset(shop.layers[key].name for key in lines)
    pictures = [("", tuple(parted), whole)]
    if shop.files.operations == "apart" and not is_for_cad:
        pictures = [(f"-{operation}", (operation,), picture) for operation, picture in parted.items()]
    for ending, cuts, picture in pictures:
        # Bridges are marked in the file that has the outlines.
        operations = (*cuts, *(("bridge",) if "bridge" in counts and "outer" in cuts else ()))
        for form in FORMATS:
            name = f"{stem}{ending}.{form}"
            if form == "dxf":
                data = write_dxf(picture, shop.files.dxf, shop.files.unit, apart)
            else:
                data = write_svg(picture, Path(name).stem)
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
                screws_at=cut.screws_at if shop.layers["note"].write else (),
                cut_mm=cut_mm,
                pierces=pierces,
            )


def _way_cut(cut: CutSheet) -> tuple[float, int]:
    through = [each.shape for each in cut.contours if each.operation in ("inner", "outer")]
    return sum(shape.length for shape in through if not isinstance(shape, Strokes)), len(through)
