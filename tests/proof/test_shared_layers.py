"""Layers named as the shop likes, and operations that share one: the judge still knows which line is which."""

import re

import pytest
from sample_jobs import ideal_shop_text, small

from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.make import make
from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.prove import prove
from jigmaker.proof.readers.read_folder import read_folder

CUT = '[layers.inner]\nname = "CUT"\ncolour = "#102030"\n[layers.outer]\nname = "CUT"\ncolour = "#102030"\n'
SHOPS = {
    "signs": '[layers.mark]\nname = "Score 1 (fine)"\n[layers.inner]\nname = "Löcher"\n[layers.outer]\nname = "0"\n',
    "one for both cuts": CUT,
    "one for all": CUT + '[layers.mark]\nname = "CUT"\ncolour = "#102030"\n',
}


@pytest.fixture(scope="module", params=SHOPS)
def kit(request):
    """The demo with such layers; the last of them as a CNC router cuts it, with bridges, marks scored."""
    text = small(ideal_shop_text()) + SHOPS[request.param]
    if request.param == "one for all":
        text = text.replace('marking = "none"', 'marking = "score"')
        text = re.sub('kind = "laser"\nkerf.*\n', 'kind = "cnc"\ncutter = 3.175\nbridges = 2\n', text)
    shop = text.encode()
    return make(read_job(demo_job_text()), read_shop(shop), demo_job_text(), shop)


def test_such_kits_prove(kit):
    """Cut, assembled and routed in numbers."""
    report = prove(kit)
    assert report.passed, [finding.sentence() for finding in report.findings]


def test_a_line_more_is_still_found(kit):
    """The counts in kit.json are no leave to cut anything: a line twice in the plate's file is a fault."""
    name = next(name for name in kit if name.startswith("parts/potting-bench-plate") and name.endswith(".svg"))
    text = kit[name].decode()
    line = re.search("<path [^>]*/>", text)[0]
    folder, findings = read_folder(kit | {name: text.replace(line, line + line, 1).encode()})
    assert {finding.part for finding in errors_in([*findings, *check_files(folder)])} == {name}
