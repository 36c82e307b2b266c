"""A batch's timber on paper: Job in, the form to fill in by hand out; TimberResult in, what was read comes to out.

Lengths in the job's unit.
"""

from jigmaker.drawing.page import BOX, Block, Caution, Document, Facts, Figures, Heading, Page, Table, Words
from jigmaker.job.job import Job
from jigmaker.papers.bench import shown
from jigmaker.papers.pictures.leg_strip import leg_strip_picture
from jigmaker.papers.timber_words import SELDOM, place_rows, timber_words
from jigmaker.papers.wording import counted
from jigmaker.timber.form import HOW_TO_READ
from jigmaker.timber.readings import BOARD_FIGURES, LEG_FIGURES
from jigmaker.timber.result import TimberResult

PLACE_HEAD = ("leg", "trestle", "over foot", "end up", "tape", "strokes off one edge", "play")


def timber_form_page(job: Job) -> Page:
    """A box for every figure, two legs in a row; the figures go into the form's TOML file in the same order."""
    count = 4 * job.trestles
    half = (count + 1) // 2
    columns = ("leg", *(f"{name}, {job.unit}" for name in LEG_FIGURES))
    rows = tuple(
        tuple(
            cell for number in (row, row + half) for cell in ((str(number) if number <= count else ""), BOX, BOX, BOX)
        )
        for row in range(1, half + 1)
    )
    boards = tuple((str(number), *(BOX,) * len(BOARD_FIGURES)) for number in range(1, job.trestles + 1))
    return Page(
        "Timber: reading form",
        (
            *(Words(each) for each in HOW_TO_READ),
            Table((*columns, *columns), rows),
            Table(("board", *(f"{name}, {job.unit}" for name in BOARD_FIGURES)), boards),
        ),
        _head(job),
    )


def timber_document(result: TimberResult) -> Document:
    """One page: where every leg goes, and what is to be expected of the batch."""
    job, blocks = result.trestle.job, list[Block]()
    if result.places:
        strip = leg_strip_picture(result.trestle, result.readings, result.places)
        blocks += [
            Heading("Legs"),
            Figures(
                (shown(strip, "Each box is the window of a setting; a leg's tick is its width at the upper end."),)
            ),
            Table(PLACE_HEAD, tuple(place_rows(result.places, result))),
        ]
    told = dict(timber_words(result))
    damp = told.pop("damp", ())
    blocks.append(Heading("What to expect"))
    # Planing and trestles stand in the table.
    beside = ("what helps", *(("plane", "together") if result.places else ()))
    blocks += [Facts(tuple((label, " ".join(sentences)) for label, sentences in told.items() if label not in beside))]
    if "what helps" in told:
        blocks += [Heading("What helps, each by itself"), *(Words(each) for each in told["what helps"])]
    if damp:
        blocks.append(Caution(f"Damp. {' '.join(damp)}"))
    return Document(f"{job.name}: timber", (Page("Timber", (*blocks, Words(SELDOM)), _head(job)),))


def _head(job: Job) -> tuple[tuple[str, str], ...]:
    return (("job", job.name), ("batch", counted(job.trestles, "trestle")), ("measured, date", BOX))
