"""What several commands ask alike: the job file and the shop file, as decorators of a click command."""

from pathlib import Path

import click

job_argument = click.argument("job", required=False, type=click.Path(path_type=Path))
"""The job file or its folder, `job` to the command; None when it is left out: job.toml of the present folder, or the
demo."""

shop_option = click.option(
    "--shop", type=click.Path(path_type=Path), metavar="FILE", help="The shop file; else shop.toml beside the job."
)
"""The shop file, `shop` to the command; None when it is left out."""
