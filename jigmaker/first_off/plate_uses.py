"""A solved trestle and the shop in, other bushes and cutters for the plate's slot out, each with the leg it houses; mm.

The slot keeps its width, so the housing is slot less bush plus cutter wide. Rake, splay, depth and the housing's middle
stay: the leg has the job's thickness.
"""

from jigmaker.job.rules import section_of
from jigmaker.job.sections import JOB
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.housing_jig.plate import corner_radius
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH, Unit

BUSHES_MM: dict[Unit, tuple[float, ...]] = {
    "mm": (10, 12, 13, 16, 17, 18, 20, 22, 24, 27, 30, 40),
    "in": tuple(MM_PER_INCH * n / 64 for n in (20, 24, 28, 32, 40, 48, 51, 64)),
}
"""Outer diameters on sale. 10, 13, 16, 17, 20, 30 and 40 mm, 7/16, 1/2, 5/8, 3/4 and 1 in are met in print; the others
are common practice, no source."""

CUTTERS_MM: dict[Unit, tuple[float, ...]] = {
    "mm": (6, 8, 10, 12, 12.7, 15, 16, 18, 19, 20),
    "in": tuple(MM_PER_INCH * n / 16 for n in (4, 5, 6, 8, 10, 12)),
}
"""Straight cutters for housings (common practice, no source)."""

BUSH_WALL_MM = 1.0
"""The least wall of a bush; its bore is not known before it is measured (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PlateUse:
    """A bush and a cutter in the plate's slot. leg_width: of the leg that its housing takes with the job's clearance;
    inset: where that leg's housing begins on the top arris, from the board's end. is_own: what the plate was made for.
    """

    bush_mm: float
    cutter_mm: float
    leg_width_mm: float
    inset_mm: float
    is_own: bool


def plate_uses(trestle: Trestle, shop: Shop) -> tuple[PlateUse, ...]:
    """Every pair of a common bush and a common cutter that works in the slot, the narrowest leg first.

    Works: the cutter passes the bush, the bush enters the slot and is rounder than its corners, the cutter starts clear
    of the wood and runs out of it, and the leg is one that a job may have. Cutters must reach as far as the job's own.
    """
    unit, router = trestle.job.unit, shop.router
    pairs = {(bush, cutter) for bush in BUSHES_MM[unit] for cutter in CUTTERS_MM[unit]}
    pairs.add((router.bush_mm, router.cutter_mm))
    job, layout, rule = trestle.job, lay_out_jigs(trestle, shop)[0], section_of(JOB, "leg").rule("width")
    # v of the plate plane: where the floor meets the board's top face, and where the wood ends at its bottom arris.
    corner = max(corner_radius(layout), shop.machine.tool_mm / 2)
    wood_front = 0.0 - layout.depth_square * cotangent(layout.splay_deg)
    wood_rear = layout.top_thickness * sine(layout.splay_deg)
    uses = []
    for bush, cutter in sorted(pairs):
        # The cutter goes through the bush: through the bore of the shop's own bush where that is known.
        passes = cutter <= bush - 2 * BUSH_WALL_MM
        if bush == router.bush_mm and router.bush_bore_mm is not None:
            passes = cutter < router.bush_bore_mm
        # The bush enters the slot with room to be fed round, and does not catch in its corners.
        rides = bush / 2 > corner and bush <= layout.slot_width
        # At the slot's front end the whole cutter stands before the wood, at its rear end it has left both walls.
        front = layout.slot_front + (bush + cutter) / 2
        rear = layout.slot_rear - (bush - cutter) / 2 - cutter / 2 * (1 + cosine(layout.face_deg))
        clears = front <= wood_front and rear >= wood_rear
        # The bush keeps half of (bush - cutter) of wood at each wall of the slot.
        width = layout.slot_width - (bush - cutter) - job.housing.clearance_mm
        is_own = (bush, cutter) == (router.bush_mm, router.cutter_mm)
        if is_own or (passes and rides and clears and rule.low <= width <= rule.high):
            inset = job.inset_mm + (job.leg.width_mm - width) / (2 * sine(trestle.angles.leg_face_deg))
            uses.append(PlateUse(bush, cutter, width, inset, is_own))
    return tuple(sorted(uses, key=lambda use: (use.leg_width_mm, use.bush_mm)))
