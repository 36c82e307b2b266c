"""jigmaker make: a job file and a shop file in, one folder of files on the disk and a short table on the screen out."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.cli.long_work import long_work
from jigmaker.cli.speech import say
from jigmaker.errors import UsageError

if TYPE_CHECKING:
    from collections.abc import Callable
    from contextlib import AbstractContextManager

    from jigmaker.job.shop import Shop

_ANOTHER_KIT = (
    "its jig was made from other figures or by another jigmaker, so that this part need not fit the parts of that one "
    "(jigmaker compare tells what of it serves)."
)


@click.command("make", short_help="Make every file of a job: DXF, SVG and numbers.")
@job_argument
@shop_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    default=Path("outputs"),
    show_default=True,
    help="Where the job's folder goes; it is named after the job.",
)
@click.option("--replace", is_flag=True, help="Move a folder aside that holds other files, or another job.")
@click.option("--only", multiple=True, metavar="PART", help="Cut this part of the kit again; may be given repeatedly.")
@click.option("--sheet-thickness", metavar="L", help="With --only: how thick the sheet is that it comes from now.")
def command(
    job: Path | None, shop: Path | None, out: Path, replace: bool, only: tuple[str, ...], sheet_thickness: str | None
) -> None:
    """Make every file of a job: DXF and SVG of each part and each sheet, and all numbers; then prove them.

    JOB is the job file. Without it the built-in demo is made, in a shop of its own. With --only some parts alone go
    into a folder of their own, and are proved together with the kit that they belong to.
    """
    if sheet_thickness is not None and not only:
        raise UsageError(
            "--sheet-thickness: only together with --only; the sheet of a whole kit stands in the shop file"
        )
    with long_work() as alone:
        if only:
            is_made, lines = _make_again(job, shop, out, replace, only, sheet_thickness)
        else:
            is_made, lines = _make(job, shop, out, replace, alone)
    say(lines, to_stderr=not is_made, done="the kit is written" if is_made else "")
    if not is_made:
        click.get_current_context().exit(1)


def _make(
    job: Path | None, shop: Path | None, out: Path, replace: bool, alone: Callable[[], None]
) -> tuple[bool, list[str]]:
    """Read, make, write; True and what to say of it. A kit that does not prove is not written.

    `alone` leaves this thread as the only one.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # numpy's own threads, which nothing here needs, forbid a fork
    from jigmaker import api
    from jigmaker.cli.beside import beside
    from jigmaker.cli.closing import closing_text
    from jigmaker.cli.reading import put_right_first, read_asked
    from jigmaker.cli.verdict import verdict_lines
    from jigmaker.making.folder import check_folder, write_folder

    # In this order: what can be refused by looking at files and folder is refused before the work, the proof comes
    # before the first byte is written, and only a whole folder that proved takes the old one's place.
    asked = read_asked(job, shop)
    of_shop, target = asked.shop_or_refuse(), out / asked.job.slug
    put_right_first(target)
    before = check_folder(target, replace, asked.job.name)  # before the work, not after it

    def begin(work: api.Work) -> AbstractContextManager[api.Work]:
        import reportlab.pdfgen.canvas  # noqa: F401  else both processes would load them
        import svgwrite  # noqa: F401

        alone()
        return beside(work)

    made = api.make_beside(asked.job, of_shop, asked.source.boards_text, asked.source.timber_text, begin)
    if not made.report.passed:
        return False, [*verdict_lines(made.report), "Nothing was written."]
    kept = write_folder(made.files, target, replace, asked.job.name)
    return True, closing_text(made.plan, asked, target, tuple(made.files), made.report, before, kept).split("\n")


def _make_again(
    job: Path | None, shop: Path | None, out: Path, replace: bool, only: tuple[str, ...], thickness: str | None
) -> tuple[bool, list[str]]:
    """Some parts, for a kit that was cut before; True and what to say of it. What does not prove is not written."""
    from jigmaker.cli.reading import put_right_first, read_asked
    from jigmaker.cli.speech import row
    from jigmaker.cli.verdict import verdict_lines
    from jigmaker.making.again import few_files, folder_name, other_kit, plan_again, what_changes, whole_files
    from jigmaker.making.folder import check_folder, write_folder
    from jigmaker.proof.prove import prove
    from jigmaker.units import length_text

    asked = read_asked(job, shop)
    before = asked.shop_or_refuse()
    planned = plan_again(asked.job, before, asked.source, only, _thickness_mm(thickness, before))
    target = out / folder_name(planned)
    put_right_first(target)
    check_folder(target, replace, asked.job.name)
    # The parts are proved within the whole kit, as it would be with them in it: alone they hold nothing together.
    whole, cuts = whole_files(planned, asked.source)
    report = prove(whole, planned.shop)
    changes = [line for sentence in what_changes(planned, before) for line in row("changes", sentence)]
    beside = [Path(file).parent for file in (asked.source.job_file, asked.source.shop_file) if not asked.is_demo]
    if other := other_kit(planned, [*beside, out / asked.job.slug]):
        folder, number = click.format_filename(other[0]), other[1]
        changes += row("kit number", f"{planned.kit.number}; the kit in {folder} is {number}: {_ANOTHER_KIT}")
    if not report.passed:
        return False, [*changes, *verdict_lines(report), "Nothing was written."]
    files = few_files(planned, asked.source, before, cuts)
    kept = write_folder(files, target, replace, asked.job.name)
    sheets = [name for name in files if name.startswith("sheets/") and name.endswith(".dxf")]
    pieces = [placed.part for sheet in planned.sheets for placed in sheet.placed]
    thick = length_text(pieces[0].thickness_mm, planned.shop.files.unit)
    counts = ", ".join(f"{pieces.count(part)} {part.name}" for part in dict.fromkeys(pieces))
    return True, [
        *row("", f"{asked.job.name}: {len(files)} files in {click.format_filename(target)}", column=0),
        *row("to cut", f"{counts}; sheet {thick} thick.", *(str(target / name) for name in sheets)),
        *row("kept", *kept),
        *changes,
        *verdict_lines(report),
        *row("", f"Proved in kit {planned.kit.number}, with these parts in it."),
    ]


def _thickness_mm(said: str | None, shop: Shop) -> float | None:
    """A length in the unit of the shop's files. Raises UsageError with the rule for one that no sheet has."""
    from jigmaker.job.rules import section_of
    from jigmaker.job.sections import SHOP
    from jigmaker.job.values import fault_of
    from jigmaker.units import length_mm

    if said is None:
        return None
    try:
        raw: str | float = float(said)
    except ValueError:
        raw = said
    if fault := fault_of(section_of(SHOP, "sheet").rule("thickness"), raw, shop.files.unit):
        raise UsageError(f"--sheet-thickness {fault}")
    return length_mm(raw, shop.files.unit)
