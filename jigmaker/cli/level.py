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
    from jigmaker.levelling.read_readings import LevelForm
    from jigmaker.trestle.records import Trestle
    from jigmaker.units import Unit


@click.command("level", short_help="Tell how to level a trestle's feet with the foot block.")
@job_argument
@click.option("--readings", type=click.Path(path_type=Path), metavar="FILE", help="A filled-in form: several trestles.")
@click.option("--form", type=click.Path(path_type=Path), metavar="FILE", help="Write a blank form to fill in.")
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
    units: Unit | None,
    shop: Path | None,
    **said: str | None,
) -> None:
    """From what was measured on a trestle to the shims, the block's height and what each foot loses.

    Level first: put shims under the feet until a level reads level along the top and across both its ends; give --top
    and what is under each foot. Or lay a straight batten across the top at each end and give --over-... for each foot.
    Or give only --hangs and --gap: which foot hangs when the trestle rocks on a flat floor, and by how much.

    JOB is the job file; without it the built-in demo is used. Nothing is written, except by --form.
    """
    from jigmaker.cli.reading import read_asked

    wanted = {key: said.pop(key) for key in ("height", "sheets", "soles")}
    given = [f"--{key.replace('_', '-')}" for key, value in {**wanted, **said}.items() if value is not None]
    if form is not None:
        if given or readings is not None:
            raise UsageError("--form only writes a blank form: leave out --readings and all figures")
        _write_form(form, read_asked(job, shop), units)
        return
    if readings is not None and given:
        raise UsageError(f"{', '.join(given)}: stands in the form; give either --readings or options")
    asked = read_asked(job, shop)
    unit = units or asked.job.unit
    if readings is not None:
        _tell(asked, *_read(readings), unit)
        return
    _tell(asked, *_answered(unit, wanted, said), unit)


def _write_form(form: Path, asked: Asked, units: Unit | None) -> None:
    from jigmaker.cli.reading import put_right_first
    from jigmaker.cli.speech import say
    from jigmaker.levelling.level_form import level_form_text
    from jigmaker.making.folder import write_new

    if not form.name or form.is_dir():
        raise UsageError(f"{click.format_filename(form)} is a folder; name the form too, such as readings.toml")
    text = level_form_text(units or asked.job.unit, asked.job.trestles)
    put_right_first(form)
    write_new({form.name: text.encode()}, form.parent)
    name = click.format_filename(form)
    where = "" if asked.is_demo else f" {asked.source.job_file}"
    say(f"Wrote {name}. Measure, fill it in, then: jigmaker level{where} --readings {name}", done=f"{name} is written")


def _read(path: Path) -> tuple[LevelForm, str]:
    from jigmaker.cli.reading import file_bytes
    from jigmaker.levelling.read_readings import read_level_form

    name = click.format_filename(path)
    if not path.exists():
        raise UsageError(f"{name} is not there; jigmaker level --form {name} writes one to fill in")
    return read_level_form(file_bytes(path, "form"), name), name


def _answered(unit: Unit, wanted: dict[str, str | None], said: dict[str, str | None]) -> tuple[LevelForm, str]:
    from jigmaker.levelling.read_readings import read_level_form

    try:
        return read_level_form(answered_form(unit, wanted, said), ANSWERED), ANSWERED
    except JobError as error:
        raise UsageError([as_options(fault) for fault in error.faults]) from None


def _tell(asked: Asked, form: LevelForm, file: str, unit: Unit) -> None:
    """Level every trestle of the form, or one of them on pads, and print it."""
    from dataclasses import replace

    from jigmaker.levelling.read_readings import measured_or_refuse
    from jigmaker.levelling.readings import RockOnly
    from jigmaker.making.job_check import refuse_errors
    from jigmaker.trestle.check import check_trestle
    from jigmaker.trestle.solve import solve

    measured_or_refuse(form, file)
    trestle = solve(replace(asked.job, unit=unit))
    refuse_errors(check_trestle(trestle), asked.source)
    thickness = asked.shop_or_refuse().sheet.thickness_mm
    only = next(iter(form.readings.values()))
    if isinstance(only, RockOnly):
        _tell_pads(asked, trestle, thickness, only)
    else:
        _tell_levels(asked, trestle, thickness, form)


def _heading(asked: Asked, trestle: Trestle) -> list[str]:
    """Which job this is about: many a batch waits in the same workshop."""
    from jigmaker.units import length_text

    job = trestle.job
    return [f"{job.name}, {length_text(job.height_mm, job.unit)} high{' (the demo)' if asked.is_demo else ''}", ""]


def _tell_pads(asked: Asked, trestle: Trestle, thickness: float, reading: object) -> None:
    from jigmaker.cli.level_words import caution_text, pads_text
    from jigmaker.cli.speech import say
    from jigmaker.levelling.pads import level_on_pads
    from jigmaker.levelling.readings import RockOnly
    from jigmaker.parts.foot_block import pad_size

    assert isinstance(reading, RockOnly)
    told = level_on_pads(trestle, thickness, reading)
    told_pads = pads_text(told, pad_size(trestle), trestle.job.unit).split("\n")
    say([*_heading(asked, trestle), *told_pads, *caution_text(told.cautions, asked.source)])


def _tell_levels(asked: Asked, trestle: Trestle, thickness: float, form: LevelForm) -> None:
    from jigmaker.cli.level_words import batch_caution_text, batch_text
    from jigmaker.cli.speech import say
    from jigmaker.levelling.batch import level_batch
    from jigmaker.levelling.levelling import error_growth, scribing_heights
    from jigmaker.levelling.read_readings import trestle_title
    from jigmaker.levelling.readings import RockOnly
    from jigmaker.parts.foot_block import pad_size

    measured = {trestle_title(name): each for name, each in form.readings.items() if not isinstance(each, RockOnly)}
    batch = level_batch(trestle, scribing_heights(thickness), measured, form.wanted)
    lines = batch_text(batch, error_growth(trestle), pad_size(trestle), trestle.job.unit).split("\n")
    say([*_heading(asked, trestle), *lines, *batch_caution_text(batch, asked.source)])
