"""Spare foot pads in one strip, sawn off as a floor needs them: Trestle and Shop in, Part out. Part frame; mm.

Loose pads are small enough to fall through a laser's bed or to be thrown by a cutter; a strip is neither, and hangs on
a nail until it is wanted. Thickness is all that a pad must have: a saw's width less in length does not matter.
"""

from jigmaker.job.shop import Shop
from jigmaker.parts.corners import across, draw_rectangle
from jigmaker.parts.foot_block import ASSEMBLY, pad_size
from jigmaker.parts.gauge_limits import AWAY_MM
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.marks import line_mark
from jigmaker.parts.part import Part, Setting
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.trestle.records import Trestle

PADS = 4
"""Another set: three under the feet and one for the saw to lie on."""


def pad_strip_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """The strip, of as many pads as the bed takes."""
    along, wide = pad_size(trestle)
    longest = max(shop.sheet.length_mm, shop.sheet.width_mm) - 2 * max(shop.sheet.margin_mm, 1.0)
    count = max(1, min(PADS, int((longest - 2 * shop.machine.tool_mm) / along)))
    length = count * along
    outline, pieces = draw_rectangle(
        length, wide, {"lower edge": "free", "right end": "free", "upper edge": "free", "left end": "free"}
    )
    why = "saw on the lines: a pad a saw's width shorter is still a pad, its thickness is what counts"
    # A line between every two pads, its name on each, what to do on the first.
    lines = [line_mark([(i * along, AWAY_MM), (i * along, wide - AWAY_MM)], fact="lines") for i in range(1, count)]
    names, saw = words_of("pad-strip", ["name"], shop), words_of("pad-strip", ["saw"], shop)
    words = [
        mark
        for i in range(count)
        for mark in fill_box(
            [*names, *(saw if i == 0 else [])],
            Box(i * along + AWAY_MM, AWAY_MM, (i + 1) * along - AWAY_MM, wide - AWAY_MM),
            5.0,
        )
    ]
    part = Part(
        name="pad strip",
        slug="pad-strip",
        assembly=ASSEMBLY,
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("foot block").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            across(pieces, "left end", "right end", "length", "free", length),
            across(pieces, "lower edge", "upper edge", "width", "free", wide),
        ),
        marks=(*lines, *words),
        settings=(Setting("pad strip, a line every", along, "mm", why, "from the left end"),),
    )
    return (part,)
