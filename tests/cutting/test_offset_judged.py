"""The offset judged by a stranger: shapely's buffer, and a disc swept along the path, over random profiles."""

from math import cos, dist, pi, sin, tan
from random import Random

import pytest
import shapely
from cutting.random_profile import random_profile

from jigmaker.cutting.offset import can_follow, offset, widest_tool
from jigmaker.cutting.track import Track
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Outline, Segment

CHORDS = 64
DISTANCES = (0.1, -0.1, 0.25, -0.25, 1.5, -1.5, 3.0, -3.0)
CASES = [(seed, DISTANCES[seed % 8]) for seed in range(112)]

# The judge thins its input by 1 % of the distance, and takes the first chord for an arc's tangent: half a chord of 1.4
# degrees off, which shifts a mitre of four times the distance sideways by 16 x 0.0123 / 2, about 10 % of the distance.
THINNED = 0.01
TIP = 0.1


def _sag(outline: Outline, chords: int = CHORDS) -> float:
    """How far the chords may leave the outline's largest arc, mm."""
    return max((s.radius for s in outline.segments if isinstance(s, Arc)), default=0.0) * (1 - cos(pi / 4 / chords))


def _polygon(outline: Outline, chords: int = CHORDS) -> shapely.Polygon:
    return shapely.Polygon(outline.points(chords))


def _followed() -> list[tuple[int, float]]:
    return [(seed, distance) for seed, distance in CASES if can_follow(random_profile(seed), distance)]


FOLLOWED = _followed()
REFUSED = [case for case in CASES if case not in FOLLOWED]


def test_most_random_profiles_can_be_followed_and_some_cannot() -> None:
    """The two lists below are both worth judging."""
    assert len(FOLLOWED) >= 70
    assert len(REFUSED) >= 10


@pytest.mark.parametrize(("seed", "distance"), FOLLOWED)
def test_offset_agrees_with_the_mitred_buffer(seed: int, distance: float) -> None:
    """Area, distance both ways and number of rings are the judge's."""
    profile = random_profile(seed)
    moved = _polygon(offset(profile, distance, "profile"))
    judge = _polygon(profile).buffer(distance, join_style="mitre", mitre_limit=4.0)
    assert judge.geom_type == "Polygon"
    assert len(judge.interiors) == 0
    assert moved.area == pytest.approx(judge.area, abs=judge.length * 2 * THINNED * abs(distance))
    assert (
        moved.exterior.hausdorff_distance(judge.exterior) <= (THINNED + TIP) * abs(distance) + 2 * _sag(profile) + 1e-3
    )


@pytest.mark.parametrize(("seed", "distance"), FOLLOWED)
def test_every_piece_of_the_path_keeps_its_distance_and_every_arc_its_centre(seed: int, distance: float) -> None:
    """No piece comes nearer to the profile than the distance; arcs are concentric with arcs of the profile."""
    profile = random_profile(seed)
    moved = offset(profile, distance, "profile")
    nominal = shapely.LinearRing(profile.points(1024))
    nearest = min(nominal.distance(shapely.Point(p)) for piece in moved.segments for p in _three_points(piece))
    assert nearest == pytest.approx(abs(distance), abs=1e-5 + _sag(profile, 1024))
    known = [s for s in profile.segments if isinstance(s, Arc)]
    for arc in (s for s in moved.segments if isinstance(s, Arc)):
        grown = [abs(arc.radius - a.radius) for a in known if dist(a.centre, arc.centre) < 1e-5 * (1 + a.radius)]
        assert min(abs(g - abs(distance)) for g in grown) < 1e-6 * (1 + arc.radius)


def _three_points(piece: Segment) -> list[Point]:
    """Start, end and middle of a piece; the middle of an arc lies bulge x half chord to the right of its chord."""
    (ax, ay), (bx, by) = piece.start, piece.end
    middle = ((ax + bx + piece.bulge * (by - ay)) / 2, (ay + by - piece.bulge * (bx - ax)) / 2)
    return [piece.start, middle, piece.end]


