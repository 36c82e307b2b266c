"""A Plan in, trestle, jig, timber and parts out as named STEP bytes, mm; for a folder of their own.

Not among the files that make writes: the kernel is an extra of 400 MB.
"""

from jigmaker.making.plan import Plan
from jigmaker.parts.models import kit_models
from jigmaker.progress import tell
from jigmaker.writers.step import write_step


def step_files(plan: Plan) -> dict[str, bytes]:
    """Files by name: "potting-bench-trestle.step", "parts/potting-bench-plate.step". Raises StepError."""
    tell("writing STEP files")
    return write_step({_file_name(plan.job.slug, name): model for name, model in kit_models(plan.kit).items()})


def _file_name(slug: str, name: str) -> str:
    folder, cut, last = name.rpartition("/")
    return f"{folder}{cut}{slug}-{last}.step"
