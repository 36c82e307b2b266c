"""A solved trestle and the shop in, five checks with a tape out: lines, lengths, limits, what each tells; mm.

For the trestle as it stands together dry, or glued while the glue still gives. Timber frame.
"""

from math import ceil, hypot

from jigmaker.first_off.tape_faults import FAULTS, SEAT_OF_FOOT, Fault, FootName, Wrong, feet_of, usual_errors
from jigmaker.geometry.vectors import Vector, length, subtract
from jigmaker.job.practice import LONG_TAPE_MM, TAPE_MM
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH

SEEN = 1 / 3
"""A fault shows in a line that changes by this much of what the foot moves."""


@dataclass(frozen=True, slots=True)
class TapeLine:
    """One length to measure, between two named points; timber frame, mm."""

    start_name: str
    end_name: str
    start: Vector
    end: Vector

    @property
    def wanted_mm(self) -> float:
        """From point to point."""
        return length(subtract(self.end, self.start))


@dataclass(frozen=True, slots=True)
class TapeCheck:
    """Lines that are all to be as long as each other, and as wanted. limit: how far each may be off, mm.

    sees: faults of a single leg that show here, by a third of what they move the foot or more. tells: what to look for
    when the check is off.
    """

    key: str
    name: str
    lines: tuple[TapeLine, ...]
    limit_mm: float
    sees: tuple[Fault, ...]
    tells: str

    @property
    def wanted_mm(self) -> float:
        """The length of its lines."""
        return self.lines[0].wanted_mm


@dataclass(frozen=True, slots=True)
class _Plan:
    """A check before it is measured: pairs of points by name."""

    key: str
    name: str
    pairs: tuple[tuple[str, str], ...]
    tells: str


_PLANS = (
    _Plan(
        "diagonals",
        "diagonals, foot to foot",
        (("foot near R", "foot far R"), ("foot far L", "foot near L")),
        "the feet are no rectangle: find the leg that is off by the next two checks. When these are right, push "
        "one end across, or one side along, until it gives.",
    ),
    _Plan(
        "along",
        "spread along the board",
        (("foot near R", "foot far L"), ("foot near L", "foot far R")),
        "one side off: a leg of that side is turned in its housing, or its housing is out of place. Both sides "
        "alike: {along}, or the rake.",
    ),
    _Plan(
        "across",
        "spread across, at each end",
        (("foot near R", "foot near L"), ("foot far L", "foot far R")),
        "one end off: a leg there is not home, its housing's floor is out of true, or the brace is off its length. "
        "Both ends alike: {across}.",
    ),
    _Plan(
        "height",
        "height at both ends",
        (("top, near end", "floor under near end"), ("top, far end", "floor under far end")),
        "one end off: a leg there is not home, or of another length; rock the trestle to see which. Both ends "
        "alike: the saw's stop.",
    ),
    _Plan(
        "through",
        "foot to the opposite corner of the top",
        (
            ("foot near R", "top corner far R"),
            ("foot far R", "top corner near R"),
            ("foot far L", "top corner near L"),
            ("foot near L", "top corner far L"),
        ),
        "both of one end long, both of the other short: the trestle leans; push the board along. Both of one side "
        "long: the same across.",
    ),
)


# What is set wrong when all four legs are off alike, by how housings are made.
_SET_WRONG = {
    "routed": {"along": "the jig's stop or slot", "across": "the plate's tilt, or the projection"},
    "sawn": {"along": "the saw guide's stop or cheeks", "across": "the paring guide, or a lifted chisel"},
}


def tape_checks(trestle: Trestle, shop: Shop) -> tuple[TapeCheck, ...]:
    """Five checks in the order in which they are made."""
    points = points_of(trestle)
    usual = usual_errors(trestle, shop)
    checks = []
    for plan in _PLANS:
        lines = tuple(TapeLine(a, b, points[a], points[b]) for a, b in plan.pairs)
        # Faults that change a line by SEEN of what they move the foot.
        seen = []
        for fault in FAULTS:
            wrong = (Wrong("near R", fault, 0.1),)
            moved = length(subtract(feet_of(trestle, wrong)["near R"], feet_of(trestle)["near R"]))
            if max(abs(line_change_mm(trestle, pair, wrong)) for pair in plan.pairs) >= SEEN * moved:
                seen.append(fault)
        # The limit: what the tape strays, and the root of squares of what each usual error of each leg does, up to the
        # next mark of a rule. Errors of different legs and of different kinds are independent, so they add up as
        # squares (JCGM 100:2008, 5.1.2). All lines of a check are alike: the first stands for them.
        tape = TAPE_MM if lines[0].wanted_mm <= 1000 else LONG_TAPE_MM
        effects = [
            line_change_mm(trestle, plan.pairs[0], (Wrong(foot, fault, usual[fault]),))
            for foot in SEAT_OF_FOOT
            for fault in FAULTS
        ]
        step = 0.5 if trestle.job.unit == "mm" else MM_PER_INCH / 32
        limit = ceil((tape + hypot(*effects)) / step - 1e-9) * step
        tells = plan.tells.format(**_SET_WRONG["routed" if shop.routs_housings else "sawn"])
        checks.append(TapeCheck(plan.key, plan.name, lines, limit, tuple(seen), tells))
    return tuple(checks)


def points_of(trestle: Trestle, wrongs: tuple[Wrong, ...] = ()) -> dict[str, Vector]:
    """Every point that a tape is held to, by name; feet with what is wrong with their legs.

    A foot's point is its outer corner toward the board's end. The floor under an end is as low as the two feet there
    are on the mean: rocking is halved.
    """
    top, feet = trestle.job.top, feet_of(trestle, wrongs)
    points: dict[str, Vector] = {f"foot {foot}": at for foot, at in feet.items()}
    for foot, (x, y) in SEAT_OF_FOOT.items():
        points[f"top corner {foot}"] = (x * top.length_mm / 2, y * top.width_mm / 2, 0.0)
    ends: tuple[tuple[str, int, tuple[FootName, FootName]], ...] = (
        ("near", 1, ("near R", "near L")),
        ("far", -1, ("far L", "far R")),
    )
    for name, x, (one, other) in ends:
        level = (feet[one][2] + feet[other][2]) / 2
        points[f"top, {name} end"] = (x * top.length_mm / 2, 0.0, 0.0)
        points[f"floor under {name} end"] = (x * top.length_mm / 2, 0.0, level)
    return points


def line_change_mm(trestle: Trestle, pair: tuple[str, str], wrongs: tuple[Wrong, ...]) -> float:
    """How much longer the line between two named points gets with what is wrong."""
    right, off = points_of(trestle), points_of(trestle, wrongs)
    a, b = pair
    return length(subtract(off[b], off[a])) - length(subtract(right[b], right[a]))
