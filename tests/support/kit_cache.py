"""Dear work that several tests want is done once a run: what a kit is made from in, its files out of a shelf.

The shelf is a folder of the whole run, so that what one worker made the others find there.
"""

import os
import pickle
import shutil
import tempfile
from collections.abc import Callable
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from jigmaker.job.read import read_job, read_shop
from jigmaker.making.make import make

_RUN = "JIGMAKER_TEST_SHELF"


@cache
def made(job_text: bytes, shop_text: bytes) -> dict[str, bytes]:
    """The files that make gives for these two texts. Shared: nobody may change the dictionary."""
    return kept(
        job_text + b"\0" + shop_text, lambda: make(read_job(job_text), read_shop(shop_text), job_text, shop_text)
    )


def kept(key: bytes, work: Callable[[], Any]) -> Any:
    """What `work` gives, or gave in another worker for the same key."""
    place = _shelf() / sha256(key).hexdigest()
    if not place.exists():
        half = place.with_name(f"{place.name}.{os.getpid()}")
        half.write_bytes(pickle.dumps(work()))
        half.replace(place)
    return pickle.loads(place.read_bytes())


def open_shelf() -> None:
    """Before workers start, which inherit its name."""
    os.environ.setdefault(_RUN, tempfile.mkdtemp(prefix="jigmaker-tests-"))


def clear_shelf() -> None:
    """When all workers are through."""
    shutil.rmtree(_shelf(), ignore_errors=True)


def _shelf() -> Path:
    return Path(os.environ[_RUN])
