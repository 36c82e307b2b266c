"""The whole trestle standing on the floor: Trestle in, Picture out; timber frame seen from its +x end; paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.solid import Solid
from jigmaker.papers.pictures.canvas import THIN, Canvas, Spot, fitted
from jigmaker.papers.pictures.names import DRAWING_MM, NameLabel, Side, name_beside
from jigmaker.papers.wording import size
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids
from jigmaker.units import length_text

VIEW = View.from_angles(-52.0, 20.0)
"""From the operator's right, a little above: both ends and one long side are seen."""

_HIGH_MM = 90.0
_FLOOR = "floor"
_FLOOR_MM = 40.0  # how far the floor reaches beyond the feet


def trestle_picture(trestle: Trestle) -> Picture:
    """The finished trestle, hidden lines left out, with the sizes of its pieces and of its stand."""
    bodies = [Body(name, solid) for name, solid in trestle_solids(trestle).items()]
    # A thin slab under the feet.
    x, y = trestle.foot.spread_along_mm / 2 + _FLOOR_MM, trestle.foot.spread_across_mm / 2 + _FLOOR_MM
    floor = -trestle.job.height_mm
    bodies.append(Body(_FLOOR, Solid.block((-x, -y, floor - 0.5), (x, y, floor))))
    drawn = project(bodies, VIEW)
    spot, canvas = fitted(drawn, DRAWING_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn[:-1], spot)
    canvas.bodies(drawn[-1:], spot, (THIN, THIN))
    name_beside(canvas, _names(trestle, bodies, spot))
    return canvas.picture("The trestle")


def _names(trestle: Trestle, bodies: list[Body], spot: Spot) -> list[NameLabel]:
    """What each piece is, and its finished size; feet and height where they stand."""
    job, places = trestle.job, seen_places(bodies, VIEW)
    top, leg, brace = job.top, job.leg, job.brace
    brace_size = f"{length_text(trestle.brace.bottom_mm, job.unit)} at its bottom edge"
    words: tuple[tuple[str, str, Side | None], ...] = (
        ("top board", f"top board {size(top.length_mm, top.width_mm, top.thickness_mm, unit=job.unit)}", None),
        ("leg +x-y", f"leg {size(leg.width_mm, leg.thickness_mm, unit=job.unit)}, R or L: one piece", "right"),
        ("leg -x-y", f"leg along an arris {length_text(trestle.leg.length_mm, job.unit)}", "left"),
        ("brace +x", f"brace {size(brace.depth_mm, brace.thickness_mm, unit=job.unit)}, {brace_size}", "right"),
    )
    names = [NameLabel(text, spot.point(places[name]), side) for name, text, side in words if name in places]
    return names + _stand(trestle, spot)


def _stand(trestle: Trestle, spot: Spot) -> list[NameLabel]:
    """Height and spread of the feet, at the floor's edges."""
    job, foot = trestle.job, trestle.foot
    x, y = foot.spread_along_mm / 2, foot.spread_across_mm / 2
    along = f"feet along {length_text(foot.spread_along_mm, job.unit)}, outer corners"
    across = f"feet across {length_text(foot.spread_across_mm, job.unit)}, outer corners"
    high = f"height {length_text(job.height_mm, job.unit)}, floor to top face"
    floor = -job.height_mm
    front = spot.point(VIEW.point((-0.4 * x, -y - _FLOOR_MM, floor)))
    end = spot.point(VIEW.point((x + _FLOOR_MM, 0.0, floor)))
    corner = spot.point(VIEW.point((-job.top.length_mm / 2, -job.top.width_mm / 2, 0.0)))
    return [NameLabel(along, front, "left"), NameLabel(across, end, "right"), NameLabel(high, corner, "left")]
