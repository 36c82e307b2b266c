"""The housing's drawing, enlarged: edge, top face, end, and the view along the leg. mm.

Drawn is the R housing at the datum end; the board goes on behind the zigzag lines. The L housings are its mirror
images. The view along the leg shows what the router makes: width and depth square to walls and floor.
"""

from collections.abc import Mapping

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import FRONT, TOP, View, Y
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross
from jigmaker.geometry.vectors import scale as stretched
from jigmaker.job.practice import PRACTICE
from jigmaker.job.shop import Paper
from jigmaker.papers.drawings.housing_points import HousingPoints
from jigmaker.papers.drawings.on_paper import BELOW, finish
from jigmaker.papers.drawings.placed_view import PlacedView, Seen, broken, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids

_DATUM_END = View((0.0, 0.0, 1.0), Y, (-1.0, 0.0, 0.0))
_BEYOND_MM = 20.0  # of board shown beyond the housing, along and across
_RADIUS_MM = 12.0
_GAP_MM = {"front edge": 34.0, "datum end": 33.0, "along the leg": 46.0}
_WORDS_MM = 66.0  # from an angle's vertex to the far end of its words, and half the width of others
_GAP_TO_END_MM = 20.0  # in third angle, where no sizes stand between
_GAP_IN_THIRD_MM = 50.0  # between top face and front edge: an angle below the one, sizes over the other
_CAPTION_MM = {"front edge": 24.0, "top face": 3.0, "datum end": 16.0, "along the leg": 16.0}
_LONG_NAMES = {"along the leg": "down the leg: square to walls and floor"}


def housing_drawing(trestle: Trestle, paper: Paper | None = None, number: str = "4") -> Picture:
    """One housing on the shop's paper, as large as there is room for."""
    job = trestle.job
    top, housing = trestle.job.top, trestle.housing
    # The piece that is shown is cut out of the board in the planes x and y.
    x = -top.length_mm / 2 + housing.start_top_mm + housing.width_on_arris_mm + _BEYOND_MM
    y = -top.width_mm / 2 + housing.depth_top_mm + _BEYOND_MM
    low = (-top.length_mm, -top.width_mm, -2 * top.thickness_mm)
    piece = {"board": trestle_solids(trestle)["top board"].common(Solid.block(low, (x, y, top.thickness_mm)))}
    # Seen from the leg's head downward, out of the board upward on the paper. leg_directions are those of the leg at
    # +x +y; half a turn about the upright makes them those of the leg at -x -y.
    down, wide, _ = ((-direction[0], -direction[1], direction[2]) for direction in leg_directions(trestle))
    toward = stretched(down, -1)
    seen = {
        "top face": broken(see(piece, TOP), x=x, y=y),
        "front edge": broken(see(piece, FRONT), x=x),
        "datum end": broken(see(piece, _DATUM_END), y=y),
        "along the leg": see(piece, View(cross(wide, toward), wide, toward), hidden=False),
    }
    head = Head(
        "housing, R at the datum end", job.name, number, job.unit, "datum end, top face", PRACTICE["limit.depth"].mm
    )
    return finish(lambda scale, way: _compose(trestle, seen, scale, way == BELOW), head, (paper or Paper()).size)


def _compose(trestle: Trestle, seen: Mapping[str, Seen], scale: float, end_is_below: bool) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=trestle.job.unit, decimals=2)
    views = _placed(draft, trestle, seen, end_is_below)
    for name, view in views.items():
        draft.view(view)
        draft.caption(view, _LONG_NAMES.get(name, name), rise_mm=_CAPTION_MM[name])
    seat = HousingPoints(trestle, -1, -1)
    # Where it lies, how wide it is on the arris and square to its walls, how deep in either face and square.
    top = trestle.job.top
    datum = (-top.length_mm / 2, -top.width_mm / 2, 0.0)
    edge, face, leg = views["front edge"], views["top face"], views["along the leg"]
    draft.size(edge, datum, seat.on_arris("near"), "above", 0, beyond="start")
    draft.size(edge, datum, seat.on_arris("far"), "above", 1, beyond="start")
    draft.size(face, seat.on_arris("far"), seat.at_floor("far"), "right", 1)
    draft.size(face, seat.on_arris("far", "bottom"), seat.at_floor("far", "bottom"), "right", 0, beyond="start")
    draft.size(views["datum end"], (datum[0], datum[1], -top.thickness_mm), datum, "above")
    draft.size(leg, seat.on_arris("far"), seat.on_arris("near"), "above", is_fit=True)
    draft.size(leg, seat.at_floor("far"), seat.on_arris("far"), "left")
    # The wall's line on edge and face, drawn on beyond the board; the floor's line on the end.
    angles = trestle.angles
    down = stretched(seat.up_the_edge, -1)
    words = off(angles.edge_line_deg, "the top arris")
    place = (-15.0, -9.5)
    vertex = seat.on_arris("near", "bottom")
    draft.angle(views["front edge"], vertex, (down, seat.to_the_end), _RADIUS_MM, place, words, (0.0, 99.0), "right")
    words = off(90 - angles.edge_twist_deg, "the arris")
    rays = (seat.out_of_face, seat.to_the_end)
    draft.angle(views["top face"], seat.on_arris("near"), rays, _RADIUS_MM, place, words, (0.0, 99.0), "right")
    end, vertex = views["datum end"], seat.at_floor("near")
    lines = ("floor", *off(trestle.job.splay_deg, "the top face"))
    rays = (stretched(seat.up_the_floor, -1), stretched(seat.inward, -1))
    text = (-_RADIUS_MM, end.box[1] - end.point(vertex)[1] - 10.0)
    draft.angle(end, vertex, rays, _RADIUS_MM, text, lines, (99.0, 99.0), "middle")
    return draft


def _placed(
    draft: ScaledDraft, trestle: Trestle, seen: Mapping[str, Seen], end_is_below: bool
) -> dict[str, PlacedView]:
    """First angle: front edge over the top face, end to the right of it; third angle the other way round.

    An end that has no room there stands to the right of the view along the leg.
    """
    is_third, scale = draft.unit == "in", draft.scale
    sizes = {name: one.size(scale) for name, one in seen.items()}
    top = sizes["top face"]
    edge_y = -_GAP_IN_THIRD_MM - sizes["front edge"][1] if is_third else top[1] + _GAP_MM["front edge"]
    # In third angle the words of the angle on the face may reach beyond the datum end, toward those of the end.
    reach = _WORDS_MM - trestle.housing.start_top_mm * scale - sizes["datum end"][0] / 2
    end_x = -max(_GAP_TO_END_MM, reach) - sizes["datum end"][0] if is_third else top[0] + _GAP_MM["datum end"]
    low_y = min(0.0, edge_y) - _GAP_MM["along the leg"] - sizes["along the leg"][1]
    # Room for its depth at the left.
    leg_x = 14.0
    lows = {
        "top face": (0.0, 0.0),
        "front edge": (0.0, edge_y),
        "datum end": (leg_x + sizes["along the leg"][0] + _WORDS_MM / 2, low_y) if end_is_below else (end_x, 0.0),
        "along the leg": (leg_x, low_y),
    }
    return {name: one.placed(scale, lows[name]) for name, one in seen.items()}
