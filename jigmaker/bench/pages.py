"""The pages by their addresses, all below the token: requests in; pages, answers to what is typed, and files out."""

from __future__ import annotations

from functools import wraps
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from jigmaker.bench import stations
from jigmaker.bench.answer import changed_outside, judge, refuse_unfinished, what_changes
from jigmaker.bench.coupon_station import MADE_FOR, coupon_now
from jigmaker.bench.fields import as_written, label_of
from jigmaker.bench.guard import asked
from jigmaker.bench.kit_files import coupon_file, kit_file, kit_zip
from jigmaker.bench.kit_station import kit_parts
from jigmaker.errors import JigmakerError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

    from flask import Blueprint

    from jigmaker.bench.workplace import Workplace

_STATIC = {"bench.css": "text/css", "bench.js": "text/javascript", "icon.svg": "image/svg+xml"}

FOREGOING = 204
"""The answer to a request that a later one of the same tab has overtaken."""


def pages(place: Workplace) -> Blueprint:
    """Every address of a workplace; the token in front is the guard's."""
    from flask import Blueprint

    bench = Blueprint("bench", __name__, url_prefix="/<token>")

    @bench.url_value_preprocessor
    def _without_token(_: str | None, values: dict[str, Any] | None) -> None:
        if values is not None:
            values.pop("token", None)

    for name in stations.STATIONS:
        path = "/" if name == "trestle" else f"/{name}"
        bench.add_url_rule(path, name, _page_of(place, name))
    posted = {"live": _live, "ask": _ask, "write": _write, "drop": _drop, "make": _make, "stop": _stop, "take": _take}
    for name, answer in posted.items():
        bench.add_url_rule(f"/{name}", name, _told(answer, place), methods=["POST"])
    bench.add_url_rule("/progress", "progress", lambda: kit_parts(place))
    bench.add_url_rule("/made/<path:name>", "made", lambda name: kit_file(place, name))
    bench.add_url_rule("/kit.zip", "zip", lambda: kit_zip(place))
    bench.add_url_rule("/coupon/<name>", "coupon_file", lambda name: coupon_file(place, name))
    bench.add_url_rule("/alive", "alive", lambda: "jigmaker")
    bench.add_url_rule("/static/<name>", "static", _static)
    return bench


def _page_of(place: Workplace, name: str) -> Callable[[], str]:
    def page() -> str:
        with place.lock:
            return stations.page(place, name)

    return page


def _told(answer: Callable[[Workplace], Any], place: Workplace) -> Callable[[], Any]:
    """An answer, or what is against it as a sentence with 409, which the page shows."""

    @wraps(answer)
    def answered() -> Any:
        try:
            return answer(place)
        except JigmakerError as error:
            return {"refused": list(error.faults)}, 409

    return answered


def _live(place: Workplace) -> Any:
    told = asked({"station": str, "tab": str, "serial": int, "settled": int, "mark": str, "values": dict})
    if told["station"] not in stations.STATIONS:
        return {"refused": ["there is no such page"]}, 400
    tab, serial = told["tab"], told["serial"]
    if not place.is_newest(tab, serial, is_new=True):
        return "", FOREGOING
    with place.lock:
        # Who waited for the lock may have been overtaken there: what it brings is older than what is kept.
        if not place.is_newest(tab, serial):
            return "", FOREGOING
        there = place.files()
        written = {**as_written(there.job, "job"), **as_written(there.shop, "shop")}
        is_contested = place.type(tab, told["values"], written)
        if there.shop is not None and any(name.startswith("coupon:readings") for name in told["values"]):
            place.typed.setdefault(MADE_FOR, there.shop.decode("utf-8", "replace"))
        if not place.is_newest(tab, serial):
            return "", FOREGOING
        return stations.answer(place, told["station"], there, told["settled"], told["mark"], is_contested)


def _ask(place: Workplace) -> Any:
    """What "write" would write, for the one dialog of the bench."""
    told = asked({"mark": str, "then": str})
    with place.lock:
        there = place.files()
        if told["mark"] != there.mark:
            raise UsageError("job.toml or shop.toml was changed on the disk meanwhile. Load the page again to see it.")
        judged = judge(place, there)
        refuse_unfinished(judged)
        return stations.dialog(place, what_changes(place, there, judged), told["then"])


def _write(place: Workplace) -> Any:
    told = asked({"mark": str})
    with place.lock:
        there = place.files()
        judged = judge(place, there)
        refuse_unfinished(judged)
        new = {"job.toml": judged.job_data, "shop.toml": judged.shop_data}
        wanted = {name: data for name, data in new.items() if data is not None}
        changed = {name: data for name, data in wanted.items() if data != there.of(name.removesuffix(".toml"))}
        place.write(
            told["mark"], changed, [name for name in place.typed if name.startswith(("job:", "shop:", "start:"))]
        )
        return {"mark": place.files().mark, "written": list(changed)}


def _drop(place: Workplace) -> Any:
    """Forget what was typed: into the fields that the disk has changed under, or into all."""
    told = asked({"which": str})
    with place.lock:
        there = place.files()
        labels = {row[0] for row in changed_outside(place, there)}
        outside = [name for name in place.typed if label_of(name) in labels]
        place.drop(outside if told["which"] == "outside" else None)
        place.left_over = 0
    return {}


def _make(place: Workplace) -> Any:
    told = asked({"mark": str})
    there = place.files()
    if told["mark"] != there.mark:
        raise UsageError("job.toml or shop.toml was changed on the disk meanwhile. Load the page again to see it.")
    if there.job is None or there.shop is None:
        raise UsageError("job.toml and shop.toml are not both written yet.")
    place.making.start()
    return kit_parts(place)


def _stop(place: Workplace) -> Any:
    asked({})
    place.making.stop()
    return kit_parts(place)


def _take(place: Workplace) -> Any:
    """What the coupon found goes into the shop's fields, where it can still be looked at and is not yet written."""
    asked({})
    with place.lock:
        there = place.files()
        changes = coupon_now(place.typed, there).changes
        place.type("coupon", {f"shop:{key}": value for key, value in changes.items()}, as_written(there.shop, "shop"))
    return {}


def _static(name: str) -> Any:
    """A file of the package that pages are made with: style, script, picture."""
    from flask import Response, abort

    folder = files("jigmaker") / "bench" / "static"
    if name not in _STATIC:
        abort(404)
    return Response((folder / name).read_bytes(), content_type=_STATIC[name])
