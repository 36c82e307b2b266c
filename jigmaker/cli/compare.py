"""jigmaker compare: an old kit's folder and today's job in; which of its parts serve, what to set anew and cut, out."""

from __future__ import annotations

import shlex
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.cli.long_work import long_work

if TYPE_CHECKING:
    from jigmaker.job.job import Job
    from jigmaker.making.compare import Comparison

_MOST_REASONS = 3


@click.command("compare", short_help="Tell what of an old kit serves for today's job.")
@click.argument("kit", metavar="KIT", type=click.Path(path_type=Path))
@job_argument
@shop_option
def command(kit: Path, job: Path | None, shop: Path | None) -> None:
    """Make today's housings in numbers with the files of a kit that was cut before, and measure its other parts.

    KIT is the folder that make wrote; JOB today's job. Sheet and machine are those of the kit's own shop file; hand
    router, saw and chisel are those of --shop, or of shop.toml beside the job. Nothing is written. Exit code 1 when
    jig or guides cannot.
    """
    from jigmaker.cli.reading import read_asked
    from jigmaker.cli.speech import say
    from jigmaker.making.compare import compare
    from jigmaker.making.folder_files import folder_files

    files = folder_files(kit)
    asked = read_asked(job, shop)
    with long_work():
        found = compare(files, asked.job, None if asked.is_demo else asked.shop)
    say(compared_lines(found, asked.job, [] if asked.is_demo else [asked.source.job_file], click.format_filename(kit)))
    if found.why_not:
        click.get_current_context().exit(1)


def compared_lines(found: Comparison, job: Job, job_file: list[str], kit: str) -> list[str]:
    """The table. job_file: none for the demo."""
    from jigmaker.cli.speech import row
    from jigmaker.units import caliper_text

    unit, was = job.unit, found.made_for
    heights = f"{replace(was, unit=unit).high} high; today {job.name}, {job.high} high"
    lines = [*row("", f"{kit}: made for {was.name}, {heights}", column=0)]
    own, today = found.numbers
    lines += row("kit number", f"{own}, today's too." if own == today else f"{own}; of a kit for today's job {today}.")
    lines += _jig_lines(found, job)
    serves = not found.why_not or (found.shop.routs_housings and found.why_not == found.guides_not)
    for change in found.changes if serves else ():
        was_mm, now_mm = caliper_text(change.was_mm, unit), caliper_text(change.now_mm, unit)
        now = f"{now_mm} now, was {was_mm}" if change.was_mm else f"{now_mm} thick"
        lines += row("set", f"{change.name}: {now}.")
    if found.serve:
        lines += row("serve too", f"{', '.join(found.serve)}.")
    # A command to be copied: with the kit's own shop, for its sheet and machine have cut the parts that stay.
    if found.again:
        words = [word for _, slug in found.again for word in ("--only", slug)]
        typed = shlex.join(["jigmaker", "make", *job_file, "--shop", str(Path(kit) / "shop.toml"), *words])
        lines += row("cut again", f"{', '.join(name for name, _ in found.again)}:")
        lines += [f"{'':<16}{typed}"]
    if found.idle:
        lines += row("no use for", f"{', '.join(found.idle)}.")
    return lines


def _jig_lines(found: Comparison, job: Job) -> list[str]:
    """Why jig or guides cannot, or what they leave between a leg and its walls, tape counted in."""
    from jigmaker.cli.speech import row
    from jigmaker.units import caliper_text

    routs, saws = found.shop.routs_housings, found.shop.saws_housings
    name = "jig and guides" if routs and saws else "the jig" if routs else "the guides"
    jig_not = [each for each in found.why_not if each not in found.guides_not]
    each_why = [(name, saws, found.why_not)]
    if routs and saws:
        each_why = [("the jig", False, tuple(jig_not)), ("the guides", True, found.guides_not)]
    # Reasons are told once each and the first few of them: one figure that is off gives a reason for every housing.
    lines: list[str] = []
    for which, are_many, why in each_why if found.why_not else ():
        reasons = list(dict.fromkeys(f"{each.says}." for each in why))
        more = len(reasons) - _MOST_REASONS
        told = [*reasons[:_MOST_REASONS], *([f"and {more} more."] if more > 0 else [])]
        serves = "serve." if are_many else "serves."
        lines += row(which, f"cannot, as {'they are' if are_many else 'it is'}:", *told) if why else row(which, serves)
    if lines or found.figures is None:
        return lines
    gaps = [gap for each in found.figures.housings for gap in (each.near_gap_mm, each.far_gap_mm)]
    # Of the tape what makes up for a narrower leg takes nothing from the gap of that leg.
    tape = sum(change.now_mm for change in found.changes if change.name.startswith("tape"))
    taped = (tape - (found.made_for.leg.width_mm - job.leg.width_mm)) / 2 if tape else 0.0
    ends = dict.fromkeys(caliper_text(round(gap - taped, 3), job.unit) for gap in (min(gaps), max(gaps)))
    gap = f"have a gap of {' to '.join(ends)} at each wall."
    if saws:
        return row(name, f"serve: housings {'routed' if routs else 'sawn'} with their files {gap}")
    return row(name, f"serves: housings routed with its files {gap}")
