"""What a crooked machine makes of the lines it is sent. Bed frame; mm.

A step along the machine's own x lands scale_x farther on along x, a step along its own y scale_y farther up, leaning
over by the skew toward +x. What the tool takes away where it stands is an ellipse, kerf_x along x and kerf_y along y.
Stretched along x and y until the ellipse is a disc, lines are those of a round tool.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import radians, sqrt, tan
from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Stroke
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import AVERAGED_MM, Machine
from jigmaker.proof.contours import ReadShape, circles_of, cut_up, rows_of, shape_of
from jigmaker.units import text

if TYPE_CHECKING:
    from shapely import Polygon

    from jigmaker.proof.contours import Indices, Numbers, Truths

ARC_MM = 0.005
"""So far an arc in a file may be from the curve that a crooked machine must be sent along, for it has none such."""

ROUND_MM = 0.01
"""And so far from round a circle may come out."""

_MOST_CHORDS = 1024  # a quarter turn of 300 mm within the sag; files may hold any radius
_SAMPLES = 4  # a quarter: a bent circle leaves a true one by no more than a tenth farther in between
_SAG_MM = 1e-4  # how far a chord may leave the curve that a bent arc has become


_USED_BEFORE_MM = 0.03  # what kerfs in x and y had to differ by to be used, up to kit 1


def machine_of_kit(machine: Machine, number: int) -> Machine:
    """The machine as a kit of that number allowed for it: kit 1 used kerfs that are averaged now."""
    x, y = machine.kerf_x_mm, machine.kerf_y_mm
    if number > 1 or x is None or y is None or not machine.is_averaged or abs(x - y) <= _USED_BEFORE_MM:
        return machine
    return replace(machine, tool_mm=x)  # no mean: so both are used, and nothing else of a directed cut asks for it


def mean_findings(machine: Machine) -> list[Finding]:
    """A caution where kerf in x and in y are given but not used, because they differ so little."""
    if not machine.is_averaged or machine.compensation == "left out":
        return []
    in_x, in_y, mean = (
        f"{text(width or 0.0, 4)} mm" for width in (machine.kerf_x_mm, machine.kerf_y_mm, machine.tool_mm)
    )
    moved = max(abs((width or 0.0) - machine.tool_mm) / 2 for width in (machine.kerf_x_mm, machine.kerf_y_mm))
    says = (
        f"kerf_x ({in_x}) and kerf_y ({in_y}) differ so little that kerf ({mean}) stands for both: no edge comes out "
        f"more than {text(moved, 4)} mm off"
    )
    do = f"nothing need be done; kerfs that would put an edge more than {text(AVERAGED_MM)} mm off are used as they are"
    return [Finding(257, says, do, "shop machine.kerf_x", severity="caution")]


def as_cut(shape: ReadShape, machine: Machine, within_mm: float = 0.0) -> ReadShape:
    """A contour where the machine's beam really goes, as `rows_as_cut` says."""
    return _of_rows(shape, lambda rows: rows_as_cut(rows, machine, within_mm)[0])


def stretched(shape: ReadShape, machine: Machine) -> ReadShape:
    """A contour as cut, stretched along x and y until the machine's tool is a disc `round_width_mm` wide."""
    return _of_rows(shape, lambda rows: rows_stretched(rows, machine)[0])


def _of_rows(shape: ReadShape, change: Callable[[Numbers], Numbers]) -> ReadShape:
    import numpy as np

    return shape_of(change(np.array(rows_of(shape))).tolist(), not isinstance(shape, Stroke))


def stretched_area(area: Polygon, machine: Machine, turn_deg: float = 0.0) -> Polygon:
    """A piece's area in that plane; turn_deg: how the piece lay on the bed."""
    from shapely.affinity import rotate, scale

    in_x, in_y = machine.cut_width_mm
    width = round_width_mm(machine)
    return scale(rotate(area, turn_deg, origin=(0, 0)), width / in_x, width / in_y, origin=(0, 0))


def unstretched(area: Polygon, machine: Machine, turn_deg: float = 0.0) -> Polygon:
    """An area of the stretched plane as it lies on the bed, or as a piece that lay there turned."""
    from shapely.affinity import rotate, scale

    in_x, in_y = machine.cut_width_mm
    width = round_width_mm(machine)
    return rotate(scale(area, in_x / width, in_y / width, origin=(0, 0)), -turn_deg, origin=(0, 0))


def round_width_mm(machine: Machine) -> float:
    """The disc's width in the stretched plane: it covers as much as the ellipse."""
    # An ellipse of the axes a and b has the area of a disc of the diameter sqrt(a b).
    in_x, in_y = machine.cut_width_mm
    return in_x if in_x == in_y else sqrt(in_x * in_y)


