"""Makes the README's pictures of the demo: by hand, `python tests/support/readme_pictures.py`, with chromium there.

Drawings come from the code that draws the papers; pages are those in outputs/, as printed and as a browser shows them.
"""

import io
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pypdfium2
import resvg_py
from browsing import open_browser
from PIL import Image
from sample_jobs import HAND_TOOLS, SAW_AND_CHISEL

from jigmaker.drawing.projection import project
from jigmaker.drawing.view import View
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.papers.pictures.canvas import Canvas, fitted
from jigmaker.papers.pictures.gluing import head_bodies
from jigmaker.papers.pictures.hand_guides import saw_guide_on_board_picture
from jigmaker.papers.pictures.jig_on_board import jig_on_board_picture
from jigmaker.papers.pictures.leg_box import leg_box_picture
from jigmaker.papers.pictures.leg_cradle import leg_cradle_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve
from jigmaker.writers.svg import write_svg

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "outputs" / "potting-bench"
FIRST_SCREEN = (1000, 760)
"""Pixels of a small window on a desk."""


def main():
    """Every picture, into .readme/."""
    kit = make_kit(solve(read_job(demo_job_text())), read_shop(demo_shop_text()))
    draw("trestle.png", trestle_picture(kit.trestle))
    draw("leg-in-housing.png", leg_in_housing(kit.trestle))
    draw("jig-on-board.png", jig_on_board_picture(kit, "R"))
    draw("saw-guide.png", saw_guide_on_board_picture(kit_with(kit.trestle, SAW_AND_CHISEL), "R"))
    in_box = kit_with(kit.trestle, f'{HAND_TOOLS}[leg_saw]\nkind = "hand"\n')
    draw("leg-box.png", leg_box_picture(in_box))
    on_cradle = kit_with(kit.trestle, '[leg_saw]\nkind = "plain"\ncutting_height = 70\n')
    draw("sloping-cradle.png", leg_cradle_picture(on_cradle, "first"))
    draw_sheet("set-up-sheet.png", "potting-bench-set-up-sheets.pdf", "Assemble the jig dry")
    draw_bench("page.png")
    with open_browser() as browser:
        page = Image.open(io.BytesIO(browser.picture(DEMO / "index.html", FIRST_SCREEN[0])))
    page.crop((0, 0, *FIRST_SCREEN)).save(ROOT / ".readme" / "index.png", optimize=True)


def kit_with(trestle, sections):
    """The demo's kit in a shop with these sections too."""
    return make_kit(trestle, read_shop(demo_shop_text() + f"\n{sections}".encode()))


def leg_in_housing(trestle):
    """A leg's head in the board, seen from outside and below its level."""
    canvas, drawn = Canvas(), project(head_bodies(trestle, 1), View.from_angles(60.0, 18.0))
    canvas.bodies(drawn, fitted(drawn, 100.0, 70.0))
    return canvas.picture("A leg in its housing")


def draw(name, picture):
    """One picture, on white."""
    png = resvg_py.svg_to_bytes(svg_string=write_svg(picture).decode("utf-8"), dpi=25.4 * 5, background="white")
    (ROOT / ".readme" / name).write_bytes(bytes(png))


def draw_sheet(name, paper, words):
    """The page with these words out of a PDF."""
    pages = pypdfium2.PdfDocument(DEMO / "papers" / paper)
    page = next(page for page in pages if words in page.get_textpage().get_text_range())
    page.render(scale=1.6).to_pil().save(ROOT / ".readme" / name, optimize=True)


def draw_bench(name):
    """The first page of jigmaker open for the demo's files, somebody at the rake. Needs the extra browser-test."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as work, sync_playwright() as playwright:
        for file, data in (("job.toml", demo_job_text()), ("shop.toml", demo_shop_text())):
            (Path(work) / file).write_bytes(data)
        command = [sys.executable, "-m", "jigmaker", "open", work, "--no-browser"]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
            browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
            page = browser.new_page(viewport={"width": 1280, "height": 800})
            page.goto(server.stdout.readline().strip())
            page.locator("#rail", has_text="can be made").wait_for()
            page.evaluate(
                "document.querySelector('.where').textContent = 'in potting-bench'"
            )  # and not a name by chance
            page.locator('[name="job:trestle.rake_deg"]').focus()
            page.evaluate("scrollTo(0, 0)")
            png = Image.open(io.BytesIO(page.screenshot()))
            browser.close()
            server.terminate()
    png.convert("P", palette=Image.Palette.ADAPTIVE, colors=16).save(ROOT / ".readme" / name, optimize=True)


if __name__ == "__main__":
    main()
