"""jigmaker: from a trestle's height and timber to the jigs, settings and papers that cut a batch of them.

For programs, read_job, read_shop, solve, make and prove; `jigmaker.api` describes them.
"""

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

if TYPE_CHECKING:
    from jigmaker.api import Made, make, prove, read_job, read_shop, solve
    from jigmaker.errors import JigmakerError, JobError
    from jigmaker.job.job import Job
    from jigmaker.job.shop import Shop

__all__ = [
    "JigmakerError",
    "Job",
    "JobError",
    "Made",
    "Shop",
    "__version__",
    "make",
    "prove",
    "read_job",
    "read_shop",
    "solve",
]

_HOMES = {"Job": "job.job", "JobError": "errors", "JigmakerError": "errors", "Shop": "job.shop"}


def __getattr__(name: str) -> Any:
    """A name of the front door, loaded when it is asked for: `jigmaker --help` needs none of them."""
    if name not in __all__:
        raise AttributeError(f"module 'jigmaker' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"jigmaker.{_HOMES.get(name, 'api')}"), name)
