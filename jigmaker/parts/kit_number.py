"""The kit's number, by which parts, papers and kit.json are known to belong together: Parts and Settings in, text out.

It follows from jig and guides alone: nominal outlines, what is measured on them, settings. Name, height, number of
trestles, machine and marks are not in it; parts of one number go together whoever cuts them, and when. mm, degrees.
"""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.geometry.shape_number import WIDEST, contour_line, figure, number_of
from jigmaker.parts.marks import text_mark
from jigmaker.parts.part import Part, Said, Setting

COUNTED = ("plate", "plate-r", "plate-l", "bearer", "end-bearer", "stop", "fence-or-back-strip")
GROUPS_COUNTED = ("bevel-plate", "saw-guide-", "paring-guide-", "leg-box-", "drilling-template-")
"""The parts that make the number, and how those begin that make it too: bevel plates have a number of their own behind
their name where there are several, and guides have no name that does not begin so."""

# Nothing depends on a free edge; a corner's round and a hole's diameter follow from the machine's tool.
_NOT_MEASURED = ("free", "corner", "hole")


def kit_number(parts: Sequence[Part], settings: Sequence[Setting]) -> str:
    """The number of the jig with these settings, by the counted ones of these parts."""
    lines: list[str] = []
    plate_mm = 0.0
    for part in sorted(parts, key=lambda part: part.slug):
        if part.slug not in COUNTED and not part.slug.startswith(GROUPS_COUNTED):
            continue
        lines += [part.slug, *counted_lines(part)]
        plate_mm = part.thickness_mm if part.slug.startswith("plate") else plate_mm
    for each in settings:
        # The cutter's tip below the plate's underside: a plate cut again from another sheet is a plate of this kit.
        value = each.value - plate_mm if each.name == "projection" else each.value
        lines.append(f"{each.name} {figure(value)}")
    return number_of(lines)


def counted_lines(part: Part) -> list[str]:
    """Outline, openings, and what is measured on them."""
    measured = (feature for feature in part.features if feature.kind not in _NOT_MEASURED)
    return [
        contour_line(part.outline),
        *sorted(contour_line(hole.contour) for hole in part.holes),
        *sorted(f"{feature.kind} {feature.measure} {figure(feature.value)}" for feature in measured),
    ]


def with_number(part: Part, number: str) -> Part:
    """The part with the number written where its widest one was laid out, so that no mark's place depends on it."""
    marks = tuple(
        text_mark(Said(mark.text.replace(WIDEST, number), mark.fact), mark.at, mark.height_mm, mark.turn_deg)
        if mark.fact == "kit"
        else mark
        for mark in part.marks
    )
    return replace(part, marks=marks)
