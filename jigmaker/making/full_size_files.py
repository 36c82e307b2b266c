"""A Plan in, the templates at full size out as named bytes: one PDF a group, on the paper in the shop's printer."""

from jigmaker.making.plan import Plan
from jigmaker.papers.full_size.full_size_set import GROUPS, full_size_set
from jigmaker.writers.pdf_printer_pages import write_printer_pages_pdf

FOLDER = "papers/full-size/"


def full_size_files(plan: Plan) -> dict[str, bytes]:
    """Files by name: "papers/full-size/potting-bench-full-size-plate.pdf". Same plan, same bytes."""
    slug, job = plan.job.slug, plan.job.name
    return {
        f"{FOLDER}{slug}-full-size-{name}.pdf": write_printer_pages_pdf(pages, f"{job}: {GROUPS[name].title}")
        for name, pages in full_size_set(plan.kit).items()
    }
