"""jigmaker level: a job file and readings of its trestles in, how to level their feet on the screen out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.cli.level_answers import QUESTIONS, answered_form, as_options
from jigmaker.cli.questions import ANSWERED, options_of
from jigmaker.errors import JobError, UsageError

if TYPE_CHECKING:
    from jigmaker.cli.reading import Asked
    from jigmaker.job.job import Job
    from jigmaker.levelling.batch import Batch
    from jigmaker.levelling.read_readings import LevelForm
    from jigmaker.trestle.records import Trestle
    from jigmaker.units import Unit


@click.command("level", short_help="Tell how to level a trestle's feet with the foot block.")
@job_argument
@click.option("--readings", type=click.Path(path_type=Path), metavar="FILE", help="A filled-in form: several trestles.")
@click.option("--form", type=click.Path(path_type=Path), metavar="FILE", help="Write a blank form to fill in.")
@click.option("--page", type=click.Path(path_type=Path), metavar="FILE", help="Write one page to print: .pdf or .html.")
@click.option("--all", "is_long", is_flag=True, help="Of several trestles print every figure, not one row each.")
@click.option("--height", metavar="LENGTH", help="Finished height; else the job's, or as high as the legs allow.")
@click.option("--sheets", metavar="N", help="Sheets in the foot block, nose included; else as few as will do.")
@click.option("--soles", metavar="HOW", help='How the feet are sawn now: "angled" (as the heads) or "square".')
@click.option("--units", type=click.Choice(["mm", "in"]), help="Of bare numbers and of the table; else the job's.")
@shop_option
@options_of(QUESTIONS)
def command(
    job: Path | None,
    readings: Path | None,
    form: Path | None,
    page: Path | None,
    is_long: bool,
    units: Unit | None,
    shop: Path | None,
    **said: str | None,
) -> None:
    """From what was measured on a trestle to the shims, the block's height and what each foot loses.

    Level first: put shims under the feet until a level reads level along the top and across both its ends; give --top
    and what is under each foot. Or lay a straight batten across the top at each end and give --over-... for each foot.
    Or give only --hangs and --gap: which foot hangs when the trestle rocks on a flat floor, and by how much.

    JOB is the job file; without it job.toml of this folder, and where there is none the built-in demo. Nothing is
    written, except by --form and --page.
    """
    from jigmaker.cli.reading import file_bytes, read_asked
    from jigmaker.levelling.read_readings import read_level_form

    wanted = {key: said.pop(key) for key in ("height", "sheets", "soles")}
    given = [f"--{key.replace('_', '-')}" for key, value in {**wanted, **said}.items() if value is not None]
    if page is not None and page.suffix.lower() not in (".html", ".pdf"):
        raise UsageError(f"--page {click.format_filename(page)}: must end in .html or .pdf")
    if form is not None:
        if given or readings is not None or page is not None:
            raise UsageError("--form only writes a blank form: leave out --readings, --page and all figures")
        _write_form(form, read_asked(job, shop), units)
        return
    if readings is not None and given:
        raise UsageError(f"{', '.join(given)}: stands in the form; give either --readings or options")
    asked = read_asked(job, shop)
    unit = units or asked.job.unit
    if readings is not None:
        name = click.format_filename(readings)
        if not readings.exists():
            raise UsageError(f"{name} is not there; jigmaker level --form {name} writes one to fill in")
        told = read_level_form(file_bytes(readings, "form"), name), name
    else:
        try:
            told = read_level_form(answered_form(unit, wanted, said), ANSWERED), ANSWERED
        except JobError as error:
            raise UsageError([as_options(fault) for fault in error.faults]) from None
    _tell(asked, *told, unit, page, is_long)


def _write_form(form: Path, asked: Asked, units: Unit | None) -> None:
    from jigmaker.cli.reading import put_right_first
    from jigmaker.cli.speech import say
    from jigmaker.levelling.level_form import level_form_text
    from jigmaker.making.folder import write_new
    from jigmaker.units import length_text

    if not form.name or form.is_dir():
        raise UsageError(f"{click.format_filename(form)} is a folder; name the form too, such as readings.toml")
    # Of a job with several sizes the form has each trestle's height filled in, spelled as TOML wants it: 28.5 in.
    job, unit = asked.job, units or asked.job.unit
    of_each = [length_text(size.height_mm, unit) for size in job.sizes for _ in range(size.trestles)]
    sizes = [words.removesuffix('"') + " in" if unit == "in" else words for words in of_each]
    text = level_form_text(unit, job.all_trestles, sizes if job.further_sizes else ())
    put_right_first(form)
    write_new({form.name: text.encode()}, form.parent)
    name = click.format_filename(form)
    where = "" if asked.is_demo else f" {asked.source.job_file}"
    say(f"Wrote {name}. Measure, fill it in, then: jigmaker level{where} --readings {name}", done=f"{name} is written")


def _tell(asked: Asked, form: LevelForm, file: str, unit: Unit, page: Path | None, is_long: bool) -> None:
    """Level every trestle of the form, those of each size together, or one of them on pads, and print it."""
    from dataclasses import replace

    from jigmaker.cli.level_words import caution_text, pads_text
    from jigmaker.cli.speech import say
    from jigmaker.levelling.pads import level_on_pads
    from jigmaker.levelling.read_readings import measured_or_refuse
    from jigmaker.levelling.readings import RockOnly
    from jigmaker.making.job_check import check_sizes, refuse_errors
    from jigmaker.parts.foot_block import pad_size
    from jigmaker.trestle.solve import solve_sizes

    measured_or_refuse(form, file)
    job = replace(asked.job, unit=unit)
    try:
        of_sizes = form.of_sizes(job, file)
    except JobError as error:
        if file != ANSWERED:
            raise
        raise UsageError([as_options(fault) for fault in error.faults]) from None
    refuse_errors(check_sizes(job), asked.source)
    thickness = asked.shop_or_refuse().sheet.thickness_mm
    trestles = solve_sizes(job)
    only = next(iter(form.readings.values()))
    # A rocking gap alone tells one foot of one trestle and no height: it is levelled on pads, and nothing batched.
    if not isinstance(only, RockOnly):
        _tell_levels(asked, job, [(i, trestles[i], each) for i, each in of_sizes], thickness, page, is_long)
    elif page is not None:
        raise UsageError("--page is for a batch; what a rocking gap alone tells is on the screen")
    else:
        trestle = trestles[of_sizes[0][0]]
        on_pads = level_on_pads(trestle, thickness, only)
        told = pads_text(on_pads, pad_size(trestle), job.unit).split("\n")
        say([*_heading(asked, job), *told, *caution_text(on_pads.cautions, asked.source)])


def _heading(asked: Asked, job: Job) -> list[str]:
    """Which job this is about: many a batch waits in the same workshop."""
    return [f"{job.name}, {job.high} high{' (the demo)' if asked.is_demo else ''}", ""]


def _tell_levels(
    asked: Asked,
    job: Job,
    sizes: list[tuple[int, Trestle, LevelForm]],
    thickness: float,
    page: Path | None,
    is_long: bool,
) -> None:
    """Every trestle's table for one of them, or where it is asked for; else a row each, on one screen."""
    from jigmaker.cli.level_words import batch_caution_text, batch_sentences, batch_text, rows_text
    from jigmaker.cli.reading import put_right_first
    from jigmaker.cli.speech import row, say
    from jigmaker.levelling.batch import level_batch
    from jigmaker.levelling.feet import WHICH_IS_WHICH
    from jigmaker.levelling.levelling import error_growth, scribing_heights
    from jigmaker.levelling.read_readings import trestle_title
    from jigmaker.levelling.readings import RockOnly
    from jigmaker.making.folder import write_new
    from jigmaker.papers.level_page import level_document
    from jigmaker.parts.foot_block import pad_size
    from jigmaker.writers.html import write_html
    from jigmaker.writers.pdf import write_pdf

    # Each size is a batch of its own, whose trestles come to one height.
    lines = _heading(asked, job)
    told: list[tuple[str, Batch]] = []
    is_short = not is_long and sum(len(form.readings) for _, _, form in sizes) > 1
    for i, trestle, form in sizes:
        measured = {trestle_title(name): each for name, each in form.readings.items() if not isinstance(each, RockOnly)}
        batch = level_batch(trestle, scribing_heights(thickness), measured, form.wanted)
        told.append((job.size_names[i] if job.further_sizes else "", batch))
        lines += [f"{told[-1][0].upper()}", ""] if told[-1][0] else []
        if is_short:
            lines += [*rows_text(batch, job.unit), *batch_caution_text(batch, asked.source), ""]
        else:
            text = batch_text(batch, error_growth(trestle), pad_size(trestle), job.unit)
            lines += [*text.split("\n"), *batch_caution_text(batch, asked.source), ""]
    if is_short:
        lines += [*row("", f"Near end: the one with your mark. {WHICH_IS_WHICH}", column=0)]
        lines.append("Every figure of every trestle: --all. One page to print: --page FILE.pdf.")
    say("\n".join(lines).rstrip().split("\n"))
    if page is not None:
        cautions = [words for _, batch in told for words in batch_sentences(batch, asked.source)]
        document, paper = level_document(job, told, cautions), asked.shop_or_refuse().paper.page_mm
        put_right_first(page)
        data = write_html(document) if page.suffix.lower() == ".html" else write_pdf(document, paper)
        write_new({page.name: data}, page.parent)
        say(f"Wrote {click.format_filename(page)}.", done="the page is written")
