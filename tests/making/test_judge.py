"""What speaks against a job: every fault of every room at once, each placed in the file where it can be mended."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO, DEMO_SHOP, ideal_shop_text

from jigmaker.errors import JobError
from jigmaker.findings import Finding, errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source, check_job
from jigmaker.making.make import make


def changed(text: bytes, *changes: tuple[str, str]) -> bytes:
    """The text with each (old, new) changed; each must be there."""
    words = text.decode()
    for old, new in changes:
        assert old in words
        words = words.replace(old, new, 1)
    return words.encode()


JOB = demo_job_text()
SHOP = ideal_shop_text()
ROWS = [
    # 12 / sin 78 - 45 cot 78 = 2.7 deep in the bottom face, under 3
    ("leg too thin", ("thickness = 32", "thickness = 12"), (), "leg.thickness"),
    ("inset too small", ("inset = 120", "inset = 30"), (), "trestle.inset"),
    ("bush too long", (), ("bush_length = 6", "bush_length = 8.5"), "hand_router.bush_length"),
    ("cutter too short", (), ("cutter_reach = 55", "cutter_reach = 40"), "hand_router.cutter_reach"),
]


@pytest.mark.parametrize(("job", "shop", "key"), [row[1:] for row in ROWS], ids=[row[0] for row in ROWS])
def test_a_job_that_cannot_be_is_refused_with_its_place(job, shop, key: str) -> None:
    """File, line and key stand in front of the sentence, which ends with what to do."""
    job_text, shop_text = changed(JOB, *[job] * bool(job)), changed(SHOP, *[shop] * bool(shop))
    text, mark, file = (job_text, job[1], "job.toml") if job else (shop_text, shop[1], "shop.toml")
    line = next(n for n, row in enumerate(text.decode().splitlines(), 1) if mark in row)
    with pytest.raises(JobError, match=rf"(?m)^{file} line {line}: {key}: .*; .") as caught:
        make(read_job(job_text), read_shop(shop_text), job_text, shop_text)
    assert all("; " in fault for fault in caught.value.faults)


def test_faults_of_trestle_and_jig_come_together() -> None:
    """Nobody mends one fault to be told the next: too thin a leg, too near the end, and a cutter too short."""
    job_text = changed(JOB, ("thickness = 32", "thickness = 12"), ("inset = 120", "inset = 30"))
    shop_text = changed(SHOP, ("cutter_reach = 55", "cutter_reach = 10"), ("bush_length = 6", "bush_length = 2"))
    with pytest.raises(JobError, match="no hold on the plate") as caught:
        make(read_job(job_text), read_shop(shop_text), job_text, shop_text)
    said = "\n".join(caught.value.faults)
    for key in ("leg.thickness", "trestle.inset", "hand_router.cutter_reach", "hand_router.bush_length"):
        assert key in said
    assert len(caught.value.faults) == len(errors_in(check_job(read_job(job_text), read_shop(shop_text))))


def test_a_housing_without_depth_is_one_fault_of_the_trestle() -> None:
    """A reveal as thick as the leg leaves no housing; the jig for it is not judged as well."""
    job = read_job(changed(JOB, ("thickness = 32", "thickness = 15"), ("[housing]", "[housing]\nreveal = 15")))
    assert [finding.code for finding in errors_in(check_job(job, read_shop(SHOP)))] == [401]


def test_the_demo_has_nothing_against_it() -> None:
    """Neither fault nor caution: the example is one to follow."""
    assert check_job(read_job(JOB), read_shop(SHOP)) == []


PLACES = [
    ("job leg.width", "bench.toml line 4: leg.width: is so; do so"),
    ("job leg.horn", "bench.toml line 3: leg.horn: is so; do so"),
    ("shop sheet.margin", "shed.toml line 1: sheet.margin: is so; do so"),
    ("job housing.reveal", "bench.toml: housing.reveal: is so; do so"),
    ("", "is so; do so"),
]


@pytest.mark.parametrize(("key", "sentence"), PLACES)
def test_a_sentence_names_the_users_own_file(key: str, sentence: str) -> None:
    """With its line; a key left to its default at its section; without either the file alone."""
    source = Source(b"\n\n[leg]\nwidth = 70\n", b"sheet = { margin = 5 }\n", "bench.toml", "shed.toml")
    assert source.sentence(Finding(1, "is so", "do so", key)) == sentence


def test_a_top_without_room_for_screws_is_told() -> None:
    """A caution, not a fault: the legs are glued."""
    job = replace(DEMO, top=replace(DEMO.top, width_mm=78.0), splay_deg=80.0, rake_deg=80.0)
    told = {finding.code: finding for finding in check_job(job, DEMO_SHOP)}
    assert told[421].severity == "caution" and "no screw through a leg" in told[421].sentence()
