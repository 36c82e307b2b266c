"""The whole trestle on the floor, seen from its +x end. Timber frame; paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector
from jigmaker.papers.pictures.canvas import THIN, Canvas, fitted
from jigmaker.papers.pictures.names import DRAWING_MM, NameLabel, Side, name_beside
from jigmaker.papers.wording import rule_text, size
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids
from jigmaker.units import length_text

VIEW = View.from_angles(-52.0, 20.0)
"""From the operator's right, a little above: both ends and one long side are seen."""

_HIGH_MM = 90.0
_FLOOR_MM = 40.0  # how far the floor reaches beyond the feet


def trestle_picture(trestle: Trestle) -> Picture:
    """The finished trestle, hidden lines left out, with the sizes of its pieces and of its stand."""
    job, foot, unit = trestle.job, trestle.foot, trestle.job.unit
    top, leg, brace = job.top, job.leg, job.brace
    bodies = [Body(name, solid) for name, solid in trestle_solids(trestle).items()]
    # The floor is a thin slab under the feet.
    x, y, floor = foot.spread_along_mm / 2, foot.spread_across_mm / 2, -job.height_mm
    slab = (-x - _FLOOR_MM, -y - _FLOOR_MM, floor - 0.5), (x + _FLOOR_MM, y + _FLOOR_MM, floor)
    bodies.append(Body("floor", Solid.block(*slab)))
    drawn, places = project(bodies, VIEW), seen_places(bodies, VIEW)
    spot, canvas = fitted(drawn, DRAWING_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn[:-1], spot)
    canvas.bodies(drawn[-1:], spot, (THIN, THIN))
    brace_size = f"{rule_text(trestle.brace.bottom_mm, unit)} at its bottom edge"
    pieces: tuple[tuple[str, str, Side | None], ...] = (
        ("top board", f"top board {size(top.length_mm, top.width_mm, top.thickness_mm, unit=unit)}", None),
        ("leg +x-y", f"leg {size(leg.width_mm, leg.thickness_mm, unit=unit)}, R or L: one piece", "right"),
        ("leg -x-y", f"leg along an arris, finished {rule_text(trestle.leg.length_mm, unit)}", "left"),
        ("brace +x", f"brace {size(brace.depth_mm, brace.thickness_mm, unit=unit)}, {brace_size}", "right"),
    )
    # Leaders of the spreads end on the floor's edges, that of the height at a corner of the board.
    front, end = (-0.4 * x, -y - _FLOOR_MM, floor), (x + _FLOOR_MM, 0.0, floor)
    corner = (-top.length_mm / 2, -top.width_mm / 2, 0.0)
    stand: tuple[tuple[str, Vector, Side], ...] = (
        (f"feet along {rule_text(foot.spread_along_mm, unit)}, outer corners", front, "left"),
        (f"feet across {rule_text(foot.spread_across_mm, unit)}, outer corners", end, "right"),
        (f"height {length_text(job.height_mm, unit)}, floor to top face", corner, "left"),
    )
    names = [NameLabel(words, spot.point(places[name]), side) for name, words, side in pieces if name in places]
    names += [NameLabel(words, spot.point(VIEW.point(at)), side) for words, at, side in stand]
    name_beside(canvas, names)
    return canvas.picture("The trestle")