def most_stretched(machine: Machine) -> float:
    """How many times as long as on the bed a length is in the stretched plane, at most."""
    return round_width_mm(machine) / min(machine.cut_width_mm)


def rows_as_cut(
    rows: Numbers, machine: Machine, within_mm: float | Numbers, through_middle: Truths | None = None
) -> tuple[Numbers, Indices]:
    """The rows of a table of contours where the machine's beam really goes, each with the number of the one it comes
    from. Arcs and circles that a scale alike in x and y leaves what they are, and those that are bent by less than
    within_mm, stay; others become chords within 0.0001 mm.

    within_mm may be another for each row. through_middle: which arcs, where they stay arcs, go through where their
    middles are made, and do not keep their bulges.
    """
    #          /  skew           x' = scale_x x + scale_y tan(skew) y
    #     y'  /|                 y' = scale_y y
    #        / |
    #       *-----> x'           An affine map: straight lines stay straight, circles become ellipses.
    # The y axis leans by the skew and its height stays scale_y.
    up = (machine.scale_y * tan(radians(machine.skew_deg)), machine.scale_y)
    return _rows_carried(rows, (machine.scale_x, 0.0), up, within_mm, through_middle)


def rows_stretched(rows: Numbers, machine: Machine) -> tuple[Numbers, Indices]:
    """`stretched` of the rows of a table of contours, likewise."""
    in_x, in_y = machine.cut_width_mm
    width = round_width_mm(machine)
    return _rows_carried(rows, (width / in_x, 0.0), (0.0, width / in_y), 0.0)


def _rows_carried(
    rows: Numbers, x_step: Point, y_step: Point, within_mm: float | Numbers, through_middle: Truths | None = None
) -> tuple[Numbers, Indices]:
    import numpy as np

    step = np.array([x_step, y_step])
    carried = rows.copy()
    carried[:, :2], carried[:, 2:4] = rows[:, :2] @ step, rows[:, 2:4] @ step
    carried[:, 5] = rows[:, 5] * sqrt(x_step[0] * y_step[1])
    if x_step[0] == y_step[1] and x_step[1] == y_step[0] == 0:
        return carried, np.arange(len(rows))
    # Only arcs and circles can become something else. Points all along each, mapped, against the arc that would stay:
    # where they lie within the tolerance of it, it may stay one.
    is_round = np.flatnonzero((rows[:, 4] != 0) | (rows[:, 5] > 0))
    # Samples at every sixteenth of the turn: between two of them a bent arc leaves the true one by a tenth more at
    # most.
    centre, radius, first, turn = circles_of(rows[is_round])
    at = first[:, None] + turn[:, None] * np.linspace(0.0, 1.0, 4 * _SAMPLES + 1)
    points = (centre[:, None] + radius[:, None, None] * np.stack([np.cos(at), np.sin(at)], axis=2)) @ step
    if through_middle is not None:
        # An arc by three points: half the turn from the first chord to the second is a quarter of the arc's.
        (ux, uy), (vx, vy) = (points[:, 2 * _SAMPLES] - points[:, 0]).T, (points[:, -1] - points[:, 2 * _SAMPLES]).T
        bulges = np.tan(np.arctan2(ux * vy - uy * vx, ux * vx + uy * vy) / 2)
        is_arc = (rows[is_round, 5] == 0) & through_middle[is_round] & (np.abs(bulges) <= 1)
        carried[is_round[is_arc], 4] = bulges[is_arc]
    kept_centre, kept_radius, _, _ = circles_of(carried[is_round])
    off = np.abs(np.hypot(*(points - kept_centre[:, None]).transpose(2, 0, 1)) - kept_radius[:, None])
    bent = is_round[off.max(axis=1, initial=0.0) >= np.broadcast_to(within_mm, len(rows))[is_round]]
    if not len(bent):
        return carried, np.arange(len(rows))
    # Chords, carried too, in place of the arcs and circles that the machine bends. A chord of an angle t leaves its
    # circle by r t² / 8.
    centre, radius, first, turn = circles_of(rows[bent])
    quarter = np.clip(np.ceil(np.pi / 2 / np.sqrt(8 * _SAG_MM / radius)), 4, _MOST_CHORDS)
    chords = np.ceil(np.abs(turn) / (np.pi / 2) * quarter - TOUCH_MM).astype(np.int64)
    times = np.ones(len(rows), dtype=np.int64)
    times[bent] = chords
    of, ends = cut_up(centre, radius, first, turn, chords)
    source = np.repeat(np.arange(len(rows)), times)
    found = carried[source]
    found[np.isin(source, bent)] = np.column_stack([ends[:, 0] @ step, ends[:, 1] @ step, np.zeros((len(of), 2))])
    return found, source
