"""jigmaker step: a job file and a shop file in, one folder of STEP files for a CAD program out."""

from pathlib import Path

import click

from jigmaker.cli.asked_options import job_argument, shop_option
from jigmaker.cli.long_work import long_work
from jigmaker.cli.speech import say


@click.command("step", short_help="Write trestle, jig and parts as STEP solids.")
@job_argument
@shop_option
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    default=Path("outputs"),
    show_default=True,
    help="Where the folder goes; it is named after the job, with -step.",
)
@click.option("--replace", is_flag=True, help="Move what is in that folder already aside.")
def command(job: Path | None, shop: Path | None, out: Path, replace: bool) -> None:
    """Write the trestle and the jig put together, each piece of timber and each part as STEP solids, for CAD programs.

    JOB is the job file; without it job.toml of this folder, or the built-in demo. Sizes are finished sizes, without
    kerf, and arcs are true arcs.
    Needs the extra jigmaker[step].
    """
    with long_work():
        from jigmaker.cli.reading import put_right_first, read_asked
        from jigmaker.cli.speech import row
        from jigmaker.errors import FolderInUse
        from jigmaker.making.folder import check_folder, write_folder
        from jigmaker.making.plan import plan
        from jigmaker.making.step_files import step_files
        from jigmaker.writers.step import check_kernel

        # What can be refused is refused before the work: the extra that is missing, the files, the folder.
        check_kernel()
        asked = read_asked(job, shop)
        shop_read, target = asked.shop_or_refuse(), out / f"{asked.job.slug}-step"
        put_right_first(target)
        check_folder(target, replace=True)
        # A kit's folder has a list of what is ours in it; this one has none, so with anything in it it is left alone.
        if not replace and target.is_dir() and any(target.iterdir()):
            raise FolderInUse(
                f"{click.format_filename(target)} is there already and is left as it is; give --replace to have it "
                "moved aside, or name another place with --out"
            )
        files = step_files(plan(asked.job, shop_read, asked.source))
        kept = write_folder(files, target, replace)
    whole = [Path(name).stem.removeprefix(f"{asked.job.slug}-") for name in files if "/" not in name]
    lines = [
        f"Wrote {len(files)} STEP files to {click.format_filename(target)}, finished sizes in mm.",
        f"Put together: {', '.join(whole)}. Single pieces lie in timber and in parts, named by how many to cut.",
        *row("kept", *kept),
    ]
    say(lines, done="the STEP files are written")
