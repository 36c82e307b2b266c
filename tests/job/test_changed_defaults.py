"""A default that is not what it was in kit 1 is told once for a folder, with the line to delete or the key to write."""

import pytest

from jigmaker.job.changed_defaults import changed_defaults
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_shop
from jigmaker.making.job_check import Source

OLD = {"mark": "#ff7f00", "inner": "#007fff", "outer": "#000000", "note": "#808080"}  # as shops of kit 1 had them


def sentences(shop: bytes, before):
    source = Source(demo_job_text(), shop)
    found = changed_defaults(source.job_text, "job", before) + changed_defaults(shop, "shop", before)
    assert {finding.severity for finding in found} <= {"caution"}
    return [source.sentence(finding) for finding in found]


@pytest.fixture
def written(old_file):
    """A shop that bears all old defaults."""
    return old_file("new_mm_shop.toml")


@pytest.mark.parametrize("before", [None, 1])
def test_an_old_default_written_out_is_told_with_its_line(written, before):
    """Whether or not there is a folder of that time."""
    lines = written.decode().split("\n")
    told = sentences(written, before)
    assert 'machine.compensation: is "both", ' in told[0]
    for sentence, (operation, colour) in zip(told[1:], OLD.items(), strict=True):
        line = next(n for n, text in enumerate(lines, 1) if f'colour = "{colour}"' in text)
        assert sentence.startswith(f'shop.toml line {line}: layers.{operation}.colour: is "{colour}", ')
        assert "delete this line" in sentence


def test_a_value_of_ones_own_is_not_told(written):
    """One changed, four left."""
    assert len(sentences(written.replace(b"#ff7f00", b"#ff7f01"), None)) == 4


def test_a_key_left_out_is_told_where_it_meant_something_else(old_file):
    """Only beside a folder of that time; the line that keeps the old colour, added, gives the old colour."""
    shop = old_file("demo_shop.toml").replace(b'compensation = "both"', b'compensation = "left out"')
    assert sentences(shop, None) == []
    told = sentences(shop, 1)
    assert [sentence.rpartition("write ")[2] for sentence in told] == [
        f'colour = "{colour}" to have the old one' for colour in OLD.values()
    ]
    kept = shop + b'\n[layers.mark]\ncolour = "#ff7f00"\n'
    assert read_shop(kept).layers["mark"].colour == read_shop(shop, kit=1).layers["mark"].colour == "#ff7f00"


def test_nobody_is_told_twice(written, old_file):
    """Once the folder holds a kit of this kind."""
    assert sentences(written, 2) == sentences(old_file("demo_shop.toml"), 2) == []
