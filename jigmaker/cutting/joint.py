"""How two neighbouring tracks are joined: corner and tracks in, the points of the joint out. Any plane frame; mm.

Words: a joint is *opening* when moving the pieces aside tears them apart (a corner of material that sticks out),
*closing* when it makes them overlap (a re-entrant corner), *smooth* when the pieces are tangent.
"""

from math import cos, dist, pi, sin
from typing import Literal

from jigmaker.cutting.track import Track, meetings, turn_between
from jigmaker.geometry.frames import Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass

JointKind = Literal["smooth", "opening", "closing"]

MITRE_TOOLS = 2.0
"""A mitre reaches at most this many tool widths beyond the corner, then it is cut off flat."""

_SLOT_TURN = pi * 150 / 180  # two tracks that turn back more than this form a slot's end, not a corner


@dataclass(frozen=True, slots=True)
class Corner:
    """Where two neighbours meet on the nominal contour. `bridged`: pieces between them have been dropped."""

    at: Point
    kind: JointKind
    bridged: bool = False


@dataclass(frozen=True, slots=True)
class TrackJoint:
    """Where the track before ends, the points passed in between, and where the track after starts."""

    before_end: Point
    between: tuple[Point, ...]
    after_start: Point


def corner_between(before: Track, after: Track) -> Corner | None:
    """The corner between two pieces that follow each other; None when they double back on themselves."""
    turn = turn_between(before.piece.end_direction, after.piece.start_direction)
    if abs(turn) > pi - TOUCH_MM:
        return None
    if 2 * abs(before.aside) * sin(abs(turn) / 2) <= TOUCH_MM:
        return Corner(before.piece.end, "smooth")
    return Corner(before.piece.end, "opening" if before.aside * turn < 0 else "closing")


def joint_at(corner: Corner, before: Track, after: Track) -> TrackJoint | None:
    """The joint of two tracks at a corner; None when the tracks never meet there."""
    if corner.kind == "opening":
        return _mitre(corner, before, after)
    if corner.kind == "smooth":
        end, start = before.end, after.start
        middle = ((end[0] + start[0]) / 2, (end[1] + start[1]) / 2)
        return TrackJoint(middle, (), middle)
    points = meetings(before, after)
    if not points:
        return None
    # Of two points in which the tracks meet, the one on the corner's side of their axis is the nearer to it.
    at = min(points, key=lambda point: dist(point, corner.at))
    if corner.bridged:
        turn = turn_between(before.direction_at(at), after.direction_at(at))
        if before.aside * turn <= 0 or abs(turn) > _SLOT_TURN:
            return None
    return TrackJoint(at, (), at)


def _mitre(corner: Corner, before: Track, after: Track) -> TrackJoint:
    """Both tracks run on straight, in the direction they have at the corner, to a point or to a flat.

    With t the turn and d the distance moved, the point lies d / cos(t/2) from the corner; a flat square to the bisector
    at reach R is met (R - d cos(t/2)) / sin(t/2) beyond each track's end.
    """
    #              ______       the flat, square to the bisector, where the point would reach too far
    #        end  /      \  start
    #            /   d    \         d  the distance moved; each track is led on by `further` from its end
    #        ---'   / \    '---
    #              / t \            t  the turn at the corner
    u, v = before.piece.end_direction, after.piece.start_direction
    half = abs(turn_between(u, v)) / 2
    moved = abs(before.aside)
    reach = min(moved / cos(half), MITRE_TOOLS * 2 * moved + TOUCH_MM)
    further = (reach - moved * cos(half)) / sin(half)
    end, start = before.end, after.start
    first = (end[0] + further * u[0], end[1] + further * u[1])
    last = (start[0] - further * v[0], start[1] - further * v[1])
    if dist(first, last) <= TOUCH_MM:
        last = first
    # Straight tracks are simply lengthened; an arc keeps its end and a straight piece leads on from it.
    leads_on, leads_in = before.piece.bulge != 0, after.piece.bulge != 0
    passed = ([first] if leads_on else []) + ([last] if leads_in and (last != first or not leads_on) else [])
    return TrackJoint(before.end if leads_on else first, tuple(passed), after.start if leads_in else last)
