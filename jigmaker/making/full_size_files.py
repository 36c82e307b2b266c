"""A Plan in, the templates at full size out as named bytes: one PDF in working order, on the paper in the printer."""

from jigmaker.making.plan import Plan
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.writers.pdf_printer_pages import write_printer_pages_pdf

ENDING = "-full-size"


def full_size_files(plan: Plan) -> dict[str, bytes]:
    """One file by name, "papers/potting-bench-full-size.pdf". Same plan, same bytes."""
    pages = [page for group in full_size_set(plan.kit).values() for page in group]
    data = write_printer_pages_pdf(pages, f"{plan.job.name}: templates at full size")
    return {f"papers/{plan.job.slug}{ENDING}.pdf": data}
