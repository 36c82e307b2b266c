"""Every feature that kit.json declares, measured on the part as cut (333). mm, degrees."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from jigmaker.findings import Finding
from jigmaker.proof.checks.measured import CutEdge, MeasuredPart, Unmeasured
from jigmaker.proof.records import DeclaredFeature
from jigmaker.proof.use.assemble import EXACT_MM, off_finding

_HALF_TURN_DEG = 180.0


def feature_findings(part: MeasuredPart) -> Iterator[Finding]:
    """Declared against measured; corners' radii are held by the comparison of the whole contour."""
    for feature in part.declared.features:
        if feature.kind == "corner":
            continue
        try:
            value = measured(part, feature)
        except Unmeasured as error:
            yield error.finding
            continue
        if feature.measure == "angle_deg":
            # A short edge turns by EXACT_MM over its length where one of its ends is off by that; and a line has no
            # sense, so that 0 and 180 degrees are one direction.
            edge = part.edge_of(feature, 0)
            off = abs(value - feature.value)
            if min(off, _HALF_TURN_DEG - off) > max(1e-3, degrees(EXACT_MM / edge.length)):
                yield off_finding(333, part.declared.name, feature.name, feature.name, value, feature.value, "°")
            continue
        is_hole = feature.measure == "diameter_mm"
        if abs(value - feature.value) > (part.diameter_off_mm(feature.contour, EXACT_MM) if is_hole else EXACT_MM):
            yield off_finding(333, part.declared.name, feature.name, feature.name, value, feature.value)


def measured(part: MeasuredPart, feature: DeclaredFeature) -> float:
    """The feature's figure on the part as cut. Raises Unmeasured."""
    if feature.measure == "diameter_mm":
        return part.hole(feature.contour)[1]
    first = part.edge_of(feature, 0)
    if feature.measure == "across_mm":
        return farther(first, part.edge_of(feature, 1), feature.value)
    figures = {
        "angle_deg": first.direction_deg,
        "length_mm": first.length,
        "x_mm": first.middle[0],
        "y_mm": first.middle[1],
    }
    return figures[feature.measure]


def farther(one: CutEdge, other: CutEdge, wanted: float) -> float:
    """Distance of two edges, square to the first, at that end of the second where it is worse."""
    ends = [abs(one.left(p)) for p in (other.start, other.end)]
    return max(ends, key=lambda value: abs(value - wanted))
