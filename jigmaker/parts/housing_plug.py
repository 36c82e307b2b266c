"""The housing plug, which tells whether a housing is as wide as it should be: Trestle and Shop in, Part out; mm.

It lies flat on the housing's floor and is slid in along the walls from the board's top face: the low end must go in,
the high one must stop at the mouth. One side is straight; low and high differ on the other side alone, where both face
the same way, so that the step between them is right whatever width the cut has, and dressing the straight side brings
both to size together.
"""

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline
from jigmaker.parts.gauge_limits import (
    AWAY_MM,
    BOX_GAP_MM,
    BOX_HEIGHT_MM,
    Limits,
    gauge_limits,
    left_on_setting,
    measured_box,
)
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import TEXT_MM, text_mark
from jigmaker.parts.part import Mark, Part, Said, Setting
from jigmaker.parts.relief import relief_radius
from jigmaker.parts.text_box import LINE_PITCH, Box, fill_box
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit, caliper_text

LOW_LENGTH_MM = 45.0
HIGH_LENGTH_MM = 20.0
HANDLE_LENGTH_MM = 70.0
HANDLE_WIDTH_MM = 60.0
HANDLE_IN_MM = 5.0
GROOVE_DEPTH_MM = 4.0
LEAST_GROOVE_MM = 4.0
STRAIGHT_MM = 0.9  # of a shoulder or a groove's wall beside the round that a cutter leaves in the corner
GROOVE_SHARE = 1 / 16
GROOVE_SPARE_MM = 0.4
"""Groove over the tool's width: without it a cutter would round, a laser burn away a step of tenths of a mm."""


def housing_plug(trestle: Trestle, shop: Shop) -> Part:
    """The plug; with a coarse machine it is cut wider, on the straight side, which is marked to be dressed."""
    limits = gauge_limits(trestle, shop)
    size = _size_of(limits, shop)
    outline, pieces = draw_outline(size.corners())
    # Both widths as cut, left-on wood included, their step, and the lengths.
    handle = size.handle_high - size.handle_low
    goes = "narrowest housing allowed: the low end must go in all its length"
    stops = "widest housing allowed: the high end must stop at the mouth"
    least = limits.clearance_mm - limits.half_band_mm
    most = limits.clearance_mm + 3 * limits.half_band_mm
    play = "legs and housings that pass their gauges: {} in {}"
    across_walls = "square to the housing's walls"
    return Part(
        name="housing plug",
        slug="housing-plug",
        assembly="gauges",
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("housing-plug", "gauges").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            across(pieces, "straight side", "low side", "low, width", "edge", size.low),
            across(pieces, "straight side", "high side", "high, width", "edge", size.high),
            across(pieces, "low side", "high side", "step from low to high", "edge", size.rise),
            across(pieces, "entering end", "groove, low wall", "low, length", "edge", LOW_LENGTH_MM),
            across(pieces, "groove, low wall", "groove, high wall", "groove, width", "recess", size.groove),
            across(pieces, "groove, high wall", "shoulder, high side", "high, length", "edge", HIGH_LENGTH_MM),
            across(pieces, "handle, lower edge", "handle, upper edge", "handle, width", "free", handle),
        ),
        marks=size.marks(limits, trestle.job.unit, shop),
        settings=(
            Setting("housing plug, low", limits.low_mm, "mm", goes, across_walls),
            Setting("housing plug, high", limits.high_mm, "mm", stops, across_walls),
            Setting(
                "least play allowed", least, "mm", play.format("the widest leg", "the narrowest housing"), across_walls
            ),
            Setting(
                "most play allowed", most, "mm", play.format("the narrowest leg", "the widest housing"), across_walls
            ),
            *left_on_setting("housing plug", limits, "on the straight side"),
        ),
    )


