"""An old kit's files and today's job in, what of the kit serves for it out: parts, settings, or why the jig cannot.

The proof is asked twice: what the jig does to today's board, with the settings that today's job wants; and what every
other part measures against today's job. So the answer is that of files that were cut, not of drawings made anew. mm.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from jigmaker.errors import JobError
from jigmaker.findings import Finding, errors_in
from jigmaker.job.shop import HousingWork
from jigmaker.making.job_check import check_job
from jigmaker.making.json_text import json_text
from jigmaker.making.numbers_json import NAME as NUMBERS
from jigmaker.making.numbers_json import all_numbers
from jigmaker.parts.drilling_template import DRILLING_TEMPLATE
from jigmaker.parts.housing_saw.paring_guide import PARING_GUIDE
from jigmaker.parts.housing_saw.saw_guide import SAW_GUIDE
from jigmaker.parts.kit import make_kit
from jigmaker.parts.kit_number import counted_lines
from jigmaker.parts.leg_saw.leg_box import LEG_BOX
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.readers.read_folder import read_folder, read_numbers
from jigmaker.proof.use.fit import FitFigures, prove_fit
from jigmaker.proof.words.known_number import declared_lines, kit_number
from jigmaker.record import dataclass
from jigmaker.trestle.solve import solve

if TYPE_CHECKING:
    from jigmaker.job.job import Job
    from jigmaker.job.shop import Shop
    from jigmaker.parts.part import Part
    from jigmaker.proof.records import Folder

JIG = "housing jig"
_WAYS: tuple[Literal["router"], Literal["saw and chisel"]] = ("router", "saw and chisel")
GUIDES = (SAW_GUIDE, PARING_GUIDE)
FOR_LEGS = (LEG_BOX, LEG_CRADLE, DRILLING_TEMPLATE)
# How the names begin that findings about these have: they say nothing against jig and guides.
_OF_LEGS = ("leg box", "cradle", "sloping cradle", DRILLING_TEMPLATE)

THICKEST_TAPE_MM = 0.5
"""So much tape may lie on a wall of a slot; more gives way under the bush (common practice, no source)."""

THICKEST_PACKER_MM = 40.0
"""A thicker piece between board and stop is no stop any more (common practice, no source)."""

_CRUMB = 0.002
# Codes from here on are about words and figures on parts and papers, which do not cut.
_WORDS = 600


@dataclass(frozen=True, slots=True)
class Change:
    """A setting that is another one today, mm: what it was for the kit's own job, what it is now."""

    name: str
    was_mm: float
    now_mm: float


@dataclass(frozen=True, slots=True)
class Comparison:
    """What of an old kit serves for today's job.

    numbers: the kit's own, worked out from its parts where it was made before kits had one, and that of a kit made for
    today's job in the same shop; where they differ the jig may serve all the same, and the rest says how.
    shop: whose sheet, machine and tools are taken. changes: settings to change. why_not: what speaks against the jig,
    or against the guides of a shop that saws its housings, empty when they serve; guides_not: of these what speaks
    against the guides, where the kit has both; figures: the housings as they come out. serve and again: names of parts,
    without those of jig and guides when these serve; again also those that the kit does not have; idle: parts that
    today's job has no use for.
    """

    made_for: Job
    shop: Shop
    numbers: tuple[str, str]
    changes: tuple[Change, ...]
    why_not: tuple[Finding, ...]
    guides_not: tuple[Finding, ...]
    figures: FitFigures | None
    serve: tuple[str, ...]
    again: tuple[tuple[str, str], ...]
    idle: tuple[str, ...]


def compare(files: Mapping[str, bytes], job: Job, tools: Shop | None = None) -> Comparison:
    """What of the kit in these files serves for the job; with another shop's router, or its saw and chisel.

    Raises JobError when the kit cannot be read, is only some parts of one, or when the job cannot be.
    """
    folder, findings = read_folder(files)  # as the proof reads it
    if folder is None:
        raise JobError([finding.sentence() for finding in errors_in(findings)])
    if not folder.kit.is_whole:
        raise JobError("kit.json: holds some parts of a kit only; name the folder of the whole kit")
    shop = _with_tools(folder.shop, tools) if tools else folder.shop
    if errors := errors_in(check_job(job, shop)):
        raise JobError([finding.sentence() for finding in errors])
    made_for, today = folder.job, make_kit(solve(job), shop)
    shifted, changes = _set_anew(folder, job)
    folder = replace(folder, shop=shop)
    before = CutBefore()
    why_not, guides_not, figures = _served(folder, shifted, changes, before)
    part_findings, _ = _judged(folder, job, (), before)
    names = {part.name: part.slug for part in today.parts}
    wrong = {finding.part for finding in part_findings}
    has = {part.name: part for part in folder.kit.parts}
    # Where the kit has both ways, one may serve without the other.
    served = (*(() if guides_not else GUIDES), *((JIG,) if guides_not == why_not else ()))
    if why_not and not (shop.routs_housings and shop.saws_housings):
        served = ()
    # Else what is wrong is how they go together.
    named = {each.part for each in why_not if each.part in has and each not in guides_not}

    def is_wrong(part: Part) -> bool:
        """Findings about a guide name what it does to the wood: its parts are told by their shapes."""
        if part.assembly in (*GUIDES, *FOR_LEGS):
            return list(declared_lines(has[part.name])) != list(counted_lines(part))
        return part.name in wrong or (part.assembly == JIG and (part.name in named or not named))

    others = [part for part in today.parts if part.assembly not in served]
    again = [part for part in others if part.name not in has or is_wrong(part)]
    return Comparison(
        made_for,
        shop,
        (folder.kit.kit_number or kit_number(folder.kit), today.number),
        changes,
        why_not,
        guides_not,
        figures,
        tuple(part.name for part in others if part not in again),
        tuple((part.name, part.slug) for part in again),
        tuple(name for name in has if name not in names),
    )


