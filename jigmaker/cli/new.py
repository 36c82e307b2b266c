"""jigmaker new: a folder and what the trestle is for in, a commented job file and shop file in that folder out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigmaker.cli.new_answers import QUESTIONS, asked_on_terminal
from jigmaker.cli.questions import options_of
from jigmaker.cli.speech import is_terminal

if TYPE_CHECKING:
    from jigmaker.findings import Finding

_FILES = ("job.toml", "shop.toml")


@click.command("new", short_help="Write a job file and a shop file to start from.")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@options_of(QUESTIONS)
def command(folder: Path, **given: str | None) -> None:
    """Write a commented job.toml and shop.toml into DIR: height, angles and sections for what the trestle is for, each
    with its reason, to be changed to your own timber and machine.

    On a terminal it asks for what no option tells. Elsewhere it takes the options; with none of them the files hold
    an example. Lengths may carry a unit: 490, "19 1/4 in", "49 cm".

    DIR is made when it is not there. Files that are there already are left as they are.
    """
    from jigmaker.cli.reading import put_right_first
    from jigmaker.job.templates import Filled, new_job_text, new_shop_text
    from jigmaker.making.folder import check_new
    from jigmaker.suggest.answers import name_after

    # Whether both files can be written is known before any question: nobody answers twenty of them for nothing.
    put_right_first(folder, *(folder / name for name in _FILES))
    check_new(_FILES, folder)
    name = name_after(folder)
    said = asked_on_terminal(given, name) if is_terminal() else given
    if all(words is None for words in said.values()):
        _write(folder, new_job_text({"job.name": Filled(name)}), new_shop_text())
    else:
        _suggest(folder, {**said, "name": said["name"] or name})


def _suggest(folder: Path, said: dict[str, str | None]) -> None:
    """Tell what is suggested and what to mind, then write it."""
    from jigmaker.cli.new_words import suggestion_text
    from jigmaker.cli.speech import row, say
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.job.templates import new_shop_text
    from jigmaker.making.job_check import Source, check_job, refuse_errors
    from jigmaker.suggest.answers import shop_values, wish_of
    from jigmaker.suggest.job_text import job_text
    from jigmaker.suggest.suggest import suggest

    # The shop first: what can be made depends on its sheet, machine and router, or on the sample where none was told.
    wish = wish_of(said)
    shop_text = new_shop_text(wish.unit, shop_values(said))
    shop = read_shop(shop_text.encode())
    suggestion = suggest(wish, shop)
    text = job_text(suggestion)
    job_file, shop_file = (click.format_filename(folder / name) for name in _FILES)
    source = Source(text.encode(), shop_text.encode(), job_file, shop_file)
    # Judged as written, so that no rounding in the file can spoil what was suggested and judged.
    sizes: list[Finding] = []
    if (written := read_job(text.encode())) != suggestion.job or written.further_sizes:
        found = check_job(written, shop)
        refuse_errors(found, source)
        # How the common angles suit one size and not another; what holds for all is among the suggestion's own.
        sizes = [finding for finding in found if finding.says.startswith(written.size_names)]
    say(suggestion_text(wish, suggestion).split("\n"))
    # What is said of every size by its height need not be said of the suggestion once more.
    own = [finding for finding in suggestion.findings if not any(each.says.endswith(finding.says) for each in sizes)]
    for finding in (*own, *sizes):
        say(row("caution", source.sentence(finding)))
    say("")
    measured = ["your sheet", *([] if shop.machine.is_paper else ["your machine's cut"])]
    measured += ["your saw and chisel"] if shop.saws_housings else []
    _write(folder, text, shop_text, " and ".join(filter(None, [", ".join(measured[:-1]), measured[-1]])))


def _write(folder: Path, job_text: str, shop_text: str, measured: str = "your sheet and your machine's cut") -> None:
    from jigmaker.cli.speech import say
    from jigmaker.making.folder import write_new

    write_new({"job.toml": job_text.encode(), "shop.toml": shop_text.encode()}, folder)
    job = click.format_filename(folder / "job.toml")
    lines = [
        f"Wrote {job} and {click.format_filename(folder / 'shop.toml')}.",
        f"Measure your timber, {measured}, and change the numbers in both files.",
        f"Then: jigmaker make {job}",
    ]
    say(lines, done="both files are written")
