"""The cut list: figures of the batch, the CSV as a spreadsheet reads it, and no formula smuggled in by a name."""

import csv
from dataclasses import replace
from io import StringIO
from math import floor

import pytest
from page_words import text_of
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.drawing.page import Table
from jigmaker.papers.bench import Bench
from jigmaker.papers.cut_list_page import COLUMNS, cut_list_page, cut_list_rows
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place
from jigmaker.trestle.solve import solve
from jigmaker.units import text
from jigmaker.writers.csv_rows import write_csv


def bench_of(job=DEMO, shop=DEMO_SHOP) -> Bench:
    """The bench of a job in a shop."""
    kit = make_kit(solve(job), shop)
    return Bench(kit, place(kit.parts, shop))


@pytest.fixture(scope="module")
def bench() -> Bench:
    """The demo's."""
    return bench_of()


def read_back(bench: Bench) -> list[dict[str, str]]:
    """The CSV through Python's own reader, a record a row."""
    return list(csv.DictReader(StringIO(write_csv(cut_list_rows(bench)).decode("utf-8-sig"), newline="")))


def test_the_batch_counts_every_piece(bench) -> None:
    """Six trestles: 24 legs and 12 braces with one spare each, 6 tops; every sheet part by enumeration of the kit."""
    totals = {row["what"]: int(row["total"]) for row in read_back(bench)}
    assert (totals["leg"], totals["top board"], totals["brace"]) == (25, 6, 13)
    for part in bench.kit.parts:
        assert totals[part.name] == part.pieces


def test_leg_lengths_are_those_of_the_solid(bench) -> None:
    """Shortest blank that holds the leg, 773.33, as plane cuts on solids give it (two kernels, to 1e-9); on paper as a
    tape reads it."""
    leg = next(row for row in read_back(bench) if row["what"] == "leg")
    assert leg["length, mm"] == "773.33"
    assert "773.5 mm" in text_of(cut_list_page(bench))


def test_paper_and_spreadsheet_tell_the_same_section(bench) -> None:
    """Width and thickness of each board as the demo's job file has them, in the same row of both."""
    table = next(block for block in cut_list_page(bench).blocks if isinstance(block, Table) and "section" in block.head)
    sections = {"top board": (120, 45), "leg": (70, 32), "brace": (110, 18)}
    assert {row[0]: row[1] for row in table.rows} == {what: f"{w} mm × {t} mm" for what, (w, t) in sections.items()}
    rows = {row["what"]: row for row in read_back(bench)}
    in_file = {what: (float(rows[what]["width, mm"]), float(rows[what]["thickness, mm"])) for what in sections}
    assert in_file == sections


def test_the_saw_of_boards_toml_is_the_one_that_is_counted_in(bench) -> None:
    """25 legs each 751.826 + 1.0442 x 5 along a board, by the solids' figures of a leg and the stretch of its cut."""
    with_saw = replace(bench, saw_kerf_mm=5.0)
    leg = next(row for row in read_back(with_saw) if row["what"] == "leg")
    assert float(leg["length of board for all, mm"]) == pytest.approx(25 * (751.826 + 1.044203 * 5) + 21.501, abs=0.02)
    assert "A saw cut of 5 mm is counted in." in text_of(cut_list_page(with_saw))
    assert "A saw cut of 3.2 mm is counted in." in text_of(cut_list_page(bench))


def test_an_inch_job_reads_in_inches() -> None:
    """Decimal inches for a spreadsheet, fractions on paper, millimetres nowhere."""
    bench = bench_of(replace(DEMO, unit="in"))
    head = cut_list_rows(bench)[0]
    assert [name for name in head if name.endswith(", in")] == [f"{name}, in" for name in COLUMNS[6:10]]
    leg = next(row for row in read_back(bench) if row["what"] == "leg")
    assert float(leg["width, in"]) * 25.4 == pytest.approx(70, abs=0.002)
    assert " mm" not in text_of(cut_list_page(bench))


@pytest.mark.parametrize("name", ['=HYPERLINK("x")', "+1+1", "-2+3", "@SUM(A1)", "\t=1", " =1"])
def test_no_cell_is_a_formula(name) -> None:
    """A material's name comes from the user's file and may come from anywhere; a spreadsheet must not run it."""
    written = write_csv([["sheet part", name], ["a", "-0.5"]]).decode("utf-8-sig")
    cells = list(csv.reader(StringIO(written, newline="")))
    assert cells[0][1] == f"'{name}"
    assert cells[1] == ["a", "-0.5"]


def test_quotes_commas_and_lines_come_back(bench) -> None:
    """RFC 4180: what was written is what is read."""
    odd = ['he said "9 mm", twice', "two\r\nlines", "ä ø ½"]
    written = write_csv([odd]).decode("utf-8-sig")
    assert list(csv.reader(StringIO(written, newline=""))) == [odd]
    assert written.endswith("\r\n")


def test_what_stays_whole_of_the_last_sheet_is_told(bench) -> None:
    """Right of all pieces and above them, worked from the outlines on the last sheet and 1.5 mm for a kerf of 0.2."""
    said = text_of(cut_list_page(bench))
    pieces = [placed.part.outline.placed(placed.sheet_from_part).bounds for placed in bench.sheets[-1].placed]
    right, above = (
        floor(10 * mm + 1e-6) / 10
        for mm in (600 - max(box[2] for box in pieces) - 1.5, 400 - max(box[3] for box in pieces) - 1.5)
    )
    told = [f"{text(right)} mm × 400 mm right of all"] if right >= 50 else []
    told += [f"600 mm × {text(above)} mm above all"] if above >= 50 else []
    assert told and f"Of the last one stays whole: {' or '.join(told)}" in said


def test_a_full_last_sheet_leaves_nothing_to_keep(bench) -> None:
    """A sheet that ends 20 mm beyond its pieces: no strip worth keeping, no word of it."""
    around = [placed.part.outline.placed(placed.sheet_from_part).bounds for placed in bench.sheets[0].placed]
    far_x, far_y = (max(box[i] for box in around) for i in (2, 3))
    full = replace(bench.sheets[0], length_mm=far_x + 20, width_mm=far_y + 20)
    assert "stays whole" not in text_of(cut_list_page(replace(bench, sheets=(full,))))


def test_the_off_cut_for_trial_housings_has_its_length() -> None:
    """As long as the jig from stop to stop, which is what the board must give it to stand on."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    stop_to_stop = next(setting.value for setting in kit.settings if setting.name == "stop to stop")
    assert f"off-cut of the top board {stop_to_stop:g} mm long" in text_of(
        cut_list_page(Bench(kit, place(kit.parts, DEMO_SHOP)))
    )


@pytest.mark.parametrize(("unit", "told"), [("mm", "18.9 m for 25"), ("in", "62.0 ft for 25")])
def test_all_legs_together_are_told_as_timber_is_bought(unit, told) -> None:
    """25 legs, each 751.826 + 1.0442 x 3.2 along the board, and the slants of the last: 18.901 m, or 62.01 ft."""
    assert told in text_of(cut_list_page(bench_of(replace(DEMO, unit=unit))))
