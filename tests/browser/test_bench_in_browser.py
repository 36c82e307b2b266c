"""The bench in a real browser: from an empty folder to the zip by keyboard alone, its looks, and pages that attack it.

Playwright types into Debian's Chromium; axe-core, an accessibility judge from npm, looks at every station. The least
contrast of text is 4.5 to 1 (WCAG 2.2, 1.4.3), which axe does not judge within pictures.
"""

import contextlib
import io
import re
import shutil
import signal
import subprocess
import sys
import threading
import zipfile
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from browsing import REQUIRED, needs_browser
from pypdfium2 import PdfDocument
from sample_jobs import ideal_shop_text, small

from jigmaker import make, read_job, read_shop
from jigmaker.job.demo import demo_job_text

AXE = Path(__file__).parent.parent / "strangers/node_modules/axe-core/axe.min.js"
with contextlib.suppress(ImportError):
    from playwright.sync_api import Page, sync_playwright
HAS_PLAYWRIGHT = "playwright.sync_api" in sys.modules
pytestmark = [
    needs_browser,
    pytest.mark.skipif(not HAS_PLAYWRIGHT and not REQUIRED, reason='pip install -e ".[browser-test]"'),
]

PATIENCE_MS = 120_000
KEY_MS = 25  # from one key to the next: a quick typist takes four times as long
STATIONS = ("", "shop", "coupon", "kit", "feet")
LEAST_LETTERS_PX, LEAST_CONTRAST = 14, 4.5


class Server:
    """jigmaker open on a folder, as a user starts it."""

    def __init__(self, folder: Path) -> None:
        command = [sys.executable, "-m", "jigmaker", "open", str(folder), "--no-browser"]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        assert self.process.stdout is not None
        self.address = self.process.stdout.readline().strip()
        self.folder = folder

    def close(self) -> None:
        """Ctrl-C's gentler sister; it tidies up."""
        self.process.terminate()
        code = self.process.wait(60)
        assert self.process.stdout is not None
        self.process.stdout.close()
        assert code == 128 + signal.SIGTERM


@pytest.fixture(scope="module")
def chromium() -> Iterator[object]:
    """One browser for all, in which a foreign name leads to this machine."""
    with sync_playwright() as playwright:
        rules = "--host-resolver-rules=MAP evil.example 127.0.0.1"
        opened = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox", rules])
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def bench(tmp_path_factory) -> Iterator[Server]:
    """The demo's job in a shop that leaves out what a kit can do without."""
    folder = tmp_path_factory.mktemp("bench")
    (folder / "job.toml").write_bytes(demo_job_text())
    (folder / "shop.toml").write_text(small(ideal_shop_text()), "utf-8")
    served = Server(folder)
    yield served
    served.close()


@pytest.fixture
def page(chromium) -> Iterator["Page"]:
    """A desktop's window; whatever its console says is a fault."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE_MS)
    said: list[str] = []
    opened.on("pageerror", lambda error: said.append(str(error)))
    yield opened
    context.close()
    assert said == []


def tab_to(page: "Page", wanted: str) -> None:
    """Press Tab until the focus is on a field of that name, or a button or link of those words."""
    for _ in range(300):
        page.keyboard.press("Tab")
        at = page.evaluate("[document.activeElement.name || '', document.activeElement.innerText || '']")
        if wanted in at:
            return
    raise AssertionError(f"Tab never reaches {wanted}")


def rail_says(page: "Page", words: str) -> None:
    """Wait until the rail says so."""
    page.locator("#rail", has_text=words).wait_for()


START = {"height": "720", "boards": "45x120, 32x70, 18x110", "trestles": "6"}
SHOP = {
    "machine.kind": "laser",
    "sheet.thickness": "9.1",
    "sheet.length": "600",
    "sheet.width": "400",
    "machine.kerf": "0.20",
    "hand_router.base": "150",
    "hand_router.bush": "17",
    "hand_router.cutter": "12",
}


def fill_in(page: "Page") -> None:
    """Eleven figures, the sheet's length and width being one, and what the kit can do without."""
    tab_to(page, "start:for")
    page.keyboard.press("ArrowUp")  # from the first round to the last: planting
    for name, words in START.items():
        tab_to(page, f"start:{name}")
        page.keyboard.type(words, delay=KEY_MS)
    rail_says(page, "This trestle stands.")
    assert page.locator(".picture.wide").is_visible()
    tab_to(page, "Next: the shop")
    page.keyboard.press("Enter")
    page.locator("h1", has_text="The shop").wait_for()
    for name, words in SHOP.items():
        assert page.locator(f'[name="shop:{name}"]').input_value() == ""  # nothing is assumed
        tab_to(page, f"shop:{name}")
        page.keyboard.type(words, delay=KEY_MS)
    tab_to(page, "What is cut of the kit")
    page.keyboard.press("Enter")
    tab_to(page, "shop:kit.leave_out")
    page.keyboard.type("coupon, leg-gauge, housing-plug, depth-gauge, pad-strip, projection-gauge", delay=KEY_MS)
    page.wait_for_timeout(800)  # the last of what was typed is with the server
    rail_says(page, "This jig can be made.")


