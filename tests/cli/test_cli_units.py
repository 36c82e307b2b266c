"""The closing table for shops that differ: whose unit a figure is in, what guides the cutter, one file or three."""

from pathlib import Path

import pytest
from sample_jobs import ideal_shop_text, small

from jigmaker.cli.closing import closing_text
from jigmaker.cli.reading import Asked
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.plan import plan
from jigmaker.proof.prove import Report

INCH_JOB = (Path(__file__).parent.parent / "jobs" / "inch.toml").read_bytes()
PAIR = (Path(__file__).parent.parent / "jobs" / "workshop_pair.toml").read_bytes()
PAIR_SHOP = (Path(__file__).parent.parent / "shops" / "workshop_pair.toml").read_bytes()
BEARING = (
    ideal_shop_text()
    .replace(b"bush = 17 ", b"bush = 12.7 ")
    .replace(b"cutter = 12\n", b"cutter = 12.7\nblade = 38.1\nbearing_height = 6\n")
)
CROOKED = ideal_shop_text().replace(b'kind = "laser"', b'kind = "laser"\nscale_x = 1.0011\nskew_deg = 0.077')


def plain_saw(cutting_height_mm: int) -> bytes:
    """A shop whose mitre saw does not tilt."""
    return f'{small(ideal_shop_text())}\n[leg_saw]\nkind = "plain"\ncutting_height = {cutting_height_mm}\n'.encode()


ROWS = [
    # sheet 9.1 + standoff 9/32 in (7.0 and up) + leg 31.75 = 47.99 mm, 1.8895 in
    ("job in inches, shop in mm", INCH_JOB, ideal_shop_text(), "the cutter's tip 1 57/64\" (47.99 mm) below the base"),
    # sheet 9.1 + standoff 7.0 + leg 32
    ("both in mm", demo_job_text(), ideal_shop_text(), "the cutter's tip 48.1 mm below the base"),
    # sheet 0.49 + standoff (5 + 12.446 cot 80) sin 80 = 7.085 mm, up to 9/32 + leg 7/8 = 1.64625 in
    ("both in inches", PAIR, PAIR_SHOP, 'the cutter\'s tip 1 41/64" (1.646") below the base'),
    ("bearing", demo_job_text(), BEARING, "Bearing-guided cutter 12.7 mm; the cutter's tip"),
    ("deep first pass", demo_job_text(), BEARING, "saw the waste out first"),
    ("apart", PAIR, PAIR_SHOP, "-mark, then -inner, then -outer"),
    ("held by bridges", PAIR, PAIR_SHOP, "some parts have no bridge"),
    ("corrected", demo_job_text(), CROOKED, "They are corrected for the machine's scale and skew"),
    (
        "cradle",
        demo_job_text(),
        plain_saw(70),
        "Sloping cradle: mitre 11.48° off square, far end of the",
    ),
    ("no cradle", demo_job_text(), plain_saw(40), "Legs: both ends marked with the bevel and sawn by hand."),
    ("names", demo_job_text(), ideal_shop_text(), "The pictures in papers tell which piece is which"),
]


@pytest.mark.parametrize(("job", "shop", "words"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_the_table_says_it_in_the_right_unit(job: bytes, shop: bytes, words: str) -> None:
    """Marks on plate and gauge are in the job's unit, so the projection is too; the shop's caliper stands behind it."""
    source = Source(job, shop)
    read = read_job(job), read_shop(shop)
    asked, names = Asked(*read, source, is_demo=False), ("sheets/one.dxf", "kit.json")
    said = closing_text(plan(*read, source), asked, Path("made"), names, Report((), 22, 100, None))
    assert words in " ".join(said.split())
