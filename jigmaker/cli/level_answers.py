"""Readings of one trestle by options or at the keyboard: options in, a form's text out; missing ones are asked for."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from jigmaker.cli.questions import ANSWERED, Question, options_named
from jigmaker.cli.speech import is_terminal
from jigmaker.errors import UsageError
from jigmaker.job.typed import number_or_text, toml_value

if TYPE_CHECKING:
    from jigmaker.job.rules import Rule
    from jigmaker.units import Unit

_FEET = ("near_r", "near_l", "far_r", "far_l")  # as standing.feet has them: loading that would slow down --help


def _four(kind: str, words: str) -> tuple[Question, ...]:
    names = {key: f"{key[:-2]} {key[-1].upper()}" for key in _FEET}
    return tuple(
        Question(f"{kind}_{key}", f"{kind}-{key.replace('_', '-')}", f"{words} {names[key]}", "LENGTH") for key in _FEET
    )


TOP = Question("top", "top", "Top levelled: floor to top face", "LENGTH")
UNDER = _four("under", "Under")
OVER = _four("over", "Floor to the batten over")
HANGS = Question("hangs", "hangs", f"The foot that hangs: {', '.join(_FEET)}", "FOOT")
SIZE = Question("size", "size", "Of a job with several sizes which one it is: its height", "LENGTH")
ROCK = (HANGS, Question("gap", "gap", "The gap under it", "LENGTH"))
QUESTIONS = (TOP, *UNDER, *OVER, *ROCK, SIZE)

WAYS = {"level": (TOP, *UNDER), "battens": OVER, "rock": ROCK}
"""What each way must have. Battens may have what is under the feet too: all four, or none."""


def answered_form(unit: Unit, wanted: dict[str, str | None], given: dict[str, str | None]) -> bytes:
    """A form with what the options say, and with what is asked for on a terminal.

    Raises UsageError, naming the options, for what is missing where there is no terminal.
    """
    said = {key: value for key, value in given.items() if value is not None}
    # The way that the given options belong to; "" when none of them tells.
    ways = (
        ("level", "top" in said),
        ("rock", any(question.key in said for question in ROCK)),
        ("battens", any(question.key in said for question in OVER)),
    )
    way = next((name for name, is_told in ways if is_told), "")
    missing = [question for question in WAYS[way] if question.key not in said] if way else []
    if (missing or not way) and not is_terminal():
        if way:
            options = options_named(missing)
            raise UsageError(f"there is no terminal to ask at; give the options {options} too")
        raise UsageError(
            "there is no terminal to ask at; give --readings FILE.toml (--form FILE.toml writes one to fill in), or "
            "--top with --under-near-r, --under-near-l, --under-far-r, --under-far-l, or four --over-..., or --hangs "
            "with --gap"
        )
    if missing or not way:
        way = way or str(click.prompt(_ASK_WAY, type=click.Choice(list(WAYS))))
        _ask(said, way, unit)
    # From here on it is a form as any other: one reader judges options, answers and files.
    level = {"units": unit, **{key: value for key, value in wanted.items() if value is not None}}
    sections = [("level", level), ("trestle_1", said)]
    return "\n".join(
        line for name, keys in sections for line in (f"[{name}]", *(f"{key} = {toml_value(keys[key])}" for key in keys))
    ).encode()


_ASK_WAY = 'How was it read: "level" first, then one height; heights by "battens"; or only the "rock"'


def as_options(message: str) -> str:
    """A fault of the answers told by the option that gave it: "--gap is 0 mm", not "the answers line 3: ..."."""
    # The reader tells faults by the form's file, line and key. Whoever gave options never saw that form, so the place
    # becomes the option, within the sentence too, where other keys are named.
    found = re.sub(rf"{ANSWERED}(?: line [0-9]+)?: (?:trestle_1|level)\.(\w+)", lambda key: _option(key[1]), message)
    whole = re.sub(rf"{ANSWERED}(?: line [0-9]+)?: (?:trestle_1|level) ", "the trestle ", found)
    return re.sub(r"\b(under|over)_((?:near|far)_[rl]|\*)", lambda key: _option(key[0]), whole)


def _option(key: str) -> str:
    return f"--{key.replace('_', '-')}"


def _ask(said: dict[str, str], way: str, unit: Unit) -> None:
    """Ask for everything of this way that no option has said."""
    from jigmaker.cli.speech import say
    from jigmaker.levelling.feet import PICTURE, WHICH_IS_WHICH
    from jigmaker.levelling.level_rules import trestle_section

    say([*PICTURE, WHICH_IS_WHICH])
    section = trestle_section("trestle_1")
    for question in WAYS[way] + (UNDER if way == "battens" else ()):
        if question.key in said:
            continue
        said[question.key] = str(
            click.prompt(
                question.words if question is HANGS else f"{question.words} ({unit})",
                default="0" if question in UNDER else None,
                value_proc=_checked(section.rule(question.key), unit),
            )
        )


def _checked(rule: Rule, unit: Unit) -> Callable[[str], str]:
    """Takes an answer that the form's rule takes; asks again, with the rule, for any other."""
    from jigmaker.job.values import fault_of

    def check(words: str) -> str:
        plain = words.strip()
        if fault := fault_of(rule, number_or_text(plain), unit):
            raise click.BadParameter(f"that {fault}")
        return plain

    return check
