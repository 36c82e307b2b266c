"""What the bench refuses: requests as another page, another program or another machine could send them.

Expected answers: RFC 9110 (15.5: 400, 403, 404, 405, 413, 415); Host with its port, RFC 9110, 7.2; Origin and
Sec-Fetch-Site as the Fetch Standard has browsers send them.
"""

import json
import re

import pytest
from bench_client import HOST, PORT, TOKEN
from markupsafe import escape

GOOD = {"station": "trestle", "tab": "a", "serial": 1, "settled": 0, "mark": "", "values": {}}


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "//",
        "/static/bench.js",
        "/live",
        f"/{TOKEN[:-1]}/",
        f"/{TOKEN}x/",
        f"/{TOKEN.upper()}/",
        f"/{TOKEN[::-1]}/",
        "/%C3%BC/",
        "/%ED%A0%80/",
        f"/?token={TOKEN}",
        f"/static/{TOKEN}",
        f"//{TOKEN}/",
    ],
)
def test_without_the_token_there_is_nothing(bench, path):
    """404, whatever is asked for and however."""
    for method in ("GET", "POST", "PUT", "OPTIONS"):
        answer = bench.client.open(path, method=method, headers={"Host": HOST, "Origin": f"http://{HOST}"})
        assert answer.status_code == 404
        assert TOKEN.encode() not in answer.data


def test_no_address_answers_without_the_token(bench):
    """Every rule of the map, so that a new one cannot forget it."""
    rules = list(bench.app.url_map.iter_rules())
    assert len(rules) > 7
    for rule in rules:
        assert rule.rule.startswith("/<token>/"), rule
        path = re.sub(r"<[^>]*>", "x", rule.rule)
        for method in rule.methods - {"OPTIONS"}:
            asked = bench.client.open(path, method=method, headers={"Host": HOST, "Origin": f"http://{HOST}"})
            assert asked.status_code == 404, (method, path)


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        f"evil.example:{PORT}",
        "127.0.0.1",
        "localhost",
        "127.0.0.1:1",
        "",
        f"0.0.0.0:{PORT}",
        f"[::1]:{PORT}",
        f"127.0.0.1.evil.example:{PORT}",
        f"127.0.0.1:{PORT}, evil.example",
        f"x127.0.0.1:{PORT}",
    ],
)
def test_another_host_is_refused(bench, host):
    """A foreign name that resolves to 127.0.0.1 comes with its own name; so does a proxy's with another port."""
    assert bench.get(Host=host).status_code == 400


@pytest.mark.parametrize("host", [HOST, f"localhost:{PORT}"])
def test_the_own_names_are_answered(bench, host):
    """Both of them; a forwarded name changes nothing."""
    assert bench.get(Host=host, **{"X-Forwarded-Host": "evil.example"}).status_code == 200


@pytest.mark.parametrize(
    "origin",
    [
        "null",
        "",
        "http://evil.example",
        "http://127.0.0.1:1",
        f"https://{HOST}",
        f"http://localhost:{PORT}",
        "http://127.0.0.1",
    ],
)
def test_another_origin_writes_nothing(bench, origin):
    """The page's own requests carry its own origin, name and port and all."""
    assert bench.post("live", GOOD, Origin=origin).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site", "anything"])
def test_a_page_from_elsewhere_gets_nothing(bench, site):
    """Even with the token known: neither pages nor files nor answers."""
    for path in ("", "static/bench.js", "kit.zip", "progress"):
        assert bench.get(path, **{"Sec-Fetch-Site": site}).status_code == 403
    assert bench.post("live", GOOD, **{"Sec-Fetch-Site": site}).status_code == 403


def test_other_bodies_and_methods_are_refused(bench):
    """A form cannot post, a preflight gets no leave, and a GET changes nothing."""
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data", ""):
        assert bench.post("live", json.dumps(GOOD).encode(), **{"Content-Type": kind}).status_code == 415
    assert bench.get("live").status_code == 405
    preflight = bench.client.options(f"/{TOKEN}/live", headers={"Host": HOST, "Origin": "http://evil.example"})
    assert preflight.status_code == 403
    assert not [name for name, _ in preflight.headers if name.startswith("Access-Control")]


def body(**changed):
    """A good request with something else in it, as bytes."""
    return json.dumps({**GOOD, **changed}).encode()


