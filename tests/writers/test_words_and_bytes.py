"""Any title is carried safely by both formats, and the same picture gives the same bytes in any process."""

import os
import subprocess
import sys
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from comma_locale import NONE, comma_locale
from dxf_tags import contours, tags
from sample_pictures import HOSTILE_TITLES, SHAPES, sample_picture
from svg_paths import NAMESPACE, root, shapes

from jigmaker.drawing.picture import Picture
from jigmaker.writers.dxf import Version, write_dxf
from jigmaker.writers.dxf_text import plain_ascii
from jigmaker.writers.svg import write_svg

TESTS = Path(__file__).parent.parent / "support"


@pytest.mark.parametrize("title", HOSTILE_TITLES, ids=range(len(HOSTILE_TITLES)))
@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_dxf_with_any_title(title: str, version: Version) -> None:
    """Seven-bit ASCII, comment lines of at most 255 characters, and not one tag more than with a plain title."""
    hostile, plain = write_dxf(sample_picture(title), version), write_dxf(sample_picture("plain"), version)
    assert [t for t in tags(hostile) if t[0] != 999] == [t for t in tags(plain) if t[0] != 999]
    assert max(len(line) for line in hostile.splitlines()) <= 255 and max(hostile) < 0x80
    assert contours(hostile) == contours(plain)
    assert not ezdxf.read(StringIO(hostile.decode("ascii"))).audit().has_errors


@pytest.mark.parametrize("title", HOSTILE_TITLES, ids=range(len(HOSTILE_TITLES)))
def test_svg_with_any_title(title: str) -> None:
    """Well-formed for any parser; what XML can carry arrives as it was, the rest becomes U+FFFD."""
    picture = Picture(title, 130, 90, sample_picture().layers, SHAPES, (title, "second line"))
    written = write_svg(picture)
    # A parser turns a carriage return into a new line, so it is not carried either.
    expected = "".join("\ufffd" if sign in "\x00\x07\x1b\r\ud800\uffff" else sign for sign in title)
    assert (root(written).findtext(f"{NAMESPACE}title") or "") == expected
    assert "\nsecond line" in (root(written).findtext(f"{NAMESPACE}desc") or "")
    assert len(shapes(written)) == len(SHAPES)


def test_notes_are_kept() -> None:
    """Both formats carry the notes; the DXF spells its signs out."""
    dxf_notes = [value for code, value in tags(write_dxf(sample_picture())) if code == 999]
    assert dxf_notes[0] == "Potting bench"
    assert dxf_notes[-2:] == ["Kerf 0.20 mm included.", "Measure first: square 50.00 +/- 0.10"]
    described = root(write_svg(sample_picture())).findtext(f"{NAMESPACE}desc") or ""
    assert "square 50.00 ± 0.10" in described
    assert described.startswith("The numbers in this file are millimetres\n")  # whatever unit the job has


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("78.25°", "78.25 deg"),
        ("Ø6 × 2¾", "dia 6 x 2 3/4"),
        ("Bänkchen, Łódź, Größe", "Bankchen, Lodz, Grosse"),
        ("±0.1 – “so”", '+/-0.1 - "so"'),
        ("鋸\t🪚", "? ?"),
    ],
)
def test_plain_ascii(words: str, expected: str) -> None:
    """Signs spelled out, accents dropped, a fraction kept apart from its whole number, the rest a question mark."""
    assert plain_ascii(words) == expected


SCRIPT = """
import hashlib, locale, os
locale.setlocale(locale.LC_ALL, "")
assert (locale.localeconv()["decimal_point"] == ",") == (os.environ["LC_ALL"] != "C")
from sample_pictures import sample_picture
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.svg import write_svg
files = [write_dxf(sample_picture(), v, u) for v in ("R2000", "R12") for u in ("mm", "in")]
files.append(write_svg(sample_picture()))
print(*(hashlib.sha256(data).hexdigest() for data in files))
"""


def test_same_bytes_in_any_process(tmp_path) -> None:
    """Other time zone, hash seed and locale: the same five files."""
    seen, comma = set(), comma_locale(tmp_path)
    for zone, seed, language in (("Pacific/Auckland", "1", None), ("America/St_Johns", "4242", comma)):
        given = {"TZ": zone, "PYTHONHASHSEED": seed, "PYTHONPATH": str(TESTS), **(language or {"LC_ALL": "C"})}
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT], env={**os.environ, **given}, capture_output=True, text=True
        )
        assert (run.returncode, run.stderr) == (0, "")
        seen.add(run.stdout)
    assert len(seen) == 1 and len(seen.pop().split()) == 5
    if comma is None:
        pytest.skip(f"the same in another time zone, but {NONE}")


def test_written_twice_is_the_same() -> None:
    """A second writing in one process changes nothing, in either format."""
    assert write_dxf(sample_picture()) == write_dxf(sample_picture())
    assert write_svg(sample_picture()) == write_svg(sample_picture())
