"""jigmaker angles: a job file in, its angles and lengths on the screen out; degrees, mm or inches to 1/64."""

from __future__ import annotations

from pathlib import Path
from textwrap import wrap
from typing import TYPE_CHECKING

import click

from jigmaker.cli.asked_options import job_argument, shop_option

if TYPE_CHECKING:
    from jigmaker.job.shop import Shop
    from jigmaker.trestle.records import Trestle
    from jigmaker.units import Unit


@click.command("angles", short_help="Print a trestle's angles and lengths.")
@job_argument
@click.option("--units", type=click.Choice(["mm", "in"]), help="Of the lengths; else those of the job.")
@click.option("--json", "as_json", is_flag=True, help="Print numbers.json instead of the table.")
@shop_option
def command(job: Path | None, units: Unit | None, as_json: bool, shop: Path | None) -> None:
    """Print every angle and length of a trestle; nothing is written.

    JOB is the job file; without it job.toml of this folder, and where there is none the built-in demo. No shop is
    needed: without one the jig's numbers are left out.
    """
    from jigmaker.cli.reading import read_asked
    from jigmaker.cli.speech import say
    from jigmaker.findings import cautions_in, errors_in
    from jigmaker.making.job_check import check_job, check_sizes, refuse_errors
    from jigmaker.trestle.solve import solve
    from jigmaker.trestle.table_text import table_text

    asked = read_asked(job, shop)
    trestle = solve(asked.job)
    # What speaks against trestle or jig goes to stderr, so that a table or JSON that is piped on stays clean. A trestle
    # that cannot be is refused; of a jig that cannot be only the numbers are left out.
    found = check_sizes(asked.job)
    refuse_errors(found, asked.source)
    if asked.shop is not None:
        found = check_job(asked.job, asked.shop)
    for finding in cautions_in(found):
        say(f"caution: {asked.source.sentence(finding)}", to_stderr=True)
    for finding in errors_in(found):
        say(f"the jig's numbers are left out: {asked.source.sentence(finding)}", to_stderr=True)
    usable = None if errors_in(found) else asked.shop
    if as_json:
        from jigmaker.making.json_text import json_text
        from jigmaker.making.numbers_json import all_numbers

        click.echo(json_text(all_numbers(trestle, usable)), nl=False)
        return
    unit = units or asked.job.unit
    say("\n".join([table_text(trestle, unit), *_shop_lines(trestle, usable, unit)]).rstrip().split("\n"))


def _shop_lines(trestle: Trestle, shop: Shop | None, unit: Unit) -> list[str]:
    """How legs are sawn in a shop whose saw does not tilt, and the jig's settings as rows of the table; none without a
    shop.
    """
    from jigmaker.parts.housing_jig.jig import jig_settings
    from jigmaker.parts.housing_jig.layout import lay_out_jigs
    from jigmaker.units import fixed, length_text

    lines = list[str]()
    if shop is not None and shop.leg_saw.kind != "tilting":
        from jigmaker.cli.closing import how_legs_are_sawn

        says = wrap(how_legs_are_sawn(trestle, shop), 98, initial_indent="- ", subsequent_indent="  ")
        lines += ["THE SHOP'S OWN SAW, which does not tilt", *says, ""]
    if shop is None or not shop.routs_housings:
        return lines
    lines.append("HOUSING JIG")
    for setting in jig_settings(lay_out_jigs(trestle, shop)[0]):
        figure = f"{fixed(setting.value, 2)}°" if setting.unit == "deg" else length_text(setting.value, unit)
        lines.append(f"  {setting.name:<14} {figure:>10}  {setting.why}")
    return lines
