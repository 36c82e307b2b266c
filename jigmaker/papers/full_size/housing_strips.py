"""Strips that carry the lines of a housing round the board: Trestle in, templates out; unfolded board, mm.

Unfolded plane of papers/pictures/unfolded.py for R: as the board is clamped, edge up, top face toward you. L is drawn
as its mirror image, lettered anew. Each lies by the board's own end, like the jig.
"""

from dataclasses import dataclass

from jigmaker.drawing.picture import Label, Picture
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import Anchor
from jigmaker.papers.drawings.draft import LINE_STEP, Draft
from jigmaker.papers.drawings.pens import NUMBERS, WORDS_MM
from jigmaker.papers.full_size.pens import CUT, FOLDS
from jigmaker.papers.full_size.template import halves, new_draft, point_at, rectangle, template
from jigmaker.papers.pictures.unfolded import unfold
from jigmaker.papers.wording import off_edge
from jigmaker.trestle.records import Trestle
from jigmaker.units import length_text

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
        return "R" if self.sign > 0 else "L"

    @property
    def side(self) -> str:
        return "right" if self.sign > 0 else "left"

    @property
    def outward(self) -> Anchor:
        """How words are anchored that end at the board's end."""
        return "right" if self.sign > 0 else "left"

    def at(self, p: Point) -> Point:
        """A point given for R."""
        return (self.sign * p[0], p[1])


def _strip(hand: _Hand) -> Picture:
    lines, draft = unfold(hand.trestle), new_draft()
    far = hand.sign * (min(pair[1][0] for pair in lines.rows) - BEYOND_MM)
    low, high = lines.top_floor[0][1] - BEYOND_MM, lines.bottom_floor[0][1] + BEYOND_MM
    draft.add(CUT, rectangle((min(0.0, far), low, max(0.0, far), high)))
    for level in (0.0, lines.thickness):
        draft.line(FOLDS, (0.0, level), (far, level))
    for wall in (False, True):
        draft.line(CUT, *(hand.at(p) for p in lines.wall(wall)))
    for pair in (lines.top_floor, lines.bottom_floor):
        draft.line(CUT, *(hand.at(p) for p in pair))
    point_at(draft, "right" if hand.sign > 0 else "left", "datum: board's end, flush")
    _letter_housing(draft, hand)
    _letter_faces(draft, hand)
    return template(f"housing strip {hand.name}", _words(hand), draft)


def _words(hand: _Hand) -> list[str]:
    return [
        f"Hand {hand.name}: board edge up, top face toward you, the strip on the end at your {hand.side}, words up. "
        "Cut it out and fold it back at the dashes: the middle on the edge, the flap named top face down the side "
        "toward you, the flap named bottom face down the far side.",
        f"Prick the housing's eight corners through, take the strip off, join the pricks with a knife. Then turn the "
        f"board end for end and do the same on the other edge, again at your {hand.side}.",
    ]


def _letter_housing(draft: Draft, hand: _Hand) -> None:
    """Inside the housing on each face: what goes away, and the angle of the walls there."""
    lines, angles = unfold(hand.trestle), hand.trestle.angles
    on_edge = off_edge(angles.edge_line_deg, "the top arris")
    on_face = off_edge(90 - angles.edge_twist_deg, "the arris")
    for angle, first, second in (
        (on_face, lines.top_floor, lines.top_arris),
        (on_edge, lines.top_arris, lines.bottom_arris),
        (on_face, lines.bottom_arris, lines.bottom_floor),
    ):
        words = ["waste; walls", *halves(angle)]
        middle = hand.sign * sum(x for x, _ in (*first, *second)) / 4
        rise = ((len(words) - 1) * LINE_STEP * WORDS_MM - WORDS_MM) / 2
        draft.words(words, (middle, (first[0][1] + second[0][1]) / 2 + rise), "middle")


def _letter_faces(draft: Draft, hand: _Hand) -> None:
    """Toward the board's end: each face's name, where the near wall starts on its arris, how deep the floor lies."""
    lines, housing, unit = unfold(hand.trestle), hand.trestle.housing, hand.trestle.job.unit
    x, step, thickness = hand.sign * -_IN_MM, LINE_STEP * WORDS_MM, lines.thickness

    def told(start_mm: float, depth_mm: float) -> list[str]:
        start, depth = length_text(start_mm, unit), length_text(depth_mm, unit)
        return [f"near wall at the fold: {start} from the end", f"floor: {depth} from the fold"]

    top = ["top face, toward you", *told(housing.start_top_mm, housing.depth_top_mm)]
    draft.words(top, (x, -_IN_MM - WORDS_MM), hand.outward)
    bottom = ["bottom face, away from you", *told(housing.start_bottom_mm, housing.depth_bottom_mm)]
    draft.words(bottom, (x, thickness + _IN_MM + (len(bottom) - 1) * step), hand.outward)
    draft.words(["edge, up"], (x, thickness / 2 - WORDS_MM / 2), hand.outward)
    at = (x * 12, thickness / 2 - _LETTER_MM / 2)
    draft.labels.append(Label(NUMBERS, hand.name, at, _LETTER_MM, 0.0, hand.outward))
