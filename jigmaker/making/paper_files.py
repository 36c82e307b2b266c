"""A Plan and the proof's Report in, everything that is read on paper or telephone out as named bytes.

The index follows the proof, because it tells its verdict, and kit.json is written last, because it lists them all.
"""

from collections.abc import Callable, Mapping, Sequence

from jigmaker.drawing.page import Document
from jigmaker.making import kit_json
from jigmaker.making.cut_files import ways_cut
from jigmaker.making.index_file import NAME as INDEX
from jigmaker.making.index_file import index_figures, index_file
from jigmaker.making.naming import FULL_SIZE
from jigmaker.making.plan import Plan
from jigmaker.making.proof_json import NAME as PROOF
from jigmaker.making.proof_json import proof_json
from jigmaker.papers.bench import Bench, Shown, foot_of
from jigmaker.papers.boards_page import board_rows, boards_document
from jigmaker.papers.cut_list_page import cut_list_page, cut_list_rows
from jigmaker.papers.drawings.drawing_set import drawing_set
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.papers.notes_pages import notes_document
from jigmaker.papers.setup_sheets.document import class_document, setup_document
from jigmaker.papers.timber_page import timber_document
from jigmaker.progress import tell
from jigmaker.proof.prove import Report
from jigmaker.writers.csv_rows import write_csv
from jigmaker.writers.dxf_drawing import write_drawing_dxf
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf
from jigmaker.writers.pdf_pictures import write_picture_pdf
from jigmaker.writers.pdf_printer_pages import write_printer_pages_pdf
from jigmaker.writers.svg import write_svg


def setup_files(plan: Plan) -> dict[str, bytes]:
    """The set-up sheets, a page an operation."""
    return _pages(plan, "set-up-sheets", setup_document(Bench(plan.kit, plan.sheets, ways_cut(plan), plan.timber)))


def cut_list_files(plan: Plan) -> dict[str, bytes]:
    """The cut list, also as rows for a spreadsheet."""
    bench = Bench(plan.kit, plan.sheets, saw_kerf_mm=plan.saw_kerf_mm)
    files = _pages(plan, "cut-list", Document(f"{plan.job.name}: cut list", (cut_list_page(bench),), foot_of(bench)))
    return files | {f"papers/{plan.job.slug}-cut-list.csv": write_csv(cut_list_rows(bench))}


def boards_files(plan: Plan) -> dict[str, bytes]:
    """The cutting plan of the boards, also as rows; nothing where no boards were told."""
    if not plan.boards:
        return {}
    files = _pages(plan, "boards", boards_document(Bench(plan.kit, plan.sheets), plan.boards))
    return files | {f"papers/{plan.job.slug}-boards.csv": write_csv(board_rows(plan.boards, plan.job.unit))}


def timber_files(plan: Plan) -> dict[str, bytes]:
    """Where every leg goes, and what to expect of the batch; nothing where no timber was measured."""
    return _pages(plan, "timber", timber_document(plan.timber)) if plan.timber else {}


def class_files(plan: Plan) -> dict[str, bytes]:
    """For a class: a page to copy, a check slip and the teacher's answers; nothing unless they are asked for."""
    if not plan.shop.papers.handout:
        return {}
    bench = Bench(plan.kit, plan.sheets, ways_cut(plan), plan.timber, plan.saw_kerf_mm)
    return _pages(plan, "class", class_document(bench))


def notes_files(plan: Plan) -> dict[str, bytes]:
    """What matters, what else the plate does, how a trestle stands."""
    return _pages(plan, "notes", notes_document(Bench(plan.kit, plan.sheets)))


def drawing_files(plan: Plan) -> dict[str, bytes]:
    """The dimensioned drawings: each as DXF at real size, as SVG and as PDF on its paper."""
    files: dict[str, bytes] = {}
    for name, picture in drawing_set(plan.kit).items():
        stem = f"papers/drawings/{plan.job.slug}-{name}"
        files[f"{stem}.dxf"] = write_drawing_dxf(picture, plan.job.unit)
        files[f"{stem}.svg"] = write_svg(picture)
        files[f"{stem}.pdf"] = write_picture_pdf(picture)
    return files


def full_size_files(plan: Plan) -> dict[str, bytes]:
    """The templates at full size: one PDF in working order, on the paper in the printer."""
    pages = [page for group in full_size_set(plan.kit).values() for page in group]
    data = write_printer_pages_pdf(pages, f"{plan.job.name}: templates at full size")
    return {f"papers/{plan.job.slug}{FULL_SIZE}.pdf": data}


PaperMaker = Callable[[Plan], Mapping[str, bytes]]
Papers = Mapping[PaperMaker, Mapping[str, bytes]]
"""The files of each paper."""

PAPERS: tuple[PaperMaker, ...] = (
    setup_files,
    cut_list_files,
    boards_files,
    timber_files,
    class_files,
    notes_files,
    drawing_files,
    full_size_files,
)
"""What is written beside the cut files; a new paper is one line here."""


BESIDE = (setup_files, drawing_files, full_size_files)
"""Those that take longest; none of them needs the cut files or the proof."""


def papers_beside(plan: Plan) -> tuple[Papers, tuple[Shown, ...]]:
    """What may be made while the cut files are written and proved: the papers of BESIDE, and the index's pictures."""
    asked = [make for make in PAPERS if make in BESIDE]
    return _papers(plan, asked, first=len(PAPERS) - len(asked) + 1), index_figures(plan)


def with_papers(
    plan: Plan,
    report: Report,
    files: Mapping[str, bytes],
    beside: Callable[[], tuple[Papers, tuple[Shown, ...]]] | None = None,
) -> dict[str, bytes]:
    """The proved files with the papers, proof.json and a kit.json that lists them all (proof.json alone excepted).

    `beside` gives what papers_beside does, which is asked without it.
    """
    here = _papers(plan, [make for make in PAPERS if make not in BESIDE])
    there, figures = beside() if beside else papers_beside(plan)
    papers = {**here, **there}
    others = {name: data for name, data in files.items() if name != kit_json.NAME}
    others |= {name: data for make in PAPERS for name, data in papers[make].items()}
    others[INDEX] = index_file(plan, report, (*others, kit_json.NAME, PROOF), figures)
    kit = kit_json.relisted(files[kit_json.NAME], others)
    return {kit_json.NAME: kit, **others, PROOF: proof_json(report)}


def _papers(plan: Plan, asked: Sequence[PaperMaker], first: int = 1) -> Papers:
    """Some papers, the watcher told of the first of them as number `first` of all."""
    made = {}
    for number, make in enumerate(asked, first):
        tell("papers", number, len(PAPERS))
        made[make] = make(plan)
    return made


def _pages(plan: Plan, name: str, document: Document) -> dict[str, bytes]:
    """The same pages twice: to print on the shop's paper, and for a telephone or a screen."""
    stem = f"papers/{plan.job.slug}-{name}"
    return {f"{stem}.pdf": write_pdf(document, plan.shop.paper.page_mm), f"{stem}.html": write_html(document)}
