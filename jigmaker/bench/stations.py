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
    JOB_SHOWN,
    RULES,
    Field,
    Group,
    as_written,
    fields_of,
    kept_sections,
    label_of,
    reasons,
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

    files, told, settled = Files(None, None), list[str](), int(name == "shop")
    try:
        there = place.files()
        for table in ("job", "shop"):
            as_written(there.of(table), table)
        files = there
    except JigmakerError as error:
        told = list(error.faults)
    judged = judge(place, files, not settled) if not told else Judged(faults={"": told})
    shown = _shown(place, name, files, judged, settled)
    return render_template(f"{name}.html", **shown, groups=_groups(place, name, files))


def answer(place: Workplace, name: str, files: Files, settled: int, mark: str, is_contested: bool) -> dict[str, Any]:
    """What changes on a station's page after something was typed. settled: 0 at once, 1 and 2 when somebody rests."""
    from flask import render_template

    judged = judge(place, files, is_quick=not settled)
    shown = _shown(place, name, files, judged, settled)
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


def _shown(place: Workplace, name: str, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    """All that the templates of a page name."""
    here = {field.name for group in _groups(place, name, files) for field in group.fields}
    unsaved = [key for key in place.typed if key.startswith(("job:", "shop:"))]
    job = judged.job
    board = _BOARDS[name](place, files, judged, settled)  # what it finds is told below
    return {
        "name": name,
        "title": job.name if job else name_after(place.folder),
        "folder": str(place.folder.absolute()),
        "tabs": _tabs(name, files, judged, place),
        "mark": files.mark,
        "is_new": files.job is None,
        "has_shop": files.shop is not None,
        "faults": judged.faults,
        "cautions": judged.cautions,
        "box": _box(judged, here),
        "outside": changed_outside(place, files),
        "left_over": place.left_over,
        "unsaved": len(unsaved),
        "rail": _rail(place, name, files, judged, settled),
        **board,
    }


def _groups(place: Workplace, name: str, files: Files) -> list[Group]:
    """The fields of a page, in the order in which the hand takes them."""
    if name == "trestle" and files.job is not None:
        return [
            Group(
                _JOB_TITLES[section.name],
                fields_of("job", (f"job:{section.name}.{rule.key}" for rule in section.rules), files.job, place.typed),
                section.name in _FOLDED,
            )
            for section in JOB_SHOWN
        ]
    if name == "feet":
        unit = as_written(files.job, "job").get("job:job.units", "mm")
        which = f"trestle_{place.typed.get('feet:which', '1')}"
        fields = feet_fields(place.typed, "in" if unit == "in" else "mm", which)
        return [Group("What was measured", fields[:5]), Group("What is wanted", fields[5:], True)]
    if name != "shop":
        return []
    from jigmaker.job.templates import new_shop_text

    shop = files.shop or new_shop_text("in" if place.typed.get("start:units") == "in" else "mm").encode()
    rest = [
        Group(
            _SHOP_TITLES.get(section.name, section.meaning.rstrip(".")),
            fields_of(
                "shop",
                (key for rule in section.rules if (key := f"shop:{section.name}.{rule.key}") not in ASKED),
                shop,
                place.typed,
            ),
            True,
        )
        for section in SHOP
    ]
    asked = fields_of("shop", iter(ASKED), files.shop, place.typed)
    kind = next(field.value for field in asked if field.name == "shop:machine.kind") or "laser"
    others = widths_not_of(kind)
    asked = tuple(replace(field, is_hidden=field.name in others) for field in asked)
    return [Group("How will the jig be cut?", asked), *rest]


def _box(judged: Judged, here: set[str]) -> list[tuple[str, str]]:
    """What the box under the picture tells, of what no field here is about: ("fault" or "caution", sentence)."""
    told = []
    for kind, each in (("fault", judged.faults), ("caution", judged.cautions)):
        for key, sentences in each.items():
            if key in here or key.startswith("start:"):
                continue
            where = f"{label_of(key)}: " if key else ""
            told += [(kind, where + sentence) for sentence in sentences]
    return told


def _tabs(name: str, files: Files, judged: Judged, place: Workplace) -> list[dict[str, Any]]:
    """The stations as numbered places, with a tick where nothing is left to do."""
    typed = [key.partition(":")[0] for key in place.typed]
    wrong = [key.partition(":")[0] for key in judged.faults if judged.faults[key]]
    done = {
        "trestle": files.job is not None and not {"job", ""} & {*typed, *wrong},
        "shop": files.shop is not None and not {"shop", ""} & {*typed, *wrong},
        "kit": kit_now(place, files).is_present,
    }
    return [
        {
            "to": "./" if key == "trestle" else key,
            "title": title,
            "number": i,
            "here": key == name,
            "done": done.get(key),
        }
        for i, (key, title) in enumerate(STATIONS.items(), 1)
    ]


def _rail(place: Workplace, name: str, files: Files, judged: Judged, settled: int) -> Rail:
    if name == "kit":
        return kit_rail(place, kit_now(place, files))
    if name == "feet":
        return feet_rail(feet_now(place.typed, judged.job, judged.shop))
    if name == "coupon":
        return coupon_rail(coupon_now(place.typed, files))
    # The first station asks nothing of the shop, the second nothing that is wrong in the job.
    ours = "start:", "job:", "shop:" if name != "trestle" or files.shop is not None else "start:"
    wrong = [key for key in judged.wrong if key.startswith(ours)]
    if not wrong and (still_open := [key for key in judged.open if key.startswith(ours)]):
        says = "1 answer is still open." if len(still_open) == 1 else f"{len(still_open)} answers are still open."
        return Rail(says, "", "Go to it" if len(still_open) == 1 else "Go to the first", f"field:{still_open[0]}")
    if wrong:
        says = "1 figure is wrong." if len(wrong) == 1 else f"{len(wrong)} figures are wrong."
        return Rail(says, "", "Go to it" if len(wrong) == 1 else "Go to the first", f"field:{wrong[0]}", True)
    if judged.faults.get(""):
        return Rail("This cannot be made.", "The box beside it says why.", "", "", True)
    routs = judged.shop is None or judged.shop.routs_housings
    subject = "trestle" if name == "trestle" else "jig" if routs else "saw guide"
    is_judged = settled or judged.suggestion or not routs
    says = f"This {subject} can be made." if is_judged else "Checking the router's footing ..."
    if judged.shop is None:
        says = "This trestle stands." if judged.job else "The trestle is still open."
    detail = in_short(solve(judged.job)) if judged.job else ""
    unsaved = [key for key in place.typed if key.startswith(("job:", "shop:"))]
    if name == "trestle" and judged.shop_data is None:
        return Rail(says, detail, "Next: the shop", "go:shop")
    if name == "shop" and judged.job_data is None:
        return Rail("The shop is known.", "", "Next: the trestle", "go:./")
    if unsaved or files.job is None or files.shop is None:
        count = f"{len(unsaved)} figures are not written." if len(unsaved) > 1 else "1 figure is not written."
        is_new = files.job is None or files.shop is None
        return Rail(
            says, "Nothing is written yet." if is_new else count, "Write the files" if is_new else "Write", "write"
        )
    following = list(STATIONS)[(list(STATIONS).index(name) + 1) % len(STATIONS)]
    return Rail(
        says, detail, f"Next: {STATIONS[following].lower()}", f"go:{'./' if following == 'trestle' else following}"
    )


def _trestle_board(place: Workplace, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    """The picture, or the last good one; the figures that come of it; in an empty folder the four questions."""
    from flask import render_template

    job = judged.job
    if job is not None:
        wide, narrow, letters = trestle_pictures(solve(job))
        place.good["trestle"] = render_template("_picture.html", wide=wide, narrow=narrow, letters=letters)
    unit: Unit = job.unit if job else "in" if place.typed.get("start:units") == "in" else "mm"
    chosen: tuple[Field, ...] = ()
    if judged.suggestion is not None and judged.job_data is not None:
        # What the four answers come to, each figure with its reason; nothing once there is a job.toml.
        why = reasons(judged.job_data, "job")
        chosen = fields_of("job", (name for name in RULES if name in why), judged.job_data, {})
    return {
        "picture": place.good.get("trestle", ""),
        "is_old": job is None and "trestle" in place.good,
        "numbers": [] if job is None else numbers(solve(job)),
        "chosen": chosen,
        "read_as": "" if judged.suggestion is None else read_as(judged.suggestion.job),
        "kept": kept_sections(files.job, "job"),
        "kept_in": "job.toml",
        "start": {
            "uses": [(use.key, use.key, use.band(unit)) for use in USES],
            "measures": [(measure.key, measure.words) for measure in BODY_MEASURES],
            "typed": {key.partition(":")[2]: words for key, words in place.typed.items() if key.startswith("start:")},
            "name": name_after(place.folder),
            "boards": "45x120, 32x70, 18x110" if unit == "mm" else "2x4, 1x6",
        },
    }


def _shop_board(place: Workplace, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    """The jig on the board and the sheets, drawn when somebody rests; until then those of before."""
    from flask import render_template

    key, is_good = (judged.job_data, judged.shop_data), judged.job is not None and judged.shop is not None
    is_good = is_good and not judged.wrong and not judged.faults.get("")
    if is_good and settled and judged.job is not None and judged.shop is not None:
        try:
            kit = make_kit(solve(judged.job), judged.shop)
            if place.drawn.get("jig") != key:
                wide, narrow, letters = jig_pictures(kit)
                place.good["jig"] = render_template("_picture.html", wide=wide, narrow=narrow, letters=letters)
                place.drawn["jig"] = key
            if settled > 1 and place.drawn.get("sheets") != key:
                sheets = sheet_pictures(placed(kit.parts, judged.shop))
                place.good["sheets"] = render_template("_sheets.html", sheets=sheets)
                place.drawn["sheets"] = key
        except JigmakerError as error:
            for sentence in error.faults:
                judged.fault("", sentence)
            is_good = False
    return {
        "picture": place.good.get("jig", ""),
        "sheets": place.good.get("sheets", ""),
        "is_old": bool(place.good.get("jig")) and not is_good,
        "is_later": is_good and place.drawn.get("sheets") != key,
        "slot": _slot(judged),
        "kept": kept_sections(files.shop, "shop"),
        "kept_in": "shop.toml",
    }


def _slot(judged: Judged) -> str:
    """How wide the plate's slot is, and why: housing, and bush less cutter; nothing where nothing is routed."""
    if judged.job is None or judged.shop is None or not judged.shop.routs_housings:
        return ""
    housing, router, unit = solve(judged.job).housing.width_mm, judged.shop.router, judged.shop.files.unit
    parts = [caliper_text(mm, unit) for mm in (housing, router.bush_mm, router.cutter_mm)]
    total = caliper_text(housing + router.bush_mm - router.cutter_mm, unit)
    return f"Width of the slot in the plate: {parts[0]} + {parts[1]} - {parts[2]} = {total}."


def _kit_board(place: Workplace, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    return {"kit": kit_now(place, files), "is_old": False}


def _feet_board(place: Workplace, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    feet = feet_now(place.typed, judged.job, judged.shop)
    judged.faults = feet.faults
    judged.cautions = {}
    return {"feet": feet, "is_old": False}


def _coupon_board(place: Workplace, files: Files, judged: Judged, settled: int) -> dict[str, Any]:
    coupon = coupon_now(place.typed, files)
    judged.faults = coupon.faults
    judged.cautions = {}
    return {"coupon": coupon, "is_old": False, "coupon_files": coupon_names(files)}


_BOARDS = {
    "trestle": _trestle_board,
    "shop": _shop_board,
    "coupon": _coupon_board,
    "kit": _kit_board,
    "feet": _feet_board,
}