def _with_tools(shop: Shop, tools: Shop) -> Shop:
    """The kit's own sheet and machine, for they have cut it, with today's router, saws and chisel as far as it has
    them.
    """
    if tools.routs_housings:
        shop = replace(shop, hand_router=tools.hand_router)
    if tools.hand_saw:
        chisel = tools.chisel or shop.chisel
        shop = replace(shop, hand_saw=tools.hand_saw, chisel=chisel, leg_saw=tools.leg_saw)
    return shop


def _served(
    folder: Folder, job: Job, changes: tuple[Change, ...], before: CutBefore
) -> tuple[tuple[Finding, ...], tuple[Finding, ...], FitFigures | None]:
    """What speaks against jig or guides; of these what speaks against the guides of a kit for both ways; the housings.

    Of such a kit each is judged by itself, as in a shop that works in this way alone.
    """
    has = {part.name: part for part in folder.kit.parts}

    def judged(each: Folder) -> tuple[tuple[Finding, ...], FitFigures | None]:
        found, figures = _judged(each, job, changes, before)
        rest = [finding for finding in found if not finding.part.startswith(_OF_LEGS)]
        return tuple(f for f in rest if f.part not in has or has[f.part].assembly in (JIG, *GUIDES)), figures

    if not (folder.shop.routs_housings and folder.shop.saws_housings):
        why_not, figures = judged(folder)
        return why_not, (), figures
    routed, sawn = (replace(folder.shop, housing_work=HousingWork(by)) for by in _WAYS)
    jig_not, figures = judged(replace(folder, shop=routed))
    guides_not, _ = judged(replace(folder, shop=sawn))
    return (*jig_not, *guides_not), guides_not, figures


def _set_anew(folder: Folder, job: Job) -> tuple[Job, tuple[Change, ...]]:
    """The job as the kit's jig sees it once it is set for it, and what is set otherwise than for the kit's own job.

    A piece between board and stop makes up for a larger inset, tape on a slot's walls for a narrower leg or clearance:
    half of what the clearance is smaller on the near wall, the rest on the far one. A saw guide's cheeks, which stand
    over the good wood, take the same tape.
    """
    # Seen along the board, what a slot that was cut for the old leg makes of the new one:
    #
    #     stop | packer |  near wall |tape|     leg     |tape| far wall
    #                                 near    narrower    far            The bush runs on the tape: closer to the middle
    #                                                                    of the housing, which gets narrower by it.
    #
    # Depth is set on the router: thicker legs, or less reveal, want the cutter so much farther out.
    was, changes = folder.job, list[Change]()
    depth = job.leg.thickness_mm - job.housing.reveal_mm - was.leg.thickness_mm + was.housing.reveal_mm
    told = next((value for name, value, _ in folder.kit.settings if name == "projection"), None)
    if told is not None and abs(depth) > _CRUMB:
        changes.append(Change("projection", told, told + depth))
    packer = job.inset_mm - was.inset_mm
    if _CRUMB < packer <= THICKEST_PACKER_MM:
        job = replace(job, inset_mm=was.inset_mm)
        changes.append(Change("piece between board and stop", 0.0, packer))
    near = (was.housing.clearance_mm - job.housing.clearance_mm) / 2
    far = was.leg.width_mm - job.leg.width_mm + near
    if min(near, far) > -_CRUMB and _CRUMB < max(near, far) <= THICKEST_TAPE_MM:
        housing = replace(job.housing, clearance_mm=was.housing.clearance_mm)
        job = replace(job, leg=replace(job.leg, width_mm=was.leg.width_mm), housing=housing)
        wall = "wall" if folder.shop.routs_housings else "cheek"
        walls = ((f"tape on the near {wall}", near), (f"tape on the far {wall}", far))
        changes += [Change(name, 0.0, thick) for name, thick in walls if thick > _CRUMB]
    return job, tuple(changes)


def _judged(
    folder: Folder, job: Job, changes: tuple[Change, ...], before: CutBefore
) -> tuple[list[Finding], FitFigures | None]:
    """What the kit's files do to this job, its numbers worked out anew and the settings set as the changes say: errors,
    but for words. before: pieces that were cut already.
    """
    # The proof holds files to the numbers and settings that stand beside them: those of today's job take their place.
    numbers = read_numbers({NUMBERS: json_text(all_numbers(solve(job), folder.shop))}, [])
    now = {change.name: change.now_mm for change in changes}
    settings = tuple((name, now.get(name, value), unit) for name, value, unit in folder.kit.settings)
    kit = replace(folder.kit, settings=settings)
    found, figures = prove_fit(replace(folder, job=job, numbers=numbers, kit=kit), before)
    return [finding for finding in errors_in(found) if finding.code < _WORDS], figures
