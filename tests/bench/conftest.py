"""Benches for the tests of this folder: of the demo's two files, and of an empty folder."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_client import Bench
from sample_jobs import ideal_shop_text

from jigmaker.job.demo import demo_job_text


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """The bench of the demo's two files."""
    (tmp_path / "job.toml").write_bytes(demo_job_text())
    (tmp_path / "shop.toml").write_bytes(ideal_shop_text())
    opened = Bench(tmp_path)
    yield opened
    opened.place.close()


@pytest.fixture
def empty_bench(tmp_path: Path) -> Iterator[Bench]:
    """The bench of an empty folder called potting-bench."""
    (tmp_path / "potting-bench").mkdir()
    opened = Bench(tmp_path / "potting-bench")
    yield opened
    opened.place.close()
