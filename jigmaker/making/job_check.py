"""Job and Shop in, everything that speaks against making them out: findings of all rooms, and their sentences placed.

Angles in degrees, lengths in the findings in the job's own unit.
"""

from dataclasses import dataclass

from jigmaker.errors import JobError
from jigmaker.findings import Finding, errors_in
from jigmaker.job.job import Job
from jigmaker.job.lines import place_of
from jigmaker.job.shop import Shop
from jigmaker.job.toml import text_of
from jigmaker.levelling.trim import trim_findings
from jigmaker.parts.check import check_kit
from jigmaker.timber.damp import damp_findings
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve


@dataclass(frozen=True, slots=True)
class Source:
    """The files that a job was read from, as they lie on the disk, and the names that messages call them by.

    boards_text, timber_text: of boards.toml and timber.toml; empty when there is none.
    """

    job_text: bytes
    shop_text: bytes
    job_file: str = "job.toml"
    shop_file: str = "shop.toml"
    boards_text: bytes = b""
    boards_file: str = "boards.toml"
    timber_text: bytes = b""
    timber_file: str = "timber.toml"

    def sentence(self, finding: Finding) -> str:
        """The finding as one sentence that starts with its place: "job.toml line 14: leg.thickness: ..."."""
        table, _, key = finding.key.partition(" ")
        if table not in ("job", "shop") or not key:
            return finding.sentence()
        data, file = (self.job_text, self.job_file) if table == "job" else (self.shop_text, self.shop_file)
        return finding.sentence(place_of(text_of(data, file), file, key))


def check_job(job: Job, shop: Shop, is_quick: bool = False) -> list[Finding]:
    """Every fault and caution of trestle, jig in this shop and screws; all at once, in a fixed order.

    `is_quick` leaves out whether the router can tip, which takes nearly all the time.
    """
    trestle = solve(job)
    found = check_trestle(trestle)
    if trestle.housing.depth_square_mm <= 0:
        return found  # a jig for a housing without depth has no shape that could be judged
    found += check_kit(trestle, shop, is_quick)
    if errors_in(found):
        return found
    return [*found, *fixings(trestle).findings, *trim_findings(trestle, shop), *damp_findings(trestle)]


def refuse_errors(findings: list[Finding], source: Source) -> None:
    """Raise JobError with one placed sentence for each finding that forbids the job, if there are any."""
    if errors := errors_in(findings):
        raise JobError([source.sentence(finding) for finding in errors])
