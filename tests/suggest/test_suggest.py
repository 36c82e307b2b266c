"""Suggestions: every use with all kinds of boards, in both units, is a job that make accepts; what was told is kept."""

import re
from dataclasses import replace
from functools import cache
from itertools import product

import pytest

from jigmaker.errors import DoesNotFit, JobError, OutOfRange, UsageError
from jigmaker.findings import errors_in
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.templates import new_shop_text
from jigmaker.making.job_check import Source, check_job
from jigmaker.making.make import make
from jigmaker.making.plan import plan
from jigmaker.proof.prove import prove
from jigmaker.suggest.backwards import Lean
from jigmaker.suggest.board_sizes import boards_from_text
from jigmaker.suggest.height import HeightWish
from jigmaker.suggest.job_text import job_text
from jigmaker.suggest.suggest import suggest
from jigmaker.suggest.uses import USES, use_named
from jigmaker.suggest.wish import Wish
from jigmaker.trestle.solve import solve

SHOPS = {unit: read_shop(new_shop_text(unit).encode()) for unit in ("mm", "in")}
BOARDS = (
    "",
    "38x89 mm",
    "2x4, 1x6",
    "sawn 47x100, sawn 22x100",
    "planed 44x125, planed 25x75",
    "2x12",
    "CLS 38x63, CLS 38x140",
    "5/4x6",
    "19x140 mm",
)

# Uses go round while boards and units are gone through: seven and two have no common factor.
MATRIX = [(USES[i % len(USES)].key, unit, boards) for i, (boards, unit) in enumerate(product(BOARDS, ("mm", "in")))]


def a_wish(key="table", unit="mm", boards="", **changes):
    """A wish with a use and boards as someone writes them."""
    return Wish(HeightWish(use_named(key)), unit, boards=boards_from_text(boards, unit) if boards else (), **changes)


@cache
def suggested(key, unit, boards):
    return suggest(a_wish(key, unit, boards), SHOPS[unit])


def test_every_board_and_every_use_meet_both_units() -> None:
    """The matrix leaves none of those pairs out."""
    assert {(unit, boards) for _, unit, boards in MATRIX} == set(product(SHOPS, BOARDS))
    assert {(key, unit) for key, unit, _ in MATRIX} == {(use.key, unit) for use, unit in product(USES, SHOPS)}


@pytest.mark.parametrize(("key", "unit", "boards"), MATRIX)
def test_a_suggestion_is_a_job_that_make_accepts(key: str, unit: str, boards: str) -> None:
    """As read back from its file, in the shop that is written beside it; nothing is over its own limits of custom."""
    suggestion = suggested(key, unit, boards)
    text = job_text(suggestion)
    job = read_job(text.encode())
    assert errors_in(check_job(job, SHOPS[unit])) == []
    assert (job.unit, job.angle_chosen) == (unit, False)
    assert job.height_mm == suggestion.job.height_mm
    # Two jigs instead of one; screws that find less wood than usual.
    assert {finding.code for finding in suggestion.findings} <= {312, *range(421, 429)}
    assert max(map(len, text.split("\n"))) <= 120


@pytest.mark.parametrize("row", MATRIX[::5], ids=str)
def test_the_file_says_why(row) -> None:
    """A comment stands above every value that was suggested, and reading gives the job as it was suggested."""
    suggestion, text = suggested(*row), job_text(suggested(*row))
    assert read_job(text.encode()) == suggestion.job
    for key in suggestion.reasons:
        before, _, _ = text.partition(f"\n{key.partition('.')[2]} = ")
        assert before.rpartition("\n")[2].startswith("# ")
    assert re.search(r"# .*common practice, no source", text)


def test_an_inch_file_has_fractions() -> None:
    """What no rule in inches shows carries its own unit."""
    text = job_text(suggested("table", "in", "2x4, 1x6"))
    assert "\nwidth = '3 1/2' " in text and "\ninset = '4 3/4' " in text and "\nclearance = 0.006 " in text
    mixed = job_text(suggest(a_wish("table", "in", "38x89 mm"), SHOPS["in"]))
    assert '\nwidth = "89 mm" ' in mixed


def test_a_suggestion_can_be_placed_on_the_shops_sheet() -> None:
    """The last thing that make could refuse before it writes."""
    job = suggested("sawing", "mm", "").job
    assert plan(job, SHOPS["mm"], Source(b"", b"")).sheets


