"""Widths of measured legs as a strip against the window that each setting takes: Places in, Picture out; paper mm.

Every setting of the jig has a row, its window drawn as a box; each of its legs is a tick at the width of its upper end,
and a planed one an arrow from the width read to the width that it is planed to.
"""

from jigmaker.drawing.draft import LINE_STEP
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.lettering import text_width
from jigmaker.papers.pictures.canvas import OUTLINE, SMALL_MM, THIN, Canvas
from jigmaker.papers.timber_words import tape_words
from jigmaker.timber.places import LegPlace, Places, tape_of
from jigmaker.timber.readings import TimberReadings
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH, Unit, caliper_text, text

_WIDE_MM, _BOX_MM, _TICK_MM, _LEADER_MM = 165.0, 6.0, 3.0, 7.0
_STEPS_MM: dict[Unit, tuple[float, ...]] = {
    "mm": (0.05, 0.1, 0.2, 0.5, 1.0, 2.0),
    "in": tuple(MM_PER_INCH * step for step in (0.002, 0.005, 0.01, 0.02, 0.05, 0.1)),
}
_MOST_STEPS = 14


def leg_strip_picture(trestle: Trestle, readings: TimberReadings, places: Places) -> Picture:
    """Widest setting on top; a scale of widths below."""
    canvas, unit, tape = Canvas(), trestle.job.unit, tape_of(trestle, readings, trestle.job.leg.width_mm)
    read = {leg.number: (leg.end_a_mm, leg.end_b_mm) for leg in readings.legs}
    widths = {leg.number: read[leg.number]["RL".index(leg.hand)] for leg in places.legs}
    windows = {
        layers: tuple((tape.housing - layers * tape.layer - play) / 1000 for play in (tape.most, tape.least))
        for layers in places.layers
    }
    # Tape on a slot's wall makes the housing narrower by as much, and legs go in with a least and a most of play: so a
    # setting takes widths from housing - tape - most to housing - tape - least. All in thousandths of a mm up to here.
    ends = [*widths.values(), *(end for window in windows.values() for end in window)]
    low, high = min(ends), max(ends)
    scale = _WIDE_MM / (high - low)
    y = 0.0
    for layers, window in windows.items():
        legs = sorted((leg for leg in places.legs if leg.layers == layers), key=lambda leg: widths[leg.number])
        left, right = ((end - low) * scale for end in window)
        title = f"{tape_words(layers, readings.tape_mm)}: legs {caliper_text(window[0], unit)} to "
        y -= SMALL_MM * LINE_STEP
        canvas.words(f"{title}{caliper_text(window[1], unit)} wide at the upper end", (0.0, y))
        y -= _TICK_MM + SMALL_MM + _LEADER_MM + _BOX_MM
        places_on_paper = [((widths[leg.number] - low) * scale, leg) for leg in legs]
        _numbers(canvas, places_on_paper, y, readings.stroke_mm * scale)
        canvas.line([(left, y), (right, y), (right, y + _BOX_MM), (left, y + _BOX_MM), (left, y)], OUTLINE)
        y -= 2 * SMALL_MM
    # A line with a figure at every step.
    step = next((each for each in _STEPS_MM[unit] if (high - low) / each <= _MOST_STEPS), _STEPS_MM[unit][-1])
    canvas.line([(0.0, y), ((high - low) * scale, y)], THIN)
    for count in range(int(low / step) + 1, int(high / step) + 1):
        x = (count * step - low) * scale
        canvas.line([(x, y), (x, y - 1.5)], THIN)
        figure = text(count * step, 2) if unit == "mm" else text(count * step / MM_PER_INCH, 3)
        canvas.words(figure, (x, y - 2.0 - SMALL_MM), "middle")
    canvas.words(f"width, {unit}", (0.0, y - 2.0 - 2.8 * SMALL_MM))
    return canvas.picture("Widths of the legs against the windows of the settings")


def _numbers(canvas: Canvas, legs: list[tuple[float, LegPlace]], y: float, stroke: float) -> None:
    """A tick across the box whose lower edge is at y for every leg, or an arrow for its strokes; each leg's number in a
    row above, moved aside where others are near, with a line down to its tick; no numbers where a row cannot hold them.
    """
    top, apart = y + _BOX_MM, text_width("000", SMALL_MM)
    planed, are_named = [leg for _, leg in legs if leg.strokes], len(legs) * apart <= _WIDE_MM
    wanted = [x for x, _ in legs]
    for (x, leg), label in zip(legs, spread_out(wanted, apart) if are_named else wanted, strict=True):
        if are_named:
            canvas.words(str(leg.number), (label, top + _LEADER_MM + 1.0), "middle")
        # Arrows lie one below the other.
        middle = top - _BOX_MM * (planed.index(leg) + 1) / (len(planed) + 1) if leg.strokes else y
        canvas.line([(label, top + _LEADER_MM), (x, top + 1.0), (x, middle)], THIN)
        if leg.strokes:
            canvas.arrow([(x, middle), (x - leg.strokes * stroke, middle)], THIN)


def spread_out(wanted: list[float], apart: float) -> list[float]:
    """Places in rising order, at least so far apart and together as near as can be to those wanted, by least squares.

    Less its number times the distance each place only has to be no less than the one before; so neighbours that would
    fall behind are put at their common mean (pool adjacent violators).
    """
    pools: list[tuple[float, int]] = []
    for number, place in enumerate(wanted):
        pools.append((place - number * apart, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (b, n), (a, m) = pools.pop(), pools.pop()
            pools.append(((a * m + b * n) / (m + n), m + n))
    means = [mean for mean, count in pools for _ in range(count)]
    return [mean + number * apart for number, mean in enumerate(means)]
