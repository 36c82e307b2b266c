"""Job and Shop in, out comes all that is to be made, before any file: trestle, kit, sheets, cautions. mm, degrees."""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.cutting.holding import Holding, bridge_findings, bridges_end_in_one, holdings
from jigmaker.errors import JobError
from jigmaker.findings import Finding, cautions_in
from jigmaker.job.job import Job
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.shop import Compensation, Machine, Shop
from jigmaker.making.cuttable import check_cuttable
from jigmaker.making.job_check import Source, check_job, refuse_errors
from jigmaker.making.layer_findings import layer_findings
from jigmaker.order.board_file import read_boards
from jigmaker.order.cutting_plan import SectionPlan, plan_boards
from jigmaker.order.pieces import piece_kinds
from jigmaker.parts.housing_saw.guides import trial_piece_mm
from jigmaker.parts.kit import Kit, make_kit
from jigmaker.parts.left_out import left_out_findings
from jigmaker.parts.part import Part
from jigmaker.record import dataclass
from jigmaker.sheets.place import place, refuse_too_large, single_part_sheet
from jigmaker.sheets.sheet import Sheet
from jigmaker.timber.readings import read_timber
from jigmaker.timber.result import TimberResult, timber_result
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.solve import solve


@dataclass(frozen=True, slots=True)
class Plan:
    """A job that can be made: its kit, each part on a sheet of its own, and all pieces placed on the machine's sheets.

    `part_sheets` and `held` go with `kit.parts`, one each, in the same order. `boards`: the cutting plan of the timber,
    empty where no boards are told or they cannot give the batch; saw_kerf_mm: what their saw takes, or a usual one.
    `timber`: what the readings of timber.toml come to.
    """

    job: Job
    shop: Shop
    kit: Kit
    part_sheets: tuple[Sheet, ...]
    sheets: tuple[Sheet, ...]
    cautions: tuple[Finding, ...]
    held: tuple[Holding, ...] = ()
    boards: tuple[SectionPlan, ...] = ()
    timber: TimberResult | None = None
    saw_kerf_mm: float = SAW_KERF_MM


def plan(job: Job, shop: Shop, source: Source) -> Plan:
    """Judge the job, make its kit and place it. Raises JobError with every fault, placed; DoesNotFit; TooNarrow."""
    made = kit_plan(job, shop, source)
    timber = timber_for(made.kit, source)
    boards, short, kerf_mm = boards_for(made.kit, source)
    return replace(
        made,
        part_sheets=alone(made.kit.parts, shop),
        sheets=placed(made.kit.parts, shop),
        boards=boards,
        timber=timber,
        cautions=(*made.cautions, *short),
        saw_kerf_mm=kerf_mm,
    )


def boards_for(kit: Kit, source: Source) -> tuple[tuple[SectionPlan, ...], tuple[Finding, ...], float]:
    """The cutting plan for the boards at hand, a caution for each section that is short of them, and the saw's kerf.

    Raises JobError with the faults of boards.toml.
    """
    if not source.boards_text:
        return (), (), kit.shop.timber_kerf_mm
    unit = kit.trestle.job.unit
    file = read_boards(source.boards_text, unit, source.boards_file, kit.shop.timber_kerf_mm)
    try:
        in_blanks = turns_legs(kit.trestle, kit.shop)
        kinds = piece_kinds(kit.trestle, file.kerf_mm, trial_piece_mm(kit.trestle, kit.shop), in_blanks)
        return plan_boards(kinds, file, unit), (), file.kerf_mm
    except JobError as error:
        do = "the kit is made without a cutting plan"
        found = (Finding(420, fault, do, part=source.boards_file, severity="caution") for fault in error.faults)
        return (), tuple(found), file.kerf_mm


def timber_for(kit: Kit, source: Source) -> TimberResult | None:
    """What the readings of timber.toml come to, None without it. Raises JobError with the faults of timber.toml."""
    if not source.timber_text:
        return None
    readings = read_timber(source.timber_text, kit.trestle.job, source.timber_file)
    return timber_result(kit.trestle, kit.shop, readings)


def kit_plan(job: Job, shop: Shop, source: Source) -> Plan:
    """The same with nothing placed yet."""
    findings = check_job(job, shop) + layer_findings(shop)
    refuse_errors(findings, source)
    kit = make_kit(solve(job), shop)
    refuse_errors(check_cuttable(kit), source)
    held = holdings(kit.parts, shop.machine)
    return Plan(
        job=job,
        shop=shop,
        kit=kit,
        part_sheets=(),
        sheets=(),
        cautions=(*cautions_in(findings), *left_out_findings(shop), *bridge_findings(held, shop.machine)),
        held=held,
    )


def placed(parts: Sequence[Part], shop: Shop) -> tuple[Sheet, ...]:
    """Nothing for paper, which has no bed: what is larger than the sheet is refused all the same.

    Room for bridges round the parts that have some; round all, where a bridge would end in waste that lies alone."""
    if shop.machine.is_paper:
        refuse_too_large(parts, shop)
        return ()
    bridged = {each.part.slug for each in holdings(parts, shop.machine) if each.bridges}
    sheets = place(parts, shop, bridged)
    are_firm = all(bridges_end_in_one(sheet, shop.machine) for sheet in sheets)
    return sheets if are_firm or not shop.machine.bridges else place(parts, shop)


def alone(parts: Sequence[Part], shop: Shop) -> tuple[Sheet, ...]:
    """Each part on a sheet of its own, of what it is cut from."""
    return tuple(
        replace(single_part_sheet(part, shop.machine.widest_cut_mm), stock=shop.sheet_for(part.slug, part.assembly))
        for part in parts
    )


def compensations(machine: Machine) -> tuple[Compensation, ...]:
    """Which files of whole sheets are written: with the tool's width in the lines, without it, or both; paper: none."""
    if machine.is_paper:
        return ()
    return ("included", "left out") if machine.compensation == "both" else (machine.compensation,)
