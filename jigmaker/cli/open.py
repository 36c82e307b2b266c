"""jigmaker open: a folder in, its pages in the browser out, served to this machine alone until it is stopped."""

from __future__ import annotations

from pathlib import Path

import click

from jigmaker.errors import UsageError


@click.command("open", short_help="Do the whole job on a page in the browser.")
@click.argument("folder", metavar="[FOLDER]", required=False, type=click.Path(path_type=Path), default=Path())
@click.option(
    "--port", type=click.IntRange(1024, 65_535), metavar="N", help="Where it listens; else the first that is free."
)
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option("--make-in", is_flag=True, hidden=True)
def command(folder: Path, port: int | None, no_browser: bool, make_in: bool) -> None:
    """Open a page that shows the trestle while you type, and makes the kit when you press its button.

    FOLDER, by default the present one, holds job.toml and shop.toml; the kit goes into its folder made. In an empty one
    the page asks four questions. Both files keep their comments, and nothing is written before you say so.

    The page is for this machine alone: it listens on 127.0.0.1 and nothing of it comes from the network. The address
    holds a secret: whoever uses the machine too and knows it can use the page. Ctrl-C ends it.
    """
    from jigmaker.bench.child import make_in as made_in

    if not folder.is_dir():
        raise UsageError(f"{click.format_filename(folder)} is no folder that is there; make it first, or name another")
    # The server starts this very command, hidden, as a process of its own for each make: it can be stopped from the
    # page without the server, and its memory is given back.
    if make_in:
        click.get_current_context().exit(0 if made_in(folder) else 1)
    from jigmaker.bench.server import listen, open_already, serve
    from jigmaker.cli.speech import say

    def ready(address: str) -> None:
        say(address)
        if not no_browser:
            import webbrowser

            webbrowser.open(address)

    # One folder, one server: a second would keep what is typed apart from the first, and both would write.
    if (there := open_already(folder)) is not None:
        say("This folder is open already:", to_stderr=True)
        ready(there)
        return
    opened = listen(port)
    if port is not None and opened.other_port:
        say(f"Port {port} is taken; it is {opened.port} now.", to_stderr=True)
    serve(folder, opened, ready)
