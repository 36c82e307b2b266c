"""Commands run in a test's own process: without papers, which have tests of their own, and no work done twice.

What a plan, its files and their proof come to follows from their input alone, which other rooms' tests hold; here each
is worked out once a run for the same input. Commands in a process of their own do everything.
"""

from functools import wraps
from hashlib import sha256

import pytest
from kit_cache import kept

from jigmaker.making import make, paper_files
from jigmaker.making import plan as planning
from jigmaker.proof import prove as proving

_PLANS: dict[str, planning.Plan] = {}


@wraps(planning.plan)
def _plan(*asked, work=planning.plan):
    key = repr(asked)
    if key not in _PLANS:
        _PLANS[key] = work(*asked)
    return _PLANS[key]


@wraps(make.planned_files)
def _planned_files(plan, source, work=make.planned_files):
    files = kept(b"files" + source.job_text + b"\0" + source.shop_text, lambda: work(plan, source))
    return dict(files)


@wraps(proving.prove)
def _prove(files, shop=None, work=proving.prove):
    told = repr(shop) + "".join(f"{name} {sha256(data).hexdigest()}\n" for name, data in files.items())
    return kept(b"proof" + told.encode(errors="surrogateescape"), lambda: work(files, shop))


@pytest.fixture(autouse=True)
def _nothing_dear_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paper_files, "PAPERS", ())
    monkeypatch.setattr(paper_files, "index_file", lambda *asked: b"the index")
    monkeypatch.setattr(paper_files, "index_figures", lambda plan: ())
    monkeypatch.setattr(make, "planned_files", _planned_files)
    monkeypatch.setattr(planning, "plan", _plan)
    monkeypatch.setattr(proving, "prove", _prove)
