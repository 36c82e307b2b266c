"""Set-up sheets of several sizes: the table of stops, checks in rows, and the counts of the batch."""

from dataclasses import replace
from functools import cache
from pathlib import Path

from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.drawing.page import Facts, Table
from jigmaker.job.job import Size
from jigmaker.job.read import read_job
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.papers.setup_sheets.sheet_tables import batch_counts
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

CLASS = read_job((Path(__file__).parents[1] / "jobs" / "class.toml").read_bytes())
CUTS = ((9492.1, 39), (6904.2, 28))


@cache
def tables(job):
    """(title of its page, table) of every table on the sheets."""
    document = setup_document(Bench(make_kit(solve(job), DEMO_SHOP), (), CUTS), with_pictures=False)
    return [(page.title, block) for page in document.pages for block in page.blocks if isinstance(block, Table)]


def test_stops_stand_in_one_table_longest_first() -> None:
    """Along an arris a leg is H D long, D = sqrt(1 + cot(76)^2 + cot(78)^2) = 1.05230, and 5 of trim: to half a mm."""
    (stops,) = [table for title, table in tables(CLASS) if "Saw the legs" in title and table.head[0] == "legs for"]
    assert [row[:4] for row in stops.rows] == [
        ("size 762 mm", "8", "807 mm", "802 mm"),
        ("size 650 mm", "12", "689 mm", "684 mm"),
        ("size 520 mm", "4", "552 mm", "547 mm"),
    ]
    turned = replace(CLASS.of_size(2), further_sizes=CLASS.sizes[:2])
    (again,) = [table for title, table in tables(turned) if "Saw the legs" in title and table.head[0] == "legs for"]
    assert [row[0] for row in again.rows] == [row[0] for row in stops.rows]  # whatever their order in the file


def test_a_check_that_differs_has_a_row_for_each_size() -> None:
    """With a box each; what all have alike is one row."""
    rows = [row for title, table in tables(CLASS) if "Dry fit" in title for row in table.rows]
    heights = [row[:2] for row in rows if row[0].startswith("height at both ends")]
    # The trim stands upright by 5 / D.
    assert heights == [
        ("height at both ends (size 762 mm)", "767 mm"),
        ("height at both ends (size 650 mm)", "655 mm"),
        ("height at both ends (size 520 mm)", "525 mm"),
    ]
    glued = [row[0] for title, table in tables(CLASS) if "Glue" in title for row in table.rows]
    assert glued.count("leg") == 1


def test_the_batch_is_counted_by_size_and_together() -> None:
    """Four legs, two braces and four housings a trestle; what the machine does is the files' own."""
    counts = next(table for title, table in tables(CLASS) if title.startswith("The batch"))
    assert counts.head == ("spares apart", "size 762 mm", "size 650 mm", "size 520 mm", "together")
    rows = {row[0]: row[1:] for row in counts.rows}
    assert rows["trestles"] == ("2", "3", "1", "6")
    assert rows["legs to saw, and feet to level"] == ("8", "12", "4", "24") == rows["housings to rout"]
    assert rows["braces to saw"] == ("4", "6", "2", "12")


def test_a_plain_batch_is_told_how_the_machine_runs() -> None:
    """Nothing is said of sizes; what the machine does is the files' own."""
    (machine,) = batch_counts(Bench(make_kit(solve(DEMO), DEMO_SHOP), (), CUTS))
    assert isinstance(machine, Facts)
    assert machine.rows == (("along the cuts", "sheet 1: 9.5 m, 39 starts; sheet 2: 6.9 m, 28 starts"),)


def test_many_sizes_have_a_row_each() -> None:
    """Twelve columns would break every word."""
    job = replace(DEMO, further_sizes=tuple(Size(2, 500.0 + 10 * i, 900.0) for i in range(11)))
    counts, _ = batch_counts(Bench(make_kit(solve(job), DEMO_SHOP), (), CUTS))
    assert len(counts.rows) == 13 and counts.rows[1][:3] == ("size 500 mm", "2", "8")
    assert counts.rows[-1][:3] == ("together", "28", "112")
