"""Gauges, plug and brace template as cut, held against the job (336), and how far off each can be. mm, degrees."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees, dist, radians, sin, tan

from jigmaker.findings import Finding
from jigmaker.job.job import Job
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.features import farther
from jigmaker.proof.checks.measured import LeftOut, MeasuredPart, Unmeasured, missing_finding
from jigmaker.proof.expected_numbers import expected_angles, expected_brace
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.assemble import EXACT_DEG, EXACT_MM, held, off_finding
from jigmaker.record import dataclass
from jigmaker.units import fixed

WIDEST_HALF_BAND_MM = 0.075  # half of what a gauge lets pass, at most
HALF_BAND_WITHOUT_PLAY_MM = 0.05
DEPTH_LIMIT_MM = 0.2


@dataclass(frozen=True)
class KitAsCut:
    """Every part by the first of its files, by slug, and what they are for; `number` is the kit's, 2 for kit 2;
    saw_kerf_mm: what the saw takes that cuts the timber."""

    job: Job
    shop: Shop
    parts: dict[str, MeasuredPart]
    number: int = KIT_NUMBER
    saw_kerf_mm: float = SAW_KERF_MM

    def part(self, slug: str) -> MeasuredPart:
        """The part of this slug. Raises Unmeasured; LeftOut for one that the shop does not want."""
        if slug not in self.parts and slug in self.shop.left_out:
            raise LeftOut(missing_finding(slug, f"{slug}: is left out"))
        if slug not in self.parts:
            raise Unmeasured(missing_finding(slug, f"{slug}: kit.json tells no such part"))
        return self.parts[slug]

    def setting(self, slug: str, name: str) -> float | None:
        """A setting of a part as declared; None when it is not."""
        found = [value for declared, value, _ in self.part(slug).declared.settings if declared == name]
        return found[0] if found else None

    def declared(self, slug: str, name: str) -> float:
        """A setting of a part as declared. Raises Unmeasured where it is not."""
        value = self.setting(slug, name)
        if value is None:
            raise Unmeasured(missing_finding(slug, f'kit.json tells no "{name}" of the {slug}'))
        return value


def across_findings(
    part: MeasuredPart, one: str, other: str, what: str, wanted: float, code: int = 336, key: str = ""
) -> Iterator[Finding]:
    """A finding where two edges are not so many mm apart, at the end where that is worse. Raises Unmeasured."""
    # Two edges that are not parallel are held at the end where their distance is worse.
    value = farther(part.edge(one), part.edge(other), wanted)
    yield from held(code, part.declared.name, what, what, value, wanted, key=key)


def projection_gauge_findings(kit: KitAsCut, projection_mm: float) -> Iterator[Finding]:
    """Both feet in one line, the ceiling the jig's projection above them."""
    gauge = kit.part("projection-gauge")
    for foot in ("left foot", "right foot"):
        yield from across_findings(gauge, foot, "recess, ceiling", f"the recess over the {foot}", projection_mm)
    yield from across_findings(gauge, "left foot", "right foot", "the step between the feet", 0.0)


def half_band(job: Job) -> float:
    """Half of the band that legs and housings may each use up, mm."""
    # A leg is as wide as the job says or up to a whole band narrower, a housing its width and clearance, half a band
    # off either way: so play runs from clearance - half to clearance + 3 half, and half of the clearance keeps it above
    # 0.
    #
    #   leg      no-go |---band---| go
    #   housing                       low |---band---| high
    clearance = job.housing.clearance_mm
    return min(WIDEST_HALF_BAND_MM, clearance / 2) if clearance else HALF_BAND_WITHOUT_PLAY_MM


