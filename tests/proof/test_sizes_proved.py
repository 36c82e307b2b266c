"""Several sizes in the proof: every size's legs and feet are judged by what numbers.json tells of them."""

import json
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
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.rout import rout_housings
from jigmaker.proof.use.stand import number_findings, size_findings
from jigmaker.proof.words.figures import agrees, statement_of
from jigmaker.proof.words.known_files import file_facts

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
    sizes = size_findings(jig.job, numbers, lambda size: rout_housings(replace(jig, job=size)))
    found = [*number_findings(jig.job, numbers, jig), *sizes]
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


def test_the_way_that_the_machine_goes_is_measured_in_its_files(quick_shop) -> None:
    """Of each sheet what kit.json declares, measured again in the lines of its file; and of all together."""
    files = made(CLASS, quick_shop.encode())
    folder, _ = read_folder(files)
    assert folder is not None
    facts, sheets = file_facts(folder), json.loads(files["kit.json"])["sheets"]
    for i, sheet in enumerate(sheets, 1):
        assert facts[f"sheets.{i}.cut"] == pytest.approx(sheet["cut_mm"], abs=0.01)
        assert facts[f"sheets.{i}.pierces"] == sheet["pierces"]
    assert facts["sheets.all.cut"] == pytest.approx(sum(sheet["cut_mm"] for sheet in sheets), abs=0.05)
    assert agrees(statement_of("sheets.1.cut:run", f"{sheets[0]['cut_mm'] / 1000:.1f} m"), facts["sheets.1.cut"], "mm")
    assert not agrees(
        statement_of("sheets.1.cut:run", f"{sheets[1]['cut_mm'] / 1000:.1f} m"), facts["sheets.1.cut"], "mm"
    )


def test_a_size_changed_after_making_is_found(quick_shop) -> None:
    """job.toml says another height than the kit was made for."""
    files = made(CLASS, quick_shop.encode())
    changed = {**files, "job.toml": CLASS.replace(b"height = 650", b"height = 655")}
    says = [each.says for each in prove(changed).findings if each.code == 124]
    assert says == ["job.further_sizes[0].height_mm is 650 in kit.json and 655.0 in job.toml"]
