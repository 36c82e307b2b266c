"""A Plan in, trestle, jig, timber and parts out as named STEP bytes, mm; for a folder of their own.

Not among the files that make writes: the kernel is an extra of 400 MB.
"""

from jigmaker.making.naming import part_stem
from jigmaker.making.plan import Plan
from jigmaker.parts.models import kit_models
from jigmaker.progress import tell
from jigmaker.writers.step import write_step


def step_files(plan: Plan) -> dict[str, bytes]:
    """Files by name: "potting-bench-trestle.step", "parts/potting-bench-mask-foot-cut-4-finished-size.step".

    Parts are called as their DXF and SVG. Raises StepError.
    """
    tell("writing STEP files")
    slug = plan.job.slug
    names = {f"parts/{part.slug}": part_stem(slug, part, "left out", plan.shop) for part in plan.kit.parts}
    models = kit_models(plan.kit)
    # Parts are called as their cut files are; what is put together, and the timber, by the job.
    for name in models.keys() - names.keys():
        folder, cut, last = name.rpartition("/")
        names[name] = f"{folder}{cut}{slug}-{last}"
    return write_step({f"{names[name]}.step": model for name, model in models.items()})
