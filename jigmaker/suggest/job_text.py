"""A suggested job in, the text of its job.toml out: every value with the reason for it above its line."""

from jigmaker.job.lines import numbered
from jigmaker.job.templates import Filled, length_in_file, new_job_text
from jigmaker.suggest.suggest import Suggestion
from jigmaker.units import text


def job_text(suggestion: Suggestion) -> str:
    """The text of job.toml, in the job's own unit. Reading it gives the job to a millionth of a mm and of a degree."""
    job = suggestion.job
    lengths = {
        "trestle.height": job.height_mm,
        "trestle.inset": job.inset_mm,
        "top.length": job.top.length_mm,
        "top.width": job.top.width_mm,
        "top.thickness": job.top.thickness_mm,
        "leg.width": job.leg.width_mm,
        "leg.thickness": job.leg.thickness_mm,
        "leg.trim": job.leg.trim_mm,
        "brace.depth": job.brace.depth_mm,
        "brace.thickness": job.brace.thickness_mm,
        "housing.clearance": job.housing.clearance_mm,
        "housing.reveal": job.housing.reveal_mm,
    }
    # Written to a millionth, and what was written is read and judged again before it is told: no rounding here can make
    # a job that was judged good a bad one unseen.
    values = {
        "job.name": job.name,
        "job.units": job.unit,
        "job.trestles": str(job.trestles),
        "trestle.rake_deg": text(job.rake_deg),
        "trestle.splay_deg": text(job.splay_deg),
        **{key: length_in_file(mm, job.unit) for key, mm in lengths.items()},
    }
    filled = {}
    for key, value in values.items():
        reason = suggestion.reasons.get(key, "")
        filled[key] = Filled(value, f"{reason[0].upper()}{reason[1:]}." if reason else "")
    if job.further_sizes:
        # The first size's height stands with the others; trestles and tops are as many and as long as the first's.
        filled["size.height"] = filled.pop("trestle.height")
        for i, size in enumerate(job.further_sizes, 2):
            filled[f"{numbered('size', i)}.height"] = Filled(length_in_file(size.height_mm, job.unit))
    return new_job_text(filled)
