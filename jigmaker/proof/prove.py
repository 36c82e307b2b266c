"""The whole proof of a folder, from its files' bytes to a Report. Nothing is read from or written to the disk."""

from collections.abc import Mapping
from dataclasses import replace

from jigmaker.findings import Finding, errors_in
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.checks.holding import LoosePieces, prove_holding
from jigmaker.proof.checks.machine_error import machine_of_kit, mean_findings
from jigmaker.proof.checks.places import with_sheets_moved_back
from jigmaker.proof.codes import SINCE_KIT_2
from jigmaker.proof.readers.read_folder import UNREADABLE, read_folder
from jigmaker.proof.use.fit import FitFigures, prove_fit
from jigmaker.proof.words.known_files import file_facts
from jigmaker.proof.words.paper_findings import named_papers, paper_findings
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class Report:
    """What was found. `parts` and `files` count what was read; `figures` is None when it came to no routing.

    loose: the pieces that hang on no bridge, where it matters. papers: how many had their words checked; make proves
    before it writes them.
    """

    findings: tuple[Finding, ...]
    parts: int
    files: int
    figures: FitFigures | None
    loose: tuple[LoosePieces, ...] = ()
    papers: int = 0

    @property
    def passed(self) -> bool:
        """True when nothing forbids the kit; cautions may stand."""
        return not errors_in(list(self.findings))


def prove(files: Mapping[str, bytes], shop: Shop | None = None) -> Report:
    """Read the folder, check its files, cut, assemble and rout in numbers. A file that cannot be read ends it early.

    A folder that cannot be read gets its findings and no figures; so do some parts of a kit, of which only files and
    cuts are checked. shop: used in place of shop.toml's. Never raises for what files hold.
    """
    folder, findings = read_folder(files, shop)
    if folder is None:
        return Report(tuple(findings), 0, 0, None)
    # Older kits allowed for the machine otherwise: they are held to what they were made for.
    machine = machine_of_kit(folder.shop.machine, folder.kit.number)
    folder = with_sheets_moved_back(replace(folder, shop=replace(folder.shop, machine=machine)))
    findings = findings + check_files(folder)
    if any(finding.code == UNREADABLE for finding in findings):
        return Report(tuple(findings), len(folder.kit.parts), len(folder.files), None)
    held, loose = prove_holding(folder)
    fit, figures = prove_fit(folder)
    known = figures.known | file_facts(folder) if figures and figures.known else {}
    has_names = known and folder.kit.number >= KIT_NUMBER  # older kits name nothing
    names = named_papers(files, folder.job, folder.kit) if has_names else []
    papers = list(paper_findings(files, names, folder.job, folder.kit, known))
    findings = findings + held + fit + papers + mean_findings(machine)
    if folder.kit.number < KIT_NUMBER:  # an older kit could not know of what some checks ask
        findings = [replace(f, severity="caution") if f.code in SINCE_KIT_2 else f for f in findings]
    return Report(tuple(findings), len(folder.kit.parts), len(folder.files), figures, loose, len(names))
