"""A Plan in, the notes out as PDF on the shop's paper and as HTML, as named bytes."""

from jigmaker.making.plan import Plan
from jigmaker.papers.bench import Bench
from jigmaker.papers.notes_pages import notes_document
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf


def notes_files(plan: Plan) -> dict[str, bytes]:
    """The same pages twice."""
    document = notes_document(Bench(plan.kit, plan.sheets))
    stem = f"papers/{plan.job.slug}-notes"
    return {f"{stem}.pdf": write_pdf(document, plan.shop.paper.page_mm), f"{stem}.html": write_html(document)}
