"""The offset against figures from elsewhere: published kerf examples, tips by trigonometry, shapes worked by hand."""

from math import asin, cos, dist, pi, radians, sin, sqrt, tan

import pytest
from plain_parts import box

from jigmaker.cutting.offset import offset, widest_tool
from jigmaker.cutting.track import Track, meetings
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Contour, Line, Outline

# Two cutting services' worked examples for a kerf of 0.2 mm, read the other way: what to draw to get the size.
# snijlab.nl/en/p/495/kerf-width: drawn 2 x 4 gives a part of 1.8 x 3.8 and an opening of 2.2 x 4.2.
# help.ponoko.com/en/articles/4442594: a part of 40 is drawn 40.2, a hole of 40 is drawn 39.8.
PUBLISHED = [
    ("part", (1.8, 3.8), (2.0, 4.0)),
    ("opening", (2.2, 4.2), (2.0, 4.0)),
    ("part", (40.0, 40.0), (40.2, 40.2)),
    ("opening", (40.0, 40.0), (39.8, 39.8)),
]


@pytest.mark.parametrize(("what", "wanted", "drawn"), PUBLISHED)
def test_published_kerf_examples(what: str, wanted: Point, drawn: Point) -> None:
    """A part is drawn larger by the kerf, an opening smaller, and a rectangle stays one of four corners."""
    distance = 0.1 if what == "part" else -0.1
    moved = offset(box(*wanted), distance, what)
    assert isinstance(moved, Outline)
    low_x, low_y, high_x, high_y = moved.bounds
    assert (high_x - low_x, high_y - low_y) == pytest.approx(drawn, abs=1e-9)
    assert len(moved.segments) == 4


@pytest.mark.parametrize("tip_deg", range(5, 86))
def test_acute_tips_keep_their_flanks_and_end_in_a_mitre_or_a_flat(tip_deg: int) -> None:
    """The tip lies distance / sin(half the angle) out, or is cut flat two tool widths out; flanks are parallel."""
    half, moved_by = radians(tip_deg / 2), 0.1
    wedge = Outline.from_points([(0, 0), (80 * cos(half), -80 * sin(half)), (80 * cos(half), 80 * sin(half))])
    path = offset(wedge, moved_by, "wedge")
    assert isinstance(path, Outline)
    reach = min(moved_by / sin(half), 2 * 2 * moved_by)
    assert path.bounds[0] == pytest.approx(-reach, abs=2e-6)
    assert len(path.segments) == (3 if moved_by / sin(half) <= 4 * moved_by else 4)
    for x, y in path.corners:  # every corner of the path lies on the line that is parallel to a flank
        flanks = [abs(-x * sin(half) - side * y * cos(half)) for side in (1, -1)]
        assert min(abs(flank - moved_by) for flank in flanks) < 1e-9


def test_arcs_and_circles_change_their_radius_by_the_distance_alone() -> None:
    """Fillets and rounded corners of 6 mm become 5.9 and 6.1 mm, tangent as before; circles likewise."""
    rounded = Outline.from_rounded([(0, 0), (90, 0), (90, 60), (50, 60), (50, 30), (0, 30)], 6.0)
    moved = offset(rounded, 0.1, "step")
    assert isinstance(moved, Outline)
    radii = [round(s.radius, 9) for s in moved.segments if isinstance(s, Arc)]
    assert radii == [6.1, 6.1, 6.1, 6.1, 5.9, 6.1]
    assert [s.bulge for s in moved.segments] == pytest.approx([s.bulge for s in rounded.segments], abs=1e-12)
    assert offset(Circle((5, 5), 15), -0.1, "bush hole") == Circle((5, 5), 14.9)
    assert offset(Circle((5, 5), 15), 0.1, "disc") == Circle((5, 5), 15.1)


def test_polygon_keeps_its_number_of_corners() -> None:
    """A re-entrant corner stays one sharp corner, at the distance from both its walls."""
    notched = Outline.from_points([(0, 0), (100, 0), (100, 50), (60, 50), (60, 20), (40, 20), (40, 50), (0, 50)])
    moved = offset(notched, 3.0, "notched")
    assert isinstance(moved, Outline)
    wanted = [(-3, -3), (103, -3), (103, 53), (57, 53), (57, 23), (43, 23), (43, 53), (-3, 53)]
    assert all(dist(a, b) < 1e-9 for a, b in zip(moved.corners, wanted, strict=True))