def _left_on(kit: KitAsCut, slug: str, name: str) -> tuple[float, list[Finding]]:
    """What is left on a gauge to be dressed away, and whether it had to be and is enough."""
    declared, accuracy = kit.setting(slug, f"{name}, left on to be dressed") or 0.0, kit.shop.machine.accuracy_mm
    is_enough = declared >= 2 * accuracy if declared else half_band(kit.job) > accuracy
    if is_enough:
        return declared, []
    says = (
        f"{name}: {fixed(declared, 3)} mm are left on to be dressed, the machine may be {fixed(2 * accuracy, 3)} mm off"
    )
    return declared, [Finding(336, says, AGAIN, "shop machine.accuracy", name)]


def leg_gauge_findings(kit: KitAsCut) -> Iterator[Finding]:
    """Go, no-go and thickness, less what is left on to be dressed; their walls parallel (336). Raises Unmeasured."""
    gauge, job = kit.part("leg-gauge"), kit.job
    # A gauge that must be truer than the machine cuts is cut fuller and dressed down to its size by caliper.
    over, faults = _left_on(kit, "leg-gauge", "leg gauge")
    yield from faults
    widths = (
        ("go", "left wall", "right wall", job.leg.width_mm, "job leg.width"),
        ("no-go", "left wall", "right wall", job.leg.width_mm - 2 * half_band(job), "job housing.clearance"),
        ("thickness", "lower wall", "upper wall", job.leg.thickness_mm, "job leg.thickness"),
    )
    for notch, one, other, size, key in widths:
        what = f"{notch}, opening"
        yield from across_findings(gauge, f"{notch}, {one}", f"{notch}, {other}", what, size - over, key=key)
        # The walls run the same way, so nearly that it does not show in their distance, for they are short. A file
        # saved again may have both ends of each rounded.
        edges = [gauge.edge(f"{notch}, {wall}") for wall in (one, other)]
        within = degrees(EXACT_MM / min(edge.length for edge in edges)) if gauge.cut.is_changed else EXACT_DEG
        turned = abs((edges[0].direction_deg - edges[1].direction_deg + 90) % 180 - 90)
        if turned > within:
            lean = f"the lean of {notch}, {other} off {notch}, {one}"
            yield off_finding(336, gauge.declared.name, f"{notch}, {other}", lean, turned, 0.0, "°")
        declared = kit.setting("leg-gauge", f"leg gauge, {notch}")
        yield from held(336, gauge.declared.name, notch, f"{notch} as told", declared or 0.0, size, key=key)


def housing_plug_findings(kit: KitAsCut) -> Iterator[Finding]:
    """Low and high end, with what is left on to be dressed (336). Raises Unmeasured."""
    plug, job, key = kit.part("housing-plug"), kit.job, "job housing.clearance"
    over, faults = _left_on(kit, "housing-plug", "housing plug")
    yield from faults
    middle = job.leg.width_mm + job.housing.clearance_mm
    for end, size in (("low", middle - half_band(job)), ("high", middle + half_band(job))):
        yield from across_findings(plug, "straight side", f"{end} side", f"{end}, width", size + over, key=key)
        declared = kit.setting("housing-plug", f"housing plug, {end}")
        yield from held(336, plug.declared.name, end, f"{end} as told", declared or 0.0, size, key=key)


def depth_gauge_findings(kit: KitAsCut) -> Iterator[Finding]:
    """Reach of both tongues, low and high, where a tongue as thick as the sheet first meets the floor."""
    if "depth-gauge" not in kit.parts and kit.number < KIT_NUMBER:
        return
    gauge, job, splay = kit.part("depth-gauge"), kit.job, radians(kit.job.splay_deg)
    face = {"top": (job.leg.thickness_mm - job.housing.reveal_mm) / sin(splay)}
    face["bottom"] = face["top"] - job.top.thickness_mm / tan(splay)
    # On the faces the depth is measured square to the edge: the leg's depth over the sine of the splay at the top, less
    # by the board's thickness over its tangent at the bottom.
    # A tongue as thick as the sheet meets a sloping floor with one corner of its tip first.
    # The floor rises toward the bottom face, from there it falls.
    rise = min(kit.shop.sheet_for("depth-gauge", "gauges").thickness_mm, job.top.thickness_mm) / tan(splay)
    for name, first in (("top", face["top"] - max(0.0, rise)), ("bottom", face["bottom"] + min(0.0, rise))):
        for limit, off in (("low", -DEPTH_LIMIT_MM), ("high", DEPTH_LIMIT_MM)):
            what, size = f"{name} face, {limit}", first + off
            yield from across_findings(gauge, f"{name} face, {limit} shoulder", f"{name} face, tip", what, size)
            declared = kit.setting("depth-gauge", f"depth gauge, {what}")
            yield from held(336, gauge.declared.name, what, f"{what} as told", declared or 0.0, size)


