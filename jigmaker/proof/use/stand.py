"""The trestle stood on the floor in its routed housings (46x), and numbers.json (339). Timber frame; mm.

Four legs are sawn from bars by the mitre, tilt and length that numbers.json gives, laid into the housings as they were
routed, head flush with the top face, and looked at from the floor.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import cos, radians, sin

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract
from jigmaker.job.job import Job
from jigmaker.proof.expected import at_seat, cut
from jigmaker.proof.expected_numbers import (
    expected_angles,
    expected_brace,
    expected_foot,
    expected_housing,
    expected_jig,
    expected_leg,
)
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.assemble import held, off_finding
from jigmaker.proof.use.jig import JigAsCut
from jigmaker.proof.use.rout import RoutedHousing, seat_frame
from jigmaker.units import fixed

NUMBERS = "numbers.json"
TOLD_MM = 2e-5  # numbers.json has six decimals
TOLD_SHARE = 1e-9
STAND_MM = 0.02
"""Feet may be this far out of one plane, and the height off: less than a sheet of paper."""


AS_CUT = ("jig.standoff_mm", "jig.projection_mm")
"""Figures that are held against the bearers as cut, and so against coordinates with a file's last decimal."""

CUT_MM = 0.001


def number_findings(job: Job, numbers: dict[str, dict[str, float]], jig: JigAsCut | None = None) -> list[Finding]:
    """Every figure of numbers.json against the trestle cut from solids, and the jig as cut where there is one."""
    if not numbers:
        return [Finding(341, "numbers.json tells no figures", AGAIN, part=NUMBERS)]
    wanted = {
        "angles_deg": expected_angles(job),
        "leg": expected_leg(job),
        "housing": expected_housing(job),
        "brace": expected_brace(job),
        "foot": expected_foot(job),
    }
    for i in range(len(job.sizes) if job.further_sizes else 0):
        size = job.of_size(i)
        wanted |= {f"sizes.{i + 1}.leg": expected_leg(size), f"sizes.{i + 1}.foot": expected_foot(size)}
    if jig is not None:
        wanted["jig"] = expected_jig(job, jig.shop, jig.standoff_mm)
    # Six decimals in the file, and two ways of reckoning: the figures agree to 2e-5 mm, larger ones to nine places.
    findings: list[Finding] = []
    for group, figures in wanted.items():
        for key, want in figures.items():
            declared = numbers.get(group, {}).get(key)
            name = f"{group}.{key}"
            if declared is None:
                findings.append(Finding(341, f"numbers.json does not tell {name}", AGAIN, part=NUMBERS, at=name))
            elif not abs(declared - want) <= (CUT_MM if name in AS_CUT else TOLD_MM + TOLD_SHARE * abs(want)):
                is_angle = name.startswith("angles") or name.endswith("_deg")
                unit = "°" if is_angle else "mm³" if name.endswith("mm3") else "mm"
                says = f"{name} is {fixed(declared, 5)}, the trestle cut from solids gives {fixed(want, 5)}"
                value, limit = f"{fixed(declared, 5)} {unit}", f"{fixed(want, 5)} {unit}"
                findings.append(Finding(339, says, AGAIN, "", NUMBERS, value, limit, at=name))
    return findings


def sawn_leg(job: Job, numbers: dict[str, dict[str, float]]) -> Solid:
    """One leg without horn and trim as the saw leaves it. x: out of its wide face, y: toward the board's end, z: down
    its length, the outer near arris along x = y = 0 from the head at z = 0.

    The blade's plane holds a line across the wide face, off square by the mitre, and leans off upright by the tilt.
    """
    angles, length = numbers["angles_deg"], numbers["leg"]["length_mm"]
    # The blade's plane, square to the leg at first (normal z), is swung by the mitre in the wide face, then leaned by
    # the tilt; the cuts at head and foot are parallel.
    mitre, tilt = radians(angles["saw_mitre"]), radians(angles["saw_tilt"])
    w, t = job.leg.width_mm, job.leg.thickness_mm
    bar = Solid.block((-t, -w, -2 * w - 2 * t), (0.0, 0.0, length + 2 * w + 2 * t))
    # The far end of the cut lies further toward the head, and so does its end in the inner face.
    away = (sin(tilt), sin(mitre) * cos(tilt), cos(mitre) * cos(tilt))
    away = (-away[0], -away[1], away[2])
    return cut(bar, ((0.0, 0.0, 0.0), scale(away, -1)), ((0.0, 0.0, length), away))


