"""Questions that an option answers, or that are asked on a terminal: rows of a table in, a command's options out.

Every question has an option of its own, so that nothing needs a terminal. Answers are typed text; they go into a form
as `job.typed` writes them, and the form's rules judge them.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

import click

from jigmaker.record import dataclass

ANSWERED = "the answers"
"""What messages call a form that nobody has written to the disk."""

TypedAnswers = dict[str, str | None]
"""Answers as typed, by the question's key; None for a question left open."""

Command = TypeVar("Command", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Question:
    """One key of a form and the option that answers it, without dashes. shown: what a value looks like in help.

    is_list: several readings of one place. `needed` ones must be answered, others may stay empty.
    """

    key: str
    option: str
    words: str
    shown: str = "X"
    is_list: bool = False
    needed: bool = False
    choices: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """The option's name as a word of Python, by which a command gets the answer."""
        return self.option.replace("-", "_")


def options_of(questions: Sequence[Question]) -> Callable[[Command], Command]:
    """Every question's option on a command; it hands them on by their names, None when not given."""

    # Decorators are applied from the last to the first; click shows options in the order in which they were written.
    def with_options(command: Command) -> Command:
        for question in reversed(questions):
            kind = click.Choice(question.choices) if question.choices else None
            shown = None if kind else "'X X X'" if question.is_list else question.shown
            words = question.words if question.words[-1] in ".?" else f"{question.words}."
            option = click.option(f"--{question.option}", question.name, type=kind, metavar=shown, help=words)
            command = option(command)
        return command

    return with_options


def options_named(questions: Iterable[Question]) -> str:
    """The options, for a sentence."""
    return ", ".join(f"--{question.option}" for question in questions)


def by_option(fault: str, options: Mapping[str, str]) -> str:
    """A sentence about a form that nobody has seen, told of the option: "--a is", not "the answers: readings.A is".

    options: an option, dashes and all, by the form's dotted key.
    """
    return re.sub(rf"^{ANSWERED}(?: line \d+)?: (\S+)", lambda found: options.get(found[1], found[1]), fault)
