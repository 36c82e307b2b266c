"""What several rooms' tests share: the demo made once, and a job and shop on the disk that are made in a second."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import Browser, open_browser
from sample_jobs import ideal_shop_text

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.make import make


@pytest.fixture(scope="session")
def demo_files() -> dict[str, bytes]:
    """The demo's files by name, as make gives them; made once for all tests of a process."""
    job_text, shop_text = demo_job_text(), ideal_shop_text()
    return make(read_job(job_text), read_shop(shop_text), job_text, shop_text)


@pytest.fixture(scope="session")
def quick_shop() -> str:
    """The demo's shop without scored marks, notes and nominal files: most of a run goes into letters."""
    text = ideal_shop_text().decode()
    text = text.replace('compensation = "both"', 'compensation = "included"').replace('"score"', '"none"')
    assert "included" in text and "none" in text
    return text + "\n[layers.note]\nwrite = false\n"


@pytest.fixture
def bench(tmp_path: Path, quick_shop: str) -> Path:
    """A folder with the demo's job.toml and the quick shop.toml, as a user has them."""
    (tmp_path / "job.toml").write_bytes(demo_job_text())
    (tmp_path / "shop.toml").write_text(quick_shop, "utf-8")
    return tmp_path


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a process that ask for it; they are marked needs_browser."""
    with open_browser() as opened:
        yield opened
