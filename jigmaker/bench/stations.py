"""The stations of the work, one page each: a workplace in; whole pages, or what changes on them under typing, out.

1 Trestle, 2 Shop, 3 Coupon, 4 Kit, 5 Feet: any may be entered at any time. Below each runs the rail, which always ends
in one sentence and one button.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from jigmaker.bench.answer import Judged, changed_outside, judge
from jigmaker.bench.coupon_station import coupon_now, coupon_rail
from jigmaker.bench.feet_station import feet_fields, feet_now, feet_rail
from jigmaker.bench.fields import (
    ASKED,
    BY,
    JOB_SHOWN,
    RULES,
    Field,
    Group,
    as_written,
    fields_of,
    kept_sections,
    label_of,
    reasons,
    tools_not_of,
    widths_not_of,
)
from jigmaker.bench.kit_files import coupon_names
from jigmaker.bench.kit_station import kit_now, kit_rail
from jigmaker.bench.rail import Rail
from jigmaker.bench.shop_view import jig_pictures, sheet_pictures
from jigmaker.bench.trestle_view import in_short, numbers, read_as, trestle_pictures
from jigmaker.bench.workplace import Files, Workplace
from jigmaker.errors import JigmakerError
from jigmaker.job.sections import SHOP
from jigmaker.making.plan import placed
from jigmaker.parts.kit import make_kit
from jigmaker.record import dataclass
from jigmaker.suggest.answers import name_after
from jigmaker.suggest.uses import BODY_MEASURES, USES
from jigmaker.trestle.solve import solve
from jigmaker.units import Unit, caliper_text

STATIONS = {"trestle": "Trestle", "shop": "Shop", "coupon": "Coupon", "kit": "Kit", "feet": "Feet"}
"""By the last word of their address, in the order of the work."""

_JOB_TITLES = {
    "job": "The job",
    "trestle": "The trestle",
    "top": "Top board",
    "leg": "Legs",
    "brace": "Braces",
    "housing": "Housing",
}
_SHOP_TITLES = {
    "sheet": "More of the sheet",
    "machine": "More of the machine",
    "hand_router": "More of the hand router",
    "housing_work": "How housings are made",
    "hand_saw": "The back saw",
    "chisel": "The chisel",
    "leg_saw": "The saw for the legs",
    "kit": "What is cut of the kit",
    "files": "How the files are written",
    "paper": "The printer's paper",
    "layers.mark": "Layer of marks",
    "layers.inner": "Layer of inner cuts",
    "layers.outer": "Layer of outlines",
    "layers.bridge": "Layer of bridges",
    "layers.note": "Layer of notes",
}
_FOLDED = ("housing",)


def page(place: Workplace, name: str) -> str:
    """A station's whole page; what cannot be read at all is told on it."""
    from flask import render_template

    # A file that is no TOML can still be mended outside: its page says so and shows no fields.
    files, told, settled = Files(None, None), list[str](), int(name == "shop")
    try:
        there = place.files()
        for table in ("job", "shop"):
            as_written(there.of(table), table)
        files = there
    except JigmakerError as error:
        told = list(error.faults)
    judged = judge(place, files, not settled) if not told else Judged(faults={"": told})
    station = _Station(place, name, files, judged, settled)
    return render_template(f"{name}.html", **station.shown(), groups=station.groups())


def answer(place: Workplace, name: str, files: Files, settled: int, mark: str, is_contested: bool) -> dict[str, Any]:
    """What changes on a station's page after something was typed. settled: 0 at once, 1 and 2 when somebody rests."""
    from flask import render_template

    judged = judge(place, files, is_quick=not settled)
    shown = _Station(place, name, files, judged, settled).shown()
    shown |= {"is_outside": mark != files.mark, "is_contested": is_contested}
    return {
        "spreads": {each.name: each.spread for each in shown["coupon"].places} if name == "coupon" else {},
        "faults": {key: " ".join(told) for key, told in judged.faults.items() if key},
        "cautions": {key: " ".join(told) for key, told in judged.cautions.items() if key},
        "changed": {key: place.before.get(key, "") for key in place.typed},
        "parts": {part: render_template(f"_{part}.html", **shown) for part in ("board", "rail", "notice", "tabs")},
    }


