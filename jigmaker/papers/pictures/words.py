"""What the words of the papers name, on one end of a board. Paper mm.

The leg is drawn with a horn and a reveal whether or not this job has them.
"""

from dataclasses import replace

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import project
from jigmaker.drawing.view import View
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.papers.pictures.canvas import Canvas, fitted
from jigmaker.papers.pictures.horn import horn_bodies
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve

VIEW = View.from_angles(58.0, 30.0)
"""From outside the board's edge and end, a little above."""

_WIDE_MM, _COLUMN_MM, _HIGH_MM = 64.0, 34.0, 56.0
_HORN, _REVEAL = 0.35, 0.12
"""Of the leg's width and thickness."""


def words_picture(trestle: Trestle) -> Picture:
    """A board's end with a leg in one housing and the other housing empty, and the trade's names beside it."""
    job = trestle.job
    leg = replace(job.leg, horn_mm=_HORN * job.leg.width_mm)
    housing = replace(job.housing, reveal_mm=min(_REVEAL * job.leg.thickness_mm, 20.0))
    shown = solve(replace(job, leg=leg, housing=housing))
    drawn = project(horn_bodies(shown), VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    # Places in the timber frame, at the corners of the leg's head at the top face.
    outer_near, outer_far, inner_far, inner_near = leg_corners(shown)[:4]
    down, thick = leg_directions(shown)[0], job.top.thickness_mm
    head = scale(add(outer_near, inner_far), 0.5)
    face = add(scale(add(outer_near, outer_far), 0.5), scale(down, 1.6 * thick))
    edge = add(scale(add(outer_near, inner_near), 0.5), scale(down, 1.7 * thick))
    empty_x, empty_y, _ = scale(add(outer_far, inner_near), 0.5)
    places: list[tuple[str, Vector, Side]] = [
        ("horn: wood left on the head", add(head, scale(down, -0.2 * job.leg.width_mm)), "right"),
        ("arris: where two faces meet", add(outer_near, (0.4 * job.inset_mm, 0.0, 0.0)), "left"),
        ("top face", add(head, (0.4 * job.inset_mm, -0.35 * job.top.width_mm, 0.0)), "left"),
        ("board's end", (job.top.length_mm / 2, 0.0, -thick / 2), "left"),
        ("housing, here without its leg", (empty_x, -empty_y, 0.0), "right"),
        ("reveal: the leg stands proud of the board's edge", add(outer_far, scale(down, 0.5 * thick)), "right"),
        ("outer face of the leg", face, "right"),
        ("near narrow edge, toward the board's end", edge, "left"),
    ]
    name_beside(canvas, [NameLabel(text, spot.point(VIEW.point(at)), side) for text, at, side in places], _COLUMN_MM)
    return canvas.picture("What the words name")
