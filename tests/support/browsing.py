"""What a browser makes of a page: HTML in; what is wrong at some widths, a PDF as printed, or a PNG out. Chromium.

The browser is Debian's, found on PATH and driven over its own debugging pipe: nothing is downloaded. In tests:

    from browsing import needs_browser               # the fixture `browser` is in conftest.py

    @needs_browser
    def test_the_page(browser, tmp_path):
        path = tmp_path / "index.html"
        path.write_bytes(...)                        # files that it links to may lie beside it
        assert browser.look_at(path) == {390: [], 1280: []}
        pdf = browser.print_to(path, "A4")           # bytes; read with pypdfium2
        png = browser.picture(path, 390)             # bytes, to look at

`look_at` tells, in a sentence each: what the console says, errors of scripts, requests for anything but the page, a
page that scrolls sideways, text wider than its own box or cut off, texts that lie on one another, text that is too
light or too small, images without a name. `look_at(path)` and `print_to(path, "Letter")` exist as plain functions too,
for one page. Without Chromium the tests are skipped with a reason; where JIGMAKER_STRANGERS=required (.ci/run) they
fail. A text within a picture is not looked at: its letters are strokes.
"""

import base64
import contextlib
import json
import os
import select
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import pytest
from page_faults import FAULTS

PAPER_IN = {"A4": (210 / 25.4, 297 / 25.4), "Letter": (8.5, 11.0)}
"""Width and height in inches, as the browser wants them."""
WIDTHS = (390, 1280)
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-dev-shm-usage",
    "--disable-extensions",
    "--hide-scrollbars",
    "--force-color-profile=srgb",
    "--remote-debugging-pipe",
)
PATIENCE_S = 60.0
REQUIRED = os.environ.get("JIGMAKER_STRANGERS") == "required"


def browser_reason() -> str:
    """Why there is no browser here; "" when there is."""
    return "" if shutil.which("chromium") else "chromium is not installed"


needs_browser = pytest.mark.skipif(bool(browser_reason()) and not REQUIRED, reason=browser_reason() or "there")


@contextlib.contextmanager
def open_browser() -> Iterator["Browser"]:
    """A browser with an empty profile of its own, which is gone afterwards."""
    assert not browser_reason(), browser_reason()
    with tempfile.TemporaryDirectory(prefix="browser-") as profile:
        opened = Browser(Path(profile))
        try:
            yield opened
        finally:
            opened.close()


def look_at(path: Path, widths: Sequence[int] = WIDTHS) -> dict[int, list[str]]:
    """Browser.look_at in a browser of its own."""
    with open_browser() as opened:
        return opened.look_at(path, widths)


def print_to(path: Path, paper: str) -> bytes:
    """Browser.print_to in a browser of its own."""
    with open_browser() as opened:
        return opened.print_to(path, paper)


