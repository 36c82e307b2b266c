"""The figures that numbers.json should hold, in its groups and by its names. Angles in degrees, lengths in mm.

Angles are taken between directions of faces and lines, lengths between corners of the solids of expected.py.
"""

from collections.abc import Mapping
from functools import lru_cache
from math import atan2, degrees

from jigmaker.geometry.vectors import Vector, add, cross, dot, length, scale
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.proof.expected import (
    UP,
    X,
    Y,
    directions,
    extent,
    housing,
    housing_corners,
    leg,
    leg_as_sawn,
    start_point,
)

NumberGroup = Mapping[str, float]
"""Kept for whoever asks for the same job again: nobody may change them."""


def angle_between_deg(one: Vector, other: Vector) -> float:
    """Between two lines, or two planes given by their normals: 0 to 90 degrees, exact for small angles too."""
    turned = degrees(atan2(length(cross(one, other)), dot(one, other)))
    return min(turned, 180 - turned)


@lru_cache(maxsize=4)
def expected_angles(job: Job) -> NumberGroup:
    """Every angle of the trestle that is marked, sawn or set, degrees."""
    d = directions(job)
    # A level plane cuts the leg's wide face along X and its narrow edge along the second line.
    on_face, on_edge = angle_between_deg(X, d.down), angle_between_deg(cross(d.edge, UP), d.down)
    return {
        "true_lean": 90 - angle_between_deg(d.down, UP),
        "leg_face": on_face,
        "leg_edge": 90 - on_edge,
        "saw_mitre": 90 - on_face,
        "saw_tilt": 90 - angle_between_deg(d.wide, UP),
        "saw_mitre_on_edge": 90 - on_edge,
        "saw_tilt_on_edge": 90 - angle_between_deg(d.edge, UP),
        "edge_twist": angle_between_deg(cross(d.edge, UP), Y),
        # Lines of the housing on the board.
        "edge_line": angle_between_deg(cross(d.edge, Y), X),
        "wall": angle_between_deg(d.wide, d.raked),
        # The brace, whose faces stand at the rake.
        "brace_end": angle_between_deg(cross(d.raked, d.wide), Y),
        "brace_end_tilt": 90 - angle_between_deg(d.raked, d.wide),
        "brace_edge": angle_between_deg(d.raked, UP),
        "brace_wedge": angle_between_deg(d.raked, d.edge),
        "rake": job.rake_deg,
        "splay": job.splay_deg,
    }


@lru_cache(maxsize=4)
def expected_leg(job: Job) -> NumberGroup:
    """Lengths of a leg; all legs are alike."""
    d = directions(job)
    sawn = leg_as_sawn(job).corners
    finished = job.height_mm / -d.down[2]
    return {
        "length_mm": finished,
        "cut_length_mm": finished + job.leg.horn_mm + job.leg.trim_mm,
        "blank_mm": extent(sawn, d.down),
        "level_width_mm": job.leg.width_mm / abs(dot(X, d.edge)),  # across the wide face along X, from edge to edge
        "along_per_leg_mm": finished + job.leg.horn_mm + job.leg.trim_mm,
    }


@lru_cache(maxsize=4)
def expected_housing(job: Job) -> NumberGroup:
    """A housing's figures, clearance included, from its corners."""
    solid, d = housing(job), directions(job)
    at = housing_corners(solid, job)
    assert at is not None  # the job was accepted: its housing reaches through
    half_length, half_width = job.top.length_mm / 2, job.top.width_mm / 2
    return {
        "width_mm": extent(solid.corners, d.edge),
        "width_on_arris_mm": at["near", "arris", "top"][0] - at["far", "arris", "top"][0],
        "depth_square_mm": extent(solid.corners, d.wide),
        "depth_top_mm": half_width - at["near", "floor", "top"][1],
        "depth_bottom_mm": half_width - at["near", "floor", "bottom"][1],
        "start_top_mm": half_length - at["near", "arris", "top"][0],
        "start_bottom_mm": half_length - at["near", "arris", "bottom"][0],
        "volume_mm3": solid.volume,
    }


@lru_cache(maxsize=4)
def expected_brace(job: Job) -> NumberGroup:
    """A flat brace on the legs' outer arrises, tight under the board, its ends flush with the outer faces."""
    d, thickness = directions(job), job.top.thickness_mm
    # The brace lies on the legs' outer arrises and is as wide, at each height, as the legs' outer faces stand apart.
    outer = add(start_point(job), scale(d.wide, job.housing.reveal_mm))
    # The brace's faces hold Y and stand at the rake: straight down in them is square to both Y and their normal.
    falls = cross(Y, d.raked)
    falls = falls if falls[2] < 0 else scale(falls, -1)
    low = -thickness + job.brace.depth_mm * falls[2]
    front = dot(d.raked, outer) + job.brace.thickness_mm
    return {
        "top_mm": 2 * _y_on_plane(outer, d.wide, -thickness),
        "bottom_mm": 2 * _y_on_plane(outer, d.wide, low),
        "depth_mm": job.brace.depth_mm,
        "gap_mm": abs(dot(scale(d.wide, job.leg.thickness_mm), d.raked)),
        "stand_back_mm": job.top.length_mm / 2 - (front + d.raked[2] * thickness) / d.raked[0],
    }


def _y_on_plane(point: Vector, normal: Vector, z: float) -> float:
    """y where a plane that holds X meets the level z."""
    return point[1] - normal[2] * (z - point[2]) / normal[1]


@lru_cache(maxsize=4)
def expected_foot(job: Job) -> NumberGroup:
    """Spread of the feet over their outer corners on the floor."""
    on_floor = [p for p in leg(job).corners if p[2] < -job.height_mm + 1e-6]
    return {"spread_along_mm": 2 * max(p[0] for p in on_floor), "spread_across_mm": 2 * max(p[1] for p in on_floor)}


def expected_jig(job: Job, shop: Shop, standoff_mm: float) -> NumberGroup:
    """The jig's settings; the standoff is whatever the bearers that were cut give."""
    router, depth = shop.router, job.leg.thickness_mm - job.housing.reveal_mm
    offset = (router.bush_mm - router.cutter_mm) / 2
    return {
        "plate_tilt_deg": 90 - job.splay_deg,
        "standoff_mm": standoff_mm,
        "guide_offset_mm": offset,
        "slot_width_mm": job.leg.width_mm + job.housing.clearance_mm + 2 * offset,
        "projection_mm": shop.sheet_for("plate", "plate-r", "plate-l").thickness_mm + standoff_mm + depth,
    }
