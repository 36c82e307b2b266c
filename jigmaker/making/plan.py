"""Job and Shop in, out comes all that is to be made, before any file: trestle, kit, sheets, cautions. mm, degrees."""

from dataclasses import dataclass

from jigmaker.cutting.bridge_places import bridge_findings
from jigmaker.cutting.cut_sheet import Compensation
from jigmaker.findings import Finding, cautions_in
from jigmaker.job.job import Job
from jigmaker.job.shop import Machine, Shop
from jigmaker.making.cuttable import check_cuttable
from jigmaker.making.judge import Source, check_job, refuse_errors
from jigmaker.making.layer_findings import layer_findings
from jigmaker.parts.kit import Kit, make_kit
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import Sheet
from jigmaker.trestle.solve import solve


@dataclass(frozen=True, slots=True)
class Plan:
    """A job that can be made: its kit, each part on a sheet of its own, and all pieces placed on the machine's sheets.

    `part_sheets` go with `kit.parts`, one each, in the same order.
    """

    job: Job
    shop: Shop
    kit: Kit
    part_sheets: tuple[Sheet, ...]
    sheets: tuple[Sheet, ...]
    cautions: tuple[Finding, ...]


def plan(job: Job, shop: Shop, source: Source) -> Plan:
    """Judge the job, make its kit and place it. Raises JobError with every fault, placed; DoesNotFit; TooNarrow."""
    findings = check_job(job, shop) + layer_findings(shop)
    refuse_errors(findings, source)
    kit = make_kit(solve(job), shop)
    refuse_errors(check_cuttable(kit), source)
    return Plan(
        job=job,
        shop=shop,
        kit=kit,
        part_sheets=tuple(single_part_sheet(part, shop.machine.widest_cut_mm) for part in kit.parts),
        sheets=place(kit.parts, shop),
        cautions=(*cautions_in(findings), *bridge_findings(kit.parts, shop.machine)),
    )


def compensations(machine: Machine) -> tuple[Compensation, ...]:
    """Which files of whole sheets are written: with the tool's width in the lines, without it, or both."""
    return ("included", "left out") if machine.compensation == "both" else (machine.compensation,)
