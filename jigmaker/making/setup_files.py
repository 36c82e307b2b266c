"""A Plan in, the set-up sheets out as one PDF on the shop's paper and one HTML file, as named bytes."""

from jigmaker.making.plan import Plan
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf


def setup_files(plan: Plan) -> dict[str, bytes]:
    """The same pages twice: to print, and for a telephone or screen."""
    document = setup_document(Bench(plan.kit, plan.sheets))
    stem = f"papers/{plan.job.slug}-set-up-sheets"
    return {f"{stem}.pdf": write_pdf(document, plan.shop.paper.page_mm), f"{stem}.html": write_html(document)}
