"""Figures of the trade that no job decides: limits, depths of a pass, what the saw leaves. mm; each with its source.

A limit is what its check may be off by; none is finer than the tool beside it reads. Papers are made from these tables,
and the proof holds papers to them as they stand: no geometry can show such a figure.
"""

from jigmaker.record import dataclass
from jigmaker.units import Unit

COMMON = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Practice:
    """One figure, mm, and where it comes from."""

    mm: float
    source: str = COMMON


PRACTICE: dict[str, Practice] = {
    # Timber.
    "limit.edge_square": Practice(0.2),
    "limit.winding": Practice(0.4, "a pair of winding sticks shows about 1/64 inch: common practice, no source"),
    "limit.leg_thickness": Practice(0.2),
    "limit.top_thickness": Practice(1.0),
    "limit.top_width": Practice(0.5),
    # Kit and jig.
    "limit.sheet_thickness": Practice(0.1),
    "limit.bar": Practice(0.2, "what a steel rule shows over 100 mm: common practice, no source"),
    "limit.mortise": Practice(0.1),
    "limit.bearer_out": Practice(0.1),
    "limit.stop_square": Practice(0.1),
    "limit.bearer_foot": Practice(0.1),
    # Router and housings.
    "limit.cutter": Practice(0.05),
    "limit.bush": Practice(0.05),
    "limit.projection": Practice(0.1),
    "limit.centring": Practice(0.05),
    "limit.marked": Practice(0.5),
    "limit.wood_left": Practice(1.0),
    "limit.start": Practice(0.5, "what a rule on an arris reads: common practice, no source"),
    "limit.depth": Practice(0.2, "depths that are out unequally turn the leg: common practice, no source"),
    # Legs and braces.
    "limit.leg_length": Practice(0.5),
    "limit.legs_alike": Practice(0.3),
    "limit.leg_ends": Practice(0.3),
    "limit.brace": Practice(0.5),
    # The trestle.
    "limit.leg_home": Practice(0.2),
    "limit.near_wall": Practice(0.1),
    "limit.head_glued": Practice(0.5),
    "limit.brace_tight": Practice(0.3),
    "limit.feet": Practice(3.0),
    "limit.head_flush": Practice(0.2),
    "limit.outer_face": Practice(0.5),
    "limit.heads_across": Practice(0.2),
    "limit.board_along": Practice(0.5),
    "limit.level": Practice(0.5),
    "limit.scribed": Practice(0.5),
    "limit.rock": Practice(0.2),
    "limit.height": Practice(1.0),
    "practice.blank_over": Practice(5.0, "so that the blade has wood on both its sides: common practice, no source"),
    "practice.into_board": Practice(0.2, "so that no skin is left: common practice, no source"),
    "practice.pass": Practice(3.0, "deepest full cut of a hand-held router: common practice, no source"),
    "practice.chopped": Practice(2.0, "what a chisel chops to before it pares: common practice, no source"),
    "practice.spacer_loose": Practice(0.3, "play of a spacer between worn cheeks: common practice, no source"),
    "practice.inside": Practice(3.0, "how far inside its lines a saw stays: common practice, no source"),
    "practice.chamfer": Practice(3.0, "against splitting when a trestle is dragged: common practice, no source"),
    "practice.sliver": Practice(2.0, "thinnest slice that a hand saw takes off cleanly: common practice, no source"),
    "practice.worn": Practice(0.2),
    "practice.under_least": Practice(0.05, "a cutter's groove under its name: common practice, no source"),
    "practice.under_most": Practice(0.1, "a cutter's groove under its name, at most: common practice, no source"),
}
"""By the name that stands in a sheet's braces."""

READS_MM: dict[str, float] = {
    "rule": 0.5,
    "tape": 0.5,
    "marking gauge": 0.5,
    "winding sticks": 0.4,
    "spirit level": 0.5,
    "depth rod": 0.2,
    "straight edge": 0.1,
    "another leg": 0.1,
    "leg gauge": 0.05,
    "gauge": 0.1,
    "square": 0.05,
    "feeler": 0.05,
    "caliper": 0.02,
    "housing plug": 0.05,
    "finger nail": 0.05,
    "offcut": 0.05,
    "the program": 0.01,
}
"""The least that the tool of a check shows, by how its name begins: common practice, no source."""

CUTTER_MM, BUSH_MM, OFF_CENTRE_MM = 0.05, 0.05, 0.05
"""How far cutter and bush as measured may be off their size, and the bush off the cutter's axis: what a caliper shows
and a centring cone leaves. Common practice, no source.
"""

MALLET_MM, BY_HAND_MM, LOOSE_MM = -0.1, 0.03, 0.3
"""Play from which on a leg goes in with a mallet, by hand, and slides loosely. Common practice, no source."""

FENCE_SCREW: dict[Unit, str] = {
    "mm": "3.5 mm × 30 mm countersunk, pilot hole 2.5 mm,",
    "in": 'No 6 × 1 1/4" countersunk, pilot hole 3/32",',
}
STOP_BOLT: dict[Unit, str] = {"mm": "M6 × 30", "in": 'M6 × 1 1/4" (or 1/4", the holes drilled out)'}
"""As the shops sell them: common practice, no source."""

HANDS_AWAY: dict[Unit, str] = {"mm": "150 mm", "in": '6"'}
"""How far hands stay from a running blade: common practice, no source."""

SAW_KERF_MM = 3.2
"""What the blade of a table saw takes (common practice, no source)."""

SCREWS_SPARE = 0.1
"""Screws bought over those counted, as a share: some are lost, some lose their heads (common practice, no source)."""

GLUE_ML_PER_MM2 = 200e-6
"""Glue on both faces of a joint, 200 ml a square metre (common practice, no source)."""

LEG_LENGTH_MM = 0.5
"""How far legs cut at a stop differ in length (common practice, no source)."""

TAPE_MM, LONG_TAPE_MM = 0.5, 1.0
"""How far a tape may be off, up to a metre and over (about class II of Directive 2014/32/EU, from memory: 0.3 mm and
0.2 mm for each metre, and the reading on top)."""


def fit_word(play_mm: float) -> str:
    """How a leg with that play goes in."""
    if play_mm < MALLET_MM:
        return "not at all"
    if play_mm < BY_HAND_MM:
        return "tight, with a mallet"
    return "with a push of the hand" if play_mm <= LOOSE_MM else "sliding, loose"
