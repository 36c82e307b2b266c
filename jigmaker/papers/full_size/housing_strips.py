"""Strips that carry the lines of a housing round the board. Unfolded board; mm.

Unfolded plane of papers/pictures/unfolded.py for R: as the board is clamped, edge up, top face toward you. L is drawn
as its mirror image, lettered anew. Each lies by the board's own end, like the jig.
"""

from itertools import pairwise

from jigmaker.drawing.draft import WORDS_MM, Draft
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import Anchor
from jigmaker.papers.drawings.pens import NUMBERS
from jigmaker.papers.full_size.pens import CUT, FOLDS
from jigmaker.papers.full_size.template import LINE_MM, point_at, rectangle, template
from jigmaker.papers.pictures.unfolded import Unfolded, unfold
from jigmaker.papers.wording import off_edge, rule_text
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit

BEYOND_MM = 12.0
"""How far a strip reaches beyond the far wall and beyond the floor's lines."""

_LETTER_MM, _IN_MM = 12.0, 3.0


def housing_strips(trestle: Trestle) -> list[Picture]:
    """One for R housings, one for L."""
    return [_strip(_Hand(trestle, 1)), _strip(_Hand(trestle, -1))]


@dataclass(frozen=True, slots=True)
class _Hand:
    """A trestle's housings of one hand. sign: 1 for R, whose board's end is at the right; -1 for L, mirrored."""

    trestle: Trestle
    sign: int

    @property
    def name(self) -> str:
        """As on the jig: board edge up, top face toward you, the housing near the end at your right is R."""
        return "R" if self.sign > 0 else "L"

    @property
    def side(self) -> str:
        """On which hand the board's end is when the strip is laid on."""
        return "right" if self.sign > 0 else "left"

    @property
    def outward(self) -> Anchor:
        """How words are anchored that end at the board's end."""
        return "right" if self.sign > 0 else "left"

    def at(self, p: Point) -> Point:
        """A point given for R, where this hand has it."""
        return (self.sign * p[0], p[1])

    @property
    def told(self) -> dict[str, tuple[str, ...]]:
        """Lines for the part of each face between the board's end and the housing, no wider than that."""
        housing, angles, unit = self.trestle.housing, self.trestle.angles, self.trestle.job.unit
        on_face = f"walls {off_edge(90 - angles.edge_twist_deg, 'the arris')}"
        top = _places(housing.start_top_mm, housing.depth_top_mm, unit)
        bottom = _places(housing.start_bottom_mm, housing.depth_bottom_mm, unit)
        words = {
            "top": ("top face, toward you", *top, on_face),
            "edge": ("edge, up", f"walls {off_edge(angles.edge_line_deg, 'the top arris')}"),
            "bottom": ("bottom face, away from you", *bottom, on_face),
        }
        width = min(housing.start_top_mm, housing.start_bottom_mm) - 2 * _IN_MM
        return {face: tuple(line for each in of for line in letters_wrapped(each, width)) for face, of in words.items()}

    def letter_housing(self, draft: Draft, lines: Unfolded) -> None:
        """Inside the housing: the hand on the edge, on each face that it is waste, where there is room for the word."""
        rows = lines.rows
        for first, second in pairwise(rows):
            middle = self.sign * sum(x for x, _ in (*first, *second)) / 4
            low, high = first[0][1], second[0][1]
            if first is rows[1]:
                tall = min(_LETTER_MM, high - low - WORDS_MM - 3 * _IN_MM)
                draft.words(self.name, (middle, high - _IN_MM - tall), "middle", tall, NUMBERS)
                draft.words("waste", (middle, low + _IN_MM), "middle")
            elif high - low > 2 * WORDS_MM:
                draft.words("waste", (middle, (low + high - WORDS_MM) / 2), "middle")


def _strip(hand: _Hand) -> Picture:
    # Unfolded as for R: the edge between two folds, a flap for each face, cut to the housing's own end. For L all x
    # change their sign; words are lettered anew, never mirrored.
    lines, draft, told = unfold(hand.trestle), Draft(), hand.told
    far = hand.sign * (min(pair[1][0] for pair in lines.rows) - BEYOND_MM)
    # How high a face must be for its lines.
    top, bottom = (
        max(BEYOND_MM + depth, 2 * _IN_MM + WORDS_MM + (len(told[face]) - 1) * LINE_MM)
        for face, depth in (("top", -lines.top_floor[0][1]), ("bottom", lines.bottom_floor[0][1] - lines.thickness))
    )
    draft.add(CUT, rectangle((min(0.0, far), -top, max(0.0, far), lines.thickness + bottom)))
    for level in (0.0, lines.thickness):
        draft.line([(0.0, level), (far, level)], FOLDS)
    for wall in (False, True):
        draft.line([hand.at(p) for p in lines.wall(wall)], CUT)
    for pair in (lines.top_floor, lines.bottom_floor):
        draft.line([hand.at(p) for p in pair], CUT)
    point_at(draft, "right" if hand.sign > 0 else "left", "datum: board's end, flush")
    hand.letter_housing(draft, lines)
    # Toward the board's end: below the fold, in the middle of the edge, above the fold.
    x = hand.sign * -_IN_MM
    draft.words(told["top"], (x, -_IN_MM - WORDS_MM), hand.outward)
    rise = (len(told["edge"]) - 1) * LINE_MM
    draft.words(told["edge"], (x, (lines.thickness + rise - WORDS_MM) / 2), hand.outward)
    draft.words(told["bottom"], (x, lines.thickness + _IN_MM + (len(told["bottom"]) - 1) * LINE_MM), hand.outward)
    words = (
        f"Hand {hand.name}: board edge up, top face toward you, the strip on the end at your {hand.side}, words up. "
        "Cut it out and fold it back at the dashes: the middle on the edge, the flap named top face down the side "
        "toward you, the flap named bottom face down the far side.",
        f"Prick the housing's eight corners through, take the strip off, join the pricks with a knife. Then turn the "
        f"board end for end and do the same on the other edge, again at your {hand.side}.",
    )
    return template(f"housing strip {hand.name}", words, draft)


def _places(start_mm: float, depth_mm: float, unit: Unit) -> tuple[str, str]:
    start, depth = rule_text(start_mm, unit), rule_text(depth_mm, unit)
    return f"near wall at the fold: {start} from the end", f"floor: {depth} from the fold"
