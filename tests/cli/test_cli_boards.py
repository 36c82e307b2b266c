"""jigmaker boards: the cutting plan on the screen, as JSON, and as a page of make."""

import csv
import io
import json

import pytest
from click.testing import CliRunner
from pdf_pages import read_pdf

from jigmaker.cli.main import jigmaker
from jigmaker.job.demo import demo_boards_text, demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.paper_files import boards_files
from jigmaker.making.plan import boards_for, kit_plan


def said(*words):
    """Exit code and output of the command."""
    done = CliRunner().invoke(jigmaker, ["boards", *words])
    return done.exit_code, done.output


def test_the_demo_has_boards_and_a_plan():
    """24 legs out of eight boards; the spare that would take a ninth is left out, unless it is asked for."""
    code, output = said()
    assert code == 0
    assert "8 of 2440 mm; 19.5 m, 7 % waste. Boards: 8, fewest: proved." in output
    assert "  5 to 12       2440 mm: 3 legs, 10 mm to 2305.7 mm\n" in output
    assert "the spare leg is left out; it would take one more board" in " ".join(output.split())
    code, output = said("--spares")
    assert "9 of 2440 mm" in output and "the spare leg" not in output


def test_json_has_every_piece():
    """What adds up: pieces by kind, each within its board."""
    code, output = said("--json")
    plan = json.loads(output)
    assert (code, plan["schema"]) == (0, "jigmaker boards 1")
    pieces = [
        (piece["piece"], board["length_mm"], piece)
        for s in plan["sections"]
        for board in s["boards"]
        for piece in board["pieces"]
    ]
    counts = {name: sum(each == name for each, _, _ in pieces) for name, _, _ in pieces}
    assert counts == {"top board": 6, "off-cut for trial housings": 1, "brace": 12, "leg": 24}
    assert all(10 <= piece["from_mm"] < piece["to_mm"] <= length - 10 for _, length, piece in pieces)


def test_boards_beside_the_job_or_named(tmp_path, bench):
    """Without any file the lengths to buy; with faults every one of them; with too few what is short."""
    job = str(bench / "job.toml")
    code, output = said(job)
    assert code == 0
    assert "24 legs and 1 spare; one takes 777.3 mm, each further one in a board 759.2 mm" in " ".join(output.split())
    (bench / "boards.toml").write_text('[[board]]\nsection = "70 x 32"\nlength = 2440\ncount = 6\n')
    code, output = said(job)
    assert code == 1
    assert "no board has the section 120 mm x 45 mm, which the top board takes" in output
    assert "short of 6 legs. Buy 2 of 2440 mm more" in output
    (tmp_path / "mine.toml").write_text("[[board]]\nlenght = 3\n")
    code, output = said(job, "--from", str(tmp_path / "mine.toml"))
    assert code == 1
    assert "mine.toml line 2: board.lenght is an unknown key; did you mean length?" in output
    code, output = said(job, "--from", str(tmp_path / "none.toml"))
    assert (code, output.split("none.toml ")[1]) == (2, "is not there; jigmaker explain boards shows one\n")


@pytest.fixture(scope="module")
def planned():
    """The demo's plan, nothing placed."""
    texts = demo_job_text(), demo_shop_text()
    source = Source(*texts, boards_text=demo_boards_text())
    plan = kit_plan(read_job(texts[0]), read_shop(texts[1]), source)
    return plan, source


def test_the_page_has_a_bar_a_board_the_stops_and_what_to_buy(planned):
    """On paper and as rows; equal boards are drawn once."""
    from dataclasses import replace

    plan, source = planned
    boards, short, kerf_mm = boards_for(plan.kit, source)
    assert (short, kerf_mm) == ((), 3.2)
    files = boards_files(replace(plan, boards=boards))
    assert sorted(files) == [f"papers/potting-bench-boards.{ending}" for ending in ("csv", "html", "pdf")]
    (page,) = read_pdf(files["papers/potting-bench-boards.pdf"])
    words = " ".join(page.words.split())
    assert "Boards 5 to 12, 8 alike: 2440 mm" in words
    assert "755.8 mm, along an arris" in words and "mitre 11.75° off square, blade 12.00° off upright" in words
    # Of three boards one also gives the off-cut for trial housings: 2440 - 10 - 1813.2 - 3.2 is left of the other two.
    assert "Left over: 2 of 61" in words
    rows = list(csv.reader(io.StringIO(files["papers/potting-bench-boards.csv"].decode("utf-8-sig"))))
    assert len(rows) == 1 + 6 + 1 + 12 + 24
    assert rows[0][5:] == ["from, mm", "to, mm", "stop, mm"]
    assert boards_files(plan) == {}  # no boards were told


def test_boards_that_run_short_are_a_caution_of_make(planned):
    """The kit does not need them; the page is left out, and the reason is told."""
    plan, _ = planned
    few = b'kerf = 4\n[[board]]\nsection = "70 x 32"\nlength = 2440\n'
    boards, short, kerf_mm = boards_for(plan.kit, Source(b"", b"", boards_text=few))
    assert (boards, kerf_mm) == ((), 4.0)
    assert [(each.code, each.severity, each.part) for each in short] == [(420, "caution", "boards.toml")] * 2
