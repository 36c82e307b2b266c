"""The wood that is left between cuts, held against what kit.json promises: webs, necks and lands; mm.

A *web* lies between two openings or an opening and the outline, a *neck* between two stretches of the outline, the
*land* between a slot of the plate and the nearest bearer under it. kit.json declares what the layout promises of each.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.simple import crossings
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.checks.sweep import all_shrunk
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import DeclaredPart
from jigmaker.proof.use.jig import HANDS, JigAsCut
from jigmaker.units import fixed

if TYPE_CHECKING:
    from shapely import Polygon

FLOORS_MM = {
    "plate": {"web": 3.0, "land": 6.0},
    "plate-r": {"web": 3.0, "land": 6.0},
    "plate-l": {"web": 3.0, "land": 6.0},
    "bearer": {"neck": 1.0},
    "end-bearer": {"neck": 1.0},
    "fence-or-back-strip": {"web": 3.0},
    **{
        f"{guide}-{part}": {"web": 3.0, "neck": 3.0}
        for guide, parts in (
            ("saw-guide", "near-plate-r near-plate-l far-plate-r far-plate-l fence-r fence-l near-cheek far-cheek"),
            ("saw-guide", "bearer stop spacer"),
            ("paring-guide", "ramp rib fence"),
            ("leg-box", "near-wall far-wall near-half far-half right-half bottom strip"),
            *(("front", "wedge"), ("back", "wedge"), ("clamping", "wedge")),
            ("cradle", "rib fence-rib low-cross-piece high-cross-piece packing-strip"),
            ("drilling-template", "plate head-strip side-strip"),
        )
        for part in parts.split()
    },
}
"""The least of each part that carries the jig, whatever kit.json promises. Common practice, no source: two or three
plies beside a cut; a land as wide as a thin sheet is thick, for the bearer is glued under it."""

WITHIN_MM = 0.02
_TRIES = 12
_CRUMB_MM2 = 0.5


def simple_findings(parts: Iterable[DeclaredPart]) -> Iterator[Finding]:
    """Nominal contours that cannot bound one piece (342)."""
    for part in parts:
        for fault in crossings(part.outline, part.holes):
            yield Finding(342, f"{part.name}: {fault}", AGAIN, part=part.name)


def wood_findings(jig: JigAsCut) -> Iterator[Finding]:
    """Webs and necks (343) and lands (513) under what kit.json promises, or under this module's own floor."""
    for part in jig.parts:
        floors = FLOORS_MM.get(part.declared.slug, {})
        # A promise may be larger than the floor, never smaller: what kit.json declares cannot excuse a thin web.
        # WITHIN_MM is what chords and files' decimals may take of it.
        for kind, floor in floors.items():
            least = max(floor, part.declared.least_wood_mm.get(kind, floor)) - WITHIN_MM
            if kind == "land":
                yield from _land_findings(jig, part, least)
            elif kind == "web":
                yield from _short(343, part, least, (web for web in _webs(part, least)))
            elif _falls_apart(part.cut.material, least):
                # A part shrunk by half its narrowest neck falls into two: its width, by halving.
                low, high = 0.0, least
                for _ in range(_TRIES):
                    middle = (low + high) / 2
                    low, high = (low, middle) if _falls_apart(part.cut.material, middle) else (middle, high)
                yield from _short(343, part, least, [(low, "in a neck of the outline")])


def _short(code: int, part: MeasuredPart, least: float, found: Iterable[tuple[float, str]]) -> Iterator[Finding]:
    for left, where in found:
        value, limit = f"{fixed(left, 3)} mm", f"{fixed(least + WITHIN_MM, 3)} mm"
        says = f"{part.declared.name}: {value} of wood {where}, at least {limit} must be left"
        yield Finding(code, says, AGAIN, "", part.declared.name, value, limit, at=where)


def _webs(part: MeasuredPart, least: float) -> Iterator[tuple[float, str]]:
    """Every two rings of the cut part that are nearer to each other than that."""
    import shapely

    material = part.cut.material
    rings = [material.exterior, *material.interiors]
    # An opening is called as the one is whose middle is nearest.
    declared = [(name, shapely.polygons(contour.points(4)).centroid) for name, contour in part.declared.holes]
    names = ["the outline"]
    for middle in (shapely.Polygon(ring).centroid for ring in material.interiors):
        names.append(min(declared, key=lambda each: middle.distance(each[1]), default=("an opening", None))[0])
    # Every two rings of the part that come nearer to each other than the promise; each pair once.
    pairs = shapely.STRtree(rings).query(rings, predicate="dwithin", distance=least)
    for i, j in sorted((int(i), int(j)) for i, j in pairs.T if i < j):
        yield rings[i].distance(rings[j]), f"between {names[i]} and {names[j]}"


def _falls_apart(material: Polygon, neck: float) -> bool:
    """True when a disc of this diameter cannot move from every piece of the part's inside to every other."""
    return sum(1 for piece in all_shrunk(material, neck) if piece.area > _CRUMB_MM2) != 1


def _land_findings(jig: JigAsCut, plate: MeasuredPart, least: float) -> Iterator[Finding]:
    """A bearer stands under the whole depth of the plate: what counts is how far it is from a slot along the board."""
    # Along the board alone: x of the bearer's faces, brought into the plate's frame, against the slot's box.
    origin = jig.declared_frame(plate).origin[0]
    for hand in HANDS:
        if jig.plate(hand) is not plate:
            continue
        bearers = [piece for piece in jig.pieces(hand) if piece.part.declared.slug in ("bearer", "end-bearer")]
        for name in (name for name, _ in plate.declared.holes if name.startswith("slot ")):
            low, _, high, _ = plate.ring(name).bounds
            for piece in bearers:
                (left, _, _), (right, _, _) = piece.solid.bounds
                land = max(left - origin - high, low - (right - origin))
                if land < least:
                    yield from _short(513, plate, least, [(max(land, 0.0), f"between {name} and {piece.name}")])
