"""Backwards: from a wanted foot spread, a leg's piece of board or an old trestle's slopes to angles and height.

Lengths in mm; angles in degrees off the level, as in the job file. Each is the exact inverse of what `trestle` solves.
"""

import re
from math import asin, atan, atan2, degrees, hypot

from jigmaker.errors import LengthError, OutOfRange, UsageError
from jigmaker.job.job import LegSection
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, leg_face_deg, stretch
from jigmaker.units import Unit, fixed, length_mm, length_text, text

LEAST_DEG, MOST_DEG = 60.0, 90.0
"""What the job file takes for rake and splay."""

_CRUMB_DEG = 1e-9


@dataclass(frozen=True, slots=True)
class Lean:
    """An angle off the level with the words it was told in, for the reason beside it."""

    angle_deg: float
    told: str


def splay_from_spread(spread_mm: float, height_mm: float, width_mm: float, reveal_mm: float, unit: Unit) -> float:
    """The splay that puts the feet's outer corners `spread_mm` apart across a board `width_mm` wide.

    From spread = width + 2 (height cot b + reveal / sin b): with K = (spread - width) / 2 this is
    K sin b - height cos b = reveal, one sine of a shifted angle. Raises OutOfRange outside 60 to 90 degrees.
    """
    # K sin b - h cos b = R sin(b - c) with R = sqrt(K^2 + h^2) and tan c = h / K; so b = c + asin(reveal / R).
    out = (spread_mm - width_mm) / 2
    sine_of_rest = reveal_mm / hypot(out, height_mm)
    angle = degrees(atan2(height_mm, out)) + degrees(asin(min(1.0, sine_of_rest)))
    if LEAST_DEG - _CRUMB_DEG <= angle <= MOST_DEG + _CRUMB_DEG:
        return min(MOST_DEG, max(LEAST_DEG, angle))
    reach = [width_mm + 2 * (height_mm * cotangent(b) + reveal_mm / cosine(90 - b)) for b in (MOST_DEG, LEAST_DEG)]
    raise _no_spread("across", spread_mm, angle, (reach[0], reach[1]), unit)


def rake_from_spread(
    spread_mm: float, height_mm: float, between_mm: float, reveal_mm: float, splay_deg: float, unit: Unit
) -> float:
    """The rake that puts the feet's outer corners `spread_mm` apart along the board.

    `between_mm` is the board's length less both insets. From spread = between + 2 cot a (height + reveal cos b).
    Raises OutOfRange outside 60 to 90 degrees.
    """
    # A reveal puts the foot out along the board by reveal / sin b tan tau = reveal cot a cos b (see trestle.leg.proud),
    # as if the leg were so much longer: cot a is common to both.
    fall = height_mm + reveal_mm * cosine(splay_deg)
    angle = degrees(atan2(fall, (spread_mm - between_mm) / 2))
    if LEAST_DEG - _CRUMB_DEG <= angle <= MOST_DEG + _CRUMB_DEG:
        return min(MOST_DEG, max(LEAST_DEG, angle))
    raise _no_spread("along", spread_mm, angle, (between_mm, between_mm + 2 * fall * cotangent(LEAST_DEG)), unit)


def _no_spread(way: str, spread_mm: float, angle: float, reach: tuple[float, float], unit: Unit) -> OutOfRange:
    leans = "inward" if angle > MOST_DEG else f"at {fixed(angle, 1)} degrees off the level, flatter than 60"
    low, high = (length_text(mm, unit) for mm in reach)
    return OutOfRange(
        f"a foot spread of {length_text(spread_mm, unit)} {way} the board would make the legs lean {leans}; with this "
        f"board and height it can be {low} to {high}"
    )


def height_from_piece(piece_mm: float, leg: LegSection, rake_deg: float, splay_deg: float, unit: Unit) -> float:
    """The height of the trestle whose legs use up a piece of board `piece_mm` long, from `blank` of the leg's record.

    From piece = D height + horn + trim + width cot(phi) + thickness cos(splay) D. Raises OutOfRange for a piece that
    its own slanted ends use up.
    """
    # From long point to long point a leg is D times the height along each arris; its slanted ends run out by w cot phi
    # over the width w and by D t cos b over the thickness t besides.
    along = stretch(rake_deg, splay_deg)
    ends = leg.width_mm * cotangent(leg_face_deg(rake_deg, splay_deg)) + leg.thickness_mm * cosine(splay_deg) * along
    lost = leg.horn_mm + leg.trim_mm + ends
    if piece_mm > lost:
        return (piece_mm - lost) / along
    raise OutOfRange(
        f"a leg cut from a piece of {length_text(piece_mm, unit)} has no height left: its slanted ends take "
        f"{length_text(lost, unit)}"
    )


def lean_from_rise_and_run(rise_mm: float, run_mm: float) -> float:
    """The bevel setting off the level of a leg that goes out `run_mm` while it rises `rise_mm`, seen square to a face.

    Raises OutOfRange under 60 degrees, telling what to do when rise and run were swapped.
    """
    if rise_mm <= 0 or run_mm < 0:
        raise OutOfRange(f"a leg that rises {text(rise_mm)} and runs {text(run_mm)} stands nowhere: the rise is over 0")
    #     |  /      The leg goes out by `run` while it rises by `rise`. Swapped the two give an angle that no leg has:
    #     | /       by that the slip is known.
    #     |/___
    angle = 90 - degrees(atan(run_mm / rise_mm))
    if angle >= LEAST_DEG - _CRUMB_DEG:
        return max(LEAST_DEG, angle)
    swapped = 90 - degrees(atan(rise_mm / run_mm))
    remedy = "measure again: no leg leans more than 60 degrees off the level"
    if swapped >= LEAST_DEG:
        remedy = f"run and rise may be swapped: {text(rise_mm, 3)} in {text(run_mm, 3)} is {fixed(swapped, 2)} degrees"
    raise OutOfRange(
        f"{text(run_mm, 3)} in {text(rise_mm, 3)} is {fixed(angle, 1)} degrees off the level, and a leg leans at "
        f"60 to 90; {remedy}"
    )


def slope_from_text(words: str) -> Lean:
    """The lean in "4 in 11" (out 4 while it rises 11), "1:4" or "70 mm : 280 mm"; no unit is needed, or both have one.

    Raises UsageError for other words, OutOfRange as lean_from_rise_and_run.
    """
    plain = words.strip()
    pair = re.split(r"\s*:\s*", plain) if ":" in plain else re.split(r"\s+in\s+", plain)
    is_bare = [re.search(r"[A-Za-z\"'″”]", side) is None for side in pair]
    if len(pair) != 2 or is_bare[0] != is_bare[1]:
        raise UsageError(
            f'"{plain[:40]}" is no slope; write how far out, then how far up: "4 in 11", "1:4" or "70 mm : 280 mm"'
        )
    try:
        # Bare figures are read in inches only because fractions are allowed there: the unit cancels.
        run, rise = (length_mm(side, "in") / (25.4 if bare else 1.0) for side, bare in zip(pair, is_bare, strict=True))
    except LengthError as error:
        raise LengthError(f'slope "{plain[:40]}": {error}') from None
    return Lean(lean_from_rise_and_run(rise, run), f"{plain}, out and up")
