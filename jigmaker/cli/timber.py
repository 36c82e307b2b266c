"""jigmaker timber: a job and readings of its timber in; which leg goes where, and how the batch will come out, out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.errors import UsageError

if TYPE_CHECKING:
    from jigmaker.cli.reading import Asked
    from jigmaker.timber.result import TimberResult


@click.command("timber", short_help="Measure a batch's timber: which leg goes where, what to expect.")
@job_argument
@click.option(
    "--form", type=click.Path(path_type=Path), metavar="FILE", help="Write a form: FILE, and a page to print."
)
@click.option(
    "--readings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The filled-in form; else timber.toml beside the job.",
)
@click.option(
    "--settings", type=click.IntRange(1), metavar="N", help="Settings of the jig, at most; then some are planed."
)
@click.option("--page", type=click.Path(path_type=Path), metavar="FILE", help="Write it as a page too: .html or .pdf.")
@click.option("--json", "as_json", is_flag=True, help="Print it as JSON, lengths in mm.")
@shop_option
def command(
    job: Path | None,
    form: Path | None,
    readings: Path | None,
    settings: int | None,
    page: Path | None,
    as_json: bool,
    shop: Path | None,
) -> None:
    """Print which leg goes to which housing, with what tape or how many strokes of the plane, and how the batch will
    come out: legs that go in, feet, rock, what helps most, and what damp does.

    Without readings legs are taken as the leg gauge lets them pass. With timber.toml beside the job make puts the legs
    into the papers. See jigmaker explain timber.
    """
    from jigmaker.cli.reading import read_asked

    if form is not None:
        if given := [
            name for name, value in (("--readings", readings), ("--page", page), ("--settings", settings)) if value
        ]:
            raise UsageError(f"--form only writes a blank form: leave out {', '.join(given)}")
        _write_form(form, read_asked(job, shop))
        return
    if page is not None and page.suffix.lower() not in (".html", ".pdf"):
        raise UsageError(f"--page {click.format_filename(page)}: must end in .html or .pdf")
    _tell(read_asked(job, shop, timber=readings), settings or 0, page, as_json)


def _write_form(form: Path, asked: Asked) -> None:
    from jigmaker.cli.reading import put_right_first
    from jigmaker.cli.speech import say
    from jigmaker.making.folder import write_new
    from jigmaker.papers.timber_page import timber_form_page
    from jigmaker.timber.form import timber_form_text
    from jigmaker.timber.readings import refuse_sizes
    from jigmaker.writers.html import write_html

    if form.is_dir() or form.suffix != ".toml":
        raise UsageError(f"--form {click.format_filename(form)}: name a file that ends in .toml, such as timber.toml")
    refuse_sizes(asked.job)
    put_right_first(form)
    printed = form.with_name(f"{form.stem}-form.html")
    files = {form.name: timber_form_text(asked.job).encode(), printed.name: write_html(timber_form_page(asked.job))}
    write_new(files, form.parent)
    name, paper = click.format_filename(form), click.format_filename(printed)
    where = "" if asked.is_demo else f" {asked.source.job_file}"
    then = f"jigmaker timber{where} --readings {name}"
    say(f"Wrote {name} and {paper}. Print the page, measure, fill in {name}, then: {then}", done=f"{name} is written")


def _tell(asked: Asked, settings: int, page: Path | None, as_json: bool) -> None:
    """Read, work out, write the page and print."""
    from jigmaker.cli.long_work import long_work
    from jigmaker.cli.speech import row, say
    from jigmaker.making.folder import write_new
    from jigmaker.making.job_check import check_job, refuse_errors
    from jigmaker.making.json_text import json_text
    from jigmaker.papers.timber_page import timber_document
    from jigmaker.papers.timber_words import SELDOM, timber_words
    from jigmaker.timber.readings import TimberReadings, read_timber, refuse_sizes
    from jigmaker.timber.result import timber_result
    from jigmaker.trestle.solve import solve
    from jigmaker.writers.html import write_html
    from jigmaker.writers.pdf import write_pdf

    # Judged quickly: whether the router can tip says nothing about timber, and is most of a judgement's work.
    shop, source = asked.shop_or_refuse(), asked.source
    refuse_sizes(asked.job)
    with long_work():
        refuse_errors(check_job(asked.job, shop, is_quick=True), source)
        readings = TimberReadings()
        if source.timber_text:
            readings = read_timber(source.timber_text, asked.job, source.timber_file)
        result = timber_result(solve(asked.job), shop, readings, settings)
        if page is not None:
            document = timber_document(result)
            data = write_pdf(document, shop.paper.page_mm) if page.suffix.lower() == ".pdf" else write_html(document)
            write_new({page.name: data}, page.parent)
    # Should what is printed now not get through, this says what has been done all the same.
    done = f"{click.format_filename(page)} is written" if page else ""
    if as_json:
        say(json_text(timber_json(result)).decode().rstrip("\n").split("\n"), done=done)
        return
    lines = [_heading(asked, result), "", *(line for label, told in timber_words(result) for line in row(label, *told))]
    say(
        [*lines, *row("note", SELDOM), *(row("page", f"Wrote {click.format_filename(page)}.") if page else [])],
        done=done,
    )


def _heading(asked: Asked, result: TimberResult) -> str:
    """Whose timber it is and what is known of it."""
    from jigmaker.papers.wording import counted
    from jigmaker.units import caliper_text

    job, readings = asked.job, result.readings
    # Paper makes no leg gauge: its kit has a test leg in place of one.
    gauge = "test leg" if asked.shop_or_refuse().machine.is_paper else "leg gauge"
    known = {
        "gauged": f"no legs measured, each let pass by the {gauge}",
        "planed": "no legs measured, planed in one run and not gauged",
        "bought": "no legs measured, as they are sold",
    }[readings.dressed]
    if readings.legs:
        known = f"{len(readings.legs)} legs measured (caliper {caliper_text(readings.caliper_mm, job.unit)})"
    pressed = ", legs pressed to the near wall" if readings.is_pressed else ""
    demo = " (the demo)" if asked.is_demo else ""
    return f"{job.name}{demo}, {counted(job.trestles, 'trestle')}: {known}{pressed}"


def timber_json(result: TimberResult) -> dict[str, Any]:
    """Everything as plain data: mm, percent where a key says so, shares from 0 to 1."""
    from dataclasses import asdict

    lot, places, damp, told = result.lot, result.places, result.damp, asdict(result.forecast)
    first, trim = told.pop("first_offs"), told.pop("trim")
    return {
        "schema": "jigmaker timber 1",
        "job": result.trestle.job.name,
        "legs": None if lot is None else asdict(lot),
        "places": None if places is None else asdict(places) | {"tape_mm": result.readings.tape_mm},
        "boards": [asdict(board) | {"is_uneven": board.is_uneven, "rocks": board.rocks} for board in result.boards],
        "forecast": {**told, "least_trim": trim, "first_offs": first},
        "damp": None
        if damp is None
        else {
            "species": damp.species,
            "moisture_now_percent": damp.now,
            "moisture_later_percent": damp.later,
            "grows_most_mm": damp.grows.most_mm,
            "grows_least_mm": damp.grows.least_mm,
            "play_now_mm": damp.play_now_mm,
            "play_later_mm": damp.play_later_mm,
            "state": damp.state(result.trestle.job.housing.joint),
            "clearance_window_mm": damp.window_mm,
            "bears_percent": damp.bears if damp.now != damp.later else None,
            "wait_to_percent": damp.wait_to,
        },
        "damp_unknown": result.damp_unknown,
    }
