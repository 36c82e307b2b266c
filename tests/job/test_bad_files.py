"""Every file in tests/bad_jobs says exactly its expected sentences; every key refuses what is no size."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from jigmaker.errors import JobError
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.rules import Rule, Section
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.templates import new_job_text, new_shop_text

FOLDER = Path(__file__).parent.parent / "bad_jobs"
BAD = sorted(FOLDER.glob("*.toml"))


def reader_of(name: str) -> Callable[[bytes, str], object]:
    """The reader by the first word of a file's name."""
    return {"job": read_job, "shop": read_shop}[name.partition("_")[0]]


def test_there_are_bad_files_and_each_has_its_sentences() -> None:
    """The folder is not empty, and files and expected sentences go in pairs."""
    assert len(BAD) > 30
    assert {path.stem for path in BAD} == {path.stem for path in FOLDER.glob("*.expected")}


@pytest.mark.parametrize("path", BAD, ids=[path.stem for path in BAD])
def test_a_bad_file_says_all_that_is_wrong(path: Path) -> None:
    """All faults at once, in the order of their lines, word for word."""
    with pytest.raises(JobError, match=path.name) as caught:
        reader_of(path.name)(path.read_bytes(), path.name)
    assert list(caught.value.faults) == path.with_suffix(".expected").read_text("utf-8").splitlines()
    # Each is told with the key that it is about; of a file that is no TOML there is none.
    for key, sentence in zip(caught.value.keys, caught.value.faults, strict=bool(caught.value.keys)):
        assert f": {key} " in sentence


@pytest.mark.parametrize("name", ["job_twelve_faults", "shop_twelve_faults"])
def test_twelve_faults_are_twelve_findings(name: str) -> None:
    """A file with twelve mistakes, in inline tables and dotted keys too, is answered by twelve sentences."""
    assert len((FOLDER / f"{name}.expected").read_text("utf-8").splitlines()) == 12


NUMBERS = [
    (sections, section, rule)
    for sections in (JOB, SHOP)
    for section in sections
    for rule in section.rules
    if rule.kind in ("length", "angle", "skew", "ratio", "whole number")
]


def with_value(sections: tuple[Section, ...], section: Section, rule: Rule, value: str) -> tuple[str, int]:
    """A new file in which one key has another value, and the line of that key, counted from the section's header."""
    text = new_job_text() if sections is JOB else new_shop_text()
    if section.is_optional:
        text = re.sub("(?m)^height = .*", "", text).replace("# [[size]]", "[size]").replace("# height", "height")
    lines = text.split("\n")
    start = lines.index(f"[{section.name}]")
    at = next(n for n in range(start, len(lines)) if lines[n].removeprefix("# ").startswith(f"{rule.key} ="))
    lines[at] = f"{rule.key} = {value}"
    if section.name == "machine" and rule.key == "cutter":
        lines = ["" if line.startswith("kerf") else line.replace('"laser"', '"cnc"', 1) for line in lines]
    return "\n".join(lines), at + 1


def wrong_values(rule: Rule) -> list[str]:
    """Values that are legal TOML and no size for this rule; zero only where nothing cannot be meant."""
    beyond = [f"{rule.low - 0.001:.3f}", f"{rule.high + 0.001:.3f}", "1e9", "-1.5", "0x" + "f" * 4000]
    no_number = ["nan", "-nan", "inf", "-inf", "true", "[]", "{}", '"long"', "2024-01-01", "1e999"]
    return beyond + no_number + (["0", "0.0", "-0.0"] if rule.low > 0 else [])


@pytest.mark.parametrize(("sections", "section", "rule"), NUMBERS, ids=[f"{s.name}.{r.key}" for _, s, r in NUMBERS])
def test_every_number_refuses_what_is_no_size(sections: tuple[Section, ...], section: Section, rule: Rule) -> None:
    """nan, inf, true, text, lists, zero, negative and absurd sizes give one fault at the key's own line."""
    for value in wrong_values(rule):
        text, line = with_value(sections, section, rule, value)
        reader = read_job if sections is JOB else read_shop
        with pytest.raises(JobError, match=rf"^file line {line}: {section.name}\.{rule.key} is ") as caught:
            reader(text.encode(), "file")
        assert len(caught.value.faults) == 1, value


@pytest.mark.parametrize(("sections", "section", "rule"), NUMBERS, ids=[f"{s.name}.{r.key}" for _, s, r in NUMBERS])
def test_the_limits_themselves_are_good(sections: tuple[Section, ...], section: Section, rule: Rule) -> None:
    """Both ends of a range belong to it: whatever is refused at the end of a range is another key's fault."""
    for limit in (rule.low, rule.high):
        text, _ = with_value(sections, section, rule, f"{limit:g}")
        reader = read_job if sections is JOB else read_shop
        try:
            reader(text.encode(), "file")
        except JobError as error:
            anothers = ("margin leaves nothing", "beside it; give both", "hand_saw", "cutting_height is of a plain saw")
            assert any(fault in str(error) for fault in anothers)


def test_a_file_with_every_key_misspelt_names_the_right_ones() -> None:
    """Each key with a letter too many is one fault that names the right key, and nothing is called missing."""
    lines = [line if line.startswith(("#", "[")) else line.replace(" ", "q ", 1) for line in new_job_text().split("\n")]
    with pytest.raises(JobError, match="did you mean") as caught:
        read_job("\n".join(lines).encode())
    sections = [section for section in JOB if not section.is_optional]
    keys = [rule.key for section in sections for rule in section.rules if not rule.sample.startswith("# ")]
    assert [fault.rpartition("did you mean ")[2] for fault in caught.value.faults] == [f"{key}?" for key in keys]


def test_deep_nesting_is_one_sentence() -> None:
    """A file made to exhaust the parser is refused like any other."""
    with pytest.raises(JobError, match=r"job\.toml line 1: is nested too deep"):
        read_job(b"a = " + b"[" * 100_000)


def test_a_number_of_thousands_of_digits_is_one_sentence() -> None:
    """A number too long for the parser is refused like any other, at its line, in words that are no programmer's."""
    with pytest.raises(JobError, match=r"job\.toml line 1: holds a word or a number of 5000 signs"):
        read_job(b"a = " + b"1" * 5000)
