"""The leg gauge, which sorts legs by width and shows their thickness: Trestle and Shop in, Part out. Part frame; mm.

An H. The upper notch is the widest leg allowed and must pass over every leg; the lower one, known by its cut corners,
is the narrowest and must pass over none. The notch at the side is the leg's thickness, which decides the reveal: a leg
that does not go in stands that much prouder of the board's edge, one that shakes stands that much less.
"""

from math import sqrt

from jigmaker.findings import Finding
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline
from jigmaker.parts.gauge_limits import (
    AWAY_MM,
    BOX_WIDTH_MM,
    Limits,
    box_beside,
    gauge_limits,
    left_on_setting,
)
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import drawn_mark
from jigmaker.parts.part import Feature, Mark, Part, Setting
from jigmaker.parts.relief import HOLE_SPARE_MM, goes_text, relief_radius
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text, length_text

DEPTH_MM = 25.0
JAW_MM = 18.0
BESIDE_THICKNESS_MM = 17.0
LEAST_WIDTH_MM = 100.0
LEAST_BAR_MM = 62.0
"""Room for the words and for three boxes, whatever the leg."""

CUT_CORNER_MM = 6.0
ARROW_MM = 9.0
CLEAR_BITE = 0.3  # how far a relief reaches behind a wall, as a share of its radius: 1 - 1/sqrt(2), rounded up


def leg_gauge(trestle: Trestle, shop: Shop) -> Part:
    """The gauge; with a coarse machine each notch is cut narrower, on the wall marked to be dressed."""
    limits, relief = gauge_limits(trestle, shop), relief_radius(shop)
    size = _size_of(limits, trestle.job.leg.thickness_mm)
    outline, pieces = draw_outline(size.corners(relief), "outer", relief)
    passes = "upper notch: must pass over every leg, at both ends and in the middle"
    stops = "lower notch, cut corners: must pass over no leg; one that it passes over is too narrow for its housing"
    reveal = "side notch: by what a leg is thicker it stands prouder of the board's edge, by what it is thinner less"
    # The notches as cut, left-on wood included, and the overall size.
    walls = [
        ("go", "left wall", "right wall", size.go, "left jaw"),
        ("no-go", "left wall", "right wall", size.no_go, "left jaw"),
        ("thickness", "lower wall", "upper wall", size.thickness, ""),
    ]
    found: list[Feature] = []
    for notch, one, other, opening, mouth in walls:
        found.append(across(pieces, f"{notch}, {one}", f"{notch}, {other}", f"{notch}, opening", "recess", opening))
        outside = f"{notch}, {mouth}" if mouth else "right side, lower"
        found.append(across(pieces, f"{notch}, bottom", outside, f"{notch}, depth", "recess", DEPTH_MM))
    found.append(across(pieces, "left side", "right side, lower", "width", "free", size.width))
    found.append(across(pieces, "no-go, left jaw", "go, left jaw", "height", "free", size.height))
    return Part(
        name="leg gauge",
        slug="leg-gauge",
        assembly="gauges",
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("gauges", "leg-gauge").thickness_mm,
        outline=outline,
        features=(*pieces, *found),
        marks=size.marks(trestle, limits, AWAY_MM + CLEAR_BITE * relief, shop),
        settings=(
            Setting("leg gauge, go", limits.go_mm, "mm", passes, "across a leg's wide face"),
            Setting("leg gauge, no-go", limits.no_go_mm, "mm", stops, "across a leg's wide face"),
            Setting("leg gauge, thickness", trestle.job.leg.thickness_mm, "mm", reveal, "across a leg's narrow edge"),
            *left_on_setting("leg gauge", limits, "in each notch, on the wall with the arrow"),
        ),
    )


def check_leg_gauge(trestle: Trestle, shop: Shop) -> list[Finding]:
    """An error when the CNC cutter does not go into the narrowest notch, which a thin leg sets."""
    size, unit = _size_of(gauge_limits(trestle, shop), trestle.job.leg.thickness_mm), trestle.job.unit
    narrowest = min(size.thickness, size.no_go)
    limit, cutter = narrowest - HOLE_SPARE_MM, shop.machine.tool_mm
    if shop.machine.kind != "cnc" or cutter <= limit + TOUCH_MM:
        return []
    says = (
        f"the machine's cutter, {length_text(cutter, unit)}, is too wide for the leg gauge's narrowest notch, "
        f"{length_text(narrowest, unit)}, which must be {length_text(HOLE_SPARE_MM, unit)} wider than it"
    )
    do = f"cut the kit with {goes_text(limit, unit)} or less, or use thicker legs"
    value, most = length_text(cutter, unit), length_text(limit, unit)
    return [Finding(204, says, do, "shop machine.cutter", "leg gauge", value, most)]


