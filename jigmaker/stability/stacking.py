"""How trestles stack: one is lowered straight onto another until they touch; Trestle in, Stacking out. mm.

Found on solids. Nothing is assumed about which pieces meet.
"""

from functools import lru_cache
from itertools import product

from jigmaker.geometry.solid import Solid
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids

PITCH_MM = 0.01
"""How near the pitch is found, rounded up: never less than what is free."""

_STEP_MM = 10.0  # lowered by so much at a time: less than any board is thick, so that no piece is passed through
_TOUCH_MM3 = 1e-3  # what rounding leaves between two faces that touch
_CLOSER_MM = 0.5  # lowered by this much more, the pieces that meet show


@dataclass(frozen=True, slots=True)
class Stacking:
    """pitch_mm: how much higher the next trestle stands; meets: the pieces that stop it, upper piece first.

    is_nested: the upper one's feet come down past the lower one's board.
    """

    pitch_mm: float
    meets: tuple[tuple[str, str], ...]
    height_mm: float

    @property
    def is_nested(self) -> bool:
        """False when the upper trestle only stands on the lower one."""
        return self.pitch_mm < self.height_mm - PITCH_MM

    def stack_mm(self, trestles: int) -> float:
        """Height of a stack of so many, floor to the topmost board."""
        return self.height_mm + (trestles - 1) * self.pitch_mm


@lru_cache(maxsize=16)  # a second of solids, wanted by two papers; as many as a job has sizes
def stacking_of(trestle: Trestle) -> Stacking:
    """The pitch, by lowering in steps and then halving the last one."""
    pieces = trestle_solids(trestle)
    whole, height = Solid.union(pieces.values()), trestle.job.height_mm
    free, met = height + _STEP_MM, height
    while met > 0 and not _interfere(whole, whole, met):
        free, met = met, met - _STEP_MM
    while free - met > PITCH_MM:
        middle = (free + met) / 2
        free, met = (free, middle) if _interfere(whole, whole, middle) else (middle, met)
    # Kinds of pieces that meet, each pair once: ("leg", "top board").
    offset = free - _CLOSER_MM
    pairs = (
        (_kind(upper), _kind(lower))
        for upper, lower in product(pieces, repeat=2)
        if _interfere(pieces[lower], pieces[upper], offset)
    )
    return Stacking(free, tuple(sorted(set(pairs))), height)


def _interfere(lower: Solid, upper: Solid, offset: float) -> bool:
    return lower.common(upper.moved((0.0, 0.0, offset))).volume > _TOUCH_MM3


def _kind(name: str) -> str:
    return name if name == "top board" else name.split()[0]
