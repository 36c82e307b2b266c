"""The bench's own server: a folder in, a page's address on the screen out; it listens on 127.0.0.1 and nowhere else."""

from __future__ import annotations

import gc
import json
import logging
import os
import secrets
import socket
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigmaker.bench.guard import MOST_BYTES
from jigmaker.errors import UsageError
from jigmaker.record import dataclass
from jigmaker.signs import spelled

if TYPE_CHECKING:
    from flask import Flask

    from jigmaker.bench.workplace import Workplace

PORT, PORTS = 8642, 20
"""The first port that is tried, and how many; then the system chooses."""

LOCK = ".bench-open.json"
"""In the folder while it is open: port, token and process, for its owner alone."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A socket that listens, the token of its pages, and whether the port that was asked for was taken."""

    sock: socket.socket
    token: str
    other_port: bool = False

    @property
    def port(self) -> int:
        """The port on 127.0.0.1."""
        return int(self.sock.getsockname()[1])

    @property
    def address(self) -> str:
        """What goes into the browser."""
        return f"http://127.0.0.1:{self.port}/{self.token}/"


def listen(port: int | None) -> Opened:
    """A socket of our own on 127.0.0.1, on the port asked for or one that is free."""
    # Bound once and handed to the server, so that no other program gets the port in between; port 0 last, for which the
    # system chooses. 24 random bytes make the token: nobody who shares the machine guesses a page's address.
    first = PORT if port is None else port
    for number in (*range(first, min(first + PORTS, 65_536)), 0):
        sock = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if sys.platform == "win32":  # there SO_REUSEADDR lets two servers share a port
            sock.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            sock.bind(("127.0.0.1", number))
            sock.listen(64)
        except OSError:
            sock.close()
            continue
        return Opened(sock, secrets.token_urlsafe(24), number != first)
    raise UsageError("no port on 127.0.0.1 is free; close another program that listens there")


def serve(folder: Path, opened: Opened, ready: Callable[[str], None]) -> None:
    """Serve the folder's pages until a signal comes; `ready` is told the address once they can be asked for.

    A make that runs is ended and waited for, and what was typed is kept, before this returns.
    """
    from waitress.server import create_server

    from jigmaker.bench.workplace import Workplace

    # Limits for whoever reaches the port on this machine: bodies and heads no longer than ours, connections that idle
    # are closed, and no header of a proxy is believed.
    logging.getLogger("waitress").setLevel(logging.ERROR)  # not how many requests wait
    gc.enable()  # __main__ turns it off for commands that end
    place = Workplace(folder)
    server = create_server(
        bench_app(place, opened.token, opened.port),
        sockets=[opened.sock],
        threads=4,
        max_request_body_size=MOST_BYTES,
        max_request_header_size=16_384,
        channel_timeout=10,
        cleanup_interval=5,
        connection_limit=100,
        clear_untrusted_proxy_headers=True,
        ident=None,
    )
    # The note goes first and the address last: whoever is told it can open the page at once, for the socket listens
    # already. On the way out no request is taken any more before what was typed is kept, and the note goes at the end.
    lock = folder / LOCK
    try:
        _take(lock, opened)
        ready(opened.address)
        server.run()
    finally:
        server.close()
        place.close()
        lock.unlink(missing_ok=True)


def bench_app(place: Workplace, token: str, port: int) -> Flask:
    """The pages of a workplace as a WSGI application."""
    from flask import Flask
    from werkzeug.exceptions import HTTPException

    from jigmaker.bench.guard import guard
    from jigmaker.bench.pages import pages

    # The package's static folder would answer without the token: its files are a page like any other.
    app = Flask("jigmaker.bench", static_folder=None, template_folder="templates")
    app.config.update(MAX_CONTENT_LENGTH=MOST_BYTES, MAX_FORM_MEMORY_SIZE=MOST_BYTES, MAX_FORM_PARTS=100)
    app.url_map.merge_slashes = False
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    guard(app, token, port)

    @app.errorhandler(Exception)
    def told(error: Exception) -> Any:
        """A fault of ours as a sentence, on the page and in the terminal; the server goes on."""
        if isinstance(error, HTTPException):
            return error
        sentence = (
            f"this is a fault in jigmaker and not in your files ({type(error).__name__}: {error}); please report it"
        )
        if sys.flags.dev_mode:
            raise error
        print(f"jigmaker: {spelled(sentence)}", file=sys.stderr, flush=True)
        return {"refused": [sentence]}, 500

    app.register_blueprint(pages(place))
    return app


def open_already(folder: Path) -> str | None:
    """The address of a server that has this folder open; None where none answers."""
    from http.client import HTTPConnection, HTTPException

    # A server that was killed leaves its note, and the port may have gone to another program: only an answer from the
    # address with the token counts.
    try:
        told = json.loads((folder / LOCK).read_bytes())
        port, token = int(told["port"]), str(told["token"])
        asked = HTTPConnection("127.0.0.1", port, timeout=2)
        asked.request("GET", f"/{token}/alive")
        answer = asked.getresponse()
        return f"http://127.0.0.1:{port}/{token}/" if answer.status == 200 and answer.read(20) == b"jigmaker" else None
    except (OSError, ValueError, KeyError, TypeError, HTTPException):
        return None


def _take(lock: Path, opened: Opened) -> None:
    """Say in the folder where its page is, to this user alone (mode 600), for the note holds the token. A folder that
    cannot be written to is opened all the same.
    """
    told = json.dumps({"port": opened.port, "token": opened.token, "process": os.getpid()})
    with suppress(OSError):
        lock.unlink(missing_ok=True)
        with open(lock, "x", encoding="utf-8", opener=lambda name, flags: os.open(name, flags, 0o600)) as stream:
            stream.write(told)
