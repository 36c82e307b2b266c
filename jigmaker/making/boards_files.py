"""A Plan in, the cutting plan of its boards out as PDF on the shop's paper, HTML and CSV, as named bytes."""

from jigmaker.making.plan import Plan
from jigmaker.papers.bench import Bench
from jigmaker.papers.boards_page import board_rows, boards_document
from jigmaker.writers.csv_rows import write_csv
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf


def boards_files(plan: Plan) -> dict[str, bytes]:
    """To print, to look at, and for a spreadsheet; nothing where no boards were told."""
    if not plan.boards:
        return {}
    document = boards_document(Bench(plan.kit, plan.sheets), plan.boards)
    stem = f"papers/{plan.job.slug}-boards"
    return {
        f"{stem}.pdf": write_pdf(document, plan.shop.paper.page_mm),
        f"{stem}.html": write_html(document),
        f"{stem}.csv": write_csv(board_rows(plan.boards, plan.job.unit)),
    }
