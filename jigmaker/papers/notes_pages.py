"""What is good to know beside the set-up sheets: what each figure does, other legs for the plate, how a trestle stands.

A Bench in, pages out; lengths in the user's unit.
"""

from jigmaker.drawing.page import Block, Caution, Document, Page, Table, Words
from jigmaker.first_off.plate_uses import plate_uses
from jigmaker.papers.bench import Bench, foot_of, size_facts
from jigmaker.papers.facts import joined
from jigmaker.papers.marking_page import marking_pages
from jigmaker.papers.named_words import document_with_names
from jigmaker.papers.standing_blocks import standing_blocks
from jigmaker.papers.wording import NO_PLATFORM
from jigmaker.trestle.what_matters import Effect, Matter, what_matters
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text, text

_MOST_USES = 24
_EFFECTS = ("foot along", "foot across", "play", "proud", "height")


def notes_document(bench: Bench) -> Document:
    """Four pages, and more where top boards differ in length; without what else a plate does where there is none."""
    plate = (plate_uses_page(bench),) if bench.kit.shop.routs_housings else ()
    pages = (what_matters_page(bench), *plate, *marking_pages(bench), standing_page(bench))
    return document_with_names(Document(f"{bench.kit.trestle.job.name}: notes", pages, foot_of(bench)))


def what_matters_page(bench: Bench) -> Page:
    """Every figure of the job a little off, and what that does at one leg; figures that do nothing are named."""
    job = bench.kit.trestle.job
    # Of several sizes the highest: a foot moves by the angle that is off times the leg's length.
    highest = max(range(len(job.sizes)), key=lambda i: job.sizes[i].height_mm)
    rows = what_matters(job.of_size(highest))
    unit, telling = bench.unit, [row for row in rows if _matters(row)]
    quiet = [row.name for row in rows if not _matters(row)]
    cells = []
    for matter in telling:
        # A row for more of the figure and one for less, each with what it does; "" where that cannot be.
        step = matter.step
        shown = f"{text(step, 2)}° off the level" if matter.unit == "deg" else length_text(step, unit)
        cells += [
            (f"{matter.name}, {sign}{shown}", *(_signed(mm, unit) for mm in _figures(effect)))
            for sign, effect in (("+", matter.more), ("-", matter.less))
            if effect
        ]
    blocks: list[Block] = [
        Words(
            "One figure is off and all else is made as asked: what then changes at one leg. Plus is outward, wider, "
            "higher. Both ways are worked out anew, not guessed from a slope."
        ),
        Table(("figure off by", *(f"{effect}, {unit}" for effect in _EFFECTS)), tuple(cells)),
        Words("Play is between leg and housing, both walls together; proud is the leg's face out of the board's edge."),
    ]
    if job.further_sizes:
        height = size_facts(bench)["trestle.height"].of_size(highest).text(unit)
        blocks.append(Words(joined("Told of the highest size, ", height, ", whose feet move most.")))
    if quiet:
        blocks.append(Words(f"No foot, gap or height depends on: {'; '.join(quiet)}."))
    return Page("What matters", tuple(blocks), _head(bench))


def plate_uses_page(bench: Bench) -> Page:
    """Bush and cutter pairs for other legs; those nearest to the job's own width where there are many."""
    trestle = bench.kit.trestle
    own = trestle.job.leg.width_mm
    # The nearest by width are kept, and then shown in order of width.
    near = sorted(plate_uses(trestle, bench.kit.shop), key=lambda use: abs(use.leg_width_mm - own))[:_MOST_USES]
    rows = tuple(
        (
            bench.length(use.leg_width_mm),
            bench.length(use.bush_mm),
            bench.length(use.cutter_mm),
            bench.length(use.inset_mm),
            "this job" if use.is_own else "",
        )
        for use in sorted(near, key=lambda use: (use.leg_width_mm, use.bush_mm))
    )
    blocks = (
        Words(
            f"The slot stays as wide as it is; another bush or cutter routs another housing. The leg stays "
            f"{bench.length(trestle.job.leg.thickness_mm)} thick; rake, splay and clearance stay as asked."
        ),
        Table(("leg, width", "bush", "cutter", "inset", ""), rows),
        Words(
            "Measure bush and cutter as they are, try a housing in scrap first, and make gauges for that leg: those of "
            f"this kit fit {bench.length(own)} only. Inset is from the board's end to the near wall on the top arris."
        ),
    )
    return Page("What else this plate does", blocks, _head(bench))


def standing_page(bench: Bench) -> Page:
    """Footprint with tipping lines, what lifts a foot on three floors, and how trestles stack."""
    return Page("How it stands", (*standing_blocks(bench), Caution(NO_PLATFORM)), _head(bench))


def _head(bench: Bench) -> tuple[tuple[str, str], ...]:
    height = size_facts(bench)["trestle.height"].text(bench.unit)
    return (("job", bench.kit.trestle.job.name), ("finished height", height))


def _matters(matter: Matter) -> bool:
    return any(any(_figures(effect)) for effect in (matter.more, matter.less) if effect)


def _figures(effect: Effect) -> tuple[float, ...]:
    return (effect.foot_along_mm, effect.foot_across_mm, effect.gap_mm, effect.proud_mm, effect.height_mm)


def _signed(mm: float, unit: Unit) -> str:
    """Zero shows as an empty cell: a page of zeros would hide the figures that count."""
    shown_figure = fixed(mm, 2) if unit == "mm" else fixed(mm / MM_PER_INCH, 3)
    if float(shown_figure) == 0:
        return ""
    return shown_figure if mm < 0 else f"+{shown_figure}"
