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
_PLATES = {"plate", "plate-l", "plate-r"}
_ROUTED_WITH = {"bearer", "end-bearer", "fence-or-back-strip", "stop"}
_BY_HAND = {
    "fence-r",
    "fence-l",
    "near-plate-r",
    "near-plate-l",
    "far-plate-r",
    "far-plate-l",
    "near-cheek",
    "far-cheek",
}
_BY_HAND |= {"bearer", "stop", "spacer"}
_SAWN_WITH = {f"saw-guide-{name}" for name in _BY_HAND}
_SAWN_WITH |= {"paring-guide-ramp", "paring-guide-rib", "paring-guide-fence"}
_CARRIERS = {*_PLATES, "stop", "saw-guide-fence-r", "saw-guide-fence-l", "leg-box-bottom", "drilling-template-plate"}
_BOX = {"leg-box-bottom", "leg-box-strip"}
_BY_ITSELF = {
    "leg-box-": (
        _BOX | {"leg-box-near-wall", "leg-box-far-wall"},
        _BOX | {"leg-box-near-half", "leg-box-far-half", "leg-box-right-half"},
    ),
    "drilling-template-": ({f"drilling-template-{name}" for name in ("plate", "head-strip", "side-strip")},),
}
"""Jigs that a kit may have beside those for housings, by how their parts' slugs begin: all the parts that each has,
in one form or another.
"""
_DEPEND = {"edge", "flank", "slot_wall", "slot_end", "mortise", "tenon", "recess"}
"""Kinds of features on which something depends, and which no tool changes."""


def kit_number(kit: DeclaredKit) -> str:
    """The number of the parts and settings that are declared; "" where it cannot be known, since some parts are not."""
    # What of the kit decides how the trestle comes out; gauges, pads and the coupon do not.
    counted = _PLATES | _ROUTED_WITH | _SAWN_WITH
    further = {start: {part.slug for part in kit.parts if part.slug.startswith(start)} for start in _BY_ITSELF}
    counted = counted.union(*further.values())
    jig = {part.slug: part for part in kit.parts if part.slug in counted or _is_bevel(part)}
    plates = [part for slug, part in jig.items() if slug in _PLATES]
    wanted = [group for group in (_ROUTED_WITH, _SAWN_WITH) if group & jig.keys()]
    is_all = bool(wanted) and all(group <= jig.keys() for group in wanted) and bool(plates) == (_ROUTED_WITH in wanted)
    is_all = is_all and all(not slugs or slugs in _BY_ITSELF[start] for start, slugs in further.items())
    if not kit.is_whole or not is_all or not any(_is_bevel(part) for part in jig.values()):
        return ""
    lines = [line for slug in sorted(jig) for line in (slug, *declared_lines(jig[slug]))]
    # The cutter's projection counts from the plate's upper face: another sheet's thickness makes another figure of the
    # same jig, so it is taken off. What cuts the same housings has the same number.
    for name, value, _ in kit.settings:
        under_plate = plates[0].thickness_mm if name == "projection" else 0.0
        lines.append(f"{name} {figure(value - under_plate)}")
    return number_of(lines)


def _is_bevel(part: DeclaredPart) -> bool:
    return part.slug == "bevel-plate" or part.slug.startswith("bevel-plate-")


def declared_lines(part: DeclaredPart) -> Iterator[str]:
    """Outline, openings, what is measured on them."""
    yield contour_line(part.outline)
    yield from sorted(contour_line(contour) for _, contour in part.holes)
    yield from sorted(
        f"{feature.kind} {feature.measure} {figure(feature.value)}"
        for feature in part.features
        if feature.kind in _DEPEND
    )


def kit_number_findings(kit: DeclaredKit) -> Iterator[Finding]:
    """The number in kit.json is that of its parts, and stands on each plate, the stop, each saw guide's fence, the
    drilling template and each bevel plate, on no two of them differently. A kit made before there were numbers has
    none; of some parts cut again only the words are held to kit.json, for the rest of the jig is not there.
    """
    if not kit.kit_number:
        return
    own = kit_number(kit)
    if own and own != kit.kit_number:
        says = f"the kit number is told as {kit.kit_number[:20]}, must be {own}, which its parts and settings give"
        yield Finding(WRONG, says, _AGAIN, part="kit.json", at="kit_number")
    for part in kit.parts:
        if part.slug in _CARRIERS or _is_bevel(part):
            words = " ".join(mark.text for mark in part.marks if mark.fact == "kit")  # two lines on a narrow part
            if words != f"KIT {kit.kit_number}":
                says = f'"{words[:60]}" stands on the {part.name}, must be "KIT {kit.kit_number[:20]}"'
                yield Finding(WRONG, says, _AGAIN, part=part.name, at="kit")
