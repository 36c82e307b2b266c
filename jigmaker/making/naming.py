"""Names of the files in a job's folder: job, part or sheet, and compensation in, a name with forward slashes out.

A name ends in what was done to its lines, and tells how many are cut. What [files] asks for beyond the usual lies in a
folder of its own, which is called as its names end.
"""

from typing import Literal

from jigmaker.job.shop import Compensation, Shop
from jigmaker.parts.part import Part
from jigmaker.units import MM_PER_INCH, fixed, text

Format = Literal["dxf", "svg"]
FORMATS: tuple[Format, ...] = ("dxf", "svg")

PARTS, SHEETS, FINISHED, FULL_SIZE = "parts/", "sheets/", "finished-size", "-full-size"


def part_stem(slug: str, part: Part, compensation: Compensation, shop: Shop) -> str:
    """A part's own files, without their ending: "parts/potting-bench-mask-foot-cut-4-finished-size".

    With the cut's width in the lines: "parts/kerf-0.20/potting-bench-mask-foot-cut-4-kerf-0.20".
    """
    words = line_words(compensation, shop)
    folder = PARTS if compensation == "left out" else f"{PARTS}{words}/"
    return f"{folder}{part_name(slug, part)}-{words}"


def part_name(slug: str, part: Part) -> str:
    """Job, part and how many to cut: "potting-bench-mask-foot-cut-4"."""
    return f"{slug}-{part.slug}-cut-{part.pieces}"


def sheet_stem(slug: str, sheet: str, of: int, compensation: Compensation, shop: Shop) -> str:
    """A whole sheet's files, without their ending: "sheets/potting-bench-sheet-1-of-3-kerf-0.20".

    Behind it go the operation, "-mark", where each has a file of its own, and the format, ".dxf". Of a machine that has
    both kinds, those at finished size lie in sheets/finished-size.
    """
    words = line_words(compensation, shop)
    is_further = compensation == "left out" and shop.machine.compensation == "both"
    return f"{SHEETS}{f'{FINISHED}/' if is_further else ''}{slug}-{sheet}-of-{of}-{words}"


def names_name(slug: str, sheet: str) -> str:
    """The picture that names the parts on a sheet: "papers/potting-bench-sheet-1-names.svg"."""
    return f"papers/{slug}-{sheet}-names.svg"


def line_words(compensation: Compensation, shop: Shop) -> str:
    """What was done to the lines as file names give it: "finished-size", "kerf-0.20", "cutter-0.125in".

    "kerf-0.20x0.26" where lines were moved by more in y than in x; "kerf-0.20-corrected" for a crooked machine.
    """
    if compensation == "left out":
        return FINISHED
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    widths = shop.machine.cut_width_mm if shop.machine.is_directed else (shop.machine.tool_mm,)
    corrected = "-corrected" if shop.machine.is_corrected else ""
    # To two decimals, or as many as it takes to tell one kerf from another.
    if shop.files.unit == "in":
        told = [f"{text(width / MM_PER_INCH, 4)}in" for width in widths]
    else:
        told = [fixed(width, 2) if float(fixed(width, 2)) == width else text(width, 4) for width in widths]
    return f"{tool}-{'x'.join(told)}{corrected}"
