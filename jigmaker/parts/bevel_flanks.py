"""Which flanks a trestle's bevel plates need: Trestle in, Flanks in plates of four out. Degrees off the named line.

A use is one angle that a sliding bevel or a saw blade is set to, with the line or face it is off. Uses closer than
SHARED_FLANK_DEG share a flank, cut at the angle of the first of them.
"""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.geometry.tolerance import SHARED_FLANK_DEG
from jigmaker.job.shop import Shop
from jigmaker.parts.part import Setting
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import fixed

FLANKS_PER_PLATE = 4


@dataclass(frozen=True, slots=True)
class FlankUse:
    """One setting: its name, what the angle is off, the exact angle, and what it is for."""

    name: str
    reference: str
    angle_deg: float
    why: str


@dataclass(frozen=True, slots=True)
class Flank:
    """One flank: the angle inside its corner, off the reference edge, and every use it serves."""

    angle_deg: float
    uses: tuple[FlankUse, ...]

    def words(self, own_figures: bool = True) -> list[str]:
        """The uses in capitals, a line for each reference; one off by more than the last digit says its own figure."""
        references = dict.fromkeys(use.reference for use in self.uses)
        return [self._line(reference, own_figures) for reference in references]

    def _line(self, reference: str, own_figures: bool) -> str:
        names = [self._name(use, own_figures) for use in self.uses if use.reference == reference]
        return f"{', '.join(names)} {reference}".strip().upper()

    def _name(self, use: FlankUse, own_figures: bool) -> str:
        own, cut = fixed(use.angle_deg, 2), fixed(self.angle_deg, 2)
        return f"{use.name} ({own}°)" if own_figures and own != cut else use.name


SQUARE = Flank(
    90.0,
    (FlankUse("true square", "", 90.0, "a flank left over is cut true square; it serves the turn-over test as well"),),
)


def wanted_uses(trestle: Trestle, shop: Shop) -> tuple[FlankUse, ...]:
    """Every angle that a bevel or saw of this job is set to, the most used first; each at most 90. A blade that does
    not tilt is set to none.
    """
    a = trestle.angles
    blade = FlankUse("saw blade", "off table, leg on face", 90 - a.saw_tilt_deg, "blade for a leg's end cuts")
    return (
        FlankUse("rake", "off level", a.rake_deg, "lean of a leg seen from the trestle's side"),
        FlankUse("splay", "off level", a.splay_deg, "lean of a leg seen from the trestle's end"),
        FlankUse("leg face", "off arris", a.leg_face_deg, "line of the end cut across a leg's wide face"),
        FlankUse("leg edge", "off arris", 90 - a.leg_edge_deg, "line of the end cut across a leg's narrow edge"),
        FlankUse("brace end", "off long edge", a.brace_end_deg, "line across a brace's face, under the top"),
        FlankUse("board edge", "off top arris", a.edge_line_deg, "walls of a housing on the board's edge"),
        FlankUse(
            "board faces", "off edge", 90 - a.edge_twist_deg, "walls of a housing on the board's top and bottom face"
        ),
        *([blade] if shop.leg_saw.kind == "tilting" else []),
        FlankUse("brace top edge", "off its face", a.brace_edge_deg, "bevel along a brace's top edge"),
    )


def share_flanks(uses: Sequence[FlankUse]) -> tuple[Flank, ...]:
    """One flank for each different angle, in the order of the uses; every use within SHARED_FLANK_DEG of its flank."""
    flanks: list[Flank] = []
    for use in uses:
        near = [i for i, flank in enumerate(flanks) if abs(flank.angle_deg - use.angle_deg) < SHARED_FLANK_DEG]
        if near:
            flanks[near[0]] = replace(flanks[near[0]], uses=flanks[near[0]].uses + (use,))
        else:
            flanks.append(Flank(use.angle_deg, (use,)))
    return tuple(flanks)


def plates_of_flanks(flanks: Sequence[Flank]) -> tuple[tuple[Flank, ...], ...]:
    """Four flanks a plate; the last plate's empty corners are true squares."""
    plates = [tuple(flanks[i : i + FLANKS_PER_PLATE]) for i in range(0, len(flanks), FLANKS_PER_PLATE)]
    return tuple(plate + (SQUARE,) * (FLANKS_PER_PLATE - len(plate)) for plate in plates)


def use_settings(flank: Flank, corner: str, where: str) -> list[Setting]:
    """Every use's own angle; one that is off nothing but its reference edge takes the corner into its name."""
    shared = f"; shares the flank of {flank.uses[0].name}"
    return [
        Setting(
            use.name if use.reference else f"{use.name}, {corner}",
            use.angle_deg,
            "deg",
            use.why if use.angle_deg == flank.angle_deg else use.why + shared,
            f"{use.reference or 'off its reference edge'}; {where}",
        )
        for use in flank.uses
    ]