def brace_template_findings(kit: KitAsCut) -> Iterator[Finding]:
    """Lengths, depth and end of a brace's inside face; half of it where kit.json declares a middle. None is none."""
    if "brace-template" not in kit.parts:
        return
    template, brace = kit.part("brace-template"), expected_brace(kit.job)
    is_half = bool(template.names("middle"))
    share, end_deg = 0.5 if is_half else 1.0, expected_angles(kit.job)["brace_end"]
    for edge, key in (("top edge", "top_mm"), ("bottom edge", "bottom_mm")):
        length = template.edge(edge).length
        if edge == "bottom edge" and template.names("bottom edge, right"):
            # A notch parts it; beyond the notch it must go on where it left off.
            rest = template.edge("bottom edge, right")
            for end in (rest.start, rest.end):
                off = template.edge("bottom edge").left(end)
                what = "the bottom edge beyond the notch"
                yield from held(336, template.declared.name, "bottom edge, right", what, off, 0.0)
            length = dist(template.edge(edge).start, rest.end)
        yield from held(336, template.declared.name, edge, f"the {edge}'s length", length, share * brace[key])
    yield from across_findings(
        template, "bottom edge", "top edge", "the depth", brace["depth_mm"], key="job brace.depth"
    )
    bottom = template.edge("bottom edge").direction_deg
    ends = [("right end", 180 - template.edge("right end").direction_deg + bottom)]
    if not is_half:
        ends.append(("left end", template.edge("left end").direction_deg - bottom))
    for name, angle in ends:
        if abs(angle % 180 - end_deg) > EXACT_DEG:
            yield off_finding(336, template.declared.name, name, f"the {name} off the long edge", angle, end_deg, "°")


def budgets(kit: KitAsCut, projection_mm: float | None) -> list[str]:
    """What the machine's accuracy makes of each gauge, a sentence a gauge."""
    e = kit.shop.machine.accuracy_mm
    said = f"edges cut up to {fixed(e, 2)} mm out of place"
    lines = []
    if projection_mm is not None:
        lines = [f"projection gauge: {fixed(projection_mm, 2)} mm, up to {fixed(2 * e, 2)} mm off with {said}"]
    for slug, name in (("leg-gauge", "leg gauge"), ("housing-plug", "housing plug")):
        over = (kit.setting(slug, f"{name}, left on to be dressed") or 0.0) if slug in kit.parts else 0.0
        dressed = f"cut {fixed(over, 2)} mm over and dressed by caliper" if over else "cut to size"
        lines.append(f"{name}: {dressed}, up to {fixed(2 * e, 2)} mm off as cut")
    if "depth-gauge" in kit.parts:
        lines.append(
            f"depth gauge: cut to size, up to {fixed(2 * e, 2)} mm off as cut; it is to tell {DEPTH_LIMIT_MM} mm"
        )
    # Slot walls and cheeks are about 80 mm long: both ends off, opposite ways, turn one by that angle.
    slot, what = degrees(2 * e / 80), "slot" if projection_mm is not None else "cheeks"
    lines.append(
        f"{what} and stop: the housing's start up to {fixed(2 * e, 2)} mm off, its slant up to {fixed(slot, 2)}°"
    )
    return lines
