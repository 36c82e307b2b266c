"""Marks of whole kits against the one list of them: nothing else is scored, and little in short marking."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from marks_on_parts import mark_faults
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.papers.bench import Bench
from jigmaker.papers.cut_list_page import cut_list_page
from jigmaker.papers.sheet_names import draw_sheet_names
from jigmaker.parts.kit import make_kit
from jigmaker.parts.mark_list import MARKS
from jigmaker.parts.part import Part
from jigmaker.sheets.place import place
from jigmaker.trestle.solve import solve

TESTS = Path(__file__).parent.parent
PAIR = (
    read_job((TESTS / "jobs" / "workshop_pair.toml").read_bytes()),
    read_shop((TESTS / "shops" / "workshop_pair.toml").read_bytes()),
)
POTTING = (read_job(demo_job_text()), read_shop(demo_shop_text()))
OWN_LIST = "coupon"  # its marks are its form


@cache
def kit(name: str, marking: str):
    """The kit of one of four jobs in a shop that marks so."""
    job, shop = {"demo": POTTING, "pair": PAIR, "a": (JOB_A, DEMO_SHOP), "b": (JOB_B, DEMO_SHOP)}[name]
    return make_kit(solve(job), replace(shop, machine=replace(shop.machine, marking=marking)))


def rows_of(part: Part):
    """The part's rows: its slug without a number or a hand behind it."""
    return MARKS[next(key for key in (part.slug, re.sub(r"-[^-]*$", "", part.slug)) if key in MARKS)]


KITS = [(name, marking) for name in ("demo", "pair", "a", "b") for marking in ("score", "short")]


FILLED_IN = {
    "hand": "R L",
    "work": "R L",
    "side": "RIGHT LEFT",
    "guide": "BUSH BEARING",
    "limit": "GO NO-GO THICKNESS LOW HIGH",
    "face": "TOP BOTTOM",
    "number": "OF",
    "count": "SHEET:",
    "use": "RAKE SPLAY SAW BLADE BRACE BOARD LEG TOP TRUE SQUARE FACE FACES EDGE END LONG ARRIS TABLE LEVEL ITS ON OFF",
}
"""Words that come in place of a brace; numbers, signs and units come in place of the others."""

UNITS = {"mm", "in", "×", "/"}


@pytest.mark.parametrize(("name", "marking"), KITS)
def test_nothing_is_scored_that_is_not_on_the_list(name: str, marking: str) -> None:
    """Each word on a part is one of its rows of that level, or a figure; lines only where a row has no words."""
    made = kit(name, marking)
    for part in made.parts:
        if part.slug == OWN_LIST:
            continue
        rows = [row for row in rows_of(part) if marking == "score" or row.level == "short"]
        words = [(part.short_mark and row.short) or (marking == "short" and row.short) or row.words for row in rows]
        known = {word for line in words for word in re.sub(r"\{.*?\}", " ", line).replace(",", " ").split()} | UNITS
        known |= {word for line in words for brace in re.findall(r"\{(.*?)\}", line) for word in filled(brace, made)}
        known |= {made.number}
        told = " ".join(mark.text for mark in part.marks).replace(",", " ").split()
        assert [word for word in told if word not in known and not re.search(r"\d", word)] == [], part.slug
        assert all(mark.text for mark in part.marks) or "" in words, part.slug


def filled(brace: str, made) -> list[str]:
    """The words that may stand for a brace."""
    return made.trestle.job.name.split() if brace == "job" else FILLED_IN.get(brace, "").split()


@pytest.mark.parametrize(("name", "marking"), KITS)
def test_every_piece_is_marked_clear_and_inside(name: str, marking: str) -> None:
    """No piece of any kit comes off the machine bare, none has a mark on an edge or over another."""
    for part in kit(name, marking).parts:
        assert part.marks, part.slug
        assert mark_faults(part) == []


def letters(name: str, marking: str) -> int:
    """Letters, digits and signs on all pieces of a kit."""
    return sum(
        len(mark.text.replace(" ", "")) * part.pieces for part in kit(name, marking).parts for mark in part.marks
    )


def pen_lifts(name: str, marking: str) -> int:
    """Strokes scored on all pieces of a kit: the tool is lifted before each."""
    return sum(len(mark.strokes) * part.pieces for part in kit(name, marking).parts for mark in part.marks)


def test_how_much_is_scored() -> None:
    """The demo in full: at most 1,600 letters. The pair on its router, short: under 1,200 lifts of the cutter."""
    assert letters("demo", "score") <= 1600
    assert pen_lifts("pair", "short") < 1200
    assert pen_lifts("demo", "short") < pen_lifts("demo", "score") / 1.7


def test_two_letters_stand_for_the_names_of_pieces_of_which_there_are_several() -> None:
    """In short marking, or where a name has no room; unlike each other, and told by names picture and cut list."""
    made = kit("pair", "short")
    marks = {part.slug: part.short_mark for part in made.parts if part.short_mark}
    assert len(set(marks.values())) == len(marks) >= 6
    assert all(part.pieces > 1 for part in made.parts if part.short_mark)
    assert [part.slug for part in kit("pair", "score").parts if part.short_mark] == ["mask-foot"]
    assert not any(part.short_mark for part in kit("demo", "score").parts)
    sheets = place(made.parts, made.shop)
    cut_list = str(cut_list_page(Bench(made, sheets)))
    for part in made.parts:
        if part.short_mark:
            assert part.short_mark in [mark.text for mark in part.marks]
            assert f"{part.name}, marked {part.short_mark}" in cut_list
    bare = [replace(s, placed=tuple(replace(p, part=replace(p.part, short_mark="")) for p in s.placed)) for s in sheets]
    with_marks, without = ([len(draw_sheet_names(s, "Names").shapes) for s in each] for each in (sheets, bare))
    assert all(more > less for more, less in zip(with_marks, without, strict=True))


@pytest.mark.parametrize("row", [row for rows in MARKS.values() for row in rows], ids=lambda row: row.what)
def test_each_row_has_a_reason(row) -> None:
    """And no angle in it stands without what it is off; the large figure on a flank stands on the flank."""
    assert row.why
    for words in (row.words, row.short):
        assert "°" not in words or " OFF " in words or words in ("{angle}°", "WITHIN {share}°")


@pytest.mark.parametrize("hand", ["R", "L"])
def test_the_words_for_the_stop_stand_at_its_end(hand):
    """Of a one-handed plate too, however far the slot is from the stop: within 100 mm of the plate's end."""
    shop = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=900, width_mm=500))
    job = replace(DEMO, inset_mm=560, top=replace(DEMO.top, length_mm=1500))
    plate = next(part for part in make_kit(solve(job), shop).parts if part.slug == f"plate-{hand.lower()}")
    mark = next(mark for mark in plate.marks if mark.text == f"STOP FOR {hand}")
    low, _, high, _ = plate.outline.bounds
    assert (high - mark.at[0] if hand == "R" else mark.at[0] - low) < 100