class Browser:
    """Chromium behind its debugging pipe: JSON messages that end in a zero byte, in at 3 and out at 4."""

    def __init__(self, profile: Path) -> None:
        to_read, self._write = os.pipe()
        self._read, to_write = os.pipe()
        os.set_inheritable(to_read, True)
        os.set_inheritable(to_write, True)
        flags = " ".join([*FLAGS, f"'--user-data-dir={profile}'"])
        shell = f"exec chromium {flags} about:blank 3<&{to_read} 4>&{to_write}"
        self._process = subprocess.Popen(
            ["bash", "-c", shell],
            pass_fds=(to_read, to_write),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        os.close(to_read)
        os.close(to_write)
        self._rest, self._number, self._events = b"", 0, list[dict[str, Any]]()

    def close(self) -> None:
        """Ask it to end; it and its children are gone afterwards."""
        with contextlib.suppress(OSError, TimeoutError):
            self._send("Browser.close", {}, "")
        os.close(self._write)
        os.close(self._read)
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()

    def look_at(self, path: Path, widths: Sequence[int] = WIDTHS) -> dict[int, list[str]]:
        """What is wrong with the page at each width in pixels; empty lists where nothing is."""
        return {width: self._look(path, width) for width in widths}

    def print_to(self, path: Path, paper: str) -> bytes:
        """The page as printed on "A4" or "Letter", at 100 %, as PDF."""
        width, height = PAPER_IN[paper]
        with self._page(path, 800) as (page, _):
            printed = self._ask(
                "Page.printToPDF", {"paperWidth": width, "paperHeight": height, "printBackground": True}, page
            )
        return base64.b64decode(printed["data"])

    def picture(self, path: Path, width: int) -> bytes:
        """The whole page at a width in pixels, as PNG."""
        with self._page(path, width) as (page, _):
            size = self._ask("Page.getLayoutMetrics", {}, page)["cssContentSize"]
            clip = {"x": 0, "y": 0, "width": width, "height": size["height"], "scale": 1}
            shot = self._ask("Page.captureScreenshot", {"clip": clip, "captureBeyondViewport": True}, page)
        return base64.b64decode(shot["data"])

    def _look(self, path: Path, width: int) -> list[str]:
        with self._page(path, width) as (page, said):
            found = self._ask("Runtime.evaluate", {"expression": FAULTS, "returnByValue": True}, page)
            assert "exceptionDetails" not in found, found
        return [*said, *found["result"]["value"]]

    @contextlib.contextmanager
    def _page(self, path: Path, width: int) -> Iterator[tuple[str, list[str]]]:
        """The page, open in a tab of that width, and what was heard while it loaded."""
        target = self._ask("Target.createTarget", {"url": "about:blank"})["targetId"]
        page = self._ask("Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        for room in ("Page", "Runtime", "Log", "Network"):
            self._ask(f"{room}.enable", {}, page)
        size = {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": width < 600}
        self._ask("Emulation.setDeviceMetricsOverride", size, page)
        self._events.clear()
        address = path.resolve().as_uri()
        self._ask("Page.navigate", {"url": address}, page)
        self._await("Page.loadEventFired")
        try:
            yield page, [told for event in self._events for told in heard(event, address)]
        finally:
            self._ask("Target.closeTarget", {"targetId": target})

    def _ask(self, method: str, words: dict[str, Any], page: str = "") -> dict[str, Any]:
        """Send a message and wait for its answer; events that come meanwhile are kept."""
        number = self._send(method, words, page)
        while True:
            message = self._message()
            if message.get("id") == number:
                assert "error" not in message, (method, message)
                return message["result"]
            self._events.append(message)

    def _await(self, method: str) -> None:
        while not any(event.get("method") == method for event in self._events):
            self._events.append(self._message())

    def _send(self, method: str, words: dict[str, Any], page: str) -> int:
        self._number += 1
        message = {"id": self._number, "method": method, "params": words} | ({"sessionId": page} if page else {})
        os.write(self._write, json.dumps(message).encode() + b"\0")
        return self._number

    def _message(self) -> dict[str, Any]:
        until = time.monotonic() + PATIENCE_S
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._read], [], [], max(0.0, until - time.monotonic()))
            got = os.read(self._read, 1 << 20) if ready else b""
            if not got:
                raise TimeoutError("chromium says nothing")
            self._rest += got
        message, _, self._rest = self._rest.partition(b"\0")
        return json.loads(message)


def heard(event: dict[str, Any], address: str) -> list[str]:
    """An event as a sentence, when it tells of something that a page must not do."""
    words = event.get("params", {})
    match event.get("method"):
        case "Runtime.consoleAPICalled":
            return [f"console: {[each.get('value') for each in words['args']]}"]
        case "Runtime.exceptionThrown":
            return [f"script: {words['exceptionDetails']['text']}"]
        case "Log.entryAdded":
            return [f"log: {words['entry']['text']}"]
        case "Network.requestWillBeSent" if words["request"]["url"] not in (address, "about:blank"):
            return [f"request: {words['request']['url'][:100]}"]
    return []
