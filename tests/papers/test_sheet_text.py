"""The reader of a set-up sheet's text: what it makes of one, and that it refuses what is unknown, file and line."""

import re
from dataclasses import replace
from functools import cache

import pytest
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP

from jigmaker.drawing.page import BOX, Caution, Facts, Heading, Steps, Table, Words
from jigmaker.errors import SheetError
from jigmaker.job.shop import LegSaw, Machine
from jigmaker.papers.bench import Bench
from jigmaker.papers.fact_table import fact_table, what_is_so
from jigmaker.papers.facts import Fact, tell
from jigmaker.papers.setup_sheets.document import OPERATIONS, setup_document, sheet_text
from jigmaker.papers.setup_sheets.sheet_pictures import sheet_pictures
from jigmaker.papers.setup_sheets.sheet_tables import sheet_tables
from jigmaker.papers.setup_sheets.sheet_text import SheetNames, read_sheet
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve
from jigmaker.writers.html import write_html

FACTS = {
    "leg.length": Fact("leg.length", 751.826, "rule"),
    "leg.width": Fact("leg.width", 70.15, "caliper"),
    "angles.leg_face": Fact("angles.leg_face", 78.2549, "angle"),
    "batch.feet": Fact("batch.feet", 24, "number"),
    "limit.brace": Fact("limit.brace", 0.5, "limit"),
    "saw.end": Fact("saw.end", "foot", "words"),
}
KNOWN = SheetNames(FACTS, {"horn": True, "laser": False}, {"brace": None}, {"passes": lambda: (Words("passes"),)}, "mm")
BY_HAND = LegSaw("hand")
HEAD = "title: Saw\nquantity: {batch.feet:foot / feet}\ntimber: pine\ndatum: an arris\n"


def read(text):
    """What the reader makes of a head and this text."""
    return read_sheet("saw.txt", HEAD + text, KNOWN)


@pytest.mark.parametrize(
    ("sentence", "said"),
    [
        ("{leg.length:caliper} long", "751.826 mm long"),
        ("{leg.width} wide, {limit.brace}", "70.15 mm wide, ±0.5 mm"),
        ("{angles.leg_face:off the arris / square}", "78.25° off the arris (11.75° off square)"),
        ("{angles.leg_face:off the arris}", "78.25° off the arris"),
        ("{batch.feet:foot / feet}, {batch.feet}", "24 feet, 24"),
        ("toward the {saw.end}", "toward the foot"),
    ],
)
def test_a_brace_is_told_as_it_is_read(sentence, said) -> None:
    """A length, a limit, an angle with what it is off, a number of things, a direction."""
    assert tell(sentence, FACTS, "mm") == said


def test_words_know_their_facts() -> None:
    """Where each stands, what it is called and how finely it is told: the page carries the name."""
    told = tell("{leg.length:caliper}, the {saw.end} end", FACTS, "mm")
    assert [(told[start:end], name) for start, end, name in told.facts] == [
        ("751.826 mm", "leg.length:caliper"),
        ("foot", "saw.end"),
    ]


def test_a_text_becomes_pages() -> None:
    """Sections in their order, rows by bars, steps, boxes to write in, a line carried on, a further page."""
    operation = read(
        "caution: Two\n  lines.\n# set\nstop | {leg.length:caliper}\ntable: passes\n# do\nSaw.\n"
        "# check: R, L\nwidth | {leg.width} | {limit.brace} | edge to edge | rule\n# page: More\n"
        "# What it tells\na | b\n"
    )
    assert operation is not None and operation.quantity == "24 feet"
    first, more = operation.sheets
    assert first.blocks == (
        Caution("Two lines."),
        Heading("Set"),
        Facts((("stop", "751.826 mm"),)),
        Words("passes"),
        Heading("Do"),
        Steps(("Saw.",)),
        Heading("Check"),
        Table(
            ("what", "wanted", "limit", "between", "with", "R", "L"),
            (("width", "70.15 mm", "±0.5 mm", "edge to edge", "rule", BOX, BOX),),
        ),
    )
    assert (more.title, more.blocks) == ("More", (Heading("What it tells"), Facts((("a", "b"),))))


@pytest.mark.parametrize(
    ("line", "is_told"),
    [
        ("[horn] Saw.", True),
        ("[not horn] Saw.", False),
        ("[horn, laser] Saw.", False),
        ("[not laser, horn] Saw.", True),
    ],
)
def test_a_line_may_depend_on_the_job(line, is_told) -> None:
    """All its conditions must hold."""
    operation = read(f"# do\n{line}\nLook.\n")
    assert operation is not None
    assert operation.sheets[0].blocks[1] == Steps(("Saw.", "Look.") if is_told else ("Look.",))


