"""jigmaker for programs: a job and a shop in, a proved kit out, without the command line and without the disk.

What `from jigmaker import ...` gives. Lengths are in mm, angles in degrees off the level. Every error that is
raised on purpose is a JigmakerError, and its `faults` are the sentences that the commands print.
"""

import os
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext
from dataclasses import field
from functools import partial
from pathlib import Path

from jigmaker.job import read
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.job.toml import LARGEST_BYTES
from jigmaker.job.write import job_with_text, shop_with_text
from jigmaker.making import make as cut_kit
from jigmaker.making import paper_files
from jigmaker.making import plan as planning
from jigmaker.making.disk import start_of
from jigmaker.making.folder_files import folder_files
from jigmaker.making.job_check import Source
from jigmaker.making.plan import Plan
from jigmaker.papers.bench import Shown
from jigmaker.proof import prove as proof
from jigmaker.proof.prove import Report
from jigmaker.record import dataclass
from jigmaker.trestle import solve as solver
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class Made:
    """A kit: every file of its folder by name, with forward slashes, and what the proof found in them.

    Where `report.passed` is False there are no papers among the files, and the command would write none of them.
    """

    files: Mapping[str, bytes]
    report: Report
    plan: Plan = field(repr=False)


def read_job(path: str | os.PathLike[str]) -> Job:
    """The job in a file. Raises JobError with all its faults, each with line, key, value and rule; OSError.

    >>> read_job("tests/jobs/workshop_pair.toml").trestles
    2
    """
    return read.read_job(start_of(Path(path), LARGEST_BYTES), os.fspath(path))


def read_shop(path: str | os.PathLike[str]) -> Shop:
    """The shop in a file. Raises JobError with all its faults, each with line, key, value and rule; OSError.

    >>> read_shop("tests/shops/workshop_pair.toml").machine.kind
    'cnc'
    """
    return read.read_shop(start_of(Path(path), LARGEST_BYTES), os.fspath(path))


def solve(job: Job) -> Trestle:
    """Every angle and length of a job's trestle; its board frame is described at Trestle. Never raises for a Job.

    Of several sizes it is the first; `solve(job.of_size(1))` gives the second of `job.sizes`.

    >>> trestle = solve(read_job("tests/jobs/workshop_pair.toml"))
    >>> print(f"saw tilt {trestle.angles.saw_tilt_deg:.1f} degrees, legs {trestle.leg.length_mm:.0f} mm")
    saw tilt 10.0 degrees, legs 797 mm
    """
    return solver.solve(job)


def make(job: Job, shop: Shop, boards: bytes = b"", timber: bytes = b"") -> Made:
    """The whole kit with papers and proof, nothing written: `files` are what the command's folder holds, byte for byte.

    Files that job and shop were read from go into the kit as they are; for those made or changed in code they are
    written. Raises JobError with every reason at once when the job cannot be, DoesNotFit or TooNarrow for parts that
    sheet or tool cannot take. `boards`: what stands in a boards.toml, for a cutting plan of the timber; `timber`: in a
    timber.toml, the readings of the legs and boards. All is done in the process and the thread that ask.
    """
    return make_beside(job, shop, boards, timber, nullcontext)


Work = Callable[[], tuple[paper_files.Papers, tuple[Shown, ...]]]


def make_beside(
    job: Job, shop: Shop, boards: bytes, timber: bytes, begin: Callable[[Work], AbstractContextManager[Work]]
) -> Made:
    """The same, most papers begun as soon as the job is planned: `begin` may start that work elsewhere, and gives what
    is called for its result when everything else is done."""
    # A kit holds the files that it was made from, so a job or shop made in code gets its text first. Papers are made of
    # the plan alone and may be under way while files are cut and proved; they are in the kit only if it passed.
    job, shop = job_with_text(job), shop_with_text(shop)
    assert job.read_from is not None and shop.read_from is not None
    source = Source(
        job.read_from.data, shop.read_from.data, job.read_from.file, shop.read_from.file, boards, timber_text=timber
    )
    planned = planning.plan(job, shop, source)
    with begin(partial(paper_files.papers_beside, planned)) as papers:
        files = cut_kit.planned_files(planned, source)
        report = proof.prove(files)
        if report.passed:
            files = paper_files.with_papers(planned, report, files, papers)
    return Made(files, report, planned)


def prove(kit: str | os.PathLike[str] | Mapping[str, bytes]) -> Report:
    """What the proof finds in a kit: in a folder, whoever saved its files last, or in files by name.

    Raises UsageError for a folder without a kit; never for what the files hold.
    """
    return proof.prove(kit if isinstance(kit, Mapping) else folder_files(Path(kit)))