@dataclass(frozen=True, slots=True)
class _PlugSize:
    """The outline's figures, mm: both widths as cut, how they differ, the groove between them, the handle's edges."""

    low: float
    high: float
    rise: float
    groove: float
    groove_depth: float
    handle_low: float
    handle_high: float

    @property
    def step(self) -> float:
        """From the entering end to the high side."""
        return LOW_LENGTH_MM + self.groove

    @property
    def shoulder(self) -> float:
        """From the entering end to the handle."""
        return self.step + HIGH_LENGTH_MM

    def corners(self) -> list[OutlineCorner]:
        """Anticlockwise from the entering end of the straight side."""
        #                      _________
        #     ____    ________|         |      low end, groove, high end (higher by `rise`), shoulder, handle
        #    |low |__|  high            |
        #    |________________|_________|      the straight side, on which wood is left to be dressed
        low, step, shoulder, bottom = self.low, self.step, self.shoulder, self.low - self.groove_depth
        end = shoulder + HANDLE_LENGTH_MM
        return [
            OutlineCorner((0.0, 0.0), "straight side"),
            OutlineCorner((shoulder, 0.0), "shoulder, straight side", "free"),
            OutlineCorner((shoulder, self.handle_low), "handle, lower edge", "free"),
            OutlineCorner((end, self.handle_low), "handle, end", "free"),
            OutlineCorner((end, self.handle_high), "handle, upper edge", "free"),
            OutlineCorner((shoulder, self.handle_high), "shoulder, high side", "free"),
            OutlineCorner((shoulder, self.high), "high side"),
            OutlineCorner((step, self.high), "groove, high wall"),
            OutlineCorner((step, bottom), "groove, bottom", "free"),
            OutlineCorner((LOW_LENGTH_MM, bottom), "groove, low wall", "free"),
            OutlineCorner((LOW_LENGTH_MM, low), "low side"),
            OutlineCorner((0.0, low), "entering end"),
        ]

    def marks(self, limits: Limits, unit: Unit, shop: Shop) -> tuple[Mark, ...]:
        """Each end's own limit on it; on the low end also the box under its limit, and the side to dress."""

        def words(*whats: str) -> list[Said]:
            figures = {"low": caliper_text(limits.low_mm, unit), "high": caliper_text(limits.high_mm, unit)}
            return words_of("housing-plug", whats, shop, **figures)

        high = limits.high_mm - AWAY_MM
        low_box = Box(AWAY_MM, AWAY_MM, LOW_LENGTH_MM - AWAY_MM, self.low - AWAY_MM)
        marks = [*fill_box(words("low", "in"), low_box, 5.0)]
        if limits.left_on_mm:
            figure = [mark for mark in marks if mark.text not in words("in")][-1]
            below = figure.at[1] - BOX_HEIGHT_MM - BOX_GAP_MM
            over_dress = low_box.y_low + LINE_PITCH * TEXT_MM
            lower = Box(low_box.x_low, over_dress, low_box.x_high, below - 2 * BOX_GAP_MM)
            marks = [*fill_box(words("low"), low_box, figure.height_mm), measured_box(AWAY_MM, below)]
            marks += fill_box(words("in"), lower, figure.height_mm)
            marks += [text_mark(dress, (AWAY_MM, AWAY_MM)) for dress in words("dress")]
        step, shoulder = self.step, self.shoulder
        handle = Box(
            shoulder + AWAY_MM,
            self.handle_low + AWAY_MM,
            shoulder + HANDLE_LENGTH_MM - AWAY_MM,
            self.handle_high - AWAY_MM,
        )
        # Lines that read from below to above, in a box too narrow for a figure and its unit side by side.
        lines = words("high", "stops")
        box = Box(step + AWAY_MM, AWAY_MM, shoulder - AWAY_MM, high)
        turned = fill_box(lines, Box(0.0, 0.0, box.height, box.width), 5.0)
        frame = PlaneFrame(box.x_high, box.y_low, 90.0)
        return (
            *marks,
            *(text_mark(Said(mark.text, mark.fact), frame.point(mark.at), mark.height_mm, 90.0) for mark in turned),
            *fill_box(words("name", "from"), handle, 5.0),
        )


def _size_of(limits: Limits, shop: Shop) -> _PlugSize:
    """Groove and shoulder are deeper than the round that a cutter leaves in their corners.

    The handle stays inside both sides, so that the straight one can be rubbed down on a flat board.
    """
    over, tool, least = limits.left_on_mm, shop.machine.tool_mm, relief_radius(shop) + STRAIGHT_MM
    inside = max(HANDLE_IN_MM, least)
    return _PlugSize(
        low=limits.low_mm + over,
        high=limits.high_mm + over,
        rise=2 * limits.half_band_mm,
        groove=max(LEAST_GROOVE_MM, tool + max(GROOVE_SPARE_MM, GROOVE_SHARE * tool)),
        groove_depth=max(GROOVE_DEPTH_MM, least),
        handle_low=inside,
        handle_high=inside + min(HANDLE_WIDTH_MM, limits.high_mm + over - 2 * inside),
    )
