"""The kit number worked out again from what kit.json declares of the jig, and where it must stand; mm.

That the outlines in kit.json are those in the files, and that its features are those of the parts as cut, is held
elsewhere. The rule of rounding and the letters are geometry's, as for the maker.
"""

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.geometry.shape_number import contour_line, figure, number_of
from jigmaker.proof.records import DeclaredKit, DeclaredPart

WRONG = 607
_AGAIN = "make the folder again; until then go by no number of this kit"
_JIG = ("bearer", "end-bearer", "fence-or-back-strip", "plate", "plate-l", "plate-r", "stop")
_CARRIERS = ("plate", "plate-r", "plate-l", "stop")
_DEPEND = {"edge", "flank", "slot_wall", "slot_end", "mortise", "tenon", "recess"}
"""Kinds of features on which something depends, and which no tool changes."""


def kit_number(kit: DeclaredKit) -> str:
    """The number of the parts and settings that are declared; "" where it cannot be known, since some parts are not."""
    jig = {part.slug: part for part in kit.parts if part.slug in _JIG or _is_bevel(part)}
    one_each = {"bearer", "end-bearer", "fence-or-back-strip", "stop"}
    plates = [part for slug, part in jig.items() if slug in _CARRIERS and slug != "stop"]
    if not kit.is_whole or not one_each <= jig.keys() or not plates or not any(_is_bevel(p) for p in jig.values()):
        return ""
    lines = [line for slug in sorted(jig) for line in (slug, *_shape(jig[slug]))]
    for name, value, _ in kit.settings:
        under_plate = plates[0].thickness_mm if name == "projection" else 0.0
        lines.append(f"{name} {figure(value - under_plate)}")
    return number_of(lines)


def _is_bevel(part: DeclaredPart) -> bool:
    return part.slug == "bevel-plate" or part.slug.startswith("bevel-plate-")


def _shape(part: DeclaredPart) -> Iterator[str]:
    """Outline, openings, what is measured on them."""
    yield contour_line(part.outline)
    yield from sorted(contour_line(contour) for _, contour in part.holes)
    yield from sorted(
        f"{feature.kind} {feature.measure} {figure(feature.value)}"
        for feature in part.features
        if feature.kind in _DEPEND
    )


def kit_number_findings(kit: DeclaredKit) -> Iterator[Finding]:
    """The number in kit.json is that of its parts, and stands on each plate, the stop and each bevel plate, on no two
    of them differently. A kit made before there were numbers has none; of some parts cut again only the words are held
    to kit.json, for the rest of the jig is not there.
    """
    if not kit.kit_number:
        return
    own = kit_number(kit)
    if own and own != kit.kit_number:
        says = f"the kit number is told as {kit.kit_number[:20]}, must be {own}, which its parts and settings give"
        yield Finding(WRONG, says, _AGAIN, part="kit.json", at="kit_number")
    for part in kit.parts:
        if part.slug in _CARRIERS or _is_bevel(part):
            words = [mark.text for mark in part.marks if mark.fact == "kit"]
            if words != [f"KIT {kit.kit_number}"]:
                says = f'"{" ".join(words)[:60]}" stands on the {part.name}, must be "KIT {kit.kit_number[:20]}"'
                yield Finding(WRONG, says, _AGAIN, part=part.name, at="kit")
