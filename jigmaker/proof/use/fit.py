"""The kit cut, assembled, routed and stood on the floor in numbers. mm, degrees."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial

from jigmaker.findings import Finding
from jigmaker.job.job import Job
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.progress import counted, tell
from jigmaker.proof.checks.features import feature_findings
from jigmaker.proof.checks.measured import LeftOut, MeasuredPart, Unmeasured, missing_finding
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.sheets import sheet_findings
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.checks.wood import simple_findings, wood_findings
from jigmaker.proof.records import CutPart, Folder
from jigmaker.proof.use.assemble import assembly_findings
from jigmaker.proof.use.bevels import bevel_budgets, bevel_findings
from jigmaker.proof.use.blocks import coupon_findings, foot_block_findings, pad_findings, taper_findings
from jigmaker.proof.use.declared_settings import bolt_findings, setting_findings
from jigmaker.proof.use.drilling_template import template_as_cut, template_findings
from jigmaker.proof.use.gauges import (
    KitAsCut,
    brace_template_findings,
    budgets,
    depth_gauge_findings,
    housing_plug_findings,
    leg_gauge_findings,
    projection_gauge_findings,
)
from jigmaker.proof.use.housing_saw import HandGuides, guide_findings, guides_as_cut, sawn_housings
from jigmaker.proof.use.jig import JigAsCut, jig_as_cut
from jigmaker.proof.use.leg_box import box_as_cut, leg_box_findings
from jigmaker.proof.use.leg_cradle import cradle_as_cut, leg_cradle_findings
from jigmaker.proof.use.rout import RoutedHousing, needed_projection, once_each, rout_housings
from jigmaker.proof.use.stand import number_findings, size_findings, stand_findings
from jigmaker.proof.use.wedges import wedge_findings
from jigmaker.proof.use.wrong_way import wrong_way_findings
from jigmaker.proof.words.known_facts import KitFacts, KnownFacts
from jigmaker.proof.words.known_hand_work import HandJigs
from jigmaker.proof.words.known_number import kit_number_findings
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class FitFigures:
    """What a report gives: every housing as routed with the leg in it, the jig as it goes together, and what the
    machine's accuracy can make of it, a sentence each. `files_cut`: how many pieces were cut in numbers, by all files.
    `work`: how housings were made in numbers, "routed", "sawn" or both. `known`: what words on parts and papers must
    say, by name; empty where that cannot be measured.
    """

    housings: tuple[RoutedHousing, ...]
    tilt_deg: float
    standoff_mm: float
    projection_mm: float
    budgets: tuple[str, ...]
    files_cut: int
    work: str
    known: KnownFacts

    @property
    def smallest_gap_mm(self) -> float:
        """Between any leg and a wall of its housing; below 0 when it does not go in."""
        return min((min(h.near_gap_mm, h.far_gap_mm) for h in self.housings), default=0.0)


def prove_fit(folder: Folder, before: CutBefore | None = None) -> tuple[list[Finding], FitFigures | None]:
    """Everything from the cut to the standing trestle. Figures are None when the jig could not be measured.

    `before` remembers pieces cut, also for another folder: they are not cut again, and what was wrong with them is not
    reported again. Never raises for what a folder holds: what cannot be measured is a finding.
    """
    figures: list[FitFigures] = []
    findings = once_each(fit_findings(folder, CutBefore() if before is None else before, figures))
    return findings, figures[0] if figures else None


def fit_findings(folder: Folder, before: CutBefore, figures: list[FitFigures]) -> Iterator[Finding]:
    """The findings of `prove_fit` as they are met, some twice: a caller can stop at one. Figures go into the list."""
    parts, findings = cut_parts(folder, before)
    yield from findings
    on_sheets: list[CutPart] = []
    yield from _checked(lambda: sheet_findings(folder, before, on_sheets))
    yield from kit_number_findings(folder.kit)
    if not folder.kit.is_whole:
        return
    # What is put together is what comes off the machine, wherever there are lines with the tool's width in them.
    parts = as_machined(parts, on_sheets)
    kit, jig = _measured(folder, parts)
    guides, routs = guides_as_cut(folder, parts), folder.shop.routs_housings
    for part in kit.parts.values():
        yield from _checked(partial(feature_findings, part))
    yield from _checked(lambda: simple_findings(folder.kit.parts))
    if routs:
        tell("proving the jig")
        for of_jig in (assembly_findings, wood_findings, setting_findings, bolt_findings):
            yield from _checked(partial(of_jig, jig))
        yield from _checked(lambda: _use_findings(folder, jig, kit, len(parts), figures))
    if guides:
        tell("proving the saw guides")
        yield from _checked(partial(guide_findings, guides))
        yield from _checked(partial(wrong_way_findings, guides))
        yield from _checked(lambda: _use_findings(folder, guides, kit, len(parts), [] if routs else figures))
    box = box_as_cut(folder, parts)
    if box:
        tell("proving the leg box")
        yield from _checked(partial(leg_box_findings, box))
    cradle = cradle_as_cut(folder, parts)
    if cradle:
        tell("proving the sloping cradle")
        yield from _checked(partial(leg_cradle_findings, cradle))
    template = template_as_cut(folder, parts)
    if template:
        yield from _checked(partial(template_findings, template))
    yield from _checked(lambda: wedge_findings(kit, jig, guides))
    # Each by itself: what one cannot measure does not keep the next from being measured.
    for check in counted("proving gauges", _GAUGES):
        yield from _checked(partial(check, kit))
    if folder.kit.number >= KIT_NUMBER:
        facts = KitFacts(kit, jig, folder.kit, HandJigs(guides, box, cradle, template))
        yield from _checked(lambda: mark_findings(facts))
        figures[:] = [replace(each, known=facts.known_or_none()) for each in figures]


_GAUGES: tuple[Callable[[KitAsCut], Iterable[Finding]], ...] = (
    leg_gauge_findings,
    housing_plug_findings,
    depth_gauge_findings,
    brace_template_findings,
    bevel_findings,
    foot_block_findings,
    pad_findings,
    taper_findings,
    coupon_findings,
)


def _use_findings(
    folder: Folder, made: JigAsCut | HandGuides, kit: KitAsCut, files_cut: int, figures: list[FitFigures]
) -> Iterator[Finding]:
    """The housings routed or sawn, the trestle stood, the projection gauge; figures are put into the list."""
    jig = made if isinstance(made, JigAsCut) else None
    projection = needed_projection(jig) if jig else None
    if projection is not None:
        yield from _checked(lambda: projection_gauge_findings(kit, projection))
    yield from number_findings(folder.job, folder.numbers, jig)

    def housings_of(job: Job) -> tuple[list[RoutedHousing], list[Finding]]:
        return rout_housings(replace(made, job=job)) if isinstance(made, JigAsCut) else sawn_housings(made.of_job(job))

    housings, findings = rout_housings(made) if isinstance(made, JigAsCut) else sawn_housings(made)
    yield from findings
    yield from stand_findings(folder.job, folder.numbers, housings)
    yield from size_findings(folder.job, folder.numbers, housings_of)
    lines = budgets(kit, projection)
    try:
        lines += bevel_budgets(kit)
    except Unmeasured as error:
        yield error.finding
    tilt_deg, standoff_mm = (jig.tilt_deg, jig.standoff_mm) if jig else (0.0, 0.0)
    ways = ("routed", folder.shop.routs_housings), ("sawn", folder.shop.saws_housings)
    work = " and ".join(word for word, is_so in ways if is_so)
    found = FitFigures(tuple(housings), tilt_deg, standoff_mm, projection or 0.0, tuple(lines), files_cut, work, {})
    figures.append(found)


def as_measured(folder: Folder) -> tuple[KitAsCut, JigAsCut]:
    """The parts by their own files, and the jig that they make."""
    return _measured(folder, cut_parts(folder, CutBefore())[0])


def _measured(folder: Folder, parts: Sequence[CutPart]) -> tuple[KitAsCut, JigAsCut]:
    # Of each part the first of its files: what is wrong with the others was found when they were cut.
    first: dict[str, MeasuredPart] = {}
    for part in parts:
        first.setdefault(part.declared.slug, MeasuredPart(part))
    kit = KitAsCut(folder.job, folder.shop, first, folder.kit.number, folder.saw_kerf_mm)
    return kit, jig_as_cut(folder, parts)


def as_machined(own: Sequence[CutPart], on_sheets: Sequence[CutPart]) -> list[CutPart]:
    """The parts by their own files and off the sheets, what was cut with the tool's width in its lines first.

    So that what is put together is what comes off the machine, wherever there are lines for it.
    """
    return sorted([*own, *on_sheets], key=lambda cut: not cut.is_machined)


def _checked(check: Callable[[], Iterable[Finding]]) -> Iterator[Finding]:
    """A check's findings; where it cannot go on, why."""
    from shapely.errors import GEOSException

    try:
        yield from check()
    except LeftOut:
        pass
    except Unmeasured as error:
        yield error.finding
    # Outlines that a folder may hold can be such that no line through them has a length or a direction.
    except (ArithmeticError, GEOSException) as error:
        yield missing_finding("", f"a part's lines cannot be measured: {str(error)[:80]}")
