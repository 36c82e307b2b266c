"""Names of the files in a job's folder: job, sheet and compensation in, a name with forward slashes out."""

from typing import Literal

from jigmaker.cutting.cut_sheet import Compensation
from jigmaker.job.shop import Shop
from jigmaker.units import MM_PER_INCH, fixed, text

Format = Literal["dxf", "svg"]
FORMATS: tuple[Format, ...] = ("dxf", "svg")


def cut_stem(slug: str, sheet: str, compensation: Compensation, shop: Shop) -> str:
    """A part's own files, without their ending: "cut/potting-bench-plate-kerf-0.20"; nominal ones lie in cut/nominal.

    Behind it go the operation, "-mark", where each has a file of its own, and the format, ".dxf".
    """
    return _stem("cut", slug, sheet, compensation, shop)


def sheet_stem(slug: str, sheet: str, compensation: Compensation, shop: Shop) -> str:
    """A whole sheet's files, without their ending: "sheets/potting-bench-sheet-1-kerf-0.20", as cut_stem."""
    return _stem("sheets", slug, sheet, compensation, shop)


def names_name(slug: str, sheet: str) -> str:
    """The picture that names the parts on a sheet: "papers/potting-bench-sheet-1-names.svg"."""
    return f"papers/{slug}-{sheet}-names.svg"


def tool_words(shop: Shop) -> str:
    """What was done to the lines as file names give it: "kerf-0.20", or "kerf-0.008in" where the files are in inches.

    "kerf-0.20x0.26" where lines were moved by more in y than in x; "kerf-0.20-corrected" for a crooked machine.
    """
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    widths = shop.machine.cut_width_mm if shop.machine.is_directed else (shop.machine.tool_mm,)
    corrected = "-corrected" if shop.machine.is_corrected else ""
    return f"{tool}-{'x'.join(_width(width, shop) for width in widths)}{corrected}"


def lone_words(compensation: Compensation, shop: Shop) -> str:
    """How a file's lines were treated, as its name tells it: "kerf-0.20" or "nominal"."""
    return "nominal" if compensation == "left out" else tool_words(shop)


def _width(width: float, shop: Shop) -> str:
    """To two decimals, or as many as it takes to tell one kerf from another."""
    if shop.files.unit == "in":
        return f"{text(width / MM_PER_INCH, 4)}in"
    return fixed(width, 2) if float(fixed(width, 2)) == width else text(width, 4)


def _stem(folder: str, slug: str, sheet: str, compensation: Compensation, shop: Shop) -> str:
    if compensation == "left out":
        return f"{folder}/nominal/{slug}-{sheet}-nominal"
    return f"{folder}/{slug}-{sheet}-{tool_words(shop)}"
