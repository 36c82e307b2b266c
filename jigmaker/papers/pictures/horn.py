"""The head of the +x +y leg with its horn in the board's edge. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.view import View
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.papers.pictures.canvas import BROKEN, Canvas, Spot, fitted
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.trestle.leg import leg_corners
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import leg_solid, trestle_solids
from jigmaker.units import length_text

VIEW = View.from_angles(58.0, 30.0)
"""From outside the board's edge and end, a little above."""

_WIDE_MM, _COLUMN_MM, _HIGH_MM = 86.0, 44.0, 58.0
_BEHIND, _BELOW = 1.0, 0.8  # board drawn beyond the leg, and leg below the board, in widths of the leg


def horn_picture(trestle: Trestle) -> Picture:
    """The board's end with one head as it comes out of the glue; the saw's line in broken lines, the plane's way."""
    # head: the leg's corners in the plane of the top face, outer near, outer far, inner far, inner near.
    job, head, horn = trestle.job, leg_corners(trestle), trestle.job.leg.horn_mm
    drawn = project(horn_bodies(trestle), VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    if horn:
        canvas.line([_seen(spot, p) for p in (head[3], head[0], head[1])], BROKEN)
    # The plane: on the top face behind the leg, from the head toward the middle of the board.
    start = add(scale(add(head[2], head[3]), 0.5), (0.0, -0.06 * job.top.width_mm, 0.0))
    end = add(start, (0.0, -0.26 * job.top.width_mm, 0.0))
    canvas.arrow([_seen(spot, start), _seen(spot, end)])
    middle = scale(add(head[0], head[2]), 0.5)
    words: list[tuple[str, Vector, Side]] = [
        ("top face", add(head[0], (0.5 * job.inset_mm, -0.5 * job.top.width_mm, 0.0)), "left"),
        ("plane from the outside inward", end, "right"),
        ("board's edge", add(head[0], (0.5 * job.inset_mm, 0.0, -job.top.thickness_mm / 2)), "left"),
    ]
    if horn:
        shown, on_line = length_text(horn, job.unit), scale(add(head[0], scale(head[1], 3.0)), 0.25)
        words.append((f"horn, {shown} along the leg", add(middle, (0.0, 0.0, horn)), "right"))
        words.append(("saw here, a card's thickness above the top face", on_line, "right"))
    else:
        words.append(("head: comes flush, no horn was left on", middle, "right"))
    face = "outer face: flush with the board's edge at its arris"
    if job.housing.reveal_mm:
        face = f"outer face: stands {length_text(job.housing.reveal_mm, job.unit)} proud, and stays so"
    # Halfway down the outer face within the board's thickness: a share of the way from head to foot.
    corners, share = leg_corners(trestle), 0.6 * job.top.thickness_mm / job.height_mm
    on_head = scale(scale(add(corners[0], corners[1]), 0.5), 1 - share)
    words.append((face, add(on_head, scale(add(corners[4], corners[5]), 0.5 * share)), "right"))
    name_beside(canvas, [NameLabel(text, _seen(spot, at), side) for text, at, side in words], _COLUMN_MM)
    return canvas.picture("A leg's head at the top face")


def horn_bodies(trestle: Trestle) -> list[Body]:
    """The board's end with its housing and the leg as sawn, both cut short; timber frame."""
    job = trestle.job
    long = job.inset_mm + trestle.leg.level_width_mm + _BEHIND * job.leg.width_mm
    behind: Vector = (job.top.length_mm / 2 - long, 0.0, 0.0)
    board = trestle_solids(trestle)["top board"].kept_below(behind, (-1.0, 0.0, 0.0))
    leg = leg_solid(trestle, finished=False)
    below = (0.0, 0.0, -job.top.thickness_mm - _BELOW * job.leg.width_mm)
    return [Body("leg", leg.kept_below(below, (0.0, 0.0, -1.0))), Body("top board", board)]


def _seen(spot: Spot, p: Vector) -> tuple[float, float]:
    return spot.point(VIEW.point(p))
