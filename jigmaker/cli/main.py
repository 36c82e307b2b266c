"""The group of all commands: words from the shell in, an exit code out; errors become sentences here and only here.

Command modules load when they are asked for and import what they work with inside their functions, so that help is
printed without loading any of it.
"""

import sys
from importlib import import_module
from typing import Any

import click

from jigmaker import __version__
from jigmaker.cli.speech import say
from jigmaker.errors import JigmakerError

COMMANDS = ("make", "angles", "prove", "coupon", "level", "step", "new")
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

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command; an error raised on purpose ends in its own exit code, any other in 1."""
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except JigmakerError as error:
            say(str(error), to_stderr=True)
            ctx.exit(error.exit_code)
        except Exception as error:  # the one broad except: whoever uses jigmaker never sees a traceback
            if sys.flags.dev_mode:  # python -X dev -m jigmaker: whoever works on it does
                raise
            say(f"jigmaker: {_fault_sentence(error)}", to_stderr=True)
            ctx.exit(1)


def _fault_sentence(error: Exception) -> str:
    if isinstance(error, OSError):
        return f"the system refused: {error.strerror or error}"
    if isinstance(error, MemoryError):
        return "there is not enough memory for this job"
    return f"this is a fault in jigmaker and not in your files ({type(error).__name__}: {error}); please report it"


@click.group(cls=CommandGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="jigmaker")
def jigmaker() -> None:
    """From a wooden trestle's height and timber to every angle, length and setting, and to the DXF and SVG files of
    the jigs that cut it.

    Start with "jigmaker make": it makes the built-in demo.
    """
