"""File names from job names: any text gives a safe slug."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.job.naming import slug_of

SLUGS = [
    ("Potting bench", "potting-bench"),
    ("  Tom's  Bänk № 2 ", "toms-bank-no-2"),
    ("Straße/Öl & Æble", "strasse-ol-aeble"),
    ("Łódź Høvel Đurđa", "lodz-hovel-durda"),
    ("İstanbul ısı", "istanbul-isi"),
    ("../../etc/passwd", "etc-passwd"),
    ("Верстак", "job"),
    ("½ height ﬁne", "1-2-height-fine"),
    ("---", "job"),
    ("", "job"),
    ("CON", "con-job"),
    ("com1", "com1-job"),
    ("LPT¹", "lpt1-job"),
    ("nul.", "nul-job"),
    ("com10", "com10"),
    ("a" * 59 + " bc", "a" * 59),
    ("x" * 300, "x" * 60),
]


@pytest.mark.parametrize(("name", "slug"), SLUGS, ids=[slug for _, slug in SLUGS])
def test_slugs(name: str, slug: str) -> None:
    """Accents go, other letters are spelled, names that Windows keeps for itself are avoided."""
    assert slug_of(name) == slug


@given(st.text())
def test_any_name_gives_a_safe_slug(name: str) -> None:
    """A slug is 1 to 60 of a-z, 0-9 and single hyphens inside, and is its own slug."""
    slug = slug_of(name)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", slug)
    assert len(slug) <= 60
    assert slug_of(slug) == slug
