"""The form filled in at the keyboard or by options: options in, answers and a form's text out.

Every question has an option of its own, so that nothing needs a terminal.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, TypeVar

import click

from jigmaker.cli.speech import is_terminal
from jigmaker.errors import UsageError

if TYPE_CHECKING:
    from jigmaker.job.shop import Shop

Decorated = TypeVar("Decorated", bound=Callable[..., Any])

Said = dict[str, str | None]
"""Answers as typed, by the question's key."""

ANSWERED = "the answers"
"""What messages call a form that nobody has written to the disk."""


@dataclass(frozen=True, slots=True)
class Question:
    """One key of the form and the option that answers it. `needed` ones must be answered, others may stay empty."""

    key: str
    option: str
    words: str
    is_list: bool = True
    needed: bool = False
    choices: tuple[str, ...] = ()


QUESTIONS = (
    Question("coupon.units", "units", "Units of the readings", False, True, ("mm", "in")),
    Question(
        "coupon.compensation",
        "compensation",
        "Width of the cut in the lines of the file that was cut",
        False,
        True,
        ("included", "left out"),
    ),
    Question("coupon.added", "added", "What the machine's program added", False),
    Question("coupon.caliper", "caliper", "The caliper's step", False),
    Question("readings.A_wedge", "a", "A, wedge, gap behind it", needed=True),
    Question("readings.B_wedge", "b", "B, wedge, gap behind it", needed=True),
    Question("readings.D_long_x", "d-long-x", "D, long in X", needed=True),
    Question("readings.D_short_x", "d-short-x", "D, short in X", needed=True),
    Question("readings.D_long_y", "d-long-y", "D, long in Y", needed=True),
    Question("readings.D_short_y", "d-short-y", "D, short in Y", needed=True),
    Question("readings.E_rising", "e-rising", "E, rising /"),
    Question("readings.E_falling", "e-falling", "E, falling \\"),
    Question("readings.F_hole", "f-hole", "F, hole"),
    Question("readings.F_disc", "f-disc", "F, disc"),
    Question("gap.marked_face", "c-marked-face", "C, where an offcut stops, from the marked face"),
    Question("gap.other_face", "c-other-face", "C, where an offcut stops, from the other face"),
    Question("turn_over.opening", "opening", "Turn-over test, opening"),
    Question("turn_over.length", "line-length", "Turn-over test, length of the lines", False),
    Question("turn_over.leans", "leans", "Turn-over test, first line leans", False, choices=("right", "left")),
    Question("turn_over.lay", "lay", "Turn-over test, the plate lay", False, choices=("unturned", "quarter turn")),
)


def answer_options(command: Decorated) -> Decorated:
    """Every question's option on a command; it hands them on by their keys in `answers`, None when not given."""
    for question in reversed(QUESTIONS):
        kind = click.Choice(question.choices) if question.choices else None
        shown = "'X X X'" if question.is_list else "X"
        command = click.option(
            f"--{question.option}",
            question.option.replace("-", "_"),
            type=kind,
            metavar=None if kind else shown,
            help=f"{question.words}.",
        )(command)
    return command


def answers_to(shop: Shop, given: dict[str, str | None]) -> Said:
    """What the options say and what is asked for on a terminal, by question; None for a question left open.

    Raises UsageError, naming the options, for what is missing where there is no terminal.
    """
    from jigmaker.cli.coupon_prompts import ask

    said = {question.key: given.get(question.option.replace("-", "_")) for question in QUESTIONS}
    if shop.machine.compensation != "both":
        said["coupon.compensation"] = said["coupon.compensation"] or shop.machine.compensation
    said["coupon.units"] = said["coupon.units"] or shop.files.unit
    missing = [question for question in QUESTIONS if question.needed and said[question.key] is None]
    if missing and not is_terminal():
        options = ", ".join(f"--{question.option}" for question in missing)
        raise UsageError(f"there is no terminal to ask at; give a form, --read FORM.toml, or the options {options}")
    if missing:
        ask(shop, said)
    return said


def filled_form(shop: Shop, said: Said) -> bytes:
    """A form with the answers in it, as if somebody had filled it in."""
    from jigmaker.fit.form_text import form_text

    answers = {question.key: _toml(question, said[question.key]) for question in QUESTIONS if said[question.key]}
    return form_text(shop, shop.files.unit, answers).encode()


def about_options(faults: Sequence[str]) -> list[str]:
    """Sentences about a form that nobody has seen, told of the options: "--a is", not "the answers: readings.A is"."""
    options = {question.key: f"--{question.option}" for question in QUESTIONS}
    told = re.compile(rf"^{ANSWERED}(?: line \d+)?: (\S+)")
    return [told.sub(lambda found: options.get(found[1], found[1]), fault) for fault in faults]


def command_again(said: Said, shop: str) -> str:
    """The command that gives the same answers once more, for a shell."""
    words = [word for q in QUESTIONS if (answer := said[q.key]) for word in (f"--{q.option}", answer)]
    return shlex.join(["jigmaker", "coupon", "--shop", shop, *words, "--read"])


def _toml(question: Question, words: str | None) -> str:
    """An answer as it stands in the form; what is no number goes in as text, so that the form's rules refuse it."""
    figures = (words or "").replace("[", " ").replace("]", " ").split() if question.is_list else [words or ""]
    written = [_value(figure.rstrip(",")) for figure in figures]
    return f"[{', '.join(written)}]" if question.is_list else written[0]


def _value(words: str) -> str:
    plain = words.strip()
    if plain.replace(".", "", 1).isdigit() and plain.isascii() and not plain.startswith("."):
        return f"{float(plain)!r}" if "." in plain else str(int(plain))
    return '"' + "".join(sign if sign.isprintable() and sign not in '"\\' else "?" for sign in plain) + '"'
