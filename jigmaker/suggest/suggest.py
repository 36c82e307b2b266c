"""From what a trestle is for and the boards at hand to a job that can be made: Wish and Shop in, Suggestion out.

Every choice carries its reason. Timber frame; mm, degrees off the level. What the user gave stays as given; inset,
length and splay are moved until the checks of the trestle and of its jig pass.
"""

from collections.abc import Iterator
from dataclasses import replace

from jigmaker.errors import DoesNotFit, JobError, OutOfRange, UsageError
from jigmaker.findings import Finding, cautions_in, errors_in
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.job import MOST_OUT_MM, Job, Size
from jigmaker.job.shop import Shop
from jigmaker.levelling.trim import least_trim, trim_to_leave_mm
from jigmaker.parts.check import check_kit
from jigmaker.record import dataclass
from jigmaker.suggest.draft import INSET_MM, DraftWish, Move, TrestleDraft
from jigmaker.suggest.height import choose_height, door_finding, height_findings, saw_finding, trip_findings
from jigmaker.suggest.reasons import reasons_of, trim_reason
from jigmaker.suggest.sections import Sections, choices, passed_over
from jigmaker.suggest.wish import Wish
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve, solve_sizes
from jigmaker.trestle.stance import LEAST_OUT_MM
from jigmaker.units import Unit, length_mm, length_text, round_to_step

LENGTH_MM: dict[Unit, float] = {"mm": 900.0, "in": length_mm(36, "in")}
LENGTH_STEP_MM: dict[Unit, float] = {"mm": 100.0, "in": length_mm(4, "in")}
SHORTEST_MM = 400.0
LENGTHS, INSETS, SPLAYS = 7, 9, 4
"""So many lengths, insets and splays are tried, each a step more than the one before."""

OUT_OF_REACH = {201}
"""The one fault, a cutter too short for the housing's depth, that a leg which stands prouder can cure."""

PROUDER_MM: dict[Unit, float] = {"mm": 2.0, "in": length_mm(1 / 16, "in")}

MOVED_CODES = {311, 314, 402, 404, 405, 407, 408}
"""Faults that a larger inset, a longer top or a steeper splay can cure; any other needs other boards."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A job that make accepts in the shop it was suggested for; reasons by dotted key of the job file ("top.width").

    `findings` are cautions only: those of the height and the way it stands, then those of the job's own checks.
    `passed_over` tells of each board at hand that did not become legs, and why.
    """

    job: Job
    reasons: dict[str, str]
    findings: tuple[Finding, ...]
    passed_over: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Judged:
    """A draft without a fault, and the cautions of its checks."""

    draft: TrestleDraft
    cautions: tuple[Finding, ...]


