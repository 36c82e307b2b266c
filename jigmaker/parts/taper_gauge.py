"""The taper gauge for a rocking gap, and its scale: the reader's unit and the sheet's thickness in, Parts out; mm.

The gauge stands on its long edge and is pushed under the hanging foot from outside, thin end first. It is too thin for
figures where most gaps are, so a scale that it lies against, flush below and at the end of the grip, carries them all.
"""

from collections.abc import Iterator
from math import atan, degrees

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.lettering import text_width
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, draw_rectangle
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import TEXT_MM, line_mark, text_mark
from jigmaker.parts.part import Feature, Mark, Part, Placement, Said, Setting
from jigmaker.units import MM_PER_INCH, Unit, length_text

LENGTH_MM = 210.0
THIN_MM = 1.0
THICK_MM = 11.5
RUN_PER_RISE = LENGTH_MM / (THICK_MM - THIN_MM)
"""1 in 20: a score every 10 mm is half a millimetre."""

SCALE_WIDTH_MM = 25.0
GRIP_MM = 30.0
"""Beyond the thick end both are as wide as the scale: held there in use, and by bridges while they are cut."""

AWAY_MM = 1.6  # marks keep this far from every cut
BESIDE_SCORE_MM = 0.65 * TEXT_MM
SHORT_MM, OVER_MM = 1.0, 0.8  # a short score, and from it to a figure over it
BESIDE_BLOCK_MM = -40.0


def taper_parts(unit: Unit, shop: Shop, assembly: str) -> tuple[Part, Part]:
    """The gauge and its scale."""
    return _gauge(unit, shop.sheet_for("foot block").thickness_mm, assembly), _scale(unit, shop, assembly)


def place_of(gap_mm: float) -> float:
    """How far from the thin end the gauge is as thick as the gap, mm."""
    return (gap_mm - THIN_MM) * RUN_PER_RISE


def _readings(unit: Unit) -> Iterator[tuple[float, bool]]:
    """Every scored thickness in mm, and whether it carries a figure: each 0.5, whole ones; each 1/64 in, sixteenths."""
    step, every = (0.5, 2) if unit == "mm" else (MM_PER_INCH / 64, 4)
    for count in range(1, int(THICK_MM / step) + 1):
        if AWAY_MM <= place_of(count * step) <= LENGTH_MM - AWAY_MM:
            yield count * step, count % every == 0


def _gauge(unit: Unit, thickness_mm: float, assembly: str) -> Part:
    corners = [
        OutlineCorner((0.0, 0.0), "edge on the floor"),
        OutlineCorner((LENGTH_MM + GRIP_MM, 0.0), "end of the grip"),
        OutlineCorner((LENGTH_MM + GRIP_MM, SCALE_WIDTH_MM), "grip, upper edge", "free"),
        OutlineCorner((LENGTH_MM, SCALE_WIDTH_MM), "grip, step", "free"),
        OutlineCorner((LENGTH_MM, THICK_MM), "slope"),
        OutlineCorner((0.0, THIN_MM), "thin end"),
    ]
    outline, pieces = draw_outline(corners)
    numbers = {feature.name: feature.pieces for feature in pieces}
    thin = Feature("thin end, thickness", "edge", "outer", numbers["thin end"], "length_mm", THIN_MM)
    grip = across(pieces, "edge on the floor", "grip, upper edge", "grip, width", "free", SCALE_WIDTH_MM)
    whole = across(pieces, "thin end", "end of the grip", "length", "edge", LENGTH_MM + GRIP_MM)
    slope_deg = degrees(atan(1 / RUN_PER_RISE))
    return Part(
        name="taper gauge",
        slug="taper-gauge",
        assembly=assembly,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=thickness_mm,
        outline=outline,
        features=(*pieces, whole, thin, grip),
        marks=tuple(_gauge_marks(unit)),
        settings=(
            Setting("taper of the gauge", slope_deg, "deg", "1 in 20: 10 mm along is 0.5 mm", "slope off the floor"),
            Setting("thin end", THIN_MM, "mm", "the least gap it enters"),
            Setting("thick end", THICK_MM, "mm", "the largest gap it fills, at the grip"),
        ),
        placements=(Placement("taper gauge", "both", Frame((0.0, BESIDE_BLOCK_MM, thickness_mm))),),
    )


def _gauge_marks(unit: Unit) -> Iterator[Mark]:
    """Scores where the gauge is thick enough for them, and beside some their figure.

    A figure keeps away from every score at its own height: one close before a 7 makes 17 of it. Where there is no room
    for it before the next score, the scores without figures are short, and it stands over them, left of its own.
    """
    #       ___----====|____       thick at the grip, 1 in RUN_PER_RISE: a gap is read where the gauge stops,
    #     --____________grip|      and 0.5 mm of it are 10 mm along the scale
    #
    readings = list(_readings(unit))
    room = place_of(readings[1][0]) - place_of(readings[0][0])
    widest = max(text_width(_figure(gap, unit), TEXT_MM) for gap, has_figure in readings if has_figure)
    is_over = widest + 2 * BESIDE_SCORE_MM > room
    low = AWAY_MM + (SHORT_MM + OVER_MM if is_over else 0.0)
    for gap, has_figure in readings:
        x, top = place_of(gap), gap - AWAY_MM
        if top - AWAY_MM < 1.0:
            continue
        short = min((top + AWAY_MM) / 2, AWAY_MM + SHORT_MM if is_over else top)
        yield line_mark([(x, AWAY_MM), (x, top if has_figure else short)], fact="scores")
        width = text_width(_figure(gap, unit), TEXT_MM)
        left = x - BESIDE_SCORE_MM - width if is_over else x + BESIDE_SCORE_MM
        if has_figure and low + TEXT_MM <= THIN_MM + left / RUN_PER_RISE - AWAY_MM:
            yield text_mark(_figure(gap, unit), (left, low))


def _figure(gap: float, unit: Unit) -> Said:
    """A thickness without its unit."""
    return Said(length_text(gap, unit).removesuffix(" mm").removesuffix('"'), "figures")


def _scale(unit: Unit, shop: Shop, assembly: str) -> Part:
    outline, pieces = draw_rectangle(
        LENGTH_MM + GRIP_MM,
        SCALE_WIDTH_MM,
        {"lower edge": "edge", "right end": "edge", "upper edge": "free", "left end": "free"},
    )
    # The gauge's slope as a line, a score above it for each reading, longer ones with their figure above.
    marks = [line_mark([(place_of(gap), gap) for gap in (2.0, THICK_MM - 0.1)], fact="scores")]
    for words in words_of("taper-scale", ["name"], shop, unit=unit):
        marks.append(text_mark(words, (4.0, SCALE_WIDTH_MM - AWAY_MM - TEXT_MM)))
    for gap, has_figure in _readings(unit):
        x, figure = place_of(gap), _figure(gap, unit)
        marks.append(line_mark([(x, gap + 1.0), (x, gap + (5.0 if has_figure else 3.0))], fact="scores"))
        if has_figure:
            marks.append(text_mark(figure, (x, gap + 6.0), anchor="middle"))
    return Part(
        name="taper scale",
        slug="taper-scale",
        assembly=assembly,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("foot block").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            across(pieces, "lower edge", "upper edge", "width", "edge", SCALE_WIDTH_MM),
            across(pieces, "left end", "right end", "length", "edge", LENGTH_MM + GRIP_MM),
        ),
        marks=tuple(marks),
        placements=(Placement("taper scale", "both", Frame((0.0, BESIDE_BLOCK_MM, 0.0))),),
    )