def make_it(page: "Page") -> dict[str, bytes]:
    """Station 4 and its button; the files in the zip, by their names in the kit."""
    tab_to(page, "4\nKit")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.locator("h1", has_text="The kit").wait_for()
    tab_to(page, "Make the kit")
    with page.expect_navigation():  # the page is loaded anew once the kit is made
        page.keyboard.press("Enter")
    page.locator(".verdict").wait_for()
    rail_says(page, "Made from the figures shown.")
    tab_to(page, "ZIP")
    with page.expect_download() as packed:
        page.keyboard.press("Enter")
    with zipfile.ZipFile(io.BytesIO(Path(packed.value.path()).read_bytes())) as archive:
        return {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}


def test_from_an_empty_folder_to_the_zip_by_keyboard_alone(page, tmp_path_factory):
    """Every figure, then the button: the zip holds what make makes of the two files, byte by byte."""
    folder = tmp_path_factory.mktemp("empty") / "potting-bench"
    folder.mkdir()
    server = Server(folder)
    try:
        page.goto(server.address)
        fill_in(page)
        tab_to(page, "Write the files")
        page.keyboard.press("Enter")
        page.locator("#ask[open]").wait_for()
        assert list(folder.glob("*.toml")) == []
        with page.expect_navigation():  # loaded anew: a key pressed meanwhile would be lost
            page.keyboard.press("Enter")  # the focus is on Write
        rail_says(page, "Next: ")
        assert sorted(path.name for path in folder.glob("*.toml")) == ["job.toml", "shop.toml"]
        held = make_it(page)
    finally:
        server.close()
    files = make(read_job(folder / "job.toml"), read_shop(folder / "shop.toml")).files
    assert held == dict(files)


def test_the_figure_that_somebody_is_at_is_drawn(page, bench):
    """Its own dimension, and no other; a wrong one keeps the last good picture and is told beside the field."""
    page.goto(bench.address)
    page.locator('[name="job:trestle.rake_deg"]').focus()
    shown = page.locator(".wide .span.on")
    assert shown.count() == 1 and "78° off the level" in (shown.text_content() or "")
    page.locator('[name="job:leg.width"]').fill("7")
    rail_says(page, "1 figure is wrong.")
    field = page.locator('[name="job:leg.width"]')
    assert field.get_attribute("aria-invalid") == "true"
    told = page.locator('[id="said-job:leg.width"]').inner_text()
    assert told.startswith("Leg, wide face is 7 mm, must be 20 to 200 mm")
    assert "last good figures" in page.locator("#board").inner_text()
    page.reload()
    assert page.locator('[name="job:leg.width"]').input_value() == "7"  # what was typed is not lost
    page.locator('[name="job:leg.width"]').fill("70")
    rail_says(page, "This trestle can be made.")


def test_a_file_changed_outside_is_told(page, bench):
    """And nothing is written over it, in either of two tabs."""
    job = bench.folder / "job.toml"
    before = job.read_bytes()
    other = page.context.new_page()
    for tab in (page, other):
        tab.goto(bench.address)
    try:
        page.locator('[name="job:trestle.height"]').fill("735")
        rail_says(page, "1 figure is not written.")
        job.write_bytes(before.replace(b"height = 720", b"height = 701"))
        page.locator('[data-do="write"]').click()
        page.locator("#notice", has_text="changed on the disk meanwhile").wait_for()
        assert b"height = 701" in job.read_bytes()
        page.reload()
        page.locator('[data-do="drop:outside"]').click()
        page.locator('[name="job:trestle.height"][value="701"]').wait_for()
        other.locator('[name="job:trestle.inset"]').fill("121")
        other.locator("#notice", has_text="changed outside this page").wait_for()
        other.locator('[name="job:trestle.inset"]').fill("120")
        rail_says(other, "Next")
    finally:
        job.write_bytes(before)
        other.close()