@pytest.mark.parametrize("distance", [0.0, 9e-7, -9e-7])
@pytest.mark.parametrize("contour", [box(3, 4), Circle((0, 0), 2)], ids=["box", "circle"])
def test_offset_under_a_millionth_gives_the_contour_itself(contour: Contour, distance: float) -> None:
    """Nothing is computed, so nothing can change."""
    assert offset(contour, distance, "part") is contour


def test_fillet_smaller_than_the_tool_gives_a_sharp_corner() -> None:
    """A fillet of 2 mm in a square re-entrant corner, followed by a 6 mm cutter: the walls meet at 3 mm from both."""
    arc = Arc((30, 12), (32, 10), tan(radians(90) / 4))
    pieces = Outline.from_points([(0, 0), (60, 0), (60, 10), (30, 10), (30, 40), (0, 40)]).segments
    filleted = Outline(
        pieces[:2] + Outline.from_points([(60, 10), (32, 10), (60, 9)]).segments[:1] + (arc.reversed(),)
        + Outline.from_points([(30, 12), (30, 40), (0, 39)]).segments[:1] + pieces[4:]
    )  # fmt: skip
    moved = offset(filleted, 3.0, "filleted")
    assert isinstance(moved, Outline)
    assert len(moved.segments) == 6
    assert min(dist(corner, (33, 13)) for corner in moved.corners) < 1e-9


def test_line_and_arc_meet_sharply_where_their_paths_cross() -> None:
    """A half disc of radius 20 as a hole, path 3 mm inside: corners at x = ±sqrt(17² - 3²), by Pythagoras."""
    half_disc = Outline((Arc((20, 0), (-20, 0), 1.0), *Outline.from_points([(-20, 0), (20, 0), (0, -1)]).segments[:1]))
    moved = offset(half_disc, -3.0, "half disc")
    assert isinstance(moved, Outline)
    reach = sqrt(17**2 - 3**2)
    assert sorted(moved.corners) == [pytest.approx((-reach, 3), abs=1e-9), pytest.approx((reach, 3), abs=1e-9)]
    assert [s.radius for s in moved.segments if isinstance(s, Arc)] == [pytest.approx(17, abs=1e-9)]


def test_circles_and_lines_meet_where_they_are_known_to() -> None:
    """Round (0, 0) and round (7, 7), both of radius 5: in (3, 4) and (4, 3), for 3, 4 and 5 make a right angle. A line
    up at x = 3 meets the first in (3, 4) and (3, -4), the one from (7, 0) to (0, 7) in the same two as the second.
    """
    one = Track(Arc((5, 0), (3, 4), tan(asin(4 / 5) / 4)), 0.0)
    two = Track(Arc((7, 2), (4, 3), -tan(asin(3 / 5) / 4)), 0.0)
    up, slanted, beyond = (Track(Line(*ends), 0.0) for ends in (((3, 9), (3, 8)), ((7, 0), (0, 7)), ((9, 0), (0, 9))))
    for pair, wanted in (
        ((one, two), [(3, 4), (4, 3)]),
        ((one, up), [(3, -4), (3, 4)]),
        ((one, slanted), [(3, 4), (4, 3)]),
        ((one, beyond), []),
        ((up, slanted), [(3, 4)]),
    ):
        for met in (meetings(*pair), meetings(*reversed(pair))):
            assert [pytest.approx(at) for at in sorted(met)] == wanted
    # The way along each from one of its points to another: radius times turn.
    assert one.span((5, 0), (3, 4)) == pytest.approx(5 * asin(4 / 5))
    assert slanted.span((7, 0), (0, 7)) == pytest.approx(7 * sqrt(2))


def test_two_arcs_meet_sharply_where_their_paths_cross() -> None:
    """A lens of two circles of radius 50, centres 60 apart, path 2 mm inside: tips at ±sqrt(48² - 30²)."""
    tip, bulge = 40.0, tan(radians(2 * 53.13010235415598) / 4)  # cos of half the angle is 30/50
    lens = Outline((Arc((0, -tip), (0, tip), bulge), Arc((0, tip), (0, -tip), bulge)))
    moved = offset(lens, -2.0, "lens")
    assert isinstance(moved, Outline)
    reach = sqrt(48**2 - 30**2)
    assert sorted(moved.corners) == [pytest.approx((0, -reach), abs=1e-9), pytest.approx((0, reach), abs=1e-9)]


def _notch(mouth: float, floor: float, depth: float = 10.0) -> Outline:
    """A bar with a notch from its upper edge, `mouth` wide at the top and `floor` at the bottom."""
    m, f = mouth / 2, floor / 2
    return Outline.from_points(
        [(-30, 0), (30, 0), (30, 20), (m, 20), (f, 20 - depth), (-f, 20 - depth), (-m, 20), (-30, 20)]
    )


