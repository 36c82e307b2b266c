"""What a caliper reads on a coupon cut by a machine of known kerf, scale and skew: sizes in, readings out; mm.

Directions as the coupon lay on the bed, unturned: its x along the machine's x.
"""

from dataclasses import dataclass
from math import cos, hypot, radians, sin

from jigmaker.fit.lines import Lines
from jigmaker.parts.coupon_size import CouponSize

_TURNS_DEG = (0.0, 60.0, 120.0)


@dataclass(frozen=True, slots=True)
class Guess:
    """A machine as the file's lines leave it: kerf in x and y, mm; scales in x and y; lean = tan(skew)."""

    kerf_x_mm: float
    kerf_y_mm: float
    scale_x: float
    scale_y: float
    lean: float

    @property
    def upright(self) -> float:
        """Cosine of the skew: lines along y lean, and a caliper measures square to them."""
        return 1 / hypot(1.0, self.lean)


def forecast(size: CouponSize, lines: Lines, guess: Guess) -> dict[str, float]:
    """The reading of every station by its key.

    Each side of a piece loses half a kerf. A strip is waste, so its lines stand inward by half the kerf they allow
    for; outside edges stand outward by as much.
    """
    x, y = guess.scale_x * guess.upright, guess.scale_y
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    return {
        "A": size.strips * ((size.strip - lines.kerf_x_mm) * x - guess.kerf_x_mm),
        "B": size.strips * ((size.strip - lines.kerf_y_mm) * y - guess.kerf_y_mm),
        "D_long_x": (long_x + lines.kerf_x_mm) * x - guess.kerf_x_mm,
        "D_short_x": (short_x + lines.kerf_x_mm) * x - guess.kerf_x_mm,
        "D_long_y": (long_y + lines.kerf_y_mm) * y - guess.kerf_y_mm,
        "D_short_y": (short_y + lines.kerf_y_mm) * y - guess.kerf_y_mm,
        "E_rising": _diagonal(size, lines, guess, 1),
        "E_falling": _diagonal(size, lines, guess, -1),
        **_hole_and_disc(size, lines, guess),
    }


def _diagonal(size: CouponSize, lines: Lines, guess: Guess, rise: int) -> float:
    """Far side to far side along a diagonal: the lines of the holes are bent with all else, the kerf is not."""
    along = size.square * (guess.scale_x + rise * guess.scale_y * guess.lean)
    up = size.square * guess.scale_y
    bent = hypot(along, up)
    share_x, share_y = (along / bent) ** 2, (up / bent) ** 2
    hole = size.square_hole - lines.kerf_x_mm * share_x - lines.kerf_y_mm * share_y
    kerf = guess.kerf_x_mm * share_x + guess.kerf_y_mm * share_y
    return bent * (1 + hole / (size.square * 2**0.5)) + kerf


def _hole_and_disc(size: CouponSize, lines: Lines, guess: Guess) -> dict[str, float]:
    """The mean over three directions 60 degrees apart, in which kerf in x and in y have equal shares.

    The lines are an ellipse, as wide in direction u as the transposed map makes u long.
    """
    turns = [(cos(radians(turn_deg)), sin(radians(turn_deg))) for turn_deg in _TURNS_DEG]
    long = [hypot(guess.scale_x * x, guess.scale_y * (guess.lean * x + y)) for x, y in turns]
    drawn = (size.disc - (lines.kerf_x_mm + lines.kerf_y_mm) / 2) * sum(long) / len(long)
    kerf = (guess.kerf_x_mm + guess.kerf_y_mm) / 2
    return {"F_hole": drawn + kerf, "F_disc": drawn - kerf}
