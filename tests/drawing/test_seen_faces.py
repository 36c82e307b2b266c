"""Places to point at: on the body, in sight, away from the edges of the face."""

import pytest

from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import FRONT, ISOMETRIC, View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Stroke
from jigmaker.geometry.solid import Solid

BOXES = {
    "shelf": ((0, 0, 0), (60, 20, 4)),
    "book": ((5, 4, 4), (12, 16, 30)),
    "vase": ((30, 8, 4), (44, 18, 40)),
    "wall": ((-5, 20, -10), (65, 22, 60)),
}
BODIES = [Body(name, Solid.block(low, high)) for name, (low, high) in BOXES.items()]
VIEWS = [View.from_angles(-60, 25), View.from_angles(-115, 35), FRONT]


@pytest.mark.parametrize("view", VIEWS)
def test_a_needle_from_the_viewer_meets_the_body_first(view):
    """From before everything down to the picture place: the nearest wood on the way is the body's own."""
    places = seen_places(BODIES, view)
    assert set(places) == set(BOXES)
    for name, (x, y) in places.items():
        needle = Solid.block((x - 0.01, y - 0.01, -500), (x + 0.01, y + 0.01, 500))
        needle = needle.placed(Frame((0.0, 0.0, 0.0), view.right, view.up, view.toward))
        own = Frame((0.0, 0.0, 0.0), view.right, view.up, view.toward)
        met = {body.name: needle.common(body.solid) for body in BODIES}
        depth = {n: max(own.inside(p)[2] for p in solid.corners) for n, solid in met.items() if not solid.is_empty}
        assert max(depth, key=lambda n: depth[n]) == name


@pytest.mark.parametrize("view", VIEWS)
def test_places_are_off_the_lines(view):
    """No drawn line of any body within a millimetre of a place."""
    import shapely

    places = seen_places(BODIES, view)
    lines = shapely.union_all(
        [
            shapely.LineString(Stroke.from_points(piece).points())
            for body in project(BODIES, view)
            for piece in body.visible
        ]
    )
    assert min(lines.distance(shapely.Point(at)) for at in places.values()) > 1.0


def test_what_is_not_seen_has_no_place():
    """Behind a wall, and nothing at all."""
    hidden = Body("hidden", Solid.block((20, 30, 10), (25, 35, 15)))
    nothing = Body("nothing", hidden.solid.minus(hidden.solid))
    assert set(seen_places([*BODIES, hidden, nothing], FRONT)) == set(BOXES)
    assert seen_places([hidden], ISOMETRIC)["hidden"] is not None