@dataclass(frozen=True)
class _Search:
    """The search for a trestle that is as wished and can be made in this shop."""

    wish: Wish
    shop: Shop

    def fitted(self, sections: Sections) -> _Judged:
        """The first draft without a fault. Raises what is against the first of them: DoesNotFit or OutOfRange."""
        # What is told in the end is what speaks against the first draft, the one that was wanted most: what the moves
        # ran into after it says nothing to the user. A fault that no move can cure ends the search.
        against: JobError | None = None
        for move in self.moves():
            try:
                draft, found = self.told_of(sections, move)
            except OutOfRange as error:
                against = against or error
                continue
            if not errors_in(found):
                return _Judged(draft, tuple(cautions_in(found)))
            faults = errors_in(found)
            against = against or DoesNotFit([fault.sentence(fault.key.partition(" ")[2]) for fault in faults])
            if not {fault.code for fault in faults} <= MOVED_CODES:
                break
        assert against is not None, "there is always a move"
        raise against

    def told_of(self, sections: Sections, move: Move) -> tuple[TrestleDraft, list[Finding]]:
        """The draft of a move and what is told of it; legs stand as much prouder as the router's reach asks for."""
        # Drawn twice: how much wood levelling takes off the feet follows from the trestle, and is part of it then. A
        # cutter that is too short is met by legs that stand a step prouder, until it reaches, or until a further step
        # makes no other housing: the reveal has come to its limit.
        while True:
            draft = DraftWish(self.wish, sections, move).draft()
            trim = trim_to_leave_mm(least_trim(solve(draft.job), self.shop), self.wish.unit)
            draft = DraftWish(self.wish, sections, move, trim).draft()
            trestle = solve(draft.job)
            told = check_trestle(trestle)
            if not errors_in(told):
                told += check_kit(trestle, self.shop)
            is_short = {fault.code for fault in errors_in(told)} == OUT_OF_REACH
            prouder = replace(move, prouder_mm=move.prouder_mm + PROUDER_MM[self.wish.unit])
            if not is_short or DraftWish(self.wish, sections, prouder).draft().job.housing == draft.job.housing:
                return draft, told
            move = prouder

    def moves(self) -> Iterator[Move]:
        """Moves from the usual length, inset and splay on, nearest first; what the user gave is not moved."""
        # Where a foot spread along it would put the feet too near or too far out, the length that puts them out as
        # usual.
        first, inset_mm = LENGTH_MM[self.wish.unit], INSET_MM[self.wish.unit]
        if (spread := self.wish.spread_along_mm) is not None and not (
            LEAST_OUT_MM <= (spread - first) / 2 + inset_mm <= MOST_OUT_MM
        ):
            fitting = spread - 2 * ((LEAST_OUT_MM + MOST_OUT_MM) / 2 - inset_mm)
            first = max(SHORTEST_MM, round_to_step(fitting, self.wish.unit))
        # The inset is moved first, for it shows least; then the length; steeper legs come last.
        lengths = [first + i * LENGTH_STEP_MM[self.wish.unit] for i in range(LENGTHS)]
        is_free = self.wish.splay is None and self.wish.spread_across_mm is None
        for steeper in range(SPLAYS if is_free else 1):
            for length in [self.wish.top_length_mm] if self.wish.top_length_mm is not None else lengths:
                for inset in range(INSETS):
                    yield Move(length, inset, 2.0 * steeper)

    def suggestion(self, judged: _Judged, passed: tuple[str, ...]) -> Suggestion:
        """The draft as it is, and further sizes with its angles; all keep the trim of the one that needs most."""
        draft, job = judged.draft, judged.draft.job
        if any(abs(height_mm - job.height_mm) < TOUCH_MM for height_mm in self.wish.other_heights_mm):
            same = length_text(job.height_mm, self.wish.unit)
            raise UsageError(f"--other-heights: {same} is the height that the first size has already; leave it out")
        others = tuple(Size(job.trestles, height_mm, job.top.length_mm) for height_mm in self.wish.other_heights_mm)
        job = replace(job, further_sizes=others)
        trim = max((least_trim(size, self.shop) for size in solve_sizes(job)), key=lambda trim: trim.likely_mm)
        job = replace(job, leg=replace(job.leg, trim_mm=trim_to_leave_mm(trim, self.wish.unit)))
        trestle = solve(job)
        saw = self.wish.height.saw_mm
        found = (
            *height_findings(draft.height, self.wish.height.meant_for, self.wish.unit),
            None if saw is None else saw_finding(job.height_mm, saw, self.wish.unit),
            *trip_findings(trestle),
            door_finding(trestle, self.wish.door_mm),
            *judged.cautions,
            *fixings(trestle).findings,
        )
        told = tuple(finding for finding in found if finding is not None)
        reasons = {**reasons_of(self.wish, draft), "leg.trim": trim_reason(trim, self.wish.unit)}
        return Suggestion(job, reasons, told, passed)


def suggest(wish: Wish, shop: Shop) -> Suggestion:
    """The first choice of boards, inset, length and splay that can be made.

    Raises DoesNotFit with what is against the best choice when none can; OutOfRange for a wish that no trestle has.
    """
    if wish.piece_mm is None:
        choose_height(wish.height, wish.unit)  # its refusal has nothing to do with boards
    against: JobError | None = None
    refused: dict[str, str] = {}
    search = _Search(wish, shop)
    for sections in choices(wish.boards, wish.unit):
        try:
            judged = search.fitted(sections)
        except JobError as error:
            against = against or error
            refused.setdefault(sections.leg.board, error.faults[0])
            continue
        return search.suggestion(judged, passed_over(wish.boards, sections.leg, refused, wish.unit))
    assert against is not None, "there is always a choice of boards"
    if isinstance(against, DoesNotFit):
        named = "these boards" if wish.boards else "boards of usual sizes"
        raise DoesNotFit([f"no trestle comes out of {named} as asked:", *against.faults])
    raise against
