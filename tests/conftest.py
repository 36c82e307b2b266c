"""What several rooms' tests share: the demo made once, and a job and shop on the disk that are made in a second."""

import gc
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import Browser, open_browser
from kit_cache import clear_shelf, made, open_shelf
from sample_jobs import ideal_shop_text, quick, small

from jigmaker.job.demo import demo_job_text

# Kits are hundreds of thousands of small objects that hold no rings: looking for rings as often as Python does by
# default takes a fifth of the time in which one is made or read.
gc.set_threshold(100_000, 20, 20)


def pytest_configure(config: pytest.Config) -> None:
    """A place for what is made once for all workers."""
    if not hasattr(config, "workerinput"):
        open_shelf()


def pytest_unconfigure(config: pytest.Config) -> None:
    """The process that started the workers ends last."""
    if not hasattr(config, "workerinput"):
        clear_shelf()


SPREAD = ("test_random_kits.py", "test_fit_clean.py")
"""Files of a few long tests that share nothing: any worker takes any of them, when the other files are through."""


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """The tests of a file go to one worker, which makes what they share once; those in a browser go to one as well."""
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            folder, _, file = nodeid.partition("::")[0].rpartition("/")
            if file in SPREAD:
                return nodeid
            return folder if folder == "tests/browser" else f"{folder}/{file}"

    return ByFile(config, log)


@pytest.fixture(scope="session")
def demo_files() -> dict[str, bytes]:
    """The demo's files by name, as make gives them; made once for all tests."""
    return made(demo_job_text(), ideal_shop_text())


@pytest.fixture(scope="session")
def quick_shop() -> str:
    """The demo's shop, as if its machine were true, without scored marks, notes and nominal files."""
    return quick(ideal_shop_text())


@pytest.fixture(scope="session")
def small_shop() -> str:
    """The quick shop with the fewest parts."""
    return small(ideal_shop_text())


@pytest.fixture(scope="session")
def old_file() -> Callable[[str], bytes]:
    """The bytes of a file in tests/old_files, by its name: as the last jigmaker that made kit 1 wrote them."""
    return lambda name: (Path(__file__).parent / "old_files" / name).read_bytes()


@pytest.fixture
def bench(tmp_path: Path, small_shop: str) -> Path:
    """A folder with the demo's job.toml and the small shop.toml, as a user has them."""
    (tmp_path / "job.toml").write_bytes(demo_job_text())
    (tmp_path / "shop.toml").write_text(small_shop, "utf-8")
    return tmp_path


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One browser for all tests of a process that ask for it; they are marked needs_browser."""
    with open_browser() as opened:
        yield opened
