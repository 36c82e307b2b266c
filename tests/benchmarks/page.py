"""How quickly the page of jigmaker open answers a change: 200 of them through the real server, against a bare one.

Both servers are Flask on waitress with the same number of threads, asked over loopback by this process, in turns: a
busy machine slows both alike. The times are told too: what is aimed at is 60 ms for 95 of 100 first answers on a quiet
machine of two cores.
"""

import json
import re
import statistics
import subprocess
import sys
import tempfile
import time
from http.client import HTTPConnection
from pathlib import Path

CHANGES = 200
MOST_RATIO = 40.0
"""Of the 95th percentiles: a bare answer takes some 1.5 ms."""

BARE = """
from flask import Flask, request
from waitress.server import create_server
app = Flask("bare")
@app.post("/live")
def live():
    return {"told": request.get_json()}
server = create_server(app, host="127.0.0.1", port=0, threads=4)
print(f"http://127.0.0.1:{server.effective_port}/", flush=True)
server.run()
"""

FIGURES = {
    "trestle.height": (700, 900),
    "trestle.rake_deg": (76, 80),
    "trestle.splay_deg": (76, 80),
    "trestle.inset": (110, 140),
    "top.length": (850, 1000),
    "top.width": (115, 130),
    "top.thickness": (43, 47),
    "leg.width": (66, 74),
    "leg.thickness": (30, 34),
    "brace.depth": (100, 120),
    "brace.thickness": (17, 20),
    "job.trestles": (2, 9),
}


def first_answers() -> None:
    """Change every figure in turn and print how long the first answers took."""
    from jigmaker.job.demo import demo_job_text, demo_shop_text

    with tempfile.TemporaryDirectory() as name:
        (Path(name) / "job.toml").write_bytes(demo_job_text())
        (Path(name) / "shop.toml").write_bytes(demo_shop_text())
        page = started([sys.executable, "-m", "jigmaker", "open", name, "--no-browser"])
        bare = started([sys.executable, "-c", BARE])
        try:
            took = {"page": [], "bare": []}
            mark = re.search(rb'data-mark="(\w+)"', asked(page[1], "")).group(1).decode()
            keys = list(FIGURES)
            for serial in range(-20, CHANGES):  # the first twenty load what is loaded once
                key = keys[serial % len(keys)]
                low, high = FIGURES[key]
                values = {f"job:{key}": f"{low + (serial * 7) % (high - low + 1)}"}
                body = {"station": "trestle", "tab": "a", "serial": serial + 20, "settled": 0, "mark": mark}
                for kind, (_, address) in (("page", page), ("bare", bare)):
                    start = time.perf_counter()
                    asked(address, "live", {**body, "values": values})
                    took[kind] += [time.perf_counter() - start] if serial >= 0 else []
        finally:
            for process, _ in (page, bare):
                process.terminate()
                process.wait()
    p95 = {kind: statistics.quantiles(each, n=20)[18] for kind, each in took.items()}
    for kind, each in took.items():
        print(f"{kind:<6} p50 {statistics.median(each) * 1000:6.1f} ms   p95 {p95[kind] * 1000:6.1f} ms")
    print(f"ratio of the p95  {p95['page'] / p95['bare']:6.1f} (aim {MOST_RATIO})")


def started(command: list[str]) -> tuple[subprocess.Popen, str]:
    """A server and the address that it prints."""
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    return process, process.stdout.readline().strip()


def asked(address: str, path: str, body: dict | None = None) -> bytes:
    """The answer to a request of the page's own."""
    host, _, token = address.removeprefix("http://").partition("/")
    connection = HTTPConnection(host, timeout=60)
    headers = {"Content-Type": "application/json", "Origin": f"http://{host}"}
    connection.request("POST" if body else "GET", f"/{token}{path}", json.dumps(body) if body else None, headers)
    answer = connection.getresponse()
    assert answer.status == 200, answer.status
    return answer.read()
