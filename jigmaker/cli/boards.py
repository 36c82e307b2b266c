"""jigmaker boards: a job and the boards at hand in; which pieces come out of which board, and what to buy, out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jigmaker.cli.asked_options import job_argument, shop_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jigmaker.cli.reading import Asked
    from jigmaker.order.cutting_plan import BoardPlan, Placed, SectionPlan
    from jigmaker.order.pieces import PieceKind
    from jigmaker.units import Unit


@click.command("boards", short_help="Plan which pieces come out of which board.")
@job_argument
@click.option(
    "--from",
    "boards",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="The boards at hand; else boards.toml beside the job.",
)
@click.option("--spares", is_flag=True, help="Cut spare pieces even where they take one more board.")
@click.option("--json", "as_json", is_flag=True, help="Print the plan as JSON.")
@shop_option
def command(job: Path | None, boards: Path | None, spares: bool, as_json: bool, shop: Path | None) -> None:
    """Print the cutting plan of a batch: boards to buy, and every board with its pieces. Nothing is written.

    boards.toml lists the boards at hand; jigmaker explain boards shows one. Without it the lengths to buy are printed.
    """
    from jigmaker.cli.long_work import long_work
    from jigmaker.cli.reading import read_asked
    from jigmaker.cli.speech import row, say
    from jigmaker.order.board_file import read_boards
    from jigmaker.order.cutting_plan import plan_boards
    from jigmaker.papers.wording import counted, size
    from jigmaker.units import length_text

    asked = read_asked(job, shop, boards)
    if not asked.source.boards_text:
        # Without boards there is nothing to plan: what a board would have to hold of each section is told instead.
        # Lengths of pieces are in micrometres here, as the plan counts them.
        unit = asked.job.unit
        lines = row("", f"{asked.job.name}: lengths to buy; no boards are told.", column=0)
        for kind in _kinds(asked, _usual_kerf_mm(asked)):
            section = size(kind.width_mm, kind.thickness_mm, unit=unit)
            one = length_text((kind.length + kind.spread) / 1000, unit, 1)
            each = length_text(kind.takes / 1000, unit, 1)
            count = counted(kind.wanted, kind.name, kind.names) + (f" and {kind.spares} spare" if kind.spares else "")
            what = count if kind.wanted else kind.name
            lines += row("", f"{section}: {what}; one takes {one}, each further one in a board {each}.", column=0)
        say(
            [*lines, *row("next", "Write what is to be had into boards.toml beside the job (jigmaker explain boards).")]
        )
        return
    # The kerf of the boards file, which says what saw they are cut with, goes before the shop's.
    with long_work():
        file = read_boards(asked.source.boards_text, asked.job.unit, asked.source.boards_file, _usual_kerf_mm(asked))
        plans = plan_boards(_kinds(asked, file.kerf_mm), file, asked.job.unit, spares)
    if as_json:
        from jigmaker.making.json_text import json_text

        say(json_text(plan_json(plans)).decode().rstrip("\n").split("\n"))
        return
    say(plan_lines(asked, plans))


def _usual_kerf_mm(asked: Asked) -> float:
    """What the shop's saw takes, or a usual one."""
    from jigmaker.job.practice import SAW_KERF_MM

    return asked.shop.timber_kerf_mm if asked.shop else SAW_KERF_MM


def _kinds(asked: Asked, kerf_mm: float) -> tuple[PieceKind, ...]:
    """Every kind of piece; with a shop the piece for trial housings too, whose length is the jig's."""
    from jigmaker.order.pieces import piece_kinds
    from jigmaker.parts.housing_saw.guides import trial_piece_mm
    from jigmaker.trestle.cut_list import turns_legs
    from jigmaker.trestle.solve import solve

    trestle = solve(asked.job)
    if asked.shop is None:
        return piece_kinds(trestle, kerf_mm)
    in_blanks = turns_legs(trestle, asked.shop)
    return piece_kinds(trestle, kerf_mm, trial_piece_mm(trestle, asked.shop), in_blanks)


