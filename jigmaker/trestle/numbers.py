"""A solved trestle in, numbers.json's content out: angles in degrees, lengths in mm, rounded to six decimals.

The jig's own numbers are not in it; who makes the kit adds them.
"""

from dataclasses import asdict, fields
from typing import Any

from jigmaker.trestle.angle_table import angles_off
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve_sizes

SCHEMA = "jigmaker numbers 1"

_GROUPS = {
    "leg": ("length_mm", "cut_length_mm", "blank_mm", "level_width_mm", "along_per_leg_mm"),
    "housing": (
        "width_mm",
        "width_on_arris_mm",
        "depth_square_mm",
        "depth_top_mm",
        "depth_bottom_mm",
        "start_top_mm",
        "start_bottom_mm",
        "volume_mm3",
    ),
    "brace": ("top_mm", "bottom_mm", "depth_mm", "gap_mm", "stand_back_mm"),
    "foot": ("spread_along_mm", "spread_across_mm"),
}


def numbers_of(trestle: Trestle) -> dict[str, Any]:
    """What numbers.json says of the trestle, keys in a fixed order; units stand in the keys.

    "angles_off" tells of each angle the line or plane that it is measured from. "sizes": what each of several sizes
    has of its own, the first being the one that all else is told of.
    """
    job = trestle.job
    angles = {field.name.removesuffix("_deg"): getattr(trestle.angles, field.name) for field in fields(trestle.angles)}
    return {
        "schema": SCHEMA,
        "job": {"name": job.name, "trestles": job.all_trestles},
        "angles_deg": {name: rounded(value) for name, value in angles.items()},
        "angles_off": {name: angles_off()[name] for name in angles},
        **{group: _chosen(asdict(getattr(trestle, group)), keys) for group, keys in _GROUPS.items()},
        **({"sizes": [_size(each) for each in solve_sizes(job)]} if job.further_sizes else {}),
    }


def _size(trestle: Trestle) -> dict[str, Any]:
    job = trestle.job
    asked = {"trestles": job.trestles, "height_mm": rounded(job.height_mm), "top_length_mm": rounded(job.top.length_mm)}
    return asked | {group: _chosen(asdict(getattr(trestle, group)), _GROUPS[group]) for group in ("leg", "foot")}


def rounded(value: float) -> float:
    """To six decimals, as files carry them; never -0."""
    return round(float(value), 6) + 0.0


def _chosen(record: dict[str, float], keys: tuple[str, ...]) -> dict[str, float]:
    return {key: rounded(record[key]) for key in keys}