@dataclass(frozen=True, slots=True)
class _LegGaugeSize:
    """The outline's figures, mm: openings as cut, the jaw at the left of both, the bar between them, overall size."""

    go: float
    no_go: float
    thickness: float
    jaw: float
    bar: float
    width: float
    height: float
    side_low: float  # y of the thickness notch's lower wall
    side_high: float
    side_bottom: float  # x

    def corners(self, relief: float) -> list[OutlineCorner]:
        """Anticlockwise from the lower left, a notch at each side: no-go below, thickness at the right, go above.

        A notch's inner corners are relieved where it is wide enough for two bites.
        """
        #     ____          ____
        #    |    |  go    |    |      go: the widest leg allowed must enter
        #    |    |________|    |
        #    |               ___|
        #    |              |          thickness: the reveal's gauge
        #    |              |___
        #    |     ________     |
        #    |    |  no-go |    |      no-go: cut corners, the narrowest leg must not enter
        #     \___|        |___/
        low_right, high_right, bottom = self.jaw + self.no_go, self.jaw + self.go, self.height - DEPTH_MM
        # Both corners' bites, each 2 r cos 45 along the walls, must leave some of the bottom and of the walls.
        bites = 2 * sqrt(2) * relief + 1
        low, side, high = (bites < min(opening, 2 * DEPTH_MM) for opening in (self.no_go, self.thickness, self.go))
        return [
            OutlineCorner((CUT_CORNER_MM, 0.0), "no-go, left jaw", "free"),
            OutlineCorner((self.jaw, 0.0), "no-go, left wall", "recess"),
            OutlineCorner((self.jaw, DEPTH_MM), "no-go, bottom", "recess", low),
            OutlineCorner((low_right, DEPTH_MM), "no-go, right wall", "recess", low),
            OutlineCorner((low_right, 0.0), "no-go, right jaw", "free"),
            OutlineCorner((self.width - CUT_CORNER_MM, 0.0), "right cut corner", "free"),
            OutlineCorner((self.width, CUT_CORNER_MM), "right side, lower", "free"),
            OutlineCorner((self.width, self.side_low), "thickness, lower wall", "recess"),
            OutlineCorner((self.side_bottom, self.side_low), "thickness, bottom", "recess", side),
            OutlineCorner((self.side_bottom, self.side_high), "thickness, upper wall", "recess", side),
            OutlineCorner((self.width, self.side_high), "right side, upper", "free"),
            OutlineCorner((self.width, self.height), "go, right jaw", "free"),
            OutlineCorner((high_right, self.height), "go, right wall", "recess"),
            OutlineCorner((high_right, bottom), "go, bottom", "recess", high),
            OutlineCorner((self.jaw, bottom), "go, left wall", "recess", high),
            OutlineCorner((self.jaw, self.height), "go, left jaw", "free"),
            OutlineCorner((0.0, self.height), "left side", "free"),
            OutlineCorner((0.0, CUT_CORNER_MM), "left cut corner", "free"),
        ]

    def marks(self, trestle: Trestle, limits: Limits, away: float, shop: Shop) -> tuple[Mark, ...]:
        """A row for each notch left of the thickness notch, the name below that notch, and the walls to dress."""
        unit, is_dressed = trestle.job.unit, bool(limits.left_on_mm)
        notches = (("GO", limits.go_mm), ("THICKNESS", trestle.job.leg.thickness_mm), ("NO-GO", limits.no_go_mm))
        rows = [words_of("leg-gauge", ["limits"], shop, limit=n, size=caliper_text(mm, unit)) for n, mm in notches]
        rows += [words_of("leg-gauge", ["dress"], shop)] if is_dressed else []
        pitch = (self.bar - 2 * away + AWAY_MM) / len(rows)
        beside = BOX_WIDTH_MM + AWAY_MM if is_dressed else 0.0
        marks: list[Mark] = []
        for i, row in enumerate(rows):
            top, right = self.height - DEPTH_MM - away - i * pitch, self.side_bottom - away
            room = Box(away, top - pitch + AWAY_MM, right - (beside if i < len(notches) else 0.0), top - 1.0)
            marks += fill_box(row, room, 4.0)
            if is_dressed and i < len(notches):
                marks.append(box_beside(marks[-1], top))
        name = Box(self.side_bottom + away, DEPTH_MM + away, self.width - away, self.side_low - away)
        marks += fill_box(words_of("leg-gauge", ["name"], shop), name, 4.0)
        # An arrow to each wall that has wood left on: from the right to both right walls, from above to the thickness
        # notch's.
        arrows = [
            ((self.jaw + self.go + away, self.height - DEPTH_MM / 2), (ARROW_MM, 0.0)),
            ((self.jaw + self.no_go + away, DEPTH_MM / 2), (ARROW_MM, 0.0)),
            ((self.width - DEPTH_MM / 2, self.side_high + away), (0.0, ARROW_MM)),
        ]
        for tip, back in arrows if is_dressed else ():
            tail = (tip[0] + back[0], tip[1] + back[1])
            marks.append(drawn_mark(arrow_strokes([tail, tip], ARROW_MM / 3), "arrows"))
        return tuple(marks)


def _size_of(limits: Limits, thickness: float) -> _LegGaugeSize:
    over, jaw = limits.left_on_mm, max(JAW_MM, (LEAST_WIDTH_MM - limits.go_mm) / 2)
    bar, width = max(LEAST_BAR_MM, thickness + 2 * BESIDE_THICKNESS_MM), limits.go_mm + 2 * jaw
    side_low = DEPTH_MM + (bar - thickness) / 2
    return _LegGaugeSize(
        go=limits.go_mm - over,
        no_go=limits.no_go_mm - over,
        thickness=thickness - over,
        jaw=jaw,
        bar=bar,
        width=width,
        height=bar + 2 * DEPTH_MM,
        side_low=side_low,
        side_high=side_low + thickness - over,
        side_bottom=width - DEPTH_MM,
    )