def size_findings(
    job: Job, numbers: dict[str, dict[str, float]], made: Callable[[Job], tuple[list[RoutedHousing], list[Finding]]]
) -> Iterator[Finding]:
    """Every size but the first, by the figures that numbers.json gives for it: housings `made` in its board, by router
    or by hand, legs sawn, the trestle stood on the floor.
    """
    for i in range(1, len(job.sizes)):
        size = job.of_size(i)
        housings, findings = made(size)
        yield from findings
        own = {group: numbers.get(f"sizes.{i + 1}.{group}", {}) for group in ("leg", "foot")}
        for each in stand_findings(size, numbers | own, housings):
            name, key = job.size_names[i], each.key.replace("job trestle.", f"job size {i + 1}.")
            yield replace(each, at=f"{each.at}, {name}", key=key)


def stand_findings(job: Job, numbers: dict[str, dict[str, float]], figures: Sequence[RoutedHousing]) -> list[Finding]:
    """The four legs in their housings on the floor: heights, one plane, spread. Nothing when a housing is missing."""
    wanted = ("saw_mitre", "saw_tilt")
    if len(figures) < 4 or any(key not in numbers.get("angles_deg", {}) for key in wanted):
        return []
    if "length_mm" not in numbers.get("leg", {}):
        return []
    leg = sawn_leg(job, numbers)
    feet = [_foot_points(job, leg, each) for each in figures]
    points = [p for foot in feet for p in foot]
    # Heights below the top face, and how far the 16 corners lie out of one plane; feet of two ends rock.
    every = [-p[2] for p in points]
    mean, flat = sum(every) / len(every), max(every) - min(every)
    findings = [*held(462, "trestle", "floor", "the height", mean, job.height_mm, "mm", "job trestle.height", STAND_MM)]
    findings += held(
        461, "trestle", "floor", "the feet's corners' way out of one plane", flat, 0.0, within=2 * STAND_MM
    )
    # Three feet stand; the fourth hangs by what the one diagonal's two heights come to more than the other's.
    # Figures come in the order of the seats: +x +y, -x -y, -x +y, +x -y.
    a, b, c, d = (-sum(p[2] for p in foot) / 4 for foot in feet)
    findings += held(461, "trestle", "floor", "the rocking gap", abs(a + b - c - d), 0.0, within=STAND_MM)
    for key, i in (("spread_along_mm", 0), ("spread_across_mm", 1)):
        spread = max(p[i] for p in points) - min(p[i] for p in points)
        declared = numbers.get("foot", {}).get(key)
        if declared is not None and abs(spread - declared) > 4 * STAND_MM:
            findings.append(off_finding(463, NUMBERS, key, "the feet's spread", declared, spread))
    return findings


def _foot_points(job: Job, leg: Solid, figures: RoutedHousing) -> list[Vector]:
    """The four corners of a foot, timber frame: the leg on its housing's floor, midway between the walls."""
    down, wide, toward_end = seat_frame(figures.corners)
    # Midway between the walls: half the play is left on either side of the leg.
    # The leg's outer near corner, in the plane of the top face.
    near, far = (figures.corners[wall, "floor", "top"] for wall in ("near", "far"))
    width = sum(a * b for a, b in zip(subtract(near, far), toward_end, strict=True))
    on_floor = add(near, scale(toward_end, -(width - job.leg.width_mm) / 2))
    outer = add(on_floor, scale(wide, job.leg.thickness_mm))
    head = add(outer, scale(down, -outer[2] / down[2]))
    is_right_handed = dot(cross(wide, toward_end), down) > 0
    placed = leg.placed(Frame(head, wide, toward_end, down) if is_right_handed else Frame(head))
    standing = at_seat(placed, figures.seat)
    return sorted(standing.corners, key=lambda p: p[2])[:4]
