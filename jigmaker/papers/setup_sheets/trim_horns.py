"""Operation 11, trim the horns: a Bench in, an Operation out. Without a horn the heads are only planed flush."""

from functools import partial

from jigmaker.papers.pictures.horn import horn_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, plus_minus

_CAPTION = {
    True: "A head before it is trimmed; the broken line lies in the top face.",
    False: "A head in its housing, as it comes out of the glue.",
}
"""By whether a horn was left on."""


def trim_horns(bench: Bench) -> Operation:
    """What stands above the top face is sawn and planed flush, once the glue is hard."""
    job = bench.kit.trestle.job
    horn, reveal = job.leg.horn_mm, job.housing.reveal_mm
    stands = f"{bench.length(horn)} along the leg" if horn else "nothing was left on: heads come flush as sawn"
    outside = f"stands {bench.length(reveal)} proud, square to its face, and stays so" if reveal else "flush"
    return Operation(
        title="Trim the horns",
        quantity=f"{counted(4 * job.trestles, 'head')}",
        timber="glued trestles, glue hard",
        datum="the top face of the board",
        figures=((partial(horn_picture, bench.kit.trestle), _CAPTION[bool(horn)]),),
        settings=(("horn", stands), ("outer face of the leg at the board's edge", outside)),
        steps=_steps(bench),
        checks=_checks(bench),
        caution=(
            "A saw that jumps off the head runs over the hand that steadies the leg: hold the trestle by a clamp, not "
            "beside the cut."
        ),
    )


def _steps(bench: Bench) -> tuple[str, ...]:
    """What is done, in order."""
    job = bench.kit.trestle.job
    horn = job.leg.horn_mm
    return (
        (
            "Saw the horns off a card's thickness above the top face, a piece of card with a notch under the saw."
            if horn
            else "Feel over each head: where it stands above the top face it was not pressed home, or is longer."
        ),
        "Plane from the outside toward the middle of the board, so that the leg's edge does not split off.",
        "Sink every screw head that the plane could meet; look twice.",
        "Lay a straight edge across both heads of an end: the board's face must not be planed hollow.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    job = bench.kit.trestle.job
    unit = bench.unit
    reveal = job.housing.reveal_mm
    outside = f"stands {bench.length(reveal)} proud, square to its face, and stays so" if reveal else "flush"
    return (
        Check("head", "flush", plus_minus(0.2, unit), "head's end grain to the board's top face", "straight edge"),
        Check(
            "outer face",
            outside.split(",")[0],
            plus_minus(0.3, unit),
            "leg's wide face to the board's edge, at the top arris",
            "rule",
        ),
        Check(
            "straight across",
            "flat",
            plus_minus(0.2, unit),
            "head over the board to head, each end",
            "straight edge",
        ),
        Check("along", "flat", plus_minus(0.5, unit), "end to end along the board's middle", "straight edge"),
        Check("screw heads", "below", "never above", "head to the surface round it", "finger nail"),
    )
