"""A Plan and the judge's Report in, everything that is read on paper or telephone out as named bytes.

Papers follow the proof, because the index tells its verdict, and kit.json is written last, because it lists them.
"""

from collections.abc import Callable, Mapping

from jigmaker.making import kit_json
from jigmaker.making.boards_files import boards_files
from jigmaker.making.cut_list_files import cut_list_files
from jigmaker.making.drawing_files import drawing_files
from jigmaker.making.full_size_files import full_size_files
from jigmaker.making.index_file import NAME as INDEX
from jigmaker.making.index_file import index_file
from jigmaker.making.notes_files import notes_files
from jigmaker.making.plan import Plan
from jigmaker.making.proof_json import NAME as PROOF
from jigmaker.making.proof_json import proof_json
from jigmaker.making.setup_files import setup_files
from jigmaker.progress import counted
from jigmaker.proof.prove import Report

PaperMaker = Callable[[Plan], Mapping[str, bytes]]

PAPERS: tuple[PaperMaker, ...] = (
    setup_files,
    cut_list_files,
    boards_files,
    notes_files,
    drawing_files,
    full_size_files,
)
"""What is written beside the cut files; a new paper is one line here."""


def with_papers(plan: Plan, report: Report, files: Mapping[str, bytes]) -> dict[str, bytes]:
    """The proved files with the papers, proof.json and a kit.json that lists them all (proof.json alone excepted)."""
    papers = {name: data for make in counted("papers", PAPERS) for name, data in make(plan).items()}
    others = {name: data for name, data in files.items() if name != kit_json.NAME} | papers
    others[INDEX] = index_file(plan, report, (*others, kit_json.NAME, PROOF))
    kit = kit_json.relisted(files[kit_json.NAME], others)
    return {kit_json.NAME: kit, **others, PROOF: proof_json(report)}
