"""Tracks round a closed contour, each met with its neighbours: Outline in, Outline moved aside out. Any frame; mm."""

from itertools import pairwise
from math import dist, inf

from jigmaker.cutting.joint import Corner, TrackJoint, corner_between, joint_at
from jigmaker.cutting.track import Track
from jigmaker.geometry.outline import Arc, Line, Outline, Segment
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class _Ring:
    """Tracks in order round the contour; corners[i] lies between tracks[i] and the next."""

    tracks: tuple[Track, ...]
    corners: tuple[Corner, ...]

    def joint(self, i: int) -> TrackJoint | None:
        """The joint at corner i; None when one of its tracks is gone or the two never meet."""
        before, after = self.tracks[i], self.tracks[(i + 1) % len(self.tracks)]
        return None if before.is_gone or after.is_gone else joint_at(self.corners[i], before, after)

    def without(self, i: int) -> "_Ring | None":
        """The ring without track i, its neighbours bridging the gap; None when it may not be dropped."""
        tracks, corners = self.tracks, self.corners
        if len(tracks) < 3 or "opening" in (corners[i - 1].kind, corners[i].kind):
            return None
        piece = tracks[i].piece
        middle = ((piece.start[0] + piece.end[0]) / 2, (piece.start[1] + piece.end[1]) / 2)
        bridge = Corner(middle, "closing", bridged=True)
        bridged = corners[: i - 1] + (bridge,) + corners[i + 1 :] if i else corners[1:-1] + (bridge,)
        return _Ring(tracks[:i] + tracks[i + 1 :], bridged)


Moved = tuple[Outline, tuple[Segment | None, ...]]
"""The outline moved, and for each of its pieces the one that it was before; None for pieces between two of them."""


def moved_aside(outline: Outline, aside: float) -> Moved | None:
    """The outline with every piece moved `aside` mm to the left of its travel, met sharply with its neighbours.

    A piece that vanishes in a re-entrant corner is dropped and its neighbours are met. None when that cannot be done:
    a piece beside a corner that sticks out vanishes, neighbours turn back on each other, or fewer than two are left.
    Crossings of pieces that are not neighbours are not looked for here.
    """
    tracks = [Track(piece, aside) for piece in outline.segments]
    corners = [corner_between(*pair) for pair in pairwise([*tracks, tracks[0]])]
    known = [corner for corner in corners if corner is not None]
    ring = _Ring(tuple(tracks), tuple(known)) if len(known) == len(corners) else None
    while ring is not None:
        joints = [ring.joint(i) for i in range(len(ring.tracks))]
        # Of the tracks that run backwards or are gone, the one that vanished first on the way; None when all stand.
        shares = [(_vanishing(track, joints[i - 1], joints[i]), i) for i, track in enumerate(ring.tracks)]
        share, first = min(shares)
        vanished = first if share <= 1 else None
        if vanished is None:
            met = [joint for joint in joints if joint is not None]
            return _closed(ring.tracks, met) if len(met) == len(joints) else None
        ring = ring.without(vanished)
    return None


def _vanishing(track: Track, before: TrackJoint | None, after: TrackJoint | None) -> float:
    """The share of the way aside at which the track between two joints vanishes (exact between lines); over 1 when it
    stands."""
    if isinstance(track.piece, Arc) and track.is_gone:
        return min(1.0, track.piece.radius / abs(track.aside))
    if before is None or after is None:
        return inf
    # What is left of it, below 0 when it runs backwards. Between lines it shrinks in proportion to the way aside, from
    # the piece's own length L to this span s, and so is 0 at the share L / (L - s).
    span = track.span(before.after_start, after.before_end)
    return inf if span > TOUCH_MM else min(1.0, track.piece.length / (track.piece.length - span))


def _closed(tracks: tuple[Track, ...], joints: list[TrackJoint]) -> Moved:
    """The tracks between their joints, one after the other, with the straight pieces of the joints."""
    pieces: list[Segment] = []
    before: list[Segment | None] = []
    for i, track in enumerate(tracks):
        pieces += track.between(joints[i - 1].after_start, joints[i].before_end)
        before += [track.piece] * (len(pieces) - len(before))
        way = (joints[i].before_end, *joints[i].between, joints[i].after_start)
        pieces += [Line(a, b) for a, b in pairwise(way) if dist(a, b) > TOUCH_MM]
        before += [None] * (len(pieces) - len(before))
    return Outline(tuple(pieces)), tuple(before)
