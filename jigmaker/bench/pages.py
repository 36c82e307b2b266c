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
    from flask import Blueprint, Response, abort

    bench = Blueprint("bench", __name__, url_prefix="/<token>")

    @bench.url_value_preprocessor
    def _without_token(_: str | None, values: dict[str, Any] | None) -> None:
        if values is not None:
            values.pop("token", None)

    def page_of(name: str) -> Callable[[], str]:
        def page() -> str:
            with place.lock:
                return stations.page(place, name)

        return page

    def static(name: str) -> Any:
        """A file of the package that pages are made with: style, script, picture. Only those of the list, by name."""
        if name not in _STATIC:
            abort(404)
        return Response((files("jigmaker") / "bench" / "static" / name).read_bytes(), content_type=_STATIC[name])

    # What only shows is asked for with GET; what keeps, writes or makes something with POST, which the guard takes from
    # our own pages alone.
    for name in stations.STATIONS:
        path = "/" if name == "trestle" else f"/{name}"
        bench.add_url_rule(path, name, page_of(name))
    answers = _Answers(place)
    for name in ("live", "ask", "write", "drop", "make", "stop", "take"):
        bench.add_url_rule(f"/{name}", name, _told(getattr(answers, name)), methods=["POST"])
    bench.add_url_rule("/progress", "progress", lambda: kit_parts(place))
    bench.add_url_rule("/made/<path:name>", "made", lambda name: kit_file(place, name))
    bench.add_url_rule("/kit.zip", "zip", lambda: kit_zip(place))
    bench.add_url_rule("/coupon/<name>", "coupon_file", lambda name: coupon_file(place, name))
    bench.add_url_rule("/alive", "alive", lambda: "jigmaker")
    bench.add_url_rule("/static/<name>", "static", static)
    return bench


def _told(answer: Callable[[], Any]) -> Callable[[], Any]:
    """An answer, or what is against it as a sentence with 409, which the page shows."""

    @wraps(answer)
    def answered() -> Any:
        try:
            return answer()
        except JigmakerError as error:
            return {"refused": list(error.faults)}, 409

    return answered


class _Answers:
    """What a page posts, answered: a method for each address. JigmakerError for what cannot be."""

    def __init__(self, place: Workplace) -> None:
        self.place = place

    def live(self) -> Any:
        """Keep what was typed, and hand back what changes on the page; nothing to a request that was overtaken."""
        told = asked({"station": str, "tab": str, "serial": int, "settled": int, "mark": str, "values": dict})
        if told["station"] not in stations.STATIONS:
            return {"refused": ["there is no such page"]}, 400
        tab, serial = told["tab"], told["serial"]
        # Each key typed sends a request, and four are answered at a time, in whatever order: those of a tab carry
        # numbers, and only the newest is worth an answer. Asked three times: as it comes, when the lock is had, and
        # before the picture, which takes nearly all the time.
        if not self.place.is_newest(tab, serial, is_new=True):
            return "", FOREGOING
        with self.place.lock:
            if not self.place.is_newest(tab, serial):
                return "", FOREGOING
            there = self.place.files()
            written = {**as_written(there.job, "job"), **as_written(there.shop, "shop")}
            is_contested = self.place.type(tab, told["values"], written)
            if there.shop is not None and any(name.startswith("coupon:readings") for name in told["values"]):
                self.place.typed.setdefault(MADE_FOR, there.shop.decode("utf-8", "replace"))
            if not self.place.is_newest(tab, serial):
                return "", FOREGOING
            return stations.answer(self.place, told["station"], there, told["settled"], told["mark"], is_contested)

    def ask(self) -> Any:
        """What "write" would write, for the one dialog of the bench."""
        told = asked({"mark": str, "then": str})
        with self.place.lock:
            there = self.place.files()
            if told["mark"] != there.mark:
                raise UsageError(
                    "job.toml or shop.toml was changed on the disk meanwhile. Load the page again to see it."
                )
            judged = judge(self.place, there)
            refuse_unfinished(judged)
            return stations.dialog(self.place, what_changes(self.place, there, judged), told["then"])

    def write(self) -> Any:
        """Write what is judged good, if the files are still those that the page shows."""
        told = asked({"mark": str})
        with self.place.lock:
            # Judged anew: between the question and its answer both the files and what is typed may have changed.
            there = self.place.files()
            judged = judge(self.place, there)
            refuse_unfinished(judged)
            new = {"job.toml": judged.job_data, "shop.toml": judged.shop_data}
            wanted = {name: data for name, data in new.items() if data is not None}
            changed = {name: data for name, data in wanted.items() if data != there.of(name.removesuffix(".toml"))}
            self.place.write(
                told["mark"],
                changed,
                [name for name in self.place.typed if name.startswith(("job:", "shop:", "start:"))],
            )
            return {"mark": self.place.files().mark, "written": list(changed)}

    def drop(self) -> Any:
        """Forget what was typed: into the fields that the disk has changed under, or into all."""
        told = asked({"which": str})
        with self.place.lock:
            # changed_outside() tells its rows by label, the workplace holds its fields by name.
            there = self.place.files()
            labels = {row[0] for row in changed_outside(self.place, there)}
            outside = [name for name in self.place.typed if label_of(name) in labels]
            self.place.drop(outside if told["which"] == "outside" else None)
            self.place.left_over = 0
        return {}

    def make(self) -> Any:
        """Start making the kit."""
        told = asked({"mark": str})
        there = self.place.files()
        if told["mark"] != there.mark:
            raise UsageError("job.toml or shop.toml was changed on the disk meanwhile. Load the page again to see it.")
        if there.job is None or there.shop is None:
            raise UsageError("job.toml and shop.toml are not both written yet.")
        self.place.making.start()
        return kit_parts(self.place)

    def stop(self) -> Any:
        """Stop making it."""
        asked({})
        self.place.making.stop()
        return kit_parts(self.place)

    def take(self) -> Any:
        """What the coupon found goes into the shop's fields, where it can still be looked at and is not yet written."""
        asked({})
        with self.place.lock:
            there = self.place.files()
            changes = coupon_now(self.place.typed, there).changes
            # As if a tab of its own had typed them: they wait like all that is typed, and a tab in which somebody types
            # over one of them is told so.
            self.place.type(
                "coupon", {f"shop:{key}": value for key, value in changes.items()}, as_written(there.shop, "shop")
            )
        return {}
