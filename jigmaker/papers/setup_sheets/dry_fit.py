"""Operation 9, dry fit: a Bench in, an Operation out; five tape checks of a standing trestle and what each tells."""

from functools import partial

from jigmaker.drawing.page import Block, Facts, Heading
from jigmaker.fit.tape_checks import TapeCheck, tape_checks
from jigmaker.papers.pictures.tape_checks import tape_checks_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Further, Operation
from jigmaker.papers.wording import counted, plus_minus


def dry_fit(bench: Bench) -> Operation:
    """One trestle put together without glue; the tape before the batch is glued."""
    trestle = bench.kit.trestle
    checks = tape_checks(trestle, bench.kit.shop)
    return Operation(
        title="Dry fit, tape checks",
        quantity=f"1 trestle of the {trestle.job.trestles}" if trestle.job.trestles > 1 else "the trestle",
        timber="routed top board, 4 legs, 2 braces",
        datum="the end with the datum mark is the near end; R and L are at your right and left as you face it there",
        figures=((partial(tape_checks_picture, bench.kit), "Where the tape runs."),),
        settings=(("stands on", "a flat floor, the feet on card so that they can slide"),),
        steps=(
            "Press the legs home by hand. A hammer needed: too wide. It falls out: too narrow. Try the gauges.",
            "Clamp both braces in their places; do not force a leg to meet its brace.",
            "Stand it up and hold the tape at the points named; read both ends before you let go.",
            "Readings over a limit: the next sheet says what that tells. Put it right now.",
            "Stand a second dry trestle over the first: they stack, or you know that they do not.",
        ),
        checks=tuple(_check(check, bench) for check in checks),
        caution=(
            f"{counted(4, 'dry leg')} can drop out together: lift the trestle by its legs, not by the board, and keep "
            "feet from under it."
        ),
        further=(Further("Dry fit: what each check tells", blocks=_tells(checks)),),
    )


def _check(check: TapeCheck, bench: Bench) -> Check:
    """All lines of a check are alike by design; where they are not, each is told."""
    lengths = list(dict.fromkeys(bench.length(line.wanted_mm) for line in check.lines))
    pairs = "; ".join(f"{line.start_name} to {line.end_name}" for line in check.lines)
    return Check(check.name, " / ".join(lengths), plus_minus(check.limit_mm, bench.unit), pairs, "tape")


def _tells(checks: tuple[TapeCheck, ...]) -> tuple[Block, ...]:
    return (Heading("What each check tells"), Facts(tuple((check.name, check.tells) for check in checks)))
