"""The lines that a hand marks, and the board's own sums, worked out by the proof; mm.

Distances run along the board from one end, the datum end; the other end's are the board's length less as much.
"""

from math import radians, sin, tan

from jigmaker.job.job import Job
from jigmaker.proof.expected_numbers import expected_angles, expected_housing
from jigmaker.proof.words.figures import Value


def marking_facts(job: Job) -> dict[str, Value]:
    """Every line on edges and faces, what one bevel alone leaves, and what lies between housings."""
    housing, angles = expected_housing(job), expected_angles(job)
    wide, twist = housing["width_on_arris_mm"], tan(radians(angles["edge_twist"]))
    start = {face: housing[f"start_{face}_mm"] for face in ("top", "bottom")}
    depth = {face: housing[f"depth_{face}_mm"] for face in ("top", "bottom")}
    #   ____________________ far edge      On a face the walls run inward at the twist: over a depth d a line
    #      \  floor  \                     moves d tan(twist) along the board, away from the datum end.
    #   ----*---------*----- near edge
    #     start   start + wide
    lines: dict[tuple[str, str], tuple[float, float]] = {}
    for wall, on in (("near", 0.0), ("far", wide)):
        lines["edge", wall] = (start["top"] + on, start["bottom"] + on)
        for face in ("top", "bottom"):
            lines[f"{face}_face", wall] = (start[face] + on, start[face] + on + depth[face] * twist)
    for face in ("top", "bottom"):
        inner = start[face] + depth[face] * twist
        lines[f"{face}_face", "floor"] = (inner, inner + wide)
    found: dict[str, Value] = {}
    for (face, wall), ends in lines.items():
        for end, place in zip(("from", "to"), ends, strict=True):
            found[f"marking.{face}.{wall}.datum_end.{end}"] = place
            found[f"marking.{face}.{wall}.other_end.{end}"] = job.top.length_mm - place
    # What one bevel alone leaves, held against the true lines: the gap it opens at floor and bottom face.
    # Walls square across the board, at the rake, from the same line on the top arris.
    hand_sawn = start["top"] - job.top.thickness_mm * (0.0 if job.rake_deg == 90 else 1 / tan(radians(job.rake_deg)))
    gap = depth["top"] * twist
    return found | {
        "marking.gap_floor": gap,
        "marking.gap_bottom": start["bottom"] - hand_sawn,
        "marking.jam": max(0.0, gap - 2 * (job.inset_mm - start["top"])),
        "marking.ease": gap * sin(radians(angles["leg_face"])),
        "housing.hand_sawn": hand_sawn,
        "housing.between_ends": job.top.length_mm - 2 * (start["top"] + wide),
        "housing.between_top": job.top.width_mm - 2 * depth["top"],
        "housing.between_bottom": job.top.width_mm - 2 * depth["bottom"],
    }