def plan_lines(asked: Asked, plans: Sequence[SectionPlan]) -> list[str]:
    """The plan as a table for the screen."""
    from jigmaker.cli.speech import row
    from jigmaker.papers.boards_page import long_text, proof_words, spare_lines
    from jigmaker.papers.wording import counted, size
    from jigmaker.units import length_text

    unit = asked.job.unit
    lines = row("", f"{asked.job.name}: boards for {counted(asked.job.all_trestles, 'trestle')}", column=0)
    for plan in plans:
        section = size(plan.width_mm, plan.thickness_mm, unit=unit)
        buy = ", ".join(f"{n} of {length_text(kind.length_mm, unit)}" for kind, n in plan.to_buy)
        waste = f"{100 * plan.waste:.0f} % waste"
        bought = f"{buy}; {long_text(plan.metres, unit)}, {waste}. Boards: {proof_words(plan)}."
        lines += ["", *row("", f"{section}: {bought}", column=0)]
        for board, numbers in plan.alike.items():
            words = f"{length_text(board.kind.length_mm, unit)}: {', '.join(_runs(board, unit))}"
            lines += row(f"  {numbers[0]}" + (f" to {numbers[-1]}" if len(numbers) > 1 else ""), words)
    for line in spare_lines(plans, unit):
        lines += row("caution", line)
    return lines


def _runs(board: BoardPlan, unit: Unit) -> list[str]:
    """Pieces of one kind that follow each other, told together: how many, from where to where."""
    from itertools import groupby, pairwise

    from jigmaker.papers.wording import counted
    from jigmaker.units import length_text

    # Neighbours lie a saw's cut and its play apart, at most the widest gap of the board's kinds: a longer stretch
    # between two is a defect that was cut out, and a new run begins behind it.
    runs, order = [], {piece: i for i, piece in enumerate(board.pieces)}
    widest = max((piece.kind.gap for piece in board.pieces), default=0)

    def run_of(piece: Placed) -> tuple[PieceKind, int, int]:
        """Same for all pieces of a run: kind, strip, and how many breaks lie before it."""
        before = [board.pieces[i] for i in range(order[piece] + 1)]
        breaks = sum(b.start - a.end > widest for a, b in pairwise(before))
        return piece.kind, piece.stick, breaks

    for (kind, stick, _), run in groupby(board.pieces, run_of):
        pieces = list(run)
        low, high = (length_text(mm / 1000, unit, 1) for mm in (pieces[0].start, pieces[-1].end))
        strip = f" in strip {stick}" if board.sticks > 1 else ""
        runs.append(f"{counted(len(pieces), kind.name, kind.names)}{strip}, {low} to {high}")
    return runs


def plan_json(plans: Sequence[SectionPlan]) -> dict[str, Any]:
    """The plan as plain data: mm, boards in the order in which they are numbered."""
    # Pieces and spares are counted in whole micrometres, prices in whole hundredths of the user's money: here both
    # become what a reader of the file expects.
    sections = []
    for plan in plans:
        boards = []
        for board in plan.boards:
            pieces = [
                {
                    "piece": piece.kind.name,
                    "strip": piece.stick,
                    "from_mm": piece.start / 1000,
                    "to_mm": piece.end / 1000,
                    "stop_mm": piece.kind.stop_mm,
                }
                for piece in board.pieces
            ]
            spare = board.to_spare / 1000
            boards.append(
                {"length_mm": board.kind.length_mm, "strips": board.sticks, "to_spare_mm": spare, "pieces": pieces}
            )
        sections.append(
            {
                "width_mm": plan.width_mm,
                "thickness_mm": plan.thickness_mm,
                "boards": boards,
                "count": len(plan.boards),
                "metres": plan.metres,
                "least": plan.least / 100 if plan.is_priced else plan.least,
                "proved": plan.cost == plan.least,
                **({"cost": plan.cost / 100} if plan.is_priced else {}),
                "spares_left_out": [kind.name for kind in plan.left_out],
            }
        )
    return {"schema": "jigmaker boards 1", "sections": sections}
