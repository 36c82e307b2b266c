"""Job and Shop in, every file of the job's folder out as named bytes; nothing is written to the disk here.

Names are relative to the job's folder, with forward slashes. Same job, shop and texts: same names, same order, same
bytes.
"""

from collections.abc import Sequence

from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.making import kit_json, numbers_json
from jigmaker.making.cut_files import CutFile, cut_files
from jigmaker.making.job_check import Source
from jigmaker.making.json_text import json_text
from jigmaker.making.naming import names_name
from jigmaker.making.plan import Plan, plan
from jigmaker.papers.sheet_names import draw_sheet_names
from jigmaker.writers.svg import write_svg


def make(job: Job, shop: Shop, job_text: bytes, shop_text: bytes) -> dict[str, bytes]:
    """Judge the job and make everything. `job_text`, `shop_text`: the files that job and shop were read from.

    Raises JobError with every fault of the job at once, each placed in its file; DoesNotFit and TooNarrow for parts
    that sheet or tool cannot take.
    """
    source = Source(job_text, shop_text)
    return planned_files(plan(job, shop, source), source)


def planned_files(plan: Plan, source: Source) -> dict[str, bytes]:
    """Every file of a plan: numbers.json, kit.json, the user's own two files, cut files, papers. Raises TooNarrow."""
    cuts = cut_files(plan)
    others = beside_cuts(plan, source, cuts)
    return {kit_json.NAME: kit_json.kit_json(plan, cuts, others), **others}


def beside_cuts(plan: Plan, source: Source, cuts: Sequence[CutFile]) -> dict[str, bytes]:
    """Everything that kit.json lists: numbers.json, the user's own files, cut files and the pictures of names."""
    count = len(plan.sheets)
    titles = [f"{plan.job.name}: names of the parts on sheet {n} of {count}" for n in range(1, count + 1)]
    return {
        numbers_json.NAME: json_text(numbers_json.all_numbers(plan.kit.trestle, plan.shop)),
        "job.toml": source.job_text,
        "shop.toml": source.shop_text,
        **({"boards.toml": source.boards_text} if source.boards_text else {}),
        **({"timber.toml": source.timber_text} if source.timber_text else {}),
        **{cut.name: cut.data for cut in cuts},
        **{
            names_name(plan.job.slug, sheet.name): write_svg(draw_sheet_names(sheet, title))
            for sheet, title in zip(plan.sheets, titles, strict=True)
        },
    }
