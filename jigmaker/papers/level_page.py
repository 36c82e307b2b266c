"""A levelled batch on one page for the bench: what goes under each foot and where it is scribed; user's unit."""

from collections.abc import Sequence

from jigmaker.drawing.page import BOX, Block, Caution, Document, Heading, Page, Table, Words
from jigmaker.job.job import Job
from jigmaker.levelling.batch import Batch
from jigmaker.levelling.feet import FEET, WHICH_IS_WHICH
from jigmaker.papers.wording import counted
from jigmaker.units import Unit, length_text

HEAD = ("trestle", *(f"under {foot.name}" for foot in FEET), "scribe at", "sheets", "finished", "rock now")
"""What a batch is levelled by, a row a trestle: on paper and on the screen."""


def level_document(job: Job, sizes: Sequence[tuple[str, Batch]], cautions: Sequence[str]) -> Document:
    """One page. sizes: what each size is called, "" for a plain job, and its trestles levelled; cautions: sentences."""
    blocks: list[Block] = []
    for name, batch in sizes:
        rows = tuple((*row, BOX) for row in level_rows(batch, job.unit))
        blocks += [*([Heading(f"Of {name}")] if name else []), Table((*HEAD, "done"), rows)]
    blocks.append(
        Words(
            "Shims under all four feet, until a level reads level along the top and across both its ends; then scribe "
            "all four faces of each foot with the block on so many sheets, and saw to the line. The floor must be "
            f"flat. Near end: the one with your mark. {WHICH_IS_WHICH}"
        )
    )
    blocks += [Caution(" ".join(f"{words[:1].upper()}{words[1:]}." for words in cautions))] if cautions else []
    measured = sum(len(batch.names) for _, batch in sizes)
    head = (("job", job.name), ("batch", counted(measured, "trestle")), ("scribed by, date", BOX))
    return Document(f"{job.name}: levelling", (Page("Level the batch", tuple(blocks), head),))


def level_rows(batch: Batch, unit: Unit) -> list[tuple[str, ...]]:
    """The cells under HEAD of every trestle, to a tenth of a millimetre or a 64th of an inch."""
    rows = []
    for name, told in zip(batch.names, batch.levellings, strict=True):
        lengths = (*told.shims_mm, told.scribing_mm, told.height_mm, told.rock_before_mm)
        *shims, scribed, height, rock = (length_text(round(mm, 6), unit, 1) for mm in lengths)
        rows.append((name, *shims, scribed, str(told.sheets), height, rock))
    return rows
