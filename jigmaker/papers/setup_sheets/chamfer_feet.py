"""Operation 13, chamfer the feet: a Bench in, an Operation out; after levelling, never before."""

from functools import partial

from jigmaker.papers.pictures.chamfer import chamfer_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, plus_minus

CHAMFER_MM = 3.0
"""Against splitting when a trestle is dragged: common practice, no source."""


def chamfer_feet(bench: Bench) -> Operation:
    """The arrises round each foot broken, the sole left flat."""
    job, unit = bench.kit.trestle.job, bench.unit
    return Operation(
        title="Chamfer the feet",
        quantity=counted(4 * job.trestles, "foot", "feet"),
        timber="levelled trestles",
        datum="the sole as levelled: it is not touched again",
        figures=((partial(chamfer_picture, bench.kit.trestle, CHAMFER_MM), "A foot from below."),),
        settings=(("chamfer", f"{bench.length(CHAMFER_MM)} all round, on all four arrises of the sole"),),
        steps=(
            "Lay the trestle on its side on a blanket; plane or file each arris toward the middle of the face.",
            "Soak the end grain of the soles with oil or thin glue when the trestles stand outside.",
            "Stand it up again and try for rock: a chamfer must not have met the sole unevenly.",
        ),
        checks=(
            Check(
                "chamfer", bench.length(CHAMFER_MM), plus_minus(1.0, unit), "sole to the chamfer's upper line", "rule"
            ),
            Check("rock", "none", plus_minus(0.2, unit), "foot to the flat, the other three standing", "feeler"),
            Check("sole", "flat", plus_minus(0.2, unit), "corner to corner of each sole", "straight edge"),
            Check("feet", "no splits", "none", "each arris from the sole up", "eye and finger"),
            Check(
                "height", bench.length(job.height_mm), plus_minus(1.0, unit), "floor to top face, four corners", "rule"
            ),
        ),
        caution="A plane on end grain catches and slips: work away from your body, the trestle wedged on its side.",
    )
