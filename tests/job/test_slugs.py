"""File names from job names: any text gives a safe slug."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.job.naming import slug_of

SLUGS = [
    ("Potting bench", "potting-bench"),
    (" potting  BENCH_2 ", "potting-bench-2"),
    ("Tom's Bänk № 2", r"toms-bank-no-2-[0-9a-f]{4}"),
    ("Straße/Öl & Æble", r"strasse-ol-aeble-[0-9a-f]{4}"),
    ("../../etc/passwd", r"etc-passwd-[0-9a-f]{4}"),
    # How libraries and passports spell these scripts: ISO 9 and Hanyu Pinyin without accents.
    ("Верстак", r"verstak-[0-9a-f]{4}"),
    ("漢字", r"hanzi-[0-9a-f]{4}"),
    ("½ height ﬁne", r"1-2-height-fine-[0-9a-f]{4}"),
    ("---", r"job-[0-9a-f]{4}"),
    ("", r"job-[0-9a-f]{4}"),
    ("CON", "con-job"),
    ("com1", "com1-job"),
    ("nul.", r"nul-[0-9a-f]{4}"),
    ("com10", "com10"),
    ("x" * 40, "x" * 40),
    ("x" * 41, r"x{35}-[0-9a-f]{4}"),
]


@pytest.mark.parametrize(("name", "slug"), SLUGS, ids=[name[:20] for name, _ in SLUGS])
def test_slugs(name: str, slug: str) -> None:
    """Other alphabets are spelled, lost signs leave a mark of their own, names that Windows keeps are avoided."""
    assert re.fullmatch(slug, slug_of(name))


ALIKE = [
    "Tom's bench",
    "Toms bench",
    "Tom’s bench",
    "Töms bench",
    "Toms bench!",
    "a" * 70 + "1",
    "a" * 70 + "2",
    "漢字",
    "汉字",
]


def test_different_names_have_different_slugs() -> None:
    """Names that would be spelled alike, and long ones that differ at their end."""
    assert len({slug_of(name) for name in ALIKE}) == len(ALIKE)


@given(st.text())
def test_any_name_gives_a_safe_slug(name: str) -> None:
    """A slug is 1 to 40 of a-z, 0-9 and single hyphens inside, and is its own slug."""
    slug = slug_of(name)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug)
    assert len(slug) <= 40
    assert slug_of(slug) == slug