@pytest.mark.parametrize(("seed", "distance"), FOLLOWED)
def test_swept_disc_leaves_the_nominal_profile_but_for_its_own_fillets(seed: int, distance: float) -> None:
    """A disc swept along the path leaves what a disc of its size can leave at best: fillets in re-entrant corners."""
    profile = random_profile(seed)
    nominal, path = _polygon(profile), _polygon(offset(profile, distance, "profile"))
    left = path.buffer(-distance, quad_segs=64)
    at_best = nominal.buffer(distance, quad_segs=64).buffer(-distance, quad_segs=64)
    # A tip's end moves by several times the error of its flanks.
    assert left.symmetric_difference(at_best).area <= 3 * nominal.length * THINNED * abs(distance)
    assert left.exterior.hausdorff_distance(at_best.exterior) <= 3 * THINNED * abs(distance) + 4 * _sag(profile) + 1e-3


@pytest.mark.parametrize(("seed", "distance"), REFUSED)
def test_refused_profile_is_named_with_a_width_that_a_tool_can_still_follow(seed: int, distance: float) -> None:
    """The message names the feature; the width in it is the widest tool's that passes, a wider one does not."""
    profile = random_profile(seed)
    with pytest.raises(TooNarrow, match=f"profile {seed} .* the tool needs {2 * abs(distance):.2f} mm"):
        offset(profile, distance, f"profile {seed}")
    width = widest_tool(profile, distance)
    side = 1 if distance > 0 else -1
    assert width < 2 * abs(distance)
    assert width < 0.01 or can_follow(profile, side * width * 0.49)
    assert not can_follow(profile, side * width * 0.51 + side * 1e-3)


@pytest.mark.parametrize("seed", range(24))
def test_offset_does_not_depend_on_direction_or_hand(seed: int) -> None:
    """The reversed and the mirrored profile give the reversed and the mirrored path."""
    profile, distance = random_profile(seed), Random(seed).choice([0.05, -0.05])
    moved = _polygon(offset(profile, distance, "profile"), 64)
    turned = _polygon(offset(profile.reversed(), distance, "profile"), 64)
    mirrored = _polygon(offset(profile.mirrored(), distance, "profile").mirrored(), 64)
    assert turned.symmetric_difference(moved).area < 1e-6
    assert mirrored.symmetric_difference(moved).area < 1e-6


@pytest.mark.parametrize("seed", range(40))
def test_a_track_from_point_to_point_is_the_part_of_its_circle_between_them(seed: int) -> None:
    """An arc moved aside and led on or cut short at both ends: each piece on the circle round the arc's centre, in the
    arc's direction, as long together as the turn between the ends (angles counted on from the arc's own) times radius.
    """
    draw = Random(seed)
    sense, first, turn = draw.choice((1, -1)), draw.uniform(-pi, pi), draw.uniform(0.1, pi)
    radius, (cx, cy) = draw.uniform(2, 40), (draw.uniform(-50, 50), draw.uniform(-50, 50))

    def at(angle: float, out: float) -> Point:
        return (cx + out * cos(angle), cy + out * sin(angle))

    arc = Arc(at(first, radius), at(first + sense * turn, radius), sense * tan(turn / 4))
    track = Track(arc, draw.uniform(-1, 1))
    begin, more = draw.uniform(-0.8, 0.05), draw.uniform(-0.05, 1.2)
    out, whole = radius - sense * track.aside, turn - begin + more
    start, end = at(first + sense * begin, out), at(first + sense * (turn + more), out)
    pieces = track.between(start, end)
    assert pieces[0].start == start and pieces[-1].end == end and len(pieces) == (2 if whole > pi else 1)
    assert all(dist(point, (cx, cy)) == pytest.approx(out) for piece in pieces for point in _three_points(piece))
    assert all(isinstance(piece, Arc) and piece.bulge * sense > 0 for piece in pieces)
    assert sum(piece.length for piece in pieces) == pytest.approx(out * whole)
    assert track.span(start, end) == pytest.approx(out * whole)
    assert track.direction_at(end) == pytest.approx(pieces[-1].end_direction)
