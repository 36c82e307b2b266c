"""A cut on the saw, seen from the operator's side. Saw frame (saw_setups); paper mm."""

from math import cos, radians, tan

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import scale
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, SMALL_MM, THIN, Canvas, fitted
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.pictures.saw_setups import SawCut, SawSetup, saw_setup
from jigmaker.trestle.records import Trestle

_FROM_LEFT, _FROM_RIGHT = View.from_viewer((-0.3, -1.0, 0.8)), View.from_viewer((0.35, -1.0, 0.8))
_WIDE_MM, _COLUMN_MM, _HIGH_MM = 91.0, 26.0, 60.0
_GAP_MM, _WORDS_MM, _ACROSS_MM, _UP_MM = 6.0, 47.0, 36.0, 15.0  # the two angles beside the drawing
_TITLES: dict[SawCut, str] = {
    "leg flat": "Sawing a leg on its wide face",
    "leg on edge": "Sawing a leg on its narrow edge",
    "brace end": "Sawing a brace's end",
}

_KERF_MM, _FENCE_MM, _TABLE_MM = 3.0, 12.0, 6.0
_LEFT, _RIGHT, _FRONT = 2.6, 2.1, 0.9  # how far piece and table reach from the kerf, in the section's longer side


def saw_picture(trestle: Trestle, how: SawCut) -> Picture:
    """The piece on the table against the fence with the blade in it; beside it both angles, each in its true size."""
    setup = saw_setup(trestle, how)
    # From where the blade is not seen edge on.
    bodies, view = saw_bodies(setup), _FROM_RIGHT if setup.mitre_deg > 0 else _FROM_LEFT
    drawn = project(bodies, view)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    for body in drawn:
        is_timber = body.name in ("kept", "rest", "blade")
        canvas.bodies([body], spot, (OUTLINE if is_timber else THIN, THIN))
    places = {name: spot.point(place) for name, place in seen_places(bodies, view).items()}
    for name, word in (("kept", setup.left), ("rest", setup.right)):
        canvas.words(word, (places[name][0], places[name][1] - SMALL_MM / 2), "middle")
    _, low, right, high = canvas.bounds
    low_on_front = spot.point(view.point((-0.7 * _LEFT * _side(setup), 0.0, 0.12 * setup.thick_mm)))
    named = (("fence", places["fence left"]), (setup.down, low_on_front), ("saw table", places["table"]))
    name_beside(canvas, [NameLabel(words, at, "left") for words, at in named], _COLUMN_MM)
    x, middle = right + _GAP_MM, (low + high) / 2
    # Seen from above: fence, the line square to it, the kerf, and the angle between the two.
    y, half_mm = middle + 15.5, _UP_MM / 2 * tan(radians(setup.mitre_deg))
    canvas.line([(x, y + _UP_MM), (x + _ACROSS_MM, y + _UP_MM)], OUTLINE)
    canvas.line([(x, y + 2.0), (x + _ACROSS_MM, y + 2.0)])
    canvas.words("fence, from above", (x, y + _UP_MM + 1.2))
    _angle_at(canvas, (x + _ACROSS_MM / 2 - half_mm, y), setup.mitre_deg)
    swings = f", far end toward the {setup.swings_toward}" if setup.swings_toward else ""
    canvas.words(letters_wrapped(setup.words[0] + swings, _WORDS_MM), (x, y - 4.5))
    # Seen along the kerf from the operator: table, the upright, the blade, and the angle between the two.
    y, half_mm = middle - 22.5, _UP_MM / 2 * tan(radians(setup.tilt_deg))
    canvas.line([(x, y), (x + _ACROSS_MM, y)], OUTLINE)
    canvas.words("table, along the cut", (x, y + _UP_MM + 1.2))
    _angle_at(canvas, (x + _ACROSS_MM / 2 + half_mm, y), -setup.tilt_deg)
    leans = f", top toward the {setup.leans_toward}" if setup.leans_toward else ""
    canvas.words(letters_wrapped(setup.words[1] + leans, _WORDS_MM), (x, y - 4.5))
    return canvas.picture(_TITLES[how])


def saw_bodies(setup: SawSetup) -> list[Body]:
    """Table, fence on both sides of the kerf, the part that is kept, the rest, and the blade between; saw frame."""
    side = _side(setup)
    left, right, blade = -_LEFT * side, _RIGHT * side, setup.blade
    piece = Solid.block((left, 0.0, 0.0), (right, setup.wide_mm, setup.thick_mm))
    out = scale(blade.z_axis, _KERF_MM / 2)
    kept = piece.kept_below(scale(out, -1.0), blade.z_axis)
    rest = piece.kept_below(out, scale(blade.z_axis, -1.0))
    table = Solid.block((left - 8.0, -_FRONT * side, -_TABLE_MM), (right + 8.0, setup.wide_mm + _FENCE_MM + 8.0, 0.0))
    # A disc in the blade's plane, through the piece down to the table.
    radius = max(0.68 * setup.wide_mm / cos(radians(setup.mitre_deg)), 1.25 * setup.thick_mm)
    middle = setup.wide_mm / 2 / cos(radians(setup.mitre_deg))
    disc = Solid.prism(Circle((middle, 0.35 * radius), radius), [], _KERF_MM, 16).moved((0.0, 0.0, -_KERF_MM / 2))
    # The fence behind the piece, with a gap for the blade.
    y, at, gap = setup.wide_mm, setup.wide_mm * tan(radians(setup.mitre_deg)), 0.3 * side
    high = 0.8 * setup.thick_mm
    lean = high * tan(radians(setup.tilt_deg))
    spans = (("fence left", left, at - gap - lean), ("fence right", at + gap, right))
    return [
        Body("kept", kept),
        Body("rest", rest),
        Body("blade", disc.placed(blade).kept_below((0.0, 0.0, 0.0), (0.0, 0.0, -1.0))),
        *(Body(name, Solid.block((low, y, 0.0), (far, y + _FENCE_MM, high))) for name, low, far in spans),
        Body("table", table),
    ]


def _side(setup: SawSetup) -> float:
    """The section's longer side, by which everything is scaled, mm."""
    return max(setup.wide_mm, setup.thick_mm)


def _angle_at(canvas: Canvas, foot: Point, turn_deg: float) -> None:
    """A broken line straight up, a heavy one turned clockwise by turn_deg from it, and the arc between them."""
    high = _UP_MM - 0.8
    canvas.line([foot, (foot[0], foot[1] + high)], BROKEN)
    canvas.line([foot, (foot[0] + high * tan(radians(turn_deg)), foot[1] + high)], OUTLINE)
    low, far = sorted((90.0, 90.0 - turn_deg))
    canvas.arc(foot, 0.8 * _UP_MM, low, far)
