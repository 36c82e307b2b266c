"""A bench without a socket: its pages through Flask's test client, asked as its own page would ask."""

from pathlib import Path
from typing import Any

from werkzeug.test import Client, TestResponse

from jigmaker.bench.server import bench_app
from jigmaker.bench.workplace import Workplace

TOKEN, PORT = "token-of-these-tests-0123456789ab", 8642
HOST = f"127.0.0.1:{PORT}"


class Bench:
    """One folder's pages; `get` and `post` carry the headers that the page's own requests carry."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.place = Workplace(folder)
        self.app = bench_app(self.place, TOKEN, PORT)
        self.client: Client = self.app.test_client()
        self._serial = 0

    def get(self, path: str = "", **headers: str) -> TestResponse:
        """A page or a file below the token."""
        return self.client.get(f"/{TOKEN}/{path}", headers={"Host": HOST, **headers})

    def post(self, path: str, body: Any, **headers: str) -> TestResponse:
        """JSON, or bytes as they are, from the page's own origin."""
        sent = {"Host": HOST, "Origin": f"http://{HOST}", **headers}
        if isinstance(body, bytes):
            return self.client.post(f"/{TOKEN}/{path}", data=body, headers={"Content-Type": "application/json", **sent})
        return self.client.post(f"/{TOKEN}/{path}", json=body, headers=sent)

    def live(self, values: dict[str, str], station: str = "trestle", settled: int = 0, **other: Any) -> TestResponse:
        """What the page sends after something was typed."""
        self._serial += 1
        asked = {"tab": "a", "serial": self._serial, "mark": self.place.files().mark, **other}
        return self.post("live", {"station": station, "settled": settled, "values": values, **asked})
