"""jigmaker make: a job file and a shop file in, one folder of files on the disk and a short table on the screen out."""

from pathlib import Path

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.cli.long_work import long_work
from jigmaker.cli.speech import say


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
@click.option("--replace", is_flag=True, help="Delete files of other origin, or changed since, in the job's folder.")
def command(job: Path | None, shop: Path | None, out: Path, replace: bool) -> None:
    """Make every file of a job: DXF and SVG of each part and each sheet, and all numbers; then prove them.

    JOB is the job file. Without it the built-in demo is made, in a shop of its own.
    """
    with long_work():
        is_made, lines = _make(job, shop, out, replace)
    say(lines, to_stderr=not is_made)
    if not is_made:
        click.get_current_context().exit(1)


def _make(job: Path | None, shop: Path | None, out: Path, replace: bool) -> tuple[bool, list[str]]:
    """Read, judge, make, prove, write; True and what to say of it. A kit that does not prove is not written."""
    from jigmaker.cli.closing import closing_text
    from jigmaker.cli.reading import read_asked
    from jigmaker.cli.verdict import verdict_lines
    from jigmaker.making.folder import check_folder, write_folder
    from jigmaker.making.make import planned_files
    from jigmaker.making.ownership import kit_in
    from jigmaker.making.paper_files import with_papers
    from jigmaker.making.plan import plan
    from jigmaker.proof.prove import prove

    asked = read_asked(job, shop)
    planned = plan(asked.job, asked.shop_or_refuse(), asked.source)
    target = out / asked.job.slug
    before = kit_in(check_folder(target, replace))  # before the work, not after it
    files = planned_files(planned, asked.source)
    report = prove(files)
    if not report.passed:
        return False, [*verdict_lines(report), "Nothing was written."]
    files = with_papers(planned, report, files)
    write_folder(files, target, replace)
    return True, closing_text(planned, asked, target, tuple(files), report, before).split("\n")
