"""jigmaker prove: a folder that make wrote in, a verdict on the screen and proof.json in the folder out."""

from __future__ import annotations

from pathlib import Path

import click

from jigmaker.cli.long_work import long_work


@click.command("prove", short_help="Read a job's folder back and judge it.")
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
def command(folder: Path) -> None:
    """Read back a folder that make wrote, also when other programs saved its files since, and judge it.

    The files are cut in numbers, the jig put together and the housings routed; the verdict goes to the screen and to
    proof.json in the folder. Exit code 1 when anything fails.
    """
    from jigmaker.cli.reading import put_right_first
    from jigmaker.cli.speech import row, say
    from jigmaker.cli.verdict import verdict_lines
    from jigmaker.errors import CannotWrite
    from jigmaker.making.folder import write_own
    from jigmaker.making.folder_files import folder_files
    from jigmaker.making.proof_json import NAME, proof_json
    from jigmaker.proof.prove import prove

    put_right_first(folder, folder / "proof.json")
    with long_work():
        report = prove(folder_files(folder))
        written = proof_json(report)
    # The verdict is said first: a folder on a disk that is full or not to be written to is judged all the same.
    say(verdict_lines(report))
    try:
        write_own(folder / NAME, written)
    except CannotWrite as error:
        say(row("note", f"{error}. The verdict stands on this screen only."), to_stderr=True)
    if not report.passed:
        click.get_current_context().exit(1)