def dialog(place: Workplace, rows: list[tuple[str, str, str, str]], then: str) -> str:
    """What would be written, old beside new, and the two answers to it."""
    from flask import render_template

    new = [f"{table}.toml" for table in ("job", "shop") if place.files().of(table) is None]
    return render_template("_ask.html", rows=rows, new=new, folder=str(place.folder.absolute()), then=then)


@dataclass(frozen=True)
class _Station:
    """A station as it stands: whose workplace, which page, its files, what they were judged to be, and whether somebody
    rests (settled: 0 while typing, 1 and 2 after that).
    """

    place: Workplace
    name: str
    files: Files
    judged: Judged
    settled: int

    def shown(self) -> dict[str, Any]:
        """All that the templates of a page name."""
        here = {field.name for group in self.groups() for field in group.fields}
        # The board is made before anything else that tells of faults: drawing finds some of its own, and feet and
        # coupon put theirs in the place of the job's.
        unsaved = [key for key in self.place.typed if key.startswith(("job:", "shop:"))]
        job = self.judged.job
        boards = {
            "trestle": self.trestle_board,
            "shop": self.shop_board,
            "coupon": self.coupon_board,
            "kit": self.kit_board,
            "feet": self.feet_board,
        }
        board = boards[self.name]()
        return {
            "name": self.name,
            "title": job.name if job else name_after(self.place.folder),
            "folder": str(self.place.folder.absolute()),
            "tabs": self.tabs(),
            "mark": self.files.mark,
            "is_new": self.files.job is None,
            "has_shop": self.files.shop is not None,
            "faults": self.judged.faults,
            "cautions": self.judged.cautions,
            "box": self.box(here),
            "outside": changed_outside(self.place, self.files),
            "left_over": self.place.left_over,
            "unsaved": len(unsaved),
            "rail": self.rail(),
            **board,
        }

    def groups(self) -> list[Group]:
        """The fields of a page, in the order in which the hand takes them."""
        if self.name == "trestle" and self.files.job is not None:
            return [
                Group(
                    _JOB_TITLES[section.name],
                    fields_of(
                        "job",
                        (f"job:{section.name}.{rule.key}" for rule in section.rules),
                        self.files.job,
                        self.place.typed,
                    ),
                    section.name in _FOLDED,
                )
                for section in JOB_SHOWN
            ]
        if self.name == "feet":
            unit = as_written(self.files.job, "job").get("job:job.units", "mm")
            which = f"trestle_{self.place.typed.get('feet:which', '1')}"
            fields = feet_fields(self.place.typed, "in" if unit == "in" else "mm", which)
            return [Group("What was measured", fields[:5]), Group("What is wanted", fields[5:], True)]
        if self.name != "shop":
            return []
        from jigmaker.job.templates import new_shop_text

        shop = self.files.shop or new_shop_text("in" if self.place.typed.get("start:units") == "in" else "mm").encode()
        rest = [
            Group(
                _SHOP_TITLES.get(section.name, section.meaning.rstrip(".")),
                fields_of(
                    "shop",
                    (key for rule in section.rules if (key := f"shop:{section.name}.{rule.key}") not in ASKED),
                    shop,
                    self.place.typed,
                ),
                True,
            )
            for section in SHOP
        ]
        asked = fields_of("shop", iter(ASKED), self.files.shop, self.place.typed)
        kind = next(field.value for field in asked if field.name == "shop:machine.kind") or "laser"
        by = next(field.value for field in asked if field.name == BY) or "router"
        others = widths_not_of(kind) + tools_not_of(by)
        asked = tuple(replace(field, is_hidden=field.name in others) for field in asked)
        return [Group("How will the jig be cut?", asked), *(group for group in rest if group.fields)]

    def box(self, here: set[str]) -> list[tuple[str, str]]:
        """What the box under the picture tells, of what no field here is about: ("fault" or "caution", sentence)."""
        told = []
        for kind, each in (("fault", self.judged.faults), ("caution", self.judged.cautions)):
            for key, sentences in each.items():
                if key in here or key.startswith("start:"):
                    continue
                where = f"{label_of(key)}: " if key else ""
                told += [(kind, where + sentence) for sentence in sentences]
        return told

    def tabs(self) -> list[dict[str, Any]]:
        """The stations as numbered places, with a tick where nothing is left to do."""
        # Done: written, with nothing typed over it and nothing wrong in it. Coupon and feet are never asked for, so
        # they have no tick.
        typed = [key.partition(":")[0] for key in self.place.typed]
        wrong = [key.partition(":")[0] for key in self.judged.faults if self.judged.faults[key]]
        done = {
            "trestle": self.files.job is not None and not {"job", ""} & {*typed, *wrong},
            "shop": self.files.shop is not None and not {"shop", ""} & {*typed, *wrong},
            "kit": kit_now(self.place, self.files).is_present,
        }
        return [
            {
                "to": "./" if key == "trestle" else key,
                "title": title,
                "number": i,
                "here": key == self.name,
                "done": done.get(key),
            }
            for i, (key, title) in enumerate(STATIONS.items(), 1)
        ]

    def rail(self) -> Rail:
        """What is to be done next, in one sentence and one button."""
        if self.name == "kit":
            return kit_rail(self.place, kit_now(self.place, self.files))
        if self.name == "feet":
            return feet_rail(feet_now(self.place.typed, self.judged.job, self.judged.shop))
        if self.name == "coupon":
            return coupon_rail(coupon_now(self.place.typed, self.files))
        # The first station asks nothing of the shop, the second nothing that is wrong in the job.
        # In the order of what keeps the work from going on: figures that are wrong, answers that are still open, a
        # trestle that cannot be made; then what is typed and not written; then the next station.
        ours = "start:", "job:", "shop:" if self.name != "trestle" or self.files.shop is not None else "start:"
        wrong = [key for key in self.judged.wrong if key.startswith(ours)]
        if not wrong and (still_open := [key for key in self.judged.open if key.startswith(ours)]):
            says = "1 answer is still open." if len(still_open) == 1 else f"{len(still_open)} answers are still open."
            return Rail(says, "", "Go to it" if len(still_open) == 1 else "Go to the first", f"field:{still_open[0]}")
        if wrong:
            says = "1 figure is wrong." if len(wrong) == 1 else f"{len(wrong)} figures are wrong."
            return Rail(says, "", "Go to it" if len(wrong) == 1 else "Go to the first", f"field:{wrong[0]}", True)
        if self.judged.faults.get(""):
            return Rail("This cannot be made.", "The box beside it says why.", "", "", True)
        routs = self.judged.shop is None or self.judged.shop.routs_housings
        subject = "trestle" if self.name == "trestle" else "jig" if routs else "saw guide"
        is_judged = self.settled or self.judged.suggestion or not routs
        says = f"This {subject} can be made." if is_judged else "Checking the router's footing ..."
        if self.judged.shop is None:
            says = "This trestle stands." if self.judged.job else "The trestle is still open."
        detail = in_short(solve(self.judged.job)) if self.judged.job else ""
        unsaved = [key for key in self.place.typed if key.startswith(("job:", "shop:"))]
        if self.name == "trestle" and self.judged.shop_data is None:
            return Rail(says, detail, "Next: the shop", "go:shop")
        if self.name == "shop" and self.judged.job_data is None:
            return Rail("The shop is known.", "", "Next: the trestle", "go:./")
        if unsaved or self.files.job is None or self.files.shop is None:
            count = f"{len(unsaved)} figures are not written." if len(unsaved) > 1 else "1 figure is not written."
            is_new = self.files.job is None or self.files.shop is None
            return Rail(
                says, "Nothing is written yet." if is_new else count, "Write the files" if is_new else "Write", "write"
            )
        following = list(STATIONS)[(list(STATIONS).index(self.name) + 1) % len(STATIONS)]
        return Rail(
            says, detail, f"Next: {STATIONS[following].lower()}", f"go:{'./' if following == 'trestle' else following}"
        )

    def trestle_board(self) -> dict[str, Any]:
        """The picture, or the last good one; the figures that come of it; in an empty folder the four questions."""
        from flask import render_template

        # A figure half typed makes no trestle: the last good picture stays, greyed, rather than go at every key.
        job = self.judged.job
        if job is not None:
            wide, narrow, letters = trestle_pictures(solve(job))
            self.place.good["trestle"] = render_template("_picture.html", wide=wide, narrow=narrow, letters=letters)
        unit: Unit = job.unit if job else "in" if self.place.typed.get("start:units") == "in" else "mm"
        chosen: tuple[Field, ...] = ()
        if self.judged.suggestion is not None and self.judged.job_data is not None:
            # What the four answers come to, each figure with its reason; nothing once there is a job.toml.
            why = reasons(self.judged.job_data, "job")
            chosen = fields_of("job", (name for name in RULES if name in why), self.judged.job_data, {})
        return {
            "picture": self.place.good.get("trestle", ""),
            "is_old": job is None and "trestle" in self.place.good,
            "numbers": [] if job is None else numbers(solve(job), self.judged.shop),
            "chosen": chosen,
            "read_as": "" if self.judged.suggestion is None else read_as(self.judged.suggestion.job),
            "kept": kept_sections(self.files.job, "job"),
            "kept_in": "job.toml",
            "start": {
                "uses": [(use.key, use.key, use.band(unit)) for use in USES],
                "measures": [(measure.key, measure.words) for measure in BODY_MEASURES],
                "typed": {
                    key.partition(":")[2]: words for key, words in self.place.typed.items() if key.startswith("start:")
                },
                "name": name_after(self.place.folder),
                "boards": "45x120, 32x70, 18x110" if unit == "mm" else "2x4, 1x6",
            },
        }

    def shop_board(self) -> dict[str, Any]:
        """The jig on the board and the sheets, drawn when somebody rests; until then those of before."""
        from flask import render_template

        # Drawn again only for other files than the last time, and in two steps: the jig once somebody rests, and the
        # sheets, which take longest, once somebody rests longer.
        key, is_good = (
            (self.judged.job_data, self.judged.shop_data),
            self.judged.job is not None and self.judged.shop is not None,
        )
        is_good = is_good and not self.judged.wrong and not self.judged.faults.get("")
        if is_good and self.settled and self.judged.job is not None and self.judged.shop is not None:
            try:
                kit = make_kit(solve(self.judged.job), self.judged.shop)
                if self.place.drawn.get("jig") != key:
                    wide, narrow, letters = jig_pictures(kit)
                    self.place.good["jig"] = render_template("_picture.html", wide=wide, narrow=narrow, letters=letters)
                    self.place.drawn["jig"] = key
                if self.settled > 1 and self.place.drawn.get("sheets") != key:
                    sheets = sheet_pictures(placed(kit.parts, self.judged.shop))
                    self.place.good["sheets"] = render_template("_sheets.html", sheets=sheets)
                    self.place.drawn["sheets"] = key
            except JigmakerError as error:
                for sentence in error.faults:
                    self.judged.fault("", sentence)
                is_good = False
        return {
            "picture": self.place.good.get("jig", ""),
            "sheets": self.place.good.get("sheets", ""),
            "is_old": bool(self.place.good.get("jig")) and not is_good,
            "is_later": is_good and self.place.drawn.get("sheets") != key,
            "slot": self.slot(),
            "kept": kept_sections(self.files.shop, "shop"),
            "kept_in": "shop.toml",
        }

    def slot(self) -> str:
        """How wide the plate's slot is, and why: housing, and bush less cutter; nothing where nothing is routed."""
        if self.judged.job is None or self.judged.shop is None or not self.judged.shop.routs_housings:
            return ""
        housing, router, unit = (
            solve(self.judged.job).housing.width_mm,
            self.judged.shop.router,
            self.judged.shop.files.unit,
        )
        parts = [caliper_text(mm, unit) for mm in (housing, router.bush_mm, router.cutter_mm)]
        total = caliper_text(housing + router.bush_mm - router.cutter_mm, unit)
        return f"Width of the slot in the plate: {parts[0]} + {parts[1]} - {parts[2]} = {total}."

    def kit_board(self) -> dict[str, Any]:
        """How the kit stands."""
        return {"kit": kit_now(self.place, self.files), "is_old": False}

    def feet_board(self) -> dict[str, Any]:
        """The batch as read, whose faults and cautions alone are told here."""
        feet = feet_now(self.place.typed, self.judged.job, self.judged.shop)
        self.judged.faults = feet.faults
        self.judged.cautions = {}
        return {"feet": feet, "is_old": False}

    def coupon_board(self) -> dict[str, Any]:
        """The coupon as read, whose faults alone are told here."""
        coupon = coupon_now(self.place.typed, self.files)
        self.judged.faults = coupon.faults
        self.judged.cautions = {}
        return {"coupon": coupon, "is_old": False, "coupon_files": coupon_names(self.files)}
