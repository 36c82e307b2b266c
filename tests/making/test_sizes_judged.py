"""A job of several sizes judged: what speaks against one of them names it, what holds for all is said once."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.errors import JobError
from jigmaker.findings import errors_in
from jigmaker.job.job import Size
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.write import job_text, shop_text
from jigmaker.making.job_check import Source, check_job, check_sizes, refuse_errors
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve


def with_sizes(job, *sizes):
    """The job, its first size as it is."""
    return replace(job, further_sizes=tuple(Size(*size) for size in sizes))


KITS = {
    "762 and 600": with_sizes(replace(DEMO, height_mm=762.0), (1, 600.0, 900.0)),
    "a": with_sizes(JOB_A, (2, 300.0, 1240.0), (1, 1100.0, 1500.0)),
    "b": with_sizes(JOB_B, (2, 900.0, 760.0)),
    "a short board": with_sizes(DEMO, (1, 500.0, 320.0)),
}


@pytest.mark.parametrize("name", KITS)
def test_one_kit_serves_every_size(name) -> None:
    """No part knows a height; the shortest board decides whether one plate has both slots. Every part of the batch's
    kit is that of the size with the shortest board, and of every other size that has the same plates.
    """
    job = KITS[name]
    kit = make_kit(solve(job), DEMO_SHOP)
    shortest = min(range(len(job.sizes)), key=lambda i: job.sizes[i].top_length_mm)
    for i in range(len(job.sizes)):
        own = make_kit(solve(job.of_size(i)), DEMO_SHOP)
        if i == shortest or {part.slug for part in own.parts} == {part.slug for part in kit.parts}:
            assert own.parts == kit.parts and own.settings == kit.settings
    has_both = any(part.slug == "plate" for part in kit.parts)
    assert has_both is (name != "a short board")


def sentences(job, shop=DEMO_SHOP):
    """What make would say, by the file that says the same."""
    text = job_text(job)
    source = Source(text, shop_text(shop))
    return [source.sentence(finding) for finding in check_job(read_job(text), read_shop(shop_text(shop)))]


def test_a_size_that_stands_badly_is_named_at_its_own_key() -> None:
    """At 78 degrees a foot of 1000 mm stands 212.56 out; those of 720 and 650 stand well."""
    found = sentences(with_sizes(DEMO, (1, 650.0, 900.0), (1, 1000.0, 900.0)))
    (said,) = [each for each in found if "stumbled" in each]
    assert said.startswith("job.toml line ")
    assert ": trestle.rake_deg: size 1000 mm: a foot stands 212.56 mm out both ways, more than 200 mm" in said


def test_what_holds_for_all_is_said_once() -> None:
    """Little wood at the ends of all boards alike."""
    plain = [each for each in sentences(replace(DEMO, inset_mm=82.0)) if "trestle.inset" in each]
    sizes = with_sizes(replace(DEMO, inset_mm=82.0), (1, 650.0, 900.0))
    assert [each.partition(": ")[2] for each in sentences(sizes) if "trestle.inset" in each] == [
        each.partition(": ")[2] for each in plain
    ]
    assert plain and "size" not in plain[0]


REFUSED = {
    "a height that the brace does not leave": (
        (1, 150.0, 900.0),
        "size 2.height: size 150 mm: at a height of 150 mm the top and the brace under it take",
    ),
    "a board in which the housings meet": (
        (1, 650.0, 380.0),
        "size 650 mm: the housings of the two ends",
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_size_that_the_jig_cannot_serve_is_refused_by_name(name) -> None:
    """With the line of its own table, its figure, and what to do."""
    size, says = REFUSED[name]
    text = job_text(with_sizes(DEMO, size))
    job = read_job(text)
    with pytest.raises(JobError) as caught:
        refuse_errors(check_job(job, DEMO_SHOP), Source(text, b""))
    assert any(says in fault for fault in caught.value.faults), caught.value.faults
    assert all("720" not in fault for fault in caught.value.faults)


def test_without_a_shop_every_size_is_judged_too() -> None:
    """As the table of angles does it."""
    assert errors_in(check_sizes(with_sizes(DEMO, (1, 150.0, 900.0))))
    assert not errors_in(check_sizes(with_sizes(DEMO, (1, 650.0, 900.0))))
