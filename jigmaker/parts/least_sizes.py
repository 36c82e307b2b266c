"""What a jig needs at least of tools and timber: a table of limits and the jig's layout in, Findings out; mm."""

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.trestle.wording import at_least
from jigmaker.units import Unit, length_text

Layout = TypeVar("Layout")

LeastSize = tuple[int, Callable[[Layout], tuple[float, float]], str, str, str]
"""Code; the value and the least that goes; what is wrong and what to do, "{0}" the value, "{1}" the least; where."""


def too_small(limits: Iterable[LeastSize[Layout]], lay: Layout, unit: Unit) -> Iterator[Finding]:
    """A finding for each limit that the layout does not keep; what to do is rounded up, so that it serves."""
    for code, measure, says, do, key in limits:
        value, least = measure(lay)
        if value < least - TOUCH_MM:
            told, wanted = length_text(value, unit), length_text(least, unit)
            do = do.format(told, at_least(least, unit))
            yield Finding(code, says.format(told, wanted), do, key, value=told, limit=wanted)
