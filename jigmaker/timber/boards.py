"""What a board as measured does to its housings and to the trestle's rock: a board's readings in, changes out; mm."""

from jigmaker.first_off.housing_settings import Settings, housing_reading
from jigmaker.job.practice import PRACTICE
from jigmaker.record import dataclass
from jigmaker.timber.readings import BoardReading
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.foot import sole_out_mm
from jigmaker.trestle.records import Trestle

EDGES = ("marked", "other")
"""The marked edge takes the housings near R and far L, the other one near L and far R."""


@dataclass(frozen=True, slots=True)
class BoardEffect:
    """One board. depth_top, depth_bottom: how much deeper than asked the housings of each edge come out in its faces,
    and proud: how far their legs stand out past the edge at the top; rock: how far one foot hangs for the winding
    alone, before levelling.
    """

    number: int
    depth_top_mm: tuple[float, float]
    depth_bottom_mm: tuple[float, float]
    proud_mm: tuple[float, float]
    rock_mm: float

    @property
    def is_uneven(self) -> bool:
        """True when a depth is off by more than the dry fit allows."""
        most = max(abs(mm) for mm in (*self.depth_top_mm, *self.depth_bottom_mm))
        return most > PRACTICE["limit.depth"].mm

    @property
    def rocks(self) -> bool:
        """True when the winding alone is more than the last check allows: levelling cures it, planing is not needed."""
        return self.rock_mm > PRACTICE["limit.rock"].mm


def board_effect(trestle: Trestle, board: BoardReading) -> BoardEffect:
    """The jig takes position from the top face and depth from the edge, at whichever arris stands out."""
    # An edge out of square is known to the first-off: its own exact housing tells both depths.
    job, wanted = trestle.job, housing_reading(trestle)
    # The floor slopes outward going down, so a thicker board is housed less deep in its bottom face.
    thicker = -(board.thickness_mm - job.top.thickness_mm) * cotangent(job.splay_deg)
    # Only an edge that stands out at the bottom face, above 0, holds the jig off the arris at the top: the housing is
    # that much shallower there, and its leg stands proud.
    off = [housing_reading(trestle, Settings(edge_mm=edge)).less(wanted) for edge in board.edges_mm]
    top, bottom = ([getattr(each, f"depth_{face}_mm") for each in off] for face in ("top", "bottom"))
    return BoardEffect(
        board.number,
        (top[0], top[1]),
        (bottom[0] + thicker, bottom[1] + thicker),
        (max(0.0, board.edges_mm[0]) * sine(job.splay_deg), max(0.0, board.edges_mm[1]) * sine(job.splay_deg)),
        winding_rock(trestle) * board.winding_mm,
    )


def winding_rock(trestle: Trestle) -> float:
    """How far a foot hangs for 1 mm of winding, one corner of the board out of the plane of the other three.

    Each end is turned about the board's middle line by half of winding over width, one up and one down, and lifts a
    foot by that times the way from the line to the middle of its sole; all four add up.
    """
    job = trestle.job
    return 4 * sole_out_mm(trestle) / (2 * job.top.width_mm)
