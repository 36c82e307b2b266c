"""What long work tells on the way: each step by its name, counted from the first to the last; and nothing else."""

import pytest
from small_folder import BEARER, STRIP, small_folder

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making import paper_files
from jigmaker.making.coupon_files import coupon_files
from jigmaker.making.job_check import Source
from jigmaker.making.plan import Plan, plan
from jigmaker.progress import counted, tell, watched
from jigmaker.proof.prove import Report, prove

Told = list[tuple[str, int, int]]


def is_counted(told: Told, step: str) -> bool:
    """True when the step was told of, as 1 of n, 2 of n and so on to n of n."""
    found = [(number, count) for name, number, count in told if name == step]
    return bool(found) and found == [(number, len(found)) for number in range(1, len(found) + 1)]


def test_plan_and_cut_files_are_told(small_shop: str) -> None:
    """Placing while a job is planned, writing while its files are."""
    told: Told = []
    shop = read_shop(small_shop.encode())
    with watched(lambda *step: told.append(step)):
        plan(read_job(demo_job_text()), shop, Source(demo_job_text(), small_shop.encode()))
        coupon_files(shop)
    assert is_counted(told, "placing") and is_counted(told, "writing")


def test_proof_is_told(demo_files) -> None:
    """Reading file by file, then what is proved of them."""
    told: Told = []
    files = small_folder(demo_files, (STRIP, BEARER))
    with watched(lambda *step: told.append(step)):
        prove(files)
    names = list(dict.fromkeys(name for name, _, _ in told))
    assert names == ["reading", "proving lines", "proving cuts", "proving the jig", "proving gauges"]
    assert all(is_counted(told, name) for name in names if name != "proving the jig")
    assert ("reading", len(files) - 1, len(files) - 1) in told


def test_papers_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other."""
    told: Told = []
    monkeypatch.setattr(paper_files, "PAPERS", (lambda plan: {"a": b""}, lambda plan: {"b": b""}))
    monkeypatch.setattr(paper_files, "index_file", lambda *asked: b"")
    monkeypatch.setattr(paper_files, "index_figures", lambda plan: ())
    with watched(lambda *step: told.append(step)):
        kit = b'{\n "sheets": [],\n "files": {\n  "a": "b"\n }\n}\n'
        paper_files.with_papers(Plan(None, None, None, (), (), ()), Report((), 0, 0, None), {"kit.json": kit})
    assert is_counted(told, "papers")


def test_nobody_need_watch_and_who_does_watches_only_inside() -> None:
    """Items come through as they are."""
    told: Told = []
    assert list(counted("step", "ab")) == ["a", "b"]
    with watched(lambda *step: told.append(step)):
        assert list(counted("step", "ab")) == ["a", "b"]
        tell("alone")
    tell("outside")
    assert told == [("step", 1, 2), ("step", 2, 2), ("alone", 0, 0)]
