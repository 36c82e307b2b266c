"""Makes the README's pictures from the demo's files: run by hand, `.venv/bin/python tests/readme_pictures.py`.

Same drawings as the files in outputs/, lines thickened so that they show at a page's width, and as the picture that
comes with the demo's coupon.
"""

import re
from pathlib import Path

import pypdfium2
import resvg_py

from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.coupon_files import PICTURE, coupon_files
from jigmaker.papers.pictures.jig_on_board import jig_on_board_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve
from jigmaker.writers.svg import write_svg

ROOT = Path(__file__).parent.parent
PICTURES = {
    "plate.png": ("parts/potting-bench-plate-cut-1-finished-size.svg", 2.0, "0.5"),
    "bevel-plate.png": ("parts/potting-bench-bevel-plate-cut-1-finished-size.svg", 3.0, "0.4"),
    "sheet.png": ("sheets/potting-bench-sheet-1-of-3-kerf-0.20-corrected.svg", 2.0, "0.5"),
}


def main():
    """Every picture, into .readme/."""
    for name, (source, pixels_a_mm, width) in PICTURES.items():
        text = (ROOT / "outputs" / "potting-bench" / source).read_text(encoding="utf-8")
        thick = re.sub(r'stroke-width="[\d.]+"', f'stroke-width="{width}"', text)
        draw(name, thick, pixels_a_mm)
    kit = make_kit(solve(read_job(demo_job_text())), read_shop(demo_shop_text()))
    for name, picture in (("trestle", trestle_picture(kit.trestle)), ("jig-on-board", jig_on_board_picture(kit, "R"))):
        draw(f"{name}.png", write_svg(picture).decode("utf-8"), 5.0)
    draw_sheet("set-up-sheet.png", "potting-bench-set-up-sheets.pdf", "Assemble the jig dry")
    draw_sheet("full-size.png", "potting-bench-full-size.pdf", "plate, tile B2")
    draw("coupon.png", coupon_files(read_shop(demo_shop_text()))[PICTURE].decode("utf-8"), 4.0)


def draw(name, svg, pixels_a_mm):
    """One picture, on white."""
    png = resvg_py.svg_to_bytes(svg_string=svg, dpi=25.4 * pixels_a_mm, background="white")
    (ROOT / ".readme" / name).write_bytes(bytes(png))


def draw_sheet(name, paper, words):
    """The page with these words out of a PDF."""
    pages = pypdfium2.PdfDocument(ROOT / "outputs/potting-bench/papers" / paper)
    page = next(page for page in pages if words in page.get_textpage().get_text_range())
    page.render(scale=1.6).to_pil().save(ROOT / ".readme" / name, optimize=True)


if __name__ == "__main__":
    main()
