"""Which parts of the kit are printed at full size, and what is said with each. mm.

Gauges with limits of a few hundredths are not among them: paper cannot hold those.
"""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.drawing.draft import Draft
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.outline import Circle
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.drawings.scaled_draft import ViewSide
from jigmaker.papers.full_size.pens import CUT, MARKS
from jigmaker.papers.full_size.template import point_at, template
from jigmaker.parts.brace_template import brace_template_parts
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class Printed:
    """A part by the start of its slug, the group it is printed with, what to know, and the side that it is laid by."""

    slug: str
    group: str
    words: str
    datum: tuple[ViewSide, str] | None = None


PRINTED: tuple[Printed, ...] = (
    Printed(
        "plate",
        "plate",
        "Seen from above, as the router rides on it: this side up. The walls of a slot guide the bush: saw them along "
        "a straight batten.",
        ("below", "board's top face on this side; you stand here"),
    ),
    Printed("bearer", "jig-parts", "Either face.", ("below", "lugs: this side down, over the board's edge")),
    Printed("end-bearer", "jig-parts", "Either face.", ("below", "this side down")),
    Printed("stop", "jig-parts", "Either face.", ("below", "this side down, along the board's end")),
    Printed("fence-or-back-strip", "jig-parts", "Either face.", ("above", "this edge level with the board's edge")),
    Printed("mask-foot", "jig-parts", "Either face.", ("below", "this side down, on the board's edge")),
    Printed("mask", "jig-parts", "This side up.", ("below", "board's top face here")),
    Printed(
        "projection-gauge",
        "jig-parts",
        "Either face. File the recess until a caliper reads the figure on it.",
        ("below", "feet: this side on the router's base"),
    ),
    Printed(
        "depth-gauge",
        "jig-parts",
        "Either face. File the tips until a caliper reads the figures on it from shoulder to tip. Those of the top "
        "face are for a sheet's thickness below it, where a slanting floor is less deep.",
        ("above", "tongue into the housing, from the board's top face"),
    ),
    Printed(
        "bevel-plate",
        "bevel-plates",
        "This side up. Plane the two reference edges first, those with a stock strip, straight and parallel: every "
        "angle is off the one that it meets.",
        ("below", "reference edge: bevel's stock or saw table here"),
    ),
    Printed("stock-strip", "bevel-plates", "Glued behind a reference edge, flush with it.", ("below", "flush edge")),
    Printed("foot-block-nose", "foot-block", "Top layer, this side up: the knife slides on it.", ("right", "leg here")),
    Printed("foot-block-layer", "foot-block", "Under the nose, this side up.", ("right", "leg here")),
    Printed("foot-pad", "foot-block", "Either face; all equal in thickness."),
    Printed(
        "front-wedge",
        "wedges",
        "Either face. The layers of a stack are glued flush along straight side and slope.",
        ("right", "thick end: up, before the board and on legs"),
    ),
    Printed(
        "back-wedge",
        "wedges",
        "Either face. The layers of a stack are glued flush along straight side and slope.",
        ("left", "thin end: up, behind the board"),
    ),
    Printed(
        "clamping-wedge",
        "wedges",
        "Either face. The layers of a stack are glued flush along straight side and slope.",
        ("right", "thick end: up"),
    ),
    Printed(
        "brace-template",
        "brace",
        "This is the inside face, against the legs. Lay it on the timber, its long edge along the timber's edge.",
        ("above", "this edge up, under the top board"),
    ),
)
"""A part belongs to the first row whose slug its own is, or starts with; a new part is printed by one line here."""

PRINTED_ALONE: tuple[Printed, ...] = (
    Printed(
        "saw-guide",
        "hand-guides",
        "This side is the one whose letters are read. The edges along which the saw or a cheek lies: straight, along a "
        "batten.",
    ),
    Printed(
        "cradle-rib",
        "cradle",
        "This side is the one whose letters are read. The edge that slopes carries the leg: straight, along a batten.",
        ("below", "on the saw's table"),
    ),
    Printed("cradle-fence-rib", "cradle", "Either face.", ("below", "on the saw's table")),
    Printed("cradle", "cradle", "Either face."),
    *(
        Printed(
            f"leg-box-{side}-wall",
            "leg-box",
            "This side is the one whose letters are read. The slot is sawn last, with the saw that runs in it, along a "
            "batten clamped at one of its lines.",
        )
        for side in ("near", "far")
    ),
    Printed("leg-box", "leg-box", "This side is the one whose letters are read."),
    Printed("paring-guide", "hand-guides", "This side is the one whose letters are read. The ramp's face stays flat."),
    Printed(
        "drilling-template-plate",
        "drilling-template",
        "This side is the one whose letters are read. Drill its holes square to it, best in a drill press.",
    ),
    Printed(
        "drilling-template",
        "drilling-template",
        "This side is the one whose letters are read, upside down too. Its long edges straight and parallel.",
    ),
)
"""What is printed besides where paper alone makes the kit: guides, which a saw's blade follows to a tenth or so."""

_NO_BED_MM = 6000.0
_CENTRE_MM = 2.0  # a hole's centre cross reaches so far each way, less in a small hole


def printed_parts(kit: Kit) -> dict[str, list[Picture]]:
    """Templates by group; groups in the order of the table, parts in the order of the kit."""
    # The first row that fits counts, so "mask-foot" stands before "mask"; the dash behind both keeps a row from taking
    # parts whose names only begin with the same letters.
    is_paper = kit.shop.machine.is_paper
    table = PRINTED + PRINTED_ALONE if is_paper else PRINTED
    found: dict[str, list[Picture]] = {row.group: [] for row in table}
    # What the machine's bed cuts short or has no room for is printed whole: paper has no bed.
    shop = replace(kit.shop, sheet=replace(kit.shop.sheet, length_mm=_NO_BED_MM, width_mm=_NO_BED_MM))
    whole = {} if is_paper else {part.slug: part for part in brace_template_parts(kit.trestle, shop)}
    for part in (*(each for each in kit.parts if each.slug not in whole), *whole.values()):
        if row := next((row for row in table if f"{part.slug}-".startswith(f"{row.slug}-")), None):
            found[row.group].append(part_template(part, (row.words,), row.datum))
    return {group: templates for group, templates in found.items() if templates}


def part_template(part: Part, words: Sequence[str] = (), datum: tuple[ViewSide, str] | None = None) -> Picture:
    """Outline and holes at finished size, marks as they would be scored, crosses where round holes are drilled.

    It never asks which part it has. `words`: what else to know; `datum`: one of its sides, and what lies there.
    """
    draft = Draft()
    draft.add(CUT, part.outline, *(hole.contour for hole in part.holes))
    for hole in part.holes:
        if isinstance(hole.contour, Circle):
            (x, y), reach = hole.contour.centre, min(_CENTRE_MM, 0.6 * hole.contour.radius)
            draft.line([(x - reach, y), (x + reach, y)], DIMENSIONS)
            draft.line([(x, y - reach), (x, y + reach)], DIMENSIONS)
    if datum:
        point_at(draft, *datum)
    for mark in part.marks:
        if mark.text:
            draft.words(mark.text, mark.at, "left", mark.height_mm, MARKS, mark.turn_deg)
        else:
            draft.add(MARKS, *mark.strokes)
    how_many = [f"Make {part.pieces} alike."] if part.pieces > 1 else []
    hand = [f"Hand: {part.hand}."] if part.hand else []
    return template(part.name, [*words, *how_many, *hand], draft)