def test_a_suggestion_is_made_and_proves() -> None:
    """The whole way through files in inches, with legs that stand proud; without letters and notes, which cost most."""
    job_bytes = job_text(suggested("table", "in", "2x4, 1x6")).encode()
    quick = (
        new_shop_text("in").replace('"score"', '"none"').replace('compensation = "both"', 'compensation = "included"')
    )
    head, _, tail = quick.rpartition("write = true")
    shop_bytes = f"{head}write = false{tail}".encode()
    job, shop = read_job(job_bytes), read_shop(shop_bytes)
    assert (job.housing.reveal_mm > 0, shop.machine.marking, shop.layers["note"].write) == (True, "none", False)
    report = prove(make(job, shop, job_bytes, shop_bytes))
    assert report.passed, report.findings


def test_the_boards_go_where_they_belong() -> None:
    """The thick board is top and legs, the thin one braces; thick legs stand proud, wide boards are ripped."""
    job = suggest(a_wish(boards="19x140, 38x89"), SHOPS["mm"]).job
    assert (job.top.width_mm, job.top.thickness_mm, job.leg.thickness_mm) == (89, 38, 38)
    assert (job.brace.depth_mm, job.brace.thickness_mm) == (140, 19)
    assert job.housing.reveal_mm == 5  # 89 less 20 is 34.5 for each housing: 34.5 sin 76 is 33.5, of legs 38 thick
    ripped = suggested("table", "mm", "2x12").job
    assert (ripped.top.width_mm, ripped.leg.width_mm, ripped.brace.depth_mm) == (140, 75, 110)


TOLD = [
    # (wish, what the solved trestle must show)
    (a_wish(spread_across_mm=500.0), {"across": 500}),
    (a_wish(spread_along_mm=1000.0), {"along": 1000, "length": 900}),
    (a_wish(spread_along_mm=700.0), {"along": 700, "length": 640}),
    (a_wish(spread_along_mm=1000.0, top_length_mm=1100.0), {"along": 1000, "length": 1100}),
    (a_wish(spread_along_mm=950.0, spread_across_mm=400.0), {"along": 950, "across": 400}),
    (a_wish(boards="38x89", spread_across_mm=420.0), {"across": 420}),
    (a_wish(rake=Lean(80.0, "as asked"), splay=Lean(75.0, "as asked")), {"rake": 80, "splay": 75}),
    (a_wish(top_length_mm=1200.0), {"length": 1200}),
    (a_wish("sawing", piece_mm=560.0, spread_across_mm=400.0), {"across": 400}),
]


@pytest.mark.parametrize(("wish", "shows"), TOLD)
def test_what_was_told_is_kept(wish: Wish, shows: dict[str, float]) -> None:
    """Spreads over the outer corners, angles, the board's length."""
    trestle = solve(suggest(wish, SHOPS["mm"]).job)
    has = {
        "along": trestle.foot.spread_along_mm,
        "across": trestle.foot.spread_across_mm,
        "rake": trestle.job.rake_deg,
        "splay": trestle.job.splay_deg,
        "length": trestle.job.top.length_mm,
    }
    assert {key: has[key] for key in shows} == pytest.approx(shows, abs=1e-9)


@pytest.mark.parametrize(
    "changes", [{}, {"rake": Lean(70.0, ""), "splay": Lean(76.0, "")}, {"spread_across_mm": 400.0}]
)
@pytest.mark.parametrize("piece", [500.0, 700.0, 905.5])
def test_a_legs_piece_is_used_to_the_last_millimetre(piece: float, changes: dict) -> None:
    """The leg comes out of the piece; one that is a millimetre higher would not."""
    job = suggest(replace(a_wish("general", boards="47x100, 22x100"), piece_mm=piece, **changes), SHOPS["mm"]).job
    assert solve(job).leg.blank_mm <= piece + 1e-9 < solve(replace(job, height_mm=job.height_mm + 1.01)).leg.blank_mm


def test_thin_legs_stand_steeper() -> None:
    """16 mm legs on a board of 44: at 75 and less the housing runs out of the edge (3 + 44 cot b) sin b > 12."""
    job = suggest(a_wish("assembly", boards="44x120, 12x70"), SHOPS["mm"]).job
    assert job.splay_deg > 75
    assert errors_in(check_job(job, SHOPS["mm"])) == []


