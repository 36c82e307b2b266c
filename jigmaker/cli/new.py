"""jigmaker new: a folder's name in, a commented job file and shop file in that folder out."""

from pathlib import Path

import click


@click.command("new", short_help="Write a job file and a shop file to start from.")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def command(folder: Path) -> None:
    """Write a commented job.toml and shop.toml into DIR, to be changed to your own timber and machine.

    DIR is made when it is not there. Files that are there already are left as they are.
    """
    from jigmaker.cli.speech import say
    from jigmaker.job.templates import new_job_text, new_shop_text
    from jigmaker.making.folder import write_new

    write_new({"job.toml": new_job_text().encode(), "shop.toml": new_shop_text().encode()}, folder)
    job = click.format_filename(folder / "job.toml")
    say(f"Wrote {job} and {click.format_filename(folder / 'shop.toml')}.")
    say("Measure your timber, your sheet and your machine's cut, and change the numbers in both files.")
    say(f"Then: jigmaker make {job}")