def test_an_operation_that_does_not_happen_has_no_page() -> None:
    """Its text says when it does."""
    assert read("when: laser\n# do\nCut.\n") is None
    assert read("when: horn\n# do\nCut.\n") is not None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("# do\nSaw {leg.lenght}.\n", r"saw.txt line 6: {leg.lenght} is no fact; did you mean {leg.length}\?"),
        (
            "# do\n\nSaw {leg.length:metres}.\n",
            'line 7: .* is read as "given", "rule", "fine", "caliper" or "limit", not as "metres"',
        ),
        ("# do\nSaw {angles.leg_face}.\n", "line 6: .* must say what it is off: {angles.leg_face:off the arris}"),
        ("# do\nSaw {saw.end:rule}.\n", "line 6: .* is a word and has one reading only"),
        ("# do\nSaw {leg.length.\n", "line 6: a brace is opened or closed alone"),
        ("[horns] caution: Look.\n", 'line 5: "horns" is no condition; there are horn, laser'),
        ("picture: braces | A brace.\n", 'line 5: "braces" is no picture; there are brace'),
        ("table: pass\n", 'line 5: "pass" is no table; there are passes'),
        ("Saw.\n", 'line 5: "Saw." is no key of a sheet\'s head'),
        ("# check\nwidth | 3 mm | rule\n", r'a row under "check" has 5 cells with " \| " between; "width" differs'),
    ],
)
def test_what_is_not_known_is_refused_with_file_and_line(text, says) -> None:
    """Whoever corrects a sentence is told at once what does not fit, and where."""
    with pytest.raises(SheetError, match=says):
        read(text)


def test_a_head_that_lacks_something_is_refused() -> None:
    """Quantity, timber and datum stand above every operation."""
    with pytest.raises(SheetError, match="the head has no timber, datum"):
        read_sheet("saw.txt", "title: Saw\nquantity: one\n# do\nSaw.\n", KNOWN)


@cache
def bench(leg_saw: LegSaw = BY_HAND) -> Bench:
    """The demo's, unplaced, in a shop that has all tools, and one saw for its legs."""
    return Bench(make_kit(solve(DEMO), replace(HAND_SHOP, leg_saw=leg_saw)), ())


@pytest.mark.parametrize(
    ("bridges", "compensation", "is_written", "marked", "opened"),
    [
        (2, "included", True, False, True),
        (2, "left out", True, True, False),
        (2, "both", True, True, True),
        (2, "left out", False, False, False),
        (0, "both", True, False, False),
    ],
)
def test_bridges_are_told_as_the_files_have_them(bridges, compensation, is_written, marked, opened) -> None:
    """A line across the outline in files at finished size, if that layer is written; a gap in moved lines."""
    layers = DEMO_SHOP.layers | {"bridge": replace(DEMO_SHOP.layers["bridge"], write=is_written)}
    machine = Machine("cnc", 3.0, bridges=bridges, compensation=compensation)
    so = what_is_so(Bench(make_kit(solve(DEMO), replace(DEMO_SHOP, machine=machine, layers=layers)), ()))
    assert (so["marked bridges"], so["open bridges"]) == (marked, opened)


@pytest.mark.parametrize("name", OPERATIONS)
def test_every_line_of_every_sheet_can_be_read(name) -> None:
    """Lines for other jobs too: each condition is taken to hold, then not."""
    made = bench()
    facts = fact_table(bench(LegSaw("plain", 70.0))) | fact_table(made)
    facts |= {
        f"{screw}.{key}": Fact(f"{screw}.{key}", 3.0, "rule")
        for screw in ("leg_screw", "brace_screw")
        for key in ("name", "count", "hole", "pilot", "hard_pilot")
    }
    facts |= {name: Fact(name, "stop, bearer", "words") for name in ("held.screwed", "held.taped")}
    for is_so in (True, False):
        so = dict.fromkeys(what_is_so(made), is_so)
        read_sheet(name, sheet_text(name), SheetNames(facts, so, sheet_pictures(made, False), sheet_tables(made), "mm"))


def test_the_page_carries_the_name_of_every_fact() -> None:
    """In HTML an element bears the name; on paper and in the words it is not seen."""
    page = write_html(setup_document(bench(), with_pictures=False)).decode()
    told = re.findall(r'<span data-fact="([a-zA-Z_.:]+)">([^<]*)</span>', page)
    assert ("leg.cut_length:rule", "752 mm") in told and ("rout.feed_R", "clockwise") in told
    own = [name for name, _ in told if not name.startswith("said.")]  # words that are the same for every job
    assert {"rout.end_L", "tape.height.limit:limit"} <= set(own)
    assert len(told) > 150
