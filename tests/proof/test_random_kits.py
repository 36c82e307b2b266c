"""Whatever the tool accepts, the kit proves; whatever it refuses, it refuses before writing, with a reason.

30 kits drawn from seeds; JIGMAKER_KITS=1000 in the environment draws so many. The share refused is printed.
"""

import os
from functools import cache

import pytest
from random_kits import random_kit, texts_of
from spoilt_folders import files_of, light_plan

from jigmaker.errors import JobError, TooNarrow
from jigmaker.findings import errors_in
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.judge import Source, check_job
from jigmaker.proof.prove import prove

REMEDIES = ("use ", "make ", "set ", "move ", "lean ", "cut ", "shorten ", "give ", "hold ")
"""Words with which a sentence says what to do."""

KITS = int(os.environ.get("JIGMAKER_KITS", "30"))


@pytest.mark.parametrize("seed", range(KITS))
def test_a_kit_is_refused_with_a_reason_or_proves(seed):
    """Refusals are sentences with something to do; kits that are made have no fault that the judge sees."""
    job_text, shop_text = texts_of(*random_kit(seed))
    job, shop = read_job(job_text), read_shop(shop_text)
    source = Source(job_text, shop_text)
    try:
        files, _ = files_of(light_plan(job, shop, source), source)
    except (JobError, TooNarrow) as refused:
        sentences = str(refused).splitlines()
        assert sentences
        assert all(": " in line and any(word in line for word in REMEDIES) for line in sentences), sentences
        return
    faults = errors_in(list(prove(files).findings))
    assert faults == [], [(f.code, f.part, f.at, f.says) for f in faults[:5]]


@cache
def refusals():
    """{seed: codes} of the kits that the checks refuse."""
    found = {}
    for seed in range(KITS):
        codes = {finding.code for finding in errors_in(check_job(*random_kit(seed)))}
        if codes:
            found[seed] = sorted(codes)
    return found


def test_fewer_than_two_in_five_are_refused(capsys):
    """The kits drawn are such as people might want; most of them can be made."""
    share = len(refusals()) / KITS
    with capsys.disabled():
        print(f"\nrefused: {share:.0%} of {KITS} kits, {refusals()}")
    assert 0 < share < 0.4
