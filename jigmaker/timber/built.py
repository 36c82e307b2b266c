"""Batches of trestles drawn at random: what a job is and what goes wrong in, gaps and feet of every leg out; mm.

Each leg in the frame of its own seat, that of the +x +y leg mirrored to its corner: what one jig, saw or stop does
wrong it does alike to all four. Corners go round the board: near R, near L, far R, far L.

Closed forms for small errors. A head is set flush in its middle, so shifting a housing moves a foot along the floor
only, and turning the seat by w = (w_x, w_y) lifts the middle of the sole by H (w_x cot b - w_y cot a), wherever the
pivot is (a rake, b splay, H height). Then the sole is no longer level, and its lowest corner stands lower than its
middle.
"""

from typing import TYPE_CHECKING, Any

from jigmaker.job.job import CLEARANCE_WINDOW_MM
from jigmaker.record import dataclass
from jigmaker.timber.draws import Draws
from jigmaker.timber.spreads import Spreads
from jigmaker.trestle.angles import cosine, cotangent, sine, stretch
from jigmaker.trestle.foot import sole_out_mm
from jigmaker.trestle.records import Trestle

if TYPE_CHECKING:
    from jigmaker.timber.draws import Float32s

Turning = tuple[tuple[float, float], ...]
"""Turning one way: for each pair of edges that may touch, 1 / the way between them, and the share of e in the gap."""


@dataclass(frozen=True)
class BuiltFigures:
    """The figures of a trestle that errors are multiplied by; mm. loose: a wider gap rattles. turns: for a foot going
    out and coming in. play and winding: of each leg (trestle, corner) and of each board as measured; None where they
    are drawn.
    """

    trestles: int
    clearance: float
    loose: float
    height: float
    along: float
    cot_rake: float
    cot_splay: float
    sin_splay: float
    width: float
    sole_out: float
    half_along: float
    half_across: tuple[float, float]
    turns: tuple[Turning, Turning]
    play: "Float32s | None" = None
    winding: "Float32s | None" = None


@dataclass(frozen=True)
class Batches:
    """[batch, trestle, corner] each: gap of both walls together; middle and lowest corner of the sole, how much farther
    below the top face than asked.
    """

    gap: "Float32s"
    middle: "Float32s"
    lowest: "Float32s"

    @property
    def rock(self) -> Any:
        """[batch, trestle]: how far the fourth foot hangs when three stand."""
        low = self.lowest
        # Corners in turn round the trestle. Four feet stand in one plane when the sums over both diagonals agree; what
        # they differ by is how far the fourth foot hangs over the plane of the other three.
        return abs(low[..., 0] - low[..., 1] + low[..., 2] - low[..., 3])


def frame_of(trestle: Trestle, play: "Float32s | None" = None, winding: "Float32s | None" = None) -> BuiltFigures:
    """The figures of a trestle; play and winding where they were measured."""
    job, splay = trestle.job, trestle.job.splay_deg
    return BuiltFigures(
        job.trestles,
        job.housing.clearance_mm,
        CLEARANCE_WINDOW_MM[job.housing.joint][1],
        job.height_mm,
        stretch(job.rake_deg, splay),
        cotangent(job.rake_deg),
        cotangent(splay),
        sine(splay),
        job.top.width_mm,
        sole_out_mm(trestle),
        # Half the sole's two sides, the leg cut level: its wide face's along the board, its narrow one's aslant.
        job.leg.width_mm / (2 * sine(trestle.angles.leg_face_deg)),
        (
            job.leg.thickness_mm / 2 * cotangent(job.rake_deg) * cosine(splay),
            job.leg.thickness_mm / 2 / sine(splay),
        ),
        (_turning(trestle, 1), _turning(trestle, -1)),
        play,
        winding,
    )


def _turning(trestle: Trestle, way: int) -> Turning:
    """The four pairs of edges that stop a leg from turning in its housing: foot out (+1), foot in (-1).

    The walls are as long as the housing is deep in the board; turned, a leg touches the near wall with one edge and the
    far wall with the other. Going out these lie farther apart than coming in, by twice the slant of the walls over the
    leg's width. e, leg against walls out of square over the thickness, opens one pair and closes another. A pair that
    would lie no way apart does not stop the leg.
    """
    # Each pair stops the leg at gap / apart, `apart` being the way between the two edges along the walls.
    job, along = trestle.job, stretch(trestle.job.rake_deg, trestle.job.splay_deg)
    sin_b, cos_b = sine(job.splay_deg), cosine(job.splay_deg)
    thick, deep = job.top.thickness_mm, trestle.housing.depth_square_mm
    slant = way * job.leg.width_mm * cotangent(job.rake_deg) * sin_b
    m = 0.5 - thick * cos_b / deep
    pairs = (
        (along * (thick * sin_b**2 + deep * cos_b) + slant, -way * (m + 0.5)),
        (along * thick + slant, 0.0),
        (along * thick * sin_b**2 + slant, way * (0.5 - m)),
        (along * (thick - deep * cos_b) + slant, way * 1.0),
    )
    return tuple((1 / apart, share) for apart, share in pairs if apart > 0)


