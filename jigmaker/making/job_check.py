"""Job and Shop in, everything that speaks against making them out: findings of all rooms, and their sentences placed.

Angles in degrees, lengths in the findings in the job's own unit.
"""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.errors import JobError
from jigmaker.findings import Finding, errors_in
from jigmaker.job.job import Job
from jigmaker.job.lines import numbered, place_of
from jigmaker.job.shop import Shop
from jigmaker.job.toml import text_of
from jigmaker.levelling.trim import trim_findings
from jigmaker.parts.check import check_kit
from jigmaker.record import dataclass
from jigmaker.timber.damp import damp_findings
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve_sizes


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

    Of several sizes each is judged; the jig is judged on the shortest board, which it must find room on, a cradle for
    the longest legs. `is_quick` leaves out whether the router can tip, which takes nearly all the time.
    """
    trestles = solve_sizes(job)
    each = [check_trestle(trestle) for trestle in trestles]
    if trestles[0].housing.depth_square_mm <= 0:
        return of_sizes(job, each)  # a jig for a housing without depth has no shape that could be judged
    # The jig is one for all sizes. Only the shortest board's length is its matter; all else it finds is true of each.
    shortest = min(range(len(trestles)), key=lambda i: trestles[i].job.top.length_mm)
    kit = check_kit(trestles[shortest], shop, is_quick)
    if shop.leg_saw.kind == "plain":
        from jigmaker.parts.leg_saw.leg_cradle import check_leg_cradle  # loads the parts, which few shops have

        kit += check_leg_cradle(max(trestles, key=lambda trestle: trestle.job.height_mm), shop)
    for i, found in enumerate(each):
        found += [finding for finding in kit if i == shortest or finding.key != "job top.length"]
    if not any(errors_in(found) for found in each):
        screws = [fixings(trestle) for trestle in trestles]
        # One set-up page serves all sizes, so all must have the same screws: name, timbers, length and direction, to a
        # millionth, for each size was solved by itself and its sums round in their own way.
        places = [
            [(each.name, each.joins, each.length_mm, *(round(x, 6) for x in each.direction)) for each in own.screws]
            for own in screws
        ]
        says = "is so low that its screws sit elsewhere than those of the first size"
        for found, trestle, own, at in zip(each, trestles, screws, places, strict=True):
            if at != places[0]:
                found.append(Finding(429, says, "make it higher, or make it a job of its own", "job trestle.height"))
            found += [*own.findings, *trim_findings(trestle, shop), *damp_findings(trestle)]
    return of_sizes(job, each)


def check_sizes(job: Job) -> list[Finding]:
    """Every fault and caution of the trestles of all sizes, without a shop."""
    return of_sizes(job, [check_trestle(trestle) for trestle in solve_sizes(job)])


def of_sizes(job: Job, each: Sequence[Sequence[Finding]]) -> list[Finding]:
    """The findings of every size in one list: what holds for all is told once, what only some have names them."""
    if len(each) == 1:
        return list(each[0])
    told: list[Finding] = []
    for finding in dict.fromkeys(finding for found in each for finding in found):
        of = [i for i, found in enumerate(each) if finding in found]
        if len(of) == len(each) or not finding.key.startswith("job "):
            told.append(finding)
            continue
        table = numbered("size", of[0] + 1) if of[0] else "size"
        own = {"job trestle.height": f"job {table}.height", "job top.length": f"job {table}.top_length"}
        names = ", ".join(job.size_names[i] for i in of)
        says, key = f"{names}: {finding.says}", own.get(finding.key, finding.key)
        do = finding.do if finding.key in own else f"{finding.do}, for all sizes; or make this one a job of its own"
        told.append(replace(finding, says=says, do=do, key=key))
    return told


def refuse_errors(findings: list[Finding], source: Source) -> None:
    """Raise JobError with one placed sentence for each finding that forbids the job, if there are any."""
    if errors := errors_in(findings):
        raise JobError([source.sentence(finding) for finding in errors])
