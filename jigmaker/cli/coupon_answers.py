"""The coupon's form filled in by options or at the keyboard: shop and options in, answers and the form's bytes out.

Every answer that is typed is held to the form's own rules at once, so that a slip is mended where it happens.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from jigmaker.cli.questions import ANSWERED, Question, TypedAnswers, by_option, options_named
from jigmaker.cli.speech import is_terminal
from jigmaker.errors import JobError, UsageError
from jigmaker.job.typed import toml_value

if TYPE_CHECKING:
    from jigmaker.job.shop import Shop

_READINGS = (
    ("A_wedge", "a", "A, wedge, gap behind it", True),
    ("B_wedge", "b", "B, wedge, gap behind it", True),
    ("D_long_x", "d-long-x", "D, long in X", True),
    ("D_short_x", "d-short-x", "D, short in X", True),
    ("D_long_y", "d-long-y", "D, long in Y", True),
    ("D_short_y", "d-short-y", "D, short in Y", True),
    ("E_rising", "e-rising", "E, rising /", False),
    ("E_falling", "e-falling", "E, falling \\", False),
    ("F_hole", "f-hole", "F, hole", False),
    ("F_disc", "f-disc", "F, disc", False),
)
QUESTIONS = (
    Question("coupon.units", "units", "Units of the readings", needed=True, choices=("mm", "in")),
    Question(
        "coupon.compensation",
        "compensation",
        "Width of the cut in the lines of the file that was cut",
        needed=True,
        choices=("included", "left out"),
    ),
    Question("coupon.added", "added", "What the machine's program added"),
    Question("coupon.caliper", "caliper", "The caliper's step"),
    *(
        Question(f"readings.{key}", option, words, is_list=True, needed=needed)
        for key, option, words, needed in _READINGS
    ),
    Question("gap.marked_face", "c-marked-face", "C, where an offcut stops, from the marked face", is_list=True),
    Question("gap.other_face", "c-other-face", "C, where an offcut stops, from the other face", is_list=True),
    Question("turn_over.opening", "opening", "Turn-over test, opening", is_list=True),
    Question("turn_over.length", "line-length", "Turn-over test, length of the lines"),
    Question("turn_over.leans", "leans", "Turn-over test, first line leans", choices=("right", "left")),
    Question("turn_over.lay", "lay", "Turn-over test, the plate lay", choices=("unturned", "quarter turn")),
)

_ONLY_WITH = {
    "readings.E_falling": "readings.E_rising",
    "turn_over.length": "turn_over.opening",
    "turn_over.leans": "turn_over.opening",
    "turn_over.lay": "turn_over.opening",
}


def answers_to(shop: Shop, given: TypedAnswers) -> TypedAnswers:
    """What the options say and what is asked for on a terminal, by question; None for a question left open.

    Raises UsageError, naming the options, for what is missing where there is no terminal.
    """
    # What the shop says already is not asked: which files it has, and in what unit it is measured.
    said = {question.key: given.get(question.name) for question in QUESTIONS}
    if shop.machine.compensation != "both":
        said["coupon.compensation"] = said["coupon.compensation"] or shop.machine.compensation
    said["coupon.units"] = said["coupon.units"] or shop.files.unit
    missing = [question for question in QUESTIONS if question.needed and said[question.key] is None]
    if missing and not is_terminal():
        options = options_named(missing)
        raise UsageError(f"there is no terminal to ask at; give a form, --read FORM.toml, or the options {options}")
    if missing:
        _ask(shop, said)
    return said


def filled_form(shop: Shop, said: TypedAnswers) -> bytes:
    """A form with the answers in it, as if somebody had filled it in."""
    from jigmaker.coupon.form_text import form_text

    answers = {}
    for question in QUESTIONS:
        if words := said[question.key]:
            # A list for several readings of one place.
            figures = words.replace("[", " ").replace("]", " ").split()
            listed = f"[{', '.join(toml_value(figure.rstrip(',')) for figure in figures)}]"
            answers[question.key] = listed if question.is_list else toml_value(words)
    return form_text(shop, shop.files.unit, answers).encode()


def about_options(fault: str) -> str:
    """A sentence about a form that nobody has seen, told of the option."""
    return by_option(fault, {question.key: f"--{question.option}" for question in QUESTIONS})


def command_again(said: TypedAnswers, shop: str) -> str:
    """The command that gives the same answers once more, for a shell."""
    words = [word for q in QUESTIONS if (answer := said[q.key]) for word in (f"--{q.option}", answer)]
    return shlex.join(["jigmaker", "coupon", "--shop", shop, *words, "--read"])


def _ask(shop: Shop, said: TypedAnswers) -> None:
    """Ask for everything that no option has said; an empty answer leaves a place out, or takes its usual value."""
    from jigmaker.coupon.stations import station
    from jigmaker.parts.coupon_size import coupon_size, figure

    unit = shop.files.unit
    size = coupon_size(shop, unit)
    for question in QUESTIONS:
        other = _ONLY_WITH.get(question.key)
        if said[question.key] is not None or (other is not None and not said[other]):
            continue
        if question.key.startswith("gap.") and not size.gap:
            continue
        words, check = question.words, _checker(question, shop, said)
        if question.key.startswith("readings."):
            drawn = station(size, question.key.partition(".")[2]).drawn_mm
            words += f", drawn {figure(drawn, unit)} {unit}"  # what to expect there
        words += " (three readings)" if question.is_list else ""
        if question.choices:
            said[question.key] = str(click.prompt(question.words, type=click.Choice(question.choices)))
        elif question.needed or question.key == "readings.E_falling":
            said[question.key] = str(click.prompt(words, value_proc=check))
        else:
            given = click.prompt(f"{words}, or nothing", default="", show_default=False, value_proc=check)
            said[question.key] = str(given) or None


def _checker(question: Question, shop: Shop, said: TypedAnswers) -> Callable[[str], str]:
    """Hands on a good answer; of another says what the form would say about it, which click prints before it asks
    again."""
    from jigmaker.coupon.readings import read_form

    # The one answer is put into a form with all that were given before, and the form is read: only what is said about
    # this answer counts now, since what depends on answers that are still to come cannot be right yet.
    about = re.compile(rf"{ANSWERED}(?: line \d+)?: {re.escape(question.key)} ((?:is|has) .*)", re.DOTALL)

    def check(words: str) -> str:
        if words.strip():
            try:
                read_form(filled_form(shop, {**said, question.key: words}), ANSWERED, shop)
            except JobError as error:
                for found in filter(None, map(about.fullmatch, error.faults)):
                    raise click.BadParameter(f"this {found[1]}") from None
        return words.strip()

    return check