LOOK = r"""
() => {
  const ink = (color) => {
    const line = (n) => n <= 0.03928 ? n / 12.92 : ((n + 0.055) / 1.055) ** 2.4;
    const [r, g, b] = color.match(/[\d.]+/g).map((n) => line(n / 255));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const paper = ink(getComputedStyle(document.documentElement).backgroundColor);
  const faults = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth) faults.push(`scrolls sideways: ${root.scrollWidth} in ${root.clientWidth}`);
  for (const text of document.querySelectorAll("svg text")) {
    const box = text.getBoundingClientRect(), svg = text.closest("svg");
    if (!box.width || getComputedStyle(text).visibility === "hidden") continue;
    const shrunk = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    const size = parseFloat(getComputedStyle(text).fontSize) * shrunk;
    if (size < 14) faults.push(`${text.textContent}: ${size.toFixed(1)} px`);
    const [a, b] = [ink(getComputedStyle(text).fill), paper].sort();
    if ((b + 0.05) / (a + 0.05) < 4.5) faults.push(`${text.textContent}: too pale`);
  }
  return faults;
}
"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_every_station_can_be_read(chromium, bench, width, scheme):
    """On a telephone and a desk, by day and by night: no sideways scroll, letters in pictures large and dark enough,
    and nothing that axe-core finds.
    """
    if not AXE.exists():
        assert not REQUIRED
        pytest.skip("axe-core not installed: npm install --prefix tests/strangers")
    context = chromium.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    for station in STATIONS:
        page.goto(bench.address + station)
        if station in ("", "shop"):
            rail_says(page, "can be made.")
        assert page.evaluate(LOOK) == [], station
        page.evaluate(AXE.read_text("utf-8"))
        found = page.evaluate(
            "axe.run().then((told) => told.violations.map((v) => [v.id, v.nodes.map((n) => n.html)]))"
        )
        assert found == [], station
    context.close()


def test_the_trestle_is_printed_on_one_page(page, bench):
    """A4, with the picture and the figures and without buttons."""
    page.goto(bench.address)
    rail_says(page, "can be made.")
    with PdfDocument(page.pdf(format="A4")) as printed:
        assert len(printed) == 1
        words = printed[0].get_textpage().get_text_range()
    assert "Height, floor to top face" in words and "720" in words and "top board" in words
    assert "Next" not in words and "put back" not in words


@contextlib.contextmanager
def page_from_elsewhere(html: str) -> Iterator[int]:
    """Another server on loopback, with one page of its own; its port."""

    class Elsewhere(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(html.encode())

        def log_message(self, *_: object) -> None:
            """Says nothing."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Elsewhere) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server.server_address[1]
        server.shutdown()


ATTACK = r"""
async (address) => {
  const tried = {};
  const asked = async (name, work) => { tried[name] = await work().catch(() => "blocked"); };
  await asked("read", async () => (await fetch(address)).text());
  const blind = { method: "POST", mode: "no-cors", body: "{}" };
  await asked("blind", async () => (await fetch(address + "live", blind)).type);
  const post = { method: "POST", headers: { "Content-Type": "application/json" }, body: '{"which":"all"}' };
  await asked("post", async () => (await fetch(address + "drop", post)).status);
  const loads = (tag, key, more) => new Promise((resolve) => {
    const from = address + (tag === "img" ? "static/icon.svg" : "static/bench.js");
    const element = Object.assign(document.createElement(tag), more || {}, { [key]: from });
    element.onload = () => resolve("loaded");
    element.onerror = () => resolve("blocked");
    document.body.append(element);
    setTimeout(() => resolve("blocked"), 4000);
  });
  tried.image = await loads("img", "src");
  tried.script = await loads("script", "src");
  tried.style = await loads("link", "href", { rel: "stylesheet" });
  return tried;
}
"""


@pytest.mark.parametrize("host", ["127.0.0.1", "evil.example"])
def test_a_page_that_knows_the_address_gets_nothing(page, bench, host):
    """From another port of this machine and from another name: neither read nor written nor drawn."""
    with page_from_elsewhere("<p>another page") as port:
        page.goto(f"http://{host}:{port}/")
        tried = page.evaluate(ATTACK, bench.address)
    assert tried.pop("blind") in ("opaque", "blocked")  # sent, refused, and not to be read
    assert set(tried.values()) == {"blocked"}, tried


def test_a_foreign_name_for_this_machine_is_refused(page, bench):
    """Rebinding: the name leads to 127.0.0.1, and the server does not answer to it; nor does a frame show it."""
    port = re.search(r":(\d+)/", bench.address)
    assert port is not None
    answer = page.goto(bench.address.replace("127.0.0.1", "evil.example"))
    assert answer.status == 400
    with page_from_elsewhere(f'<iframe src="{bench.address}"></iframe>') as elsewhere:
        page.goto(f"http://127.0.0.1:{elsewhere}/")
        page.wait_for_timeout(500)
        assert all("Trestle" not in frame.content() for frame in page.frames)


def test_nothing_that_is_not_ours_runs_on_the_page(page, bench):
    """Script, handler and style written into the page, and a request to elsewhere: the content policy stops each."""
    page.goto(bench.address)
    page.evaluate("""() => {
      const box = document.createElement("div");
      box.innerHTML = '<img src=x onerror="window.ran = 1"><b id="b" style="color: rgb(1, 2, 3)">b</b>';
      const script = document.createElement("script");
      script.textContent = "window.ran = 2";
      document.body.append(box, script);
    }""")
    page.wait_for_timeout(300)
    assert page.evaluate("window.ran === undefined")
    assert page.evaluate("getComputedStyle(document.getElementById('b')).color") != "rgb(1, 2, 3)"
    assert page.evaluate("fetch('http://127.0.0.1:1/').then(() => 'went', () => 'blocked')") == "blocked"
