"""The group of all commands: words from the shell in, an exit code out; errors become sentences here and only here.

Command modules load when they are asked for and import what they work with inside their functions, so that help is
printed without loading any of it.
"""

import os
import sys
from contextlib import suppress
from importlib import import_module
from typing import Any

import click

from jigmaker import __version__
from jigmaker.cli.speech import say
from jigmaker.errors import JigmakerError
from jigmaker.signs import spelled

MOST_FAULTS = 100
"""So many are told of a file that is not what it was taken for."""

EXIT_CODES = (
    "Exit code 0: done. 1: the job cannot be, or the proof found a fault. 2: wrong usage. 130: stopped by Ctrl-C; 143: "
    "by SIGTERM; then nothing is left half written."
)

COMMANDS = (
    "make",
    "angles",
    "prove",
    "coupon",
    "level",
    "boards",
    "timber",
    "compare",
    "step",
    "new",
    "open",
    "explain",
)
"""Each is a module in this room with a `command`; a new command is a new module and one word here."""


class CommandGroup(click.Group):
    """A group that loads a command when it is named, and turns errors into sentences and exit codes."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names of the commands, in the order in which they are used."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, or None."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"jigmaker.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is named; for a name that is none, the nearest is told."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError:
            from difflib import get_close_matches

            near = get_close_matches(args[0], COMMANDS, n=1)
            meant = f' "{near[0]}" may be meant;' if near else ""
            told = f"no such command '{args[0][:40]}';{meant} there are {', '.join(COMMANDS)}"
            raise click.UsageError(told, ctx) from None

    def main(self, *words: Any, **settings: Any) -> Any:
        """Run one command line and exit: an error raised on purpose ends in its own exit code, any other in 1."""
        # Errors end here as a sentence and an exit code. The order counts: click's own and ours are told by their
        # classes before the broad one, and Abort is no ClickException.
        try:
            code = super().main(*words, **{**settings, "standalone_mode": False})
        except click.ClickException as error:
            code = error.exit_code
            if isinstance(error, click.UsageError) and not isinstance(error, click.exceptions.NoArgsIsHelpError):
                # The shell may have put a stranger's file name into it.
                error = click.UsageError(spelled(error.format_message()), error.ctx)
            error.show()
        except click.Abort:  # the end of what is typed, at a question; signals are __main__'s
            say("Stopped at this question; nothing was written.", to_stderr=True)
            code = 1
        except JigmakerError as error:
            more = len(error.faults) - MOST_FAULTS
            say([*error.faults[:MOST_FAULTS], *([f"and {more} more faults"] if more > 0 else [])], to_stderr=True)
            code = error.exit_code
        except Exception as error:  # the one broad except: whoever uses jigmaker never sees a traceback
            if sys.flags.dev_mode:  # python -X dev -m jigmaker: whoever works on it does
                raise
            sentence = (
                f"this is a fault in jigmaker and not in your files ({type(error).__name__}: {error}); please report it"
            )
            if isinstance(error, OSError):
                sentence = f"the system refused: {error.strerror or error}"
            elif isinstance(error, MemoryError):
                sentence = "there is not enough memory for this job"
            with suppress(OSError):
                say(f"jigmaker: {sentence}", to_stderr=True)
            code = 1
        # Words that a full disk refused would be offered once more as Python ends, with a message of its own.
        for stream in (sys.stdout, sys.stderr):
            try:
                if stream is not None:
                    stream.flush()
            except OSError:
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        sys.exit(code or 0)


@click.group(
    cls=CommandGroup,
    epilog=EXIT_CODES,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="jigmaker")
def jigmaker() -> None:
    """From a wooden trestle's height and timber to every angle, length and setting, and to the DXF and SVG files of
    the jigs that cut it.

    Start with "jigmaker make": it makes the built-in demo.
    """
