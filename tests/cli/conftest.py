"""Commands run in a test's own process write no papers: they take most of a run, and are tested in their own room."""

import pytest

from jigmaker.making import paper_files


@pytest.fixture
def with_papers() -> None:
    """For a test that wants every file that make writes."""


@pytest.fixture(autouse=True)
def _without_papers(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if "with_papers" not in request.fixturenames:
        monkeypatch.setattr(paper_files, "PAPERS", ())
