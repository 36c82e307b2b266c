"""Bevel plates as cut, held against the angles that the job needs (337), and how far off each can be. Degrees."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from math import degrees

from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import SHARED_FLANK_DEG
from jigmaker.job.job import Job
from jigmaker.proof.checks.measured import MeasuredPart, missing_finding
from jigmaker.proof.expected_numbers import expected_angles
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.assemble import EXACT_DEG, held, off_finding
from jigmaker.proof.use.gauges import KitAsCut
from jigmaker.record import dataclass
from jigmaker.units import fixed

CORNERS = ("lower left", "lower right", "upper left", "upper right")
SQUARE_DEG = 90.0


@dataclass(frozen=True, slots=True)
class FlankAsCut:
    """A flank: its plate's name, its corner, the angle inside the corner off the reference edge, and both lengths."""

    plate: str
    corner: str
    angle_deg: float
    length_mm: float
    reference_mm: float

    def worst_deg(self, accuracy_mm: float) -> float:
        """How far off its angle is when each end of flank and reference edge is out by the accuracy, opposite ways."""
        return degrees(2 * accuracy_mm / self.length_mm) + degrees(2 * accuracy_mm / self.reference_mm)


def needed_angles(job: Job) -> dict[str, float]:
    """Every angle that a sliding bevel or a saw is set to for this job, by the name of its use; each at most 90."""
    a = expected_angles(job)
    return {
        "rake": a["rake"],
        "splay": a["splay"],
        "leg face": a["leg_face"],
        "leg edge": 90 - a["leg_edge"],
        "brace end": a["brace_end"],
        "board edge": a["edge_line"],
        "board faces": 90 - a["edge_twist"],
        "saw blade": 90 - a["saw_tilt"],
        "brace top edge": a["brace_edge"],
    }


def flanks_as_cut(kit: KitAsCut) -> list[FlankAsCut]:
    """All flanks of all bevel plates, and that of the brace template where it has one. Raises Unmeasured."""
    plates = [part for part in kit.parts.values() if part.declared.slug.startswith("bevel-plate")]
    # The angle of a flank is measured off the reference edge of its own corner, inside the wood.
    flanks = []
    for plate, corner in product(plates, CORNERS):
        reference, flank = plate.edge(f"{corner.split()[0]} reference edge"), plate.edge(f"flank {corner}")
        turned = (flank.direction_deg - reference.direction_deg) % 180
        # A flank that leans to the right as it rises makes its own angle at lower left and upper right, else the rest.
        inside = turned if corner in ("lower left", "upper right") else 180 - turned
        flanks.append(FlankAsCut(plate.declared.name, corner, inside, flank.length, reference.length))
    template = kit.parts.get("brace-template")
    if template is not None and template.names("flank", "flank"):
        edge, flank = template.edge("bottom edge"), template.edge("flank")
        inside = 180 - (flank.direction_deg - edge.direction_deg) % 180
        flanks.append(FlankAsCut(template.declared.name, "of the notch", inside, flank.length, edge.length))
    return flanks


def bevel_findings(kit: KitAsCut) -> Iterator[Finding]:
    """Every angle the job needs has a flank, every flank has an angle the job needs, reference edges are parallel."""
    flanks, needed = flanks_as_cut(kit), needed_angles(kit.job)
    if not flanks:
        yield missing_finding("bevel plate", "kit.json tells no bevel plate")
    # Two uses whose angles differ by less than SHARED_FLANK_DEG share a flank.
    for use, angle in needed.items():
        nearest = min((flank.angle_deg for flank in flanks), key=lambda a: abs(a - angle), default=0.0)
        if abs(nearest - angle) > SHARED_FLANK_DEG + EXACT_DEG:
            yield off_finding(337, "bevel plate", use, f"the flank for {use}", nearest, angle, "°")
    for flank in flanks:
        wanted = min((*needed.values(), SQUARE_DEG), key=lambda a: abs(a - flank.angle_deg))
        what = f"the flank {flank.corner}"
        yield from held(337, flank.plate, f"flank {flank.corner}", what, flank.angle_deg, wanted, "°")
    for part in kit.parts.values():
        if part.declared.slug.startswith("bevel-plate"):
            # The reference edges are parallel.
            edges = [part.edge(f"{where} reference edge").direction_deg for where in ("lower", "upper")]
            off = abs(edges[0] - edges[1])
            if min(off, 180 - off) > EXACT_DEG:
                what = "the reference edges' turn"
                yield off_finding(337, part.declared.name, "upper reference edge", what, off, 0.0, "°")
            yield from _page_findings(part, needed)
        elif part.declared.slug == "brace-template":
            yield from _page_findings(part, needed)


def _page_findings(part: MeasuredPart, needed: dict[str, float]) -> Iterator[Finding]:
    """The angles that a part's settings declare are those that the job needs."""
    for name, value, _ in part.declared.settings:
        if name in needed and abs(value - needed[name]) > EXACT_DEG:
            says = (
                f"{part.declared.name}: {name} is told as {fixed(value, 4)}°, the job needs {fixed(needed[name], 4)}°"
            )
            limit = f"{fixed(needed[name], 4)}°"
            yield Finding(337, says, AGAIN, "", part.declared.name, f"{fixed(value, 4)}°", limit, at=name)


def bevel_budgets(kit: KitAsCut) -> list[str]:
    """Every flank with its worst error, a sentence each."""
    accuracy = kit.shop.machine.accuracy_mm
    return [
        f"{flank.plate}, flank {flank.corner}: {fixed(flank.angle_deg, 3)}°, up to "
        f"{fixed(flank.worst_deg(accuracy), 3)}° off with every end cut up to {fixed(accuracy, 2)} mm out of place"
        for flank in flanks_as_cut(kit)
    ]
