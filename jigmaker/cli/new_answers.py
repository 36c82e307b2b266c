"""What jigmaker new is told: options in, checked answers out; on a terminal the questions that no option answers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from jigmaker.cli.questions import Question, TypedAnswers

if TYPE_CHECKING:
    from jigmaker.units import Unit

QUESTIONS = (
    Question("for", "for", "What it is for: sawing, assembly, general, planing, table, standing or planting.", "USE"),
    Question("units", "units", "Units of bare numbers here and of both files; mm without it.", "mm|in"),
    Question("top_thickness", "top-thickness", "Thickness of the top that is laid on the trestles.", "LENGTH"),
    Question("body", "body", "Height of your kneecap, fingertip, wrist or elbow: kneecap=490.", "MEASURE=LENGTH"),
    Question("height", "height", "The trestle's own height, finished.", "LENGTH"),
    Question("other_heights", "other-heights", "Further sizes from the same jig, a trestle's height each.", "LIST"),
    Question("leg_length", "leg-length", "Longest piece of board for a leg; the height follows.", "LENGTH"),
    Question("boards", "boards", "Boards at hand: '38x89, 19x140' as measured, '2x4, 1x6' as sold.", "LIST"),
    Question("top_length", "top-length", "Length of the trestle's own top board.", "LENGTH"),
    Question("rake", "rake", "The lean seen from the side, off the level: 78.", "DEGREES"),
    Question("splay", "splay", "The lean seen from the end, off the level: 78.", "DEGREES"),
    Question("slope_along", "slope-along", "The same from an old trestle, along the board: '4 in 11'.", "'OUT in UP'"),
    Question("slope_across", "slope-across", "And across the board: '1 in 4'.", "'OUT in UP'"),
    Question(
        "foot_spread_along",
        "foot-spread-along",
        "How far apart the feet stand along the board, outside.",
        "LENGTH",
    ),
    Question("foot_spread_across", "foot-spread-across", "And across the board.", "LENGTH"),
    Question("saw", "saw", "Blade of your longest hand saw: is the floor too near?", "LENGTH"),
    Question("door", "door", "Clear width of the door it has to pass; else 760 mm.", "LENGTH"),
    Question("trestles", "trestles", "How many; 2 without it.", "COUNT"),
    Question("name", "name", "The job's name, on every file and part; DIR's without it.", "TEXT"),
    Question("cut", "cut", "Your machine and the width of its cut: 'laser 0.2', 'cnc 6'; or paper.", "'KIND LENGTH'"),
    Question("sheet", "sheet", "Your sheet, length, width, thickness as measured: 600x400x9.1.", "SIZES"),
    Question("router", "router", "Your hand router: 'base 150, bush 17, cutter 12, reach 55'; or none.", "LIST"),
)


# Examples in questions.
_BODY = {"mm": "kneecap=490", "in": "kneecap=19 1/4"}
_OTHER_HEIGHTS = {"mm": "such as 650, 520", "in": "such as 26, 20 1/2"}
_BOARDS = {"mm": "38x89, 19x140", "in": "2x4, 1x6"}


def asked_on_terminal(given: TypedAnswers, name: str) -> TypedAnswers:
    """The answers with those questions asked that no option answers; Enter takes the answer in brackets."""
    from jigmaker.suggest.answers import refuse_faults
    from jigmaker.suggest.shop_answers import CUT, ROUTER, SHEET
    from jigmaker.suggest.uses import USES, use_named
    from jigmaker.units import length_text

    refuse_faults(given)  # before any question
    said = dict(given)
    _ask(said, "units", "Units, mm or in", "mm")
    unit: Unit = "in" if said["units"] == "in" else "mm"
    has_height = any(said[key] is not None for key in ("body", "height", "leg_length"))
    _ask(said, "for", f"What is it for: {', '.join(use.key for use in USES)}", "general")
    use = use_named(said["for"] or "general")
    if use.laid_mm:
        _ask(said, "top_thickness", "Thickness of the top laid on it", length_text(use.laid_on_mm(unit), unit))
    if not has_height:
        click.echo(f"A measure of your body will do too: {_BODY[unit]}; or fingertip, wrist, elbow.")
        # One question for two answers: with "=" it is a measure of the body, else the trestle's own height.
        text = click.prompt(
            f"{use.band(unit)} is usual; your own height for the trestle, or nothing for the usual",
            default="",
            show_default=False,
            value_proc=lambda text: _checked(said, "body" if "=" in text else "height", text),
        )
        said["body" if "=" in text else "height"] = text or None
    if use.key == "sawing":
        _ask(said, "saw", "Blade of your longest hand saw, or nothing", "")
    _ask(said, "boards", f"Boards at hand, such as {_BOARDS[unit]}, or nothing for usual sizes", "")
    _ask(said, "trestles", "How many trestles", "2")
    _ask(said, "other_heights", f"As many of other heights from the same jig, {_OTHER_HEIGHTS[unit]}, or nothing", "")
    _ask(said, "name", "The job's name", name)
    click.echo(
        "What is measured decides whether things fit; what you do not know yet stays as an example in shop.toml."
    )
    _ask(said, "cut", f"Your machine and the width of its cut, such as {CUT[unit]} to saw by hand, or nothing", "")
    _ask(said, "sheet", f"Your sheet as measured, such as {SHEET[unit]}, or nothing", "")
    _ask(said, "router", f"Your hand router, such as {ROUTER[unit]}, none for saw and chisel, or nothing", "")
    return said


def _ask(said: TypedAnswers, key: str, words: str, default: str) -> None:
    """Ask for one answer unless it is there; a wrong one is refused in a sentence and asked for again."""
    if said[key] is not None:
        return
    answer = click.prompt(
        words, default=default, show_default=bool(default), value_proc=lambda text: _checked(said, key, text)
    )
    said[key] = answer or None


def _checked(said: TypedAnswers, key: str, text: str) -> str:
    """The text, when it is an answer; raises what makes click ask again."""
    from jigmaker.suggest.answers import fault_of_answer

    plain = text.strip()
    fault = fault_of_answer(key, plain, said.get("units")) if plain else ""
    if fault:
        raise click.BadParameter(fault)
    return plain
