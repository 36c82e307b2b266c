"""Names of the files in a job's folder: job, sheet, compensation and format in, a name with forward slashes out."""

from typing import Literal

from jigmaker.cutting.cut_sheet import Compensation
from jigmaker.job.shop import Shop
from jigmaker.units import MM_PER_INCH, fixed, text

Format = Literal["dxf", "svg"]
FORMATS: tuple[Format, ...] = ("dxf", "svg")


def cut_name(slug: str, sheet: str, compensation: Compensation, shop: Shop, form: Format) -> str:
    """A part's own file: "cut/potting-bench-plate-kerf-0.20.dxf", "cut/nominal/potting-bench-plate-nominal.dxf"."""
    return _name("cut", slug, sheet, compensation, shop, form)


def sheet_name(slug: str, sheet: str, compensation: Compensation, shop: Shop, form: Format) -> str:
    """A whole sheet's file: "sheets/potting-bench-sheet-1-kerf-0.20.dxf"; nominal ones lie in sheets/nominal."""
    return _name("sheets", slug, sheet, compensation, shop, form)


def tool_words(shop: Shop) -> str:
    """The tool's width as file names give it: "kerf-0.20"; "kerf-0.008in" where the shop's files are in inches."""
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    return f"{tool}-{_width(shop)}"


def _width(shop: Shop) -> str:
    """To two decimals, or as many as it takes to tell one kerf from another."""
    width = shop.machine.tool_mm
    if shop.files.unit == "in":
        return f"{text(width / MM_PER_INCH, 4)}in"
    return fixed(width, 2) if float(fixed(width, 2)) == width else text(width, 4)


def _name(folder: str, slug: str, sheet: str, compensation: Compensation, shop: Shop, form: Format) -> str:
    if compensation == "left out":
        return f"{folder}/nominal/{slug}-{sheet}-nominal.{form}"
    return f"{folder}/{slug}-{sheet}-{tool_words(shop)}.{form}"
