"""A click group with the commands and options of jigmaker's and nothing behind them, for run.py to hold it against."""

from pathlib import Path

import click


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option("0.1.0")
def group() -> None:
    """A group and its help."""


@group.command()
@click.argument("job", required=False, type=click.Path(path_type=Path))
@click.option("--shop", type=click.Path(path_type=Path), help="A file.")
@click.option("--out", type=click.Path(path_type=Path), default=Path("outputs"), show_default=True, help="A folder.")
@click.option("--replace", is_flag=True, help="A flag.")
def make(job: Path | None, shop: Path | None, out: Path, replace: bool) -> None:
    """Make."""


@group.command()
@click.argument("job", required=False, type=click.Path(path_type=Path))
@click.option("--units", type=click.Choice(["mm", "in"]), help="A choice.")
@click.option("--json", "as_json", is_flag=True, help="A flag.")
@click.option("--shop", type=click.Path(path_type=Path), help="A file.")
def angles(job: Path | None, units: str | None, as_json: bool, shop: Path | None) -> None:
    """Angles."""


@group.command()
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """New."""


if __name__ == "__main__":
    group()
