"""index.html, the page to open first: what the kit is for, what was proved, and every file in the folder."""

import re
from collections.abc import Callable, Iterable

from jigmaker.drawing.page import Link, Links, Words
from jigmaker.making.naming import FINISHED, FULL_SIZE, PARTS, SHEETS
from jigmaker.making.plan import Plan
from jigmaker.making.verdict_words import verdict_cautions, verdict_sentence
from jigmaker.papers.bench import Bench, Shown, shown
from jigmaker.papers.full_size.full_size_set import from_paper, without_machine
from jigmaker.papers.index_page import FileGroup, index_page
from jigmaker.papers.pictures.drilling_template import template_on_leg_picture
from jigmaker.papers.pictures.hand_guides import saw_guide_on_board_picture
from jigmaker.papers.pictures.jig_on_board import jig_on_board_picture
from jigmaker.papers.pictures.leaning_back import leaning_back_picture
from jigmaker.papers.pictures.leg_box import leg_box_picture
from jigmaker.papers.pictures.leg_cradle import leg_cradle_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.parts.drilling_template import DRILLING_TEMPLATE
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE
from jigmaker.proof.prove import Report
from jigmaker.units import Unit
from jigmaker.writers.html import write_html

NAME = "index.html"

_FULL_SIZE, _FINISHED = "Paper at full size", "Whole sheets at finished size"
_PARTS, _AS_CUT = "Each part at finished size", "Each part, the width of the cut in its lines"
# Heading and which names stand under it, in their order.
_GROUPS: dict[str, str] = {
    "Papers for the bench": "papers/[^/]*",
    "Drawings": "papers/drawings/.*",
    _FULL_SIZE: f"papers/[^/]*{FULL_SIZE}[.]pdf",
    "Whole sheets for the machine": f"{SHEETS}[^/]*",
    _FINISHED: f"{SHEETS}{FINISHED}/.*",
    _PARTS: f"{PARTS}[^/]*",
    _AS_CUT: f"{PARTS}.*/.*",
    "Data and proof": ".*",
}

# A telephone shows the first best.
_ENDINGS = "html pdf csv svg dxf"

# Of these there are many, and whoever cuts whole sheets needs none.
_FOLDED = (_PARTS, _AS_CUT, _FINISHED)

# What is said under a heading before its files, in the job's unit.
_TOLD: dict[str, Callable[[Unit], str]] = {
    _FULL_SIZE: without_machine,
    _FINISHED: lambda _: "For a machine whose program adds the width of the cut itself.",
    _PARTS: lambda _: "For any CAD program; the width of the machine's cut is not in these lines.",
}
_TOLD_OF_PAPER: dict[str, Callable[[Unit], str]] = {
    _FULL_SIZE: from_paper,
    _PARTS: lambda _: "For any CAD program, and to be proved: the print at full size has the same lines.",
}

# What a file is, by what its name ends in, the ending aside, or by its whole name; papers are listed in this order.
_WORDS = {
    "-set-up-sheets": "set-up sheets, one page an operation",
    "-cut-list": "cut list",
    "-boards": "which piece comes out of which board, and what to buy",
    "-timber": "which leg goes where, and what to expect of the batch",
    "-class": "for a class: a page to copy, a check slip, the teacher's answers",
    "-notes": "what matters, marking housings out by hand, how a trestle stands",
    "-names": "which piece is which on the sheet",
    FULL_SIZE: "all templates, in working order",
    "numbers.json": "every angle and length",
    "kit.json": "every part, its place in the jig, and every file with its hash",
    "proof.json": "verdict and findings of the proof",
    "job.toml": "the trestle as asked",
    "shop.toml": "sheet, machine and tools as asked",
    "boards.toml": "the boards at hand",
    "timber.toml": "the timber as measured",
}
_WORDS_OF_PAPER = {"shop.toml": "sheet, printer and tools as asked"}