def _keyhole(throat: float) -> Outline:
    """A bar with a round pocket of radius 4 that opens upward through a throat."""
    half, low = throat / 2, (0.0, 6.0)
    left, right = (-half, 10 + sqrt(16 - half**2)), (half, 10 + sqrt(16 - half**2))
    bulge = -tan(asin(dist(right, low) / 8) / 2)  # each arc turns by twice the angle whose sine is half chord / radius
    bar = Outline.from_points([(-30, 0), (30, 0), (30, 20), (half, 20), right, left, (-half, 20), (-30, 20)]).segments
    return Outline(bar[:4] + (Arc(right, low, bulge), Arc(low, left, bulge)) + bar[5:])


NARROW = [
    ("notch", _notch(0.15, 0.15), 0.1, 0.15),
    ("notch", _notch(5.9, 5.9), 3.0, 5.9),
    ("keyhole", _keyhole(0.15), 0.1, 0.15),
    ("vent slot", box(20, 0.4), -0.25, 0.4),
    ("pin hole", Circle((0, 0), 1), -1.5875, 2.0),
    (
        "neck",
        Outline.from_points(
            [
                (0, 0),
                (20, 0),
                (20, 8),
                (40, 8),
                (40, 0),
                (60, 0),
                (60, 20),
                (40, 20),
                (40, 12),
                (20, 12),
                (20, 20),
                (0, 20),
            ]
        ),
        -2.01,
        4.0,
    ),
]


@pytest.mark.parametrize(("name", "contour", "distance", "width"), NARROW, ids=[f"{n[0]} {n[3]}" for n in NARROW])
def test_what_is_narrower_than_the_tool_is_named_with_its_width(
    name: str, contour: Contour, distance: float, width: float
) -> None:
    """Never a silent loss, never two contours for one: the message gives the feature, its width and the tool's."""
    tool = f"{abs(2 * distance):.3f}".removesuffix("0")  # a cutter of 1/8 in is 3.175, not 3.17
    with pytest.raises(TooNarrow, match=rf"^{name} is {width:.2f} mm wide .* needs {tool} mm"):
        offset(contour, distance, name)
    assert widest_tool(contour, distance) == pytest.approx(width, abs=2e-3)


@pytest.mark.parametrize(
    "contour",
    [
        pytest.param(_notch(0.4, 0.05, 0.1), id="nick that the tool passes by"),
        pytest.param(_notch(6.4, 5.6), id="slot that closes on the tool half way down"),
    ],
)
def test_feature_that_the_tool_would_only_partly_enter_is_refused(contour: Outline) -> None:
    """A path round it exists and would be closed and smooth, but the feature would be lost."""
    with pytest.raises(TooNarrow, match=r"^notch is .* mm wide at its narrowest, the tool needs 6.00 mm"):
        offset(contour, 3.0, "notch")


@pytest.mark.parametrize("throat", [0.21, 5.0])
def test_keyhole_with_a_wide_enough_throat_is_followed(throat: float) -> None:
    """The failing row's twin: the pocket keeps its round wall."""
    moved = offset(_keyhole(throat), 0.1, "keyhole")
    assert isinstance(moved, Outline)
    assert {round(s.radius, 6) for s in moved.segments if isinstance(s, Arc)} == {3.9}


@pytest.mark.parametrize(("radius", "is_followed"), [(3.1, True), (3.01, True), (2.9, False)])
def test_round_relief_in_a_corner_is_followed_when_the_cutter_goes_in(radius: float, is_followed: bool) -> None:
    """A relief whose circle passes through a mortise's corner, centred on the corner's bisector, with a 6 mm cutter."""
    reach = radius * sqrt(2)
    mouth = Outline.from_points([(reach, 0), (40, 0), (40, 30), (0, 30), (0, reach)])
    relief = Arc((0, reach), (reach, 0), tan(pi / 4))
    mortise = Outline(mouth.segments[:4] + (relief,))
    if is_followed:
        moved = offset(mortise, -3.0, "mortise")
        assert isinstance(moved, Outline)
        assert [s.radius for s in moved.segments if isinstance(s, Arc)] == [pytest.approx(radius - 3, abs=1e-9)]
    else:
        with pytest.raises(TooNarrow, match=r"^mortise is 5.80 mm wide"):
            offset(mortise, -3.0, "mortise")
