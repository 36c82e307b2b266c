"""What a caliper reads on a coupon cut by a machine of known kerf, scale and skew: sizes in, readings out; mm.

Directions as the coupon lay on the bed, unturned: its x along the machine's x.
"""

from math import cos, hypot, radians, sin, sqrt

from jigmaker.coupon.first_coupon import FirstCoupon
from jigmaker.coupon.lines import Allowance
from jigmaker.parts.coupon_size import GAP_TAPER, REST_MM, SLOPE, CouponSize
from jigmaker.record import dataclass

_TURNS_DEG = (0.0, 60.0, 120.0)


@dataclass(frozen=True, slots=True)
class Guess:
    """A machine as the file's lines leave it: kerf in x and y, mm; scales in x and y; lean = tan(skew).

    crush_mm: how far two cut edges that are pushed together give way where they touch.
    """

    kerf_x_mm: float
    kerf_y_mm: float
    scale_x: float
    scale_y: float
    lean: float
    crush_mm: float = 0.0

    @property
    def upright(self) -> float:
        """Cosine of the skew: lines along y lean, and a caliper measures square to them."""
        return 1 / hypot(1.0, self.lean)

    def across(self, along_x: float, along_y: float) -> tuple[float, float, float, float]:
        """What becomes of lines drawn square to a direction: the unit direction that they are square to when cut, how
        many times as far apart they lie, and how wide the cut is across them.

        Points go by x' = p x + q y t, y' = q y, with scales p and q and lean t; so directions that lines are square to
        go by the inverse of the transposed map.
        """
        x = along_x / self.scale_x
        y = along_y / self.scale_y - self.lean * x
        long = hypot(x, y)
        return x / long, y / long, 1 / long, hypot(self.kerf_x_mm * x, self.kerf_y_mm * y) / long


def forecast(size: CouponSize | FirstCoupon, lines: Allowance, guess: Guess) -> dict[str, float]:
    """The reading of every station by its key.

    Each side of a piece loses half a kerf. Outside edges stand outward by half the kerf that the lines allow for.
    """
    x, y = guess.scale_x * guess.upright, guess.scale_y
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    # The mean over three directions 60 degrees apart, in which kerf in x and in y have equal shares. The lines are an
    # ellipse, as wide in direction u as the transposed map makes u long.
    turns = [(cos(radians(turn_deg)), sin(radians(turn_deg))) for turn_deg in _TURNS_DEG]
    long = [hypot(guess.scale_x * x, guess.scale_y * (guess.lean * x + y)) for x, y in turns]
    drawn = (size.disc - (lines.kerf_x_mm + lines.kerf_y_mm) / 2) * sum(long) / len(long)
    kerf = (guess.kerf_x_mm + guess.kerf_y_mm) / 2
    if isinstance(size, FirstCoupon):
        # A strip is waste, so its lines stand inward by half the kerf they allow for.
        narrow = {
            "A": size.strips * ((size.strip - lines.kerf_x_mm) * x - guess.kerf_x_mm),
            "B": size.strips * ((size.strip - lines.kerf_y_mm) * y - guess.kerf_y_mm),
        }
    else:
        narrow = _wedges(size, guess)
    return {
        **narrow,
        "D_long_x": (long_x + lines.kerf_x_mm) * x - guess.kerf_x_mm,
        "D_short_x": (short_x + lines.kerf_x_mm) * x - guess.kerf_x_mm,
        "D_long_y": (long_y + lines.kerf_y_mm) * y - guess.kerf_y_mm,
        "D_short_y": (short_y + lines.kerf_y_mm) * y - guess.kerf_y_mm,
        "E_rising": _diagonal(size, lines, guess, 1),
        "E_falling": _diagonal(size, lines, guess, -1),
        "F_hole": drawn + kerf,
        "F_disc": drawn - kerf,
    }


def gap_width(size: CouponSize, lines: Allowance, guess: Guess, from_narrow: float) -> float:
    """How wide the gap for an offcut is as drawn, so far from its narrow end as cut, mm."""
    assert size.gap
    return size.gap[0] + GAP_TAPER * (lines.kerf_y_mm / 2 + (from_narrow - guess.kerf_y_mm / 2) / guess.scale_y)


def _wedges(size: CouponSize, guess: Guess) -> dict[str, float]:
    """The gap behind each wedge. What the lines allow for moves window and slot alike and drops out.

    A wedge at rest on a machine as drawn for touches both flanks of its slot. Elsewhere it goes on, by the vector that
    closes both distances: along each flank's direction the cut's width and the crush, less the width drawn for.
    """
    #       |\  | |  /|      A wedge in its slot, thin end down. With n_a and n_b square to its flanks and a and b the
    #       | \ | | / |      distances to be closed along them, the wedge goes on by the s that has s . n_a = a and
    #       |  \|_|/  |      s . n_b = b (Cramer's rule).
    found = {}
    for wedge, (u, v) in (("A", (0.0, 1.0)), ("B", (1.0, 0.0))):
        root = sqrt(1 + SLOPE**2)
        flanks = [
            guess.across((side * v - SLOPE * u) / root, (side * u - SLOPE * v) / root)  # out of the wedge
            for side in (1, -1)
        ]
        (ax, ay, a_apart, a_cut), (bx, by, b_apart, b_cut) = flanks
        a, b = (cut + guess.crush_mm - size.tool * apart for cut, apart in ((a_cut, a_apart), (b_cut, b_apart)))
        turn = ax * by - ay * bx
        on = ((a * by - b * ay) / turn, (ax * b - bx * a) / turn)
        end_x, end_y, apart, cut = guess.across(u, v)
        found[f"{wedge}_wedge"] = (REST_MM - size.tool) * apart + cut - (end_x * on[0] + end_y * on[1])
    return found


def _diagonal(size: CouponSize | FirstCoupon, lines: Allowance, guess: Guess, rise: int) -> float:
    """Far side to far side along a diagonal: the lines of the holes are bent with all else, the kerf is not."""
    #      o . . . . o      the square's corner (a, a) goes to (a (p + q t), a q), for the falling diagonal with -t;
    #      .       /        the caliper reaches from the far side of one hole to that of the other: a hole's width
    #      .    /           over their middles, and the cut's width besides, as it is in the diagonal's direction.
    #      o . . . . o
    along = size.square * (guess.scale_x + rise * guess.scale_y * guess.lean)
    up = size.square * guess.scale_y
    bent = hypot(along, up)
    share_x, share_y = (along / bent) ** 2, (up / bent) ** 2
    hole = size.square_hole - lines.kerf_x_mm * share_x - lines.kerf_y_mm * share_y
    kerf = guess.kerf_x_mm * share_x + guess.kerf_y_mm * share_y
    return bent * (1 + hole / (size.square * 2**0.5)) + kerf