@dataclass(frozen=True)
class Errors:
    """What is wrong with every leg: arrays that go with [batch, trestle, corner]; mm, radians.

    opened: the housing is wider by; wide: the leg is; follow: the housing is narrower by; skew: leg less walls out of
    square over the leg's thickness. slot, fence: walls and floor lean too far out; twisted: the board's end, its edge
    up. mitre, tilt: of the sole. longer: the leg, along itself; head: proud of the top face. place: in the play, from
    -1 (foot in) to 1.
    """

    opened: Any
    wide: Any
    follow: Any
    skew: Any
    slot: Any
    fence: Any
    twisted: Any
    mitre: Any
    tilt: Any
    longer: Any
    head: Any
    place: Any


def draw_errors(frame: BuiltFigures, spreads: Spreads, draws: Draws, batches: int) -> Errors:
    """So many batches. What a batch shares is drawn once for all its legs, what a slot does once for each hand.

    A source that is taken away is drawn all the same, so that all the others stay alike.
    """
    import numpy as np

    # Corners go near R, near L, far R, far L: drawn for two and laid twice in a row, what a slot does is the same at
    # both R's and at both L's. The order of the draws is part of the result: each takes the stream's next words.
    shape = (batches, frame.trestles, 4)

    def of_hand(half: float) -> Any:
        return np.tile(draws.even(batches, 1, 2) * np.float32(half), 2)

    def of_batch(half: float) -> Any:
        return draws.even(batches, 1, 1) * np.float32(half)

    def of_leg(spread: float) -> Any:
        return draws.normal(*shape) * np.float32(spread)

    drawn_winding = draws.even(batches, frame.trestles, 1) * np.float32(spreads.winding)
    winding = drawn_winding if frame.winding is None else frame.winding[None, :, None]
    even_width = draws.even(*shape) * np.float32(spreads.width_even)
    return Errors(
        opened=of_hand(spreads.housing),
        wide=even_width + of_leg(spreads.width_bell) + np.float32(spreads.mean_width),
        follow=abs(of_leg(spreads.follow)),
        skew=of_leg(spreads.skew) - of_batch(spreads.wall_skew),
        slot=of_hand(spreads.slot_turn),
        fence=of_batch(spreads.fence),
        # Opposite corners of a board in winding go up together, each by half of it over the board's width.
        twisted=winding * np.array([1, -1, 1, -1], np.float32) / np.float32(2 * frame.width),
        mitre=of_batch(spreads.mitre),
        tilt=of_batch(spreads.tilt),
        longer=of_batch(spreads.length) + of_leg(spreads.leg_length),
        head=of_leg(spreads.head),
        place=draws.even(*shape),
    )


def built(frame: BuiltFigures, errors: Errors, is_pressed: bool) -> Batches:
    """What comes of the errors: closed forms of the first order, and of the second for a leg that turns in its play."""
    import numpy as np

    # Signs as in `Errors`. The gap is what is left for both walls together, and a leg out of square takes of it by its
    # skew whichever way it leans.
    play = np.float32(frame.clearance) if frame.play is None else frame.play[None]
    open_gap = play + errors.opened - errors.wide - errors.follow
    gap, turn = open_gap - abs(errors.skew), errors.slot
    if not is_pressed:
        out, back = (_most_turn(open_gap, errors.skew, way) for way in frame.turns)
        turn = turn + (gap > 0) * ((out - back) + errors.place * (out + back)) / np.float32(2)
    # A leg that turns by t about the normal of the floor leans along the board by t sin(splay), for the floor leans
    # too.
    lean = -turn * np.float32(frame.sin_splay)
    middle = (
        errors.longer / np.float32(frame.along)
        - errors.head
        - errors.fence * np.float32(frame.height * frame.cot_splay)
        + lean * np.float32(frame.height * frame.cot_rake)
        - errors.twisted * np.float32(frame.sole_out)
        - turn * turn * np.float32(frame.height / 2)  # of the second order, but a dry leg turns by half a degree
    )
    # The sole's slope along and across the board: its lowest corner lies below its middle by the slope times the way
    # there.
    sole_x = errors.fence + errors.twisted + errors.tilt
    sole_y = lean + errors.mitre * np.float32(frame.sin_splay)
    # Of the sole's four corners, at ± a ± b from its middle, the lowest is lower by |slope . a| + |slope . b|.
    b_x, b_y = (np.float32(each) for each in frame.half_across)
    lowest = middle + abs(sole_y) * np.float32(frame.half_along) + abs(sole_x * b_y - sole_y * b_x)
    return Batches(gap, middle, lowest)


def _most_turn(gap: Any, e: Any, way: Turning) -> Any:
    """How far each leg may turn, radians."""
    import numpy as np

    # The first pair of edges that touches stops the leg; one that does not go in at all turns not at all.
    most = None
    for share, skew in way:
        turn = (gap + e * np.float32(skew)) * np.float32(share)
        most = turn if most is None else np.minimum(most, turn)
    return np.maximum(most if most is not None else np.zeros_like(gap), np.float32(0))