@pytest.mark.parametrize(
    "sent",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b'"text"',
        b"12",
        b"[" * 30_000,
        b'{"a":' * 10_000,
        body(more=1),
        body(serial="1"),
        body(serial=-1),
        body(serial=2**60),
        body(serial=1.0),
        body(serial=True),
        body().replace(b'"serial": 1', b'"serial": NaN'),
        body().replace(b'"serial": 1', b'"serial": 1e400'),
        body(values=[]),
        body(values={"a": 1}),
        body(values={"a": None}),
        body(values={"a": "x" * 201}),
        body(values={"x" * 201: "a"}),
        body(values={f"{i}": "" for i in range(401)}),
        body(values={"job:job.name": "\ud800"}),
        body(station="../etc"),
        b'{"station": "\xff"}',
        json.dumps({"station": "trestle"}).encode(),
    ],
)
def test_what_no_page_sends_is_refused(bench, sent):
    """400, whatever it is; never 500, and nothing is typed."""
    assert bench.post("live", sent).status_code == 400
    assert bench.place.typed == {}


def test_a_long_body_is_refused(bench):
    """Before it is looked at; the server's own limit stands in front of this one."""
    assert bench.post("live", b'"' + b"x" * 70_000 + b'"').status_code == 413


SENTENCES = [
    ("job:job.name", 'a" \n inset = 5', "holds the sign U+000A"),
    ("job:job.name", "a\0b", "holds the sign U+0000"),
    ("job:job.name", "\u202egnp.exe", "holds the sign U+202E"),
    ("job:job.name", "   ", "is empty"),
    ("job:trestle.height", "1e308", "is not a clear length"),
    ("job:trestle.height", "nan", "is not a clear length"),
    ("job:trestle.height", "9" * 40, "Height, floor to top face is"),
    ("job:trestle.height", "٧٢٠", "is not a clear length"),
    ("job:trestle.height", "730\ninset = 5", "is not a clear length"),
    ("job:trestle.height", "730 # mine", "is not a clear length"),
    ("job:trestle.height", "", "is not a clear length"),
    ("job:leg.width", "7200", "Leg, wide face is 7200 mm, must be 20 to 200 mm"),
    ("job:trestle.rake_deg", "12", "Rake off the level, seen from the side is 12, must be 60 to 90 degrees"),
    ("job:job.trestles", "2.5", "must be a whole number"),
]


@pytest.mark.parametrize(("name", "words", "says"), SENTENCES)
def test_a_wrong_value_is_told_beside_its_field(bench, name, words, says):
    """In the command's own sentence, its subject first; the files are as they were."""
    before = bench.place.files().mark
    told = bench.live({name: words})
    assert told.status_code == 200
    assert says in told.json["faults"][name]
    assert bench.place.files().mark == before


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "../../etc/passwd", "a&b'c"]
)
def test_markup_in_a_name_is_text(bench, name):
    """On the page and in every part of an answer."""
    told = bench.live({"job:job.name": name})
    assert told.json["faults"] == {}
    page = bench.get().text + "".join(told.json["parts"].values())
    assert "<script>alert" not in page and "<img" not in page
    assert str(escape(name)) in page


@pytest.mark.parametrize(
    "path",
    [
        "static/../pages.py",
        "static/%2e%2e/pages.py",
        "static/..%2fpages.py",
        "static/..\\pages.py",
        "static//etc/passwd",
        "static/",
        "static/none.js",
        "made/../job.toml",
        "made/%2e%2e/job.toml",
        "made/..%2f..%2fetc%2fpasswd",
        "made/C:\\job.toml",
        "made//etc/passwd",
        "made/a%00b",
        "made/" + "x" * 9000,
        "made/potting-bench/kit.json",
        "kit.zip",
        "coupon/../job.toml",
        "job.toml",
    ],
)
def test_no_other_file_is_given_out(bench, path):
    """404: what is not made, not listed or not below the folder."""
    assert bench.get(path).status_code == 404


def test_every_answer_binds_the_page(bench):
    """Nothing but what comes from here may run, be drawn or be sent; nothing is kept by the browser."""
    for answer in (bench.get(), bench.get("static/bench.js"), bench.get("none"), bench.live({})):
        policy = answer.headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'")
        assert "frame-ancestors 'none'" in policy and "unsafe" not in policy
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert answer.headers["Referrer-Policy"] == "same-origin"
        assert answer.headers["Cache-Control"] == "no-store"
    for page in (bench.get().text, bench.get("shop").text):
        assert not re.search(r'(src|href)="(https?:)?//', page)
        assert not re.search(r"<script(?! src)|\son[a-z]+=|\sstyle=|javascript:", page)


def test_a_request_that_was_overtaken_is_dropped(bench):
    """204 for what is not the newest of its tab; each tab counts by itself, a huge number stops its own tab alone."""
    assert bench.live({}, serial=5).status_code == 200
    assert bench.live({}, serial=4).status_code == 204
    assert bench.live({}, serial=2**53 - 1).status_code == 200
    assert bench.live({}, serial=6).status_code == 204
    assert bench.live({}, serial=1, tab="b").status_code == 200
