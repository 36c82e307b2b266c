"""The questions of the coupon's form asked on a terminal: shop and known answers in, the others added as typed.

Every answer is held to the form's own rules at once, so that a slip is mended where it happens.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

import click

from jigmaker.cli.coupon_answers import ANSWERED, QUESTIONS, Question, Said, filled_form
from jigmaker.errors import JobError

if TYPE_CHECKING:
    from jigmaker.job.shop import Shop
    from jigmaker.parts.coupon_size import CouponSize
    from jigmaker.units import Unit

_ONLY_WITH = {
    "readings.E_falling": "readings.E_rising",
    "turn_over.length": "turn_over.opening",
    "turn_over.leans": "turn_over.opening",
    "turn_over.lay": "turn_over.opening",
}


def ask(shop: Shop, said: Said) -> None:
    """Ask for everything that no option has said; an empty answer leaves a place out, or takes its usual value."""
    from jigmaker.parts.coupon_size import coupon_size

    unit = shop.files.unit
    size = coupon_size(shop, unit)
    for question in QUESTIONS:
        other = _ONLY_WITH.get(question.key)
        if said[question.key] is not None or (other is not None and not said[other]):
            continue
        if size.gap or not question.key.startswith("gap."):
            said[question.key] = _answer(question, size, unit, _checker(question, shop, said))


def _answer(question: Question, size: CouponSize, unit: Unit, check: Callable[[str], str]) -> str | None:
    if question.choices:
        return str(click.prompt(question.words, type=click.Choice(question.choices)))
    words = question.words + _drawn(question, size, unit) + (" (three readings)" if question.is_list else "")
    if question.needed or question.key == "readings.E_falling":
        return str(click.prompt(words, value_proc=check))
    return str(click.prompt(f"{words}, or nothing", default="", show_default=False, value_proc=check)) or None


def _drawn(question: Question, size: CouponSize, unit: Unit) -> str:
    """What to expect there."""
    from jigmaker.fit.stations import station
    from jigmaker.parts.coupon_size import figure

    section, _, key = question.key.partition(".")
    if section == "readings":
        return f", drawn {figure(station(size, key).drawn_mm, unit)} {unit}"
    return ""


def _checker(question: Question, shop: Shop, said: Said) -> Callable[[str], str]:
    """Hands on a good answer; of another says what the form would say about it, which click prints before it asks
    again."""
    from jigmaker.fit.readings import read_form

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
