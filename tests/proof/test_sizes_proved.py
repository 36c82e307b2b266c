"""Several sizes in the proof: every size's legs and feet are judged by what numbers.json tells of them."""

from copy import deepcopy
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from folders_from_records import folder_of
from kit_cache import kept, made
from sample_jobs import DEMO_SHOP

from jigmaker.job.read import read_job
from jigmaker.proof.prove import prove
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.stand import number_findings, size_findings

CLASS = (Path(__file__).parents[1] / "jobs" / "class.toml").read_bytes()


@cache
def judged():
    """(the jig as cut, the figures as told) of the class's three sizes, one of them with a shorter board."""
    shop = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, compensation="left out"))
    folder = folder_of(read_job(CLASS), shop, with_sheets=False)
    return as_measured(folder)[1], folder.numbers


def findings(change):
    """Codes and places with some figures changed."""
    jig, told = judged()
    numbers = deepcopy(told)
    change(numbers)
    found = [*number_findings(jig.job, numbers, jig), *size_findings(jig, numbers)]
    return {(each.code, each.at) for each in found}


def test_sound_sizes_are_not_found_fault_with() -> None:
    """Also with the shorter board."""
    assert findings(lambda numbers: None) == set()


@pytest.mark.parametrize(("number", "name"), [(2, "size 650 mm"), (3, "size 520 mm")])
def test_a_leg_of_one_size_told_too_long_is_found(number, name) -> None:
    """The figure, and the trestle that would stand on it: one millimetre along the leg is 0.95 upright."""

    def longer(numbers):
        numbers[f"sizes.{number}.leg"]["length_mm"] += 1.0

    found = findings(longer)
    assert (339, f"sizes.{number}.leg.length_mm") in found
    assert (462, f"floor, {name}") in found
    assert all(name in at or at.startswith(f"sizes.{number}.") for _, at in found)


def test_a_wrong_spread_of_one_size_is_found() -> None:
    """By the feet as they stand."""

    def wider(numbers):
        numbers["sizes.2.foot"]["spread_across_mm"] += 1.0

    assert {(339, "sizes.2.foot.spread_across_mm"), (463, "spread_across_mm, size 650 mm")} <= findings(wider)


def test_a_size_that_is_not_told_is_missed() -> None:
    """Each of its figures."""
    found = findings(lambda numbers: numbers.pop("sizes.3.leg"))
    assert (341, "sizes.3.leg.length_mm") in found and all(code == 341 for code, _ in found)


def test_the_whole_kit_is_proved(quick_shop) -> None:
    """As make writes it, read back from its files."""
    files = made(CLASS, quick_shop.encode())
    report = kept(b"class proved" + files["kit.json"], lambda: prove(files))
    assert report.passed and not report.findings


def test_a_size_changed_after_making_is_found(quick_shop) -> None:
    """job.toml says another height than the kit was made for."""
    files = made(CLASS, quick_shop.encode())
    changed = {**files, "job.toml": CLASS.replace(b"height = 650", b"height = 655")}
    says = [each.says for each in prove(changed).findings if each.code == 124]
    assert says == ["job.further_sizes[0].height_mm is 650 in kit.json and 655.0 in job.toml"]