def index_figures(plan: Plan) -> tuple[Shown, ...]:
    """The pictures of index.html; other papers show most of them too, so they are quickly drawn after those."""
    size = f", {plan.job.size_names[0]}" if plan.job.further_sizes else ""
    figures: list[Shown] = [shown(trestle_picture(plan.kit.trestle), f"The trestle{size}.")]
    if plan.shop.routs_housings:
        figures.append(shown(jig_on_board_picture(plan.kit, "R"), "The jig on the board, for the R housings."))
    if plan.shop.saws_housings:
        picture = saw_guide_on_board_picture(plan.kit, "R")
        figures.append(shown(picture, "The saw guide on the board, for the R housings."))
    if any(part.slug == "back-wedge" for part in plan.kit.parts):
        picture = leaning_back_picture(plan.kit, "rout" if plan.shop.routs_housings else "saw")
        figures.append(shown(picture, "The board leaning back between wedges, from its right end."))
    if any(part.assembly == LEG_CRADLE for part in plan.kit.parts):
        figures.append(shown(leg_cradle_picture(plan.kit, "first"), "A leg's first end on the sloping cradle."))
    if plan.shop.leg_saw.kind == "hand":
        figures.append(shown(leg_box_picture(plan.kit), "A leg in the leg box."))
    if any(part.assembly == DRILLING_TEMPLATE for part in plan.kit.parts):
        figures.append(shown(template_on_leg_picture(plan.kit, "R"), "The drilling template on a leg for R."))
    return tuple(figures)


def index_file(plan: Plan, report: Report, names: Iterable[str], figures: tuple[Shown, ...]) -> bytes:
    """index.html, with a link to every file of the folder but itself."""
    cautions = [f"Caution: {finding.sentence()}." for finding in plan.cautions]
    verdict = ("Proof " + verdict_sentence(report), *cautions, *verdict_cautions(report))
    links = _links(names, plan.job.unit, plan.shop.machine.is_paper)
    return write_html(index_page(Bench(plan.kit, plan.sheets), figures, verdict, links))


def _links(names: Iterable[str], unit: Unit, is_paper: bool) -> tuple[FileGroup, ...]:
    def rank(name: str) -> tuple[int, str, int]:
        """What is wanted first comes first; drawings and what is for a machine by name."""
        key = _key(name)
        stem, _, ending = name.rpartition(".")
        return (list(_WORDS).index(key) if key else len(_WORDS), stem, _ENDINGS.find(ending))

    # A file stands under the first heading whose pattern takes its name, the last of which takes all; but paper at full
    # size, which the papers' pattern takes too, under its own.
    grouped: dict[str, list[Link]] = {heading: [] for heading in _GROUPS}
    for name in sorted(names, key=rank):
        # What the file is, else its own name.
        key, ending = _key(name), name.rpartition(".")[2]
        words = _WORDS | _WORDS_OF_PAPER if is_paper else _WORDS
        said = words[key] if key else name.rpartition("/")[2].rpartition(".")[0].replace("-", " ")
        headings = [heading for heading, pattern in _GROUPS.items() if re.fullmatch(pattern, name)]
        heading = _FULL_SIZE if _FULL_SIZE in headings else headings[0]
        grouped[heading].append(Link(name, f"{said} ({ending.upper()})"))
    words_of = _TOLD | _TOLD_OF_PAPER if is_paper else _TOLD
    told = {heading: (Words(words_of[heading](unit)),) if heading in words_of else () for heading in grouped}
    return tuple(
        (heading, *told[heading], Links(tuple(links), folded=heading in _FOLDED))
        for heading in sorted(
            grouped, key=lambda heading: is_paper and heading != _FULL_SIZE
        )  # what is made from it first
        if (links := grouped[heading])
    )


def _key(name: str) -> str:
    """What _WORDS knows the file by; "" for one that it does not."""
    stem = name.rpartition("/")[2].rpartition(".")[0]
    return next((key for key in _WORDS if name == key or stem.endswith(key)), "")
