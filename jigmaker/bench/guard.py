"""Who may ask, and what: every request held to the address it must come by, every answer given binding headers.

A page from elsewhere may know that a server listens on loopback, and even its port: it gets nothing without the token,
and with the token nothing that a browser lets it read or send (Fetch Standard, Sec-Fetch-* and Origin; CSP Level 3).
"""

from __future__ import annotations

import hmac
import json
from typing import TYPE_CHECKING, Any, NoReturn

from jigmaker.errors import JigmakerError

if TYPE_CHECKING:
    from flask import Flask, Response

MOST_BYTES = 65_536
"""Of one request's body; a page's fields are some 5 kB."""

LONGEST_TEXT, MOST_FIELDS = 200, 400
"""Signs of one field, and fields of one request."""

_PAGE = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
# Papers of the kit carry their own style and pictures. Without allow-same-origin their links would be cross-site.
_PAPER = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src 'self' data:; "
    "sandbox allow-same-origin allow-popups allow-downloads"
)

_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    # Not no-referrer: with that a browser sends Origin: null with the page's own requests.
    "Referrer-Policy": "same-origin",
    "Cache-Control": "no-store",
}


class Refused(JigmakerError):
    """A request's body that no page of the bench sends."""


def guard(app: Flask, token: str, port: int) -> None:
    """Hold every request to the token, the own host, port and origin; give every answer its headers."""
    from flask import abort, request

    hosts = (f"127.0.0.1:{port}", f"localhost:{port}")

    # In this order: a name that is no loopback's, which a page elsewhere may have pointed at 127.0.0.1 (DNS
    # rebinding); a wrong token, compared in constant time, and answered as if there were no such page; a request that
    # a browser says comes from another site; and one that changes something and does not come from a page of ours.
    @app.before_request
    def refuse() -> None:
        host = request.environ.get("HTTP_HOST", "")
        if host not in hosts:
            abort(400)
        given = request.path.partition("/")[2].partition("/")[0]
        if not hmac.compare_digest(given.encode("utf-8", "surrogatepass"), token.encode()):
            abort(404)
        if request.headers.get("Sec-Fetch-Site", "none") not in ("same-origin", "none"):
            abort(403)
        if request.method not in ("GET", "HEAD") and request.headers.get("Origin") != f"http://{host}":
            abort(403)

    @app.after_request
    def bind(response: Response) -> Response:
        response.headers.update(_HEADERS)
        is_paper = request.path.startswith((f"/{token}/made/", f"/{token}/coupon/"))
        response.headers["Content-Security-Policy"] = _PAPER if is_paper else _PAGE
        return response


def asked(keys: dict[str, type]) -> dict[str, Any]:
    """The request's JSON object, whose keys and types must be these; "values" are texts by field. Aborts with 415 for
    another type of body, with 400 for one that no page of the bench sends.
    """
    from flask import abort, request

    if request.mimetype != "application/json":
        abort(415)
    # Held to the very keys and types that the pages send: true is no int here, NaN no number, and a whole number stays
    # below 2^53, over which a page's own arithmetic is no longer exact.
    try:
        told = json.loads(request.get_data(), parse_constant=_no_number)
        if not isinstance(told, dict) or told.keys() - keys.keys():
            raise Refused("not what is asked")
        for key, kind in keys.items():
            if type(told.get(key)) is not kind or (kind is int and not 0 <= told[key] < 2**53):
                raise Refused(key)
        for text in [each for each in told.values() if isinstance(each, str)]:
            _hold_text(text)
        values = told.get("values", {})
        if len(values) > MOST_FIELDS:
            raise Refused("too many fields")
        for name, text in values.items():
            _hold_text(name)
            _hold_text(text)
    except (ValueError, RecursionError, Refused):
        abort(400)
    return dict(told)


def _no_number(word: str) -> NoReturn:
    raise Refused(f"{word} is no number")


def _hold_text(text: object) -> None:
    """Text that can be written as UTF-8; what else is wrong with it the field's own rule says."""
    if not isinstance(text, str) or len(text) > LONGEST_TEXT:
        raise Refused("no text of a field")
    text.encode()  # half a surrogate raises UnicodeEncodeError, a ValueError
