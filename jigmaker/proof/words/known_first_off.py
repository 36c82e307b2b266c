"""What a first-off's readings show, worked out by the proof: the tables' figures by name; mm, degrees.

The housing's three planes are moved by a setting that is off, and met with the board's faces. Each setting is off by so
much that the figure in which it shows most reads 0.1, 0.2 or 0.3 mm more or less than wanted.
"""

from math import cos, radians, sin, tan

from jigmaker.geometry.vectors import Vector, add, dot, scale
from jigmaker.job.job import Job
from jigmaker.proof.expected import directions
from jigmaker.proof.expected_numbers import expected_housing
from jigmaker.proof.words.figures import Value
from jigmaker.units import MM_PER_INCH

FIGURES = ("width", "depth_top", "depth_bottom", "start_top", "start_bottom")
_SETTINGS = ("projection", "guide", "stop", "edge", "tilt", "turn")
_LEADS_MM = (-0.3, -0.2, -0.1, 0.1, 0.2, 0.3)
_SHOWN_MM = 0.2
_STEP = 0.1


def first_off_facts(job: Job) -> dict[str, Value]:
    """Readings for a setting that is off one way or the other, what is named in words there, and how much to change."""
    over = 100.0 if job.unit == "mm" else 4 * MM_PER_INCH
    found: dict[str, Value] = {}
    wanted = _reading(job, "", 0.0)
    for setting, sign in ((setting, sign) for setting in _SETTINGS for sign in (1, -1)):
        # Newton's way: the reading grows with the setting by its slope, so the setting that moves the reading by `lead`
        # is lead over slope. All is so nearly linear that one step is enough.
        # How the readings follow the setting, by a small step either way; what leads is the one that follows most.
        there, back = (_reading(job, setting, way * sign * _STEP) for way in (1, -1))
        if setting == "edge":
            slopes = [(a - b) / _STEP for a, b in zip(there, wanted, strict=True)]
        else:
            slopes = [(a - b) / (2 * _STEP) for a, b in zip(there, back, strict=True)]
        steepest = max(slopes, key=abs)
        for lead in (lead for lead in _LEADS_MM if lead / steepest > 0):
            off = sign * lead / steepest
            figures = [a - b for a, b in zip(_reading(job, setting, off), wanted, strict=True)]
            slant = tan(radians(abs(off))) * over
            is_slant = setting in ("tilt", "turn")
            # The edge shows in one figure or the other, always as less.
            way = f"_{'more' if sign > 0 else 'less'}" if setting == "edge" else ""
            step = f"{'more' if lead > 0 else 'less'}_{abs(lead):.1f}"
            found[f"first_off.{setting}_change{way}.{step}"] = slant if is_slant else -off
            if abs(lead) == _SHOWN_MM:
                name = f"first_off.{setting}_{'more' if sign > 0 else 'less'}"
                found |= {f"{name}.{key}": mm for key, mm in zip(FIGURES, figures, strict=True)}
                found[f"{name}.amount"] = (slant, over) if is_slant else (abs(off), abs(off) / 2)
                found[f"{name}.angle"] = abs(off)
    return found | {"first_off.over": over}


def _reading(job: Job, setting: str, off: float) -> list[float]:
    """Width, depths on both faces in the middle of the housing, starts on both arrises, as routed."""
    by, d, housing = dict.fromkeys(_SETTINGS, 0.0) | {setting: off}, directions(job), expected_housing(job)
    # The housing as three planes about its middle on the top arris; a setting that is off moves or turns them, and the
    # figures are read where they meet the board's edge and faces, as a caliper would.
    half_length, half_width, thick = job.top.length_mm / 2, job.top.width_mm / 2, job.top.thickness_mm
    middle = (half_length - housing["start_top_mm"] - housing["width_on_arris_mm"] / 2, half_width, 0.0)
    # Where the edge stands out at the bottom arris the jig hangs on that; a stop too far out puts it farther in.
    middle = add(middle, (-by["stop"], max(0.0, by["edge"]), 0.0))
    deep, half = housing["depth_square_mm"] + by["projection"], (housing["width_mm"] + by["guide"]) / 2
    planes = []
    for point, normal in (
        (scale(d.wide, -deep), d.wide),
        (scale(d.edge, half), d.edge),
        (scale(d.edge, -half), d.edge),
    ):
        planes.append((add(middle, _turned(point, by)), _turned(normal, by)))
    floor, near, far = planes
    depths, starts = [], []
    for y, z in ((half_width, 0.0), (half_width + by["edge"], -thick)):
        walls = [_meets(wall, (0.0, y, z), 0) for wall in (near, far)]
        starts.append(half_length - walls[0])
        depths.append(y - _meets(floor, (sum(walls) / 2, 0.0, z), 1))
    return [2 * half, *depths, *starts]


def _turned(vector: Vector, by: dict[str, float]) -> Vector:
    """After the plate's tilt about the board's arris, and the jig's turn on the board."""
    x, y, z = vector
    c, s = cos(radians(by["tilt"])), sin(radians(by["tilt"]))
    y, z = c * y + s * z, c * z - s * y
    c, s = cos(radians(by["turn"])), sin(radians(by["turn"]))
    return c * x - s * z, y, c * z + s * x


def _meets(plane: tuple[Vector, Vector], point: Vector, axis: int) -> float:
    """Where a line through the point, along x or y, meets a plane."""
    at, normal = plane
    return point[axis] + (dot(normal, at) - dot(normal, point)) / normal[axis]
