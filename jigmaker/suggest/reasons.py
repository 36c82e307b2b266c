"""Why each figure of a suggestion is what it is: a wish and its draft in, a sentence by dotted key of the job file out.

Lengths in the sentences are in the unit the user reads.
"""

from jigmaker.job.job import LEAN_ONE_IN, MOST_OUT_MM, lean_for
from jigmaker.levelling.trim import Trim
from jigmaker.suggest.draft import TrestleDraft
from jigmaker.suggest.uses import COMMON_PRACTICE, about_text, band_text
from jigmaker.suggest.wish import Wish
from jigmaker.trestle.check import WANTED_BETWEEN_MM, WANTED_END_WOOD_MM
from jigmaker.trestle.foot import throws_mm
from jigmaker.trestle.solve import solve
from jigmaker.units import Unit, length_text


def reasons_of(wish: Wish, draft: TrestleDraft) -> dict[str, str]:
    """A sentence for every value that was suggested or worked out."""
    sections, job, move = draft.sections, draft.job, draft.move
    angles = []
    leans = (wish.rake, wish.spread_along_mm, "along"), (wish.splay, wish.spread_across_mm, "across")
    for (lean, spread_mm, way), throw in zip(leans, throws_mm(job), strict=True):
        if lean is not None:
            angles.append(lean.told)
        elif spread_mm is not None:
            angles.append(f"from a foot spread of {length_text(spread_mm, wish.unit)} {way} the board")
        else:
            is_steeper = way == "across" and move.steeper_deg
            steeper = "; steeper, or the housing would run out of the board's edge" if is_steeper else ""
            angles.append(_usual_angle(draft, throw) + steeper)
    leg, between = (about_text(mm, job.unit) for mm in (job.leg.thickness_mm, WANTED_BETWEEN_MM))
    reveal = (
        f"legs {leg} thick let in whole would leave too little wood between opposite housings: {between} or, if that "
        f"cannot be, 12 mm stays ({COMMON_PRACTICE})"
    )
    if move.prouder_mm:
        reveal = f"a leg {leg} thick let in whole would be deeper than the hand router's cutter reaches"
    return {
        "trestle.height": draft.height.reason,
        "trestle.rake_deg": angles[0],
        "trestle.splay_deg": angles[1],
        **_along_the_board(wish, draft),
        "top.width": sections.top.why,
        "leg.width": sections.leg.why,
        "brace.depth": sections.brace.why,
        "housing.clearance": f"the leg goes in by hand and the glue stays thin ({COMMON_PRACTICE})",
        **({"housing.reveal": reveal} if job.housing.reveal_mm else {}),
    }


def _usual_angle(draft: TrestleDraft, throw_mm: float) -> str:
    job = draft.job
    one_in, _ = lean_for(job.height_mm, job.housing.reveal_mm)
    out, most = (about_text(mm, job.unit) for mm in (throw_mm, MOST_OUT_MM))
    slopes = ", ".join(f"1 in {n}" for n in LEAN_ONE_IN)
    return (
        f"about 1 in {one_in}: a foot stands {out} out, and of {slopes} the first is taken that keeps it within {most} "
        f"(1 in 4 and 1 in 6 are published, 1 in 5 is {COMMON_PRACTICE})"
    )


def _along_the_board(wish: Wish, draft: TrestleDraft) -> dict[str, str]:
    """Why the housings are so far from the board's end, and the board is so long."""
    job, trestle = draft.job, solve(draft.job)
    wood = about_text(trestle.housing.start_bottom_mm, job.unit)
    wanted = about_text(WANTED_END_WOOD_MM, job.unit)
    beyond = throws_mm(job)[0] - job.inset_mm
    over = f"reach {about_text(beyond, job.unit)} beyond it" if beyond > 0 else "do not reach beyond it"
    inset = (
        f"{wood} of wood stays between housing and board's end ({wanted} keep it from splitting: {COMMON_PRACTICE}), "
        f"and the feet {over}; a carpentry textbook has 3 1/2 in, a college assessment's saw stool 150 mm"
    )
    usual = band_text(760, 915, wish.unit)
    length = f"{usual} is usual ({COMMON_PRACTICE}); a college assessment's saw stool has 865 mm"
    if wish.top_length_mm is not None:
        length = "as asked"
    elif wish.spread_along_mm is not None and not 760 <= job.top.length_mm <= 915:
        spread = length_text(wish.spread_along_mm, wish.unit)
        length = f"with feet that spread {spread} no usual length would let the legs lean as usual; this one does"
    return {"trestle.inset": inset, "top.length": length}


def trim_reason(trim: Trim, unit: Unit) -> str:
    """Why so much wood is left on the feet."""
    likely, worst = (length_text(mm, unit, 1) for mm in (trim.likely_mm, trim.worst_mm))
    return (
        f"levelling takes it off: {likely} keep the whole batch at the job's height in 19 of 20 batches, {worst} with "
        "every error at its limit; legs pressed along their near walls while they are fixed"
    )
