"""A Plan in, the cut list out as PDF on the shop's paper, HTML and CSV, as named bytes."""

from jigmaker.drawing.page import Document
from jigmaker.making.plan import Plan
from jigmaker.papers.bench import Bench
from jigmaker.papers.cut_list_page import cut_list_page, cut_list_rows
from jigmaker.writers.csv_rows import write_csv
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf


def cut_list_files(plan: Plan) -> dict[str, bytes]:
    """To print, to look at, and to reckon with."""
    bench = Bench(plan.kit, plan.sheets)
    document = Document(f"{plan.job.name}: cut list", (cut_list_page(bench),))
    stem = f"papers/{plan.job.slug}-cut-list"
    return {
        f"{stem}.pdf": write_pdf(document, plan.shop.paper.page_mm),
        f"{stem}.html": write_html(document),
        f"{stem}.csv": write_csv(cut_list_rows(bench)),
    }