# What a woodworker with these boards would take for legs (common practice, no source): the thick one, let in as deep as
# it goes, and not a thin board because it is easy to let in.
LEGS = [
    ("45x145, 45x95, 20x95", (95, 45), {"45x145": "no thicker", "20x95": "thinner than 45x95"}),
    ("47x150, 47x100, 22x100", (100, 47), {"47x150": "no thicker", "22x100": "thinner"}),
    ("75x75, 45x145, 20x95", (75, 45), {"75x75": "the cutter reaches 55 mm", "20x95": "thinner"}),
    ("38x89, 10x140", (89, 38), {"10x140": "they must be 12 mm to 120 mm thick"}),
    ("45x120", (75, 45), {}),
]


@pytest.mark.parametrize(("boards", "leg", "passed_over"), LEGS, ids=[row[0] for row in LEGS])
def test_legs_are_the_thickest_that_can_be_let_in(boards: str, leg: tuple, passed_over: dict[str, str]) -> None:
    """With the least reveal that leaves enough wood and suits the cutter's reach; why not another board is told."""
    suggestion = suggest(a_wish("general", boards=boards), SHOPS["mm"])
    assert (suggestion.job.leg.width_mm, suggestion.job.leg.thickness_mm) == leg
    assert len(suggestion.passed_over) == len(passed_over)
    for told, (name, why) in zip(suggestion.passed_over, passed_over.items(), strict=True):
        assert told.startswith(f"{name} for the legs: ") and why in told
    less = replace(
        suggestion.job, housing=replace(suggestion.job.housing, reveal_mm=suggestion.job.housing.reveal_mm - 3)
    )
    told = (
        {finding.code for finding in check_job(less, SHOPS["mm"])} if suggestion.job.housing.reveal_mm >= 3 else {409}
    )
    assert told & {201, 403, 409}


def test_legs_with_one_screw_are_told() -> None:
    """Legs 38 thick in a board 89 wide leave two screws of opposite legs no room to pass each other."""
    findings = suggest(a_wish("sawing", boards="38x89, 19x140"), SHOPS["mm"]).findings
    assert [finding.do for finding in findings if finding.code in (421, 424)] == [
        "glue the legs, or make the top wider or thicker"
    ]


CAUTIONS = [
    (Wish(HeightWish(use_named("sawing"), saw_mm=711.2)), 321),
    (a_wish(splay=Lean(74.0, "")), 306),
    (a_wish(rake=Lean(72.0, "")), 322),
    (a_wish(door_mm=400.0), 323),
    (Wish(HeightWish(height_mm=280.0)), 324),
    (Wish(HeightWish(use_named("table"), height_mm=600.0)), 325),
    (a_wish(spread_across_mm=650.0), 306),
]


@pytest.mark.parametrize(("wish", "code"), CAUTIONS)
def test_what_to_mind_is_told(wish: Wish, code: int) -> None:
    """Cautions only, each with a key of the job file; those of the job's own checks too."""
    findings = suggest(wish, SHOPS["mm"]).findings
    assert code in [finding.code for finding in findings]
    assert all(finding.severity == "caution" and finding.key.startswith(("job ", "shop ")) for finding in findings)


REFUSED = [
    ({"boards": "100x100"}, DoesNotFit, "no trestle comes out of these boards as asked:\ntop.width: two opposite"),
    ({"boards": "9x140"}, DoesNotFit, "none of these boards can be the top: they must be 15 mm to 150 mm thick"),
    ({"boards": "19x45"}, DoesNotFit, "too narrow to be held below the jig's lugs; use a top 58 mm wide or more"),
    ({"top_length_mm": 300.0}, DoesNotFit, "usual sizes as asked:\n.*housings of the two ends"),
    ({"spread_across_mm": 100.0}, OutOfRange, "would make the legs lean inward; with this board and height it can be"),
    ({"spread_along_mm": 400.0, "top_length_mm": 900.0}, OutOfRange, "400 mm along the board would make the legs lean"),
    ({"piece_mm": 160.0}, DoesNotFit, "reach the floor; make the trestle higher"),
]


@pytest.mark.parametrize(("changes", "error", "match"), REFUSED)
def test_what_no_trestle_comes_out_of(changes: dict, error: type[JobError], match: str) -> None:
    """What is against the best choice, with what to do."""
    with pytest.raises(error, match=match):
        suggest(a_wish(**changes), SHOPS["mm"])


def test_a_wish_that_contradicts_itself_is_refused() -> None:
    """Two answers for one thing, or none for the height."""
    with pytest.raises(UsageError, match="a rake and a foot spread along both decide the rake: give one of them"):
        a_wish(rake=Lean(80.0, ""), spread_along_mm=900.0)
    with pytest.raises(UsageError, match="nothing tells how high it is to be"):
        Wish(HeightWish())
