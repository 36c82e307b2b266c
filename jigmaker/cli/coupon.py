"""jigmaker coupon: a shop file in, the coupon's files and form out; with --read, readings in and the shop changed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from jigmaker.cli.coupon_answers import QUESTIONS, about_options, answers_to, command_again, filled_form
from jigmaker.cli.long_work import long_work
from jigmaker.cli.questions import ANSWERED, options_of
from jigmaker.cli.speech import is_terminal
from jigmaker.errors import JobError, UsageError
from jigmaker.signs import spelled

if TYPE_CHECKING:
    from jigmaker.job.shop import Shop

_ASK = "-"  # --read without a form


@click.command("coupon", short_help="Make the coupon, or read what was measured on it.")
@click.option("--shop", "shop_path", type=click.Path(path_type=Path), metavar="FILE", help="Else ./shop.toml.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="DIR",
    default=Path("coupon"),
    show_default=True,
    help="Where the coupon's files go.",
)
@click.option(
    "--read",
    "form",
    is_flag=False,
    flag_value=_ASK,
    metavar="[FORM.toml]",
    help="Read a form; without one, take the options below and ask for the rest.",
)
@click.option("--yes", is_flag=True, help="Change the shop file without asking.")
@options_of(QUESTIONS)
def command(shop_path: Path | None, out: Path, form: str | None, yes: bool, **answers: str | None) -> None:
    """Make the coupon, one small piece that measures the machine: cut files, and a form for the readings.

    With --read: kerf, scale, skew and joints from the readings, then the change to the shop file, which is made when
    you say yes. The options from --units on answer single questions of the form.
    """
    from jigmaker.cli.reading import file_bytes, put_right_first
    from jigmaker.job.read import read_shop

    path = shop_path or Path("shop.toml")
    if shop_path is None and not path.exists():
        raise UsageError(
            "there is no shop.toml here; name one with --shop FILE, or let jigmaker new DIR write one to start from"
        )
    # What an ended run left behind is put right before anything is read: it may be the shop file itself.
    put_right_first(path, out)
    data = file_bytes(path, "shop")
    shop = read_shop(data, click.format_filename(path))
    if shop.machine.is_paper:
        says = f'{click.format_filename(path)}: machine.kind is "paper": there is no machine for a coupon to measure'
        raise JobError(says)
    given = [f"--{name.replace('_', '-')}" for name, value in answers.items() if value is not None]
    if form is None:
        if given or yes:
            raise UsageError(f"{', '.join([*given, *(['--yes'] if yes else [])])}: only together with --read")
        _write(shop, out, path, data)
        return
    if form != _ASK and given:
        raise UsageError(f"{', '.join(given)}: stands in the form; give either the form or options")
    _read(form, path, data, shop, answers, yes)


def _write(shop: Shop, out: Path, path: Path, data: bytes) -> None:
    """The coupon's files into a folder; none of them over one that is there."""
    with long_work():
        from jigmaker.cli.speech import row, say
        from jigmaker.findings import cautions_in
        from jigmaker.making.coupon_files import FORM, PAPER, coupon_files
        from jigmaker.making.folder import write_new
        from jigmaker.making.job_check import Source, refuse_errors
        from jigmaker.making.layer_findings import layer_findings

        found, source = layer_findings(shop), Source(b"", data, shop_file=click.format_filename(path))
        refuse_errors(found, source)
        files = coupon_files(shop)
        write_new(files, out)
    first = next(name for name in files if name.endswith(".dxf"))
    form, paper, cut = (click.format_filename(out / name) for name in (FORM, PAPER, first))
    lines = [
        f"Wrote {len(files)} files. Cut {cut}, unturned on the bed.",
        f"Print {paper}, measure, and fill in {form}.",
        f"Then: jigmaker coupon --read {form} --shop {click.format_filename(path)}",
        *(line for caution in cautions_in(found) for line in row("caution", source.sentence(caution))),
    ]
    say(lines, done="the coupon's files are written")


def _read(form: str, path: Path, data: bytes, shop: Shop, answers: dict[str, str | None], yes: bool) -> None:
    """Tell what was found, show the change, make it when it is wanted."""
    from jigmaker.cli.coupon_words import change_text, found_text
    from jigmaker.cli.reading import file_bytes
    from jigmaker.cli.speech import row, say
    from jigmaker.coupon.machine_found import machine_found
    from jigmaker.coupon.readings import read_form
    from jigmaker.coupon.shop_change import shop_changes, shop_notes
    from jigmaker.job.edit import edit_file
    from jigmaker.job.read import read_shop
    from jigmaker.job.sections import SHOP
    from jigmaker.making.folder import write_one

    name = click.format_filename(path)
    if form == _ASK:
        # From options and what is asked for; when that is refused, nothing of it is to be typed again.
        said = answers_to(shop, answers)
        try:
            found = machine_found(read_form(filled_form(shop, said), ANSWERED, shop))
        except JobError as error:
            again = "With all these readings, to change some of them:", f"  {command_again(said, name)}"
            raise JobError([*map(about_options, error.faults), *again]) from None
    elif not Path(form).exists():
        raise UsageError(f"{form} is not there; jigmaker coupon writes a form to fill in")
    else:
        found = machine_found(read_form(file_bytes(Path(form), "form"), form, shop))
    say(found_text(found, shop).split("\n"))
    for note in shop_notes(found, shop):
        say(row("caution", note))
    changes = shop_changes(found, shop)
    if not changes:
        say(f"{name} says so already, within what was measured: nothing to change.")
        return
    meanings = {f"{section.name}.{rule.key}": rule.meaning for section in SHOP for rule in section.rules}
    changed = edit_file(data, changes, name, meanings)
    read_shop(changed, f"{name} with these changes")  # so that the shop's own rules can refuse them
    say(change_text(data, changed, name).split("\n"))
    if not yes and not is_terminal():
        raise UsageError("nothing was written: there is no terminal to ask at; give --yes to write this change")
    if not yes and not click.confirm(f"Write this into {spelled(name)}?"):
        say("Nothing was written.")
        return
    # The question may have stood for an hour: what was shown is written only into the file that it was shown for.
    if file_bytes(path, "shop") != data:
        raise UsageError(f"{name} was changed by someone else meanwhile; nothing was written, read the form again")
    write_one(path.resolve(), changed)
    say(f"Wrote {name}. Files made before are for the machine as it was: make them again.", done=f"{name} is written")
