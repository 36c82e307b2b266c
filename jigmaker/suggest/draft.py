"""One trestle drawn to a wish: boards by role, length and moves of inset and splay in, a Job with its height out.

Timber frame; mm, degrees off the level.
"""

from jigmaker.job.job import BraceSection, HousingFit, Job, LegSection, TopBoard, lean_for
from jigmaker.record import dataclass
from jigmaker.suggest.backwards import height_from_piece, rake_from_spread, splay_from_spread
from jigmaker.suggest.height import Height, choose_height, laid_on_mm
from jigmaker.suggest.sections import Sections
from jigmaker.suggest.wish import Wish
from jigmaker.trestle.angles import cotangent, edge_line_deg, leg_face_deg, sine
from jigmaker.trestle.check import LEAST_BOTTOM_DEPTH_MM, MOST_REVEAL_MM, WANTED_BETWEEN_MM, WANTED_END_WOOD_MM
from jigmaker.units import Unit, length_mm, length_text, round_down, round_up

INSET_MM: dict[Unit, float] = {"mm": 120.0, "in": length_mm("4 3/4", "in")}
INSET_STEPS: dict[Unit, int] = {"mm": 5, "in": 4}
"""The usual inset, and the steps on which a chosen one falls: 5 mm or 1/4 in."""

INSET_MOVE = 2
"""So many of those steps is one move."""

CLEARANCE_MM: dict[Unit, float] = {"mm": 0.15, "in": length_mm(0.006, "in")}

_LEAST_HEIGHT_MM = 100.0  # under this no record holds a height
_LEG_TO_HEIGHT = 1.06  # a leg's piece over its height, near enough to choose an angle by
_ROUNDS = 60  # each settles at least one more digit


@dataclass(frozen=True, slots=True)
class Move:
    """How far a draft goes from the usual: the top's length in mm, moves of inset, degrees of splay, more reveal."""

    length_mm: float
    inset_moves: int = 0
    steeper_deg: float = 0.0
    prouder_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class TrestleDraft:
    """A job drawn to a wish, before anything has judged it."""

    job: Job
    height: Height
    sections: Sections
    move: Move


@dataclass(frozen=True, slots=True)
class DraftWish:
    """A wish, boards, a move and the wood left on the feet; `draft` is what they come to."""

    wish: Wish
    sections: Sections
    move: Move
    trim_mm: float = 0.0

    def draft(self) -> TrestleDraft:
        """The trestle drawn. Raises OutOfRange for angles or a height that cannot be."""
        if self.wish.piece_mm is None:
            height = choose_height(self.wish.height, self.wish.unit)
            usual_deg = self._lean_deg(height.finished_mm)
        else:
            usual_deg = self._lean_deg(self.wish.piece_mm / _LEG_TO_HEIGHT)
            height = self._height_from_piece(self.wish.piece_mm, usual_deg)
        return TrestleDraft(self._job(height.finished_mm, usual_deg), height, self.sections, self.move)

    def _lean_deg(self, height_mm: float) -> float:
        """The usual lean; a reveal hardly changes with it, so that of a first lean will do to choose one by."""
        return lean_for(height_mm, self._reveal(lean_for(height_mm)[1]))[1]

    def _height_from_piece(self, piece_mm: float, usual_deg: float) -> Height:
        """The highest that legs of that piece give. Height and angles hang on each other, so both are worked out in
        turn until they agree; a foot spread hardly changes what a leg loses to its lean.
        """
        unit, leg = self.wish.unit, self._leg()
        # A fixed point: the height gives the angles, where a foot spread is asked for, and the angles give the height.
        # Each round shrinks what is wrong many times over, for a leg's length hardly hangs on its lean.
        height = piece_mm / _LEG_TO_HEIGHT
        for _ in range(_ROUNDS):
            job = self._job(max(height, _LEAST_HEIGHT_MM), usual_deg)
            height = height_from_piece(piece_mm, leg, job.rake_deg, job.splay_deg, unit)
        reason = f"the highest that legs cut from pieces of {length_text(piece_mm, unit)} give, rounded down"
        height = round_down(height, unit)
        return Height(height, height + laid_on_mm(self.wish.height, unit), reason)

    def _job(self, height_mm: float, usual_deg: float) -> Job:
        # In the order in which they hang on each other: splay and reveal across the board, then the inset, which needs
        # both angles, and at last the rake of a wished foot spread along it, which needs the inset. The inset is chosen
        # by the usual rake then: the two cannot be had at once.
        wish, top, brace = self.wish, self.sections.top, self.sections.brace
        splay, reveal = self._splay_and_reveal(height_mm, usual_deg)
        inset = self._inset(height_mm, wish.rake.angle_deg if wish.rake else usual_deg, splay)
        rake = wish.rake.angle_deg if wish.rake else usual_deg
        if wish.spread_along_mm is not None:
            between = self.move.length_mm - 2 * inset
            rake = rake_from_spread(wish.spread_along_mm, height_mm, between, reveal, splay, wish.unit)
        return Job(
            wish.name,
            wish.unit,
            wish.trestles,
            height_mm,
            rake,
            splay,
            inset,
            TopBoard(self.move.length_mm, top.width_mm, top.thickness_mm),
            self._leg(),
            BraceSection(brace.width_mm, brace.thickness_mm),
            HousingFit(CLEARANCE_MM[wish.unit], reveal),
        )

    def _leg(self) -> LegSection:
        return LegSection(self.sections.leg.width_mm, self.sections.leg.thickness_mm, trim_mm=self.trim_mm)

    def _splay_and_reveal(self, height_mm: float, usual_deg: float) -> tuple[float, float]:
        """Splay in degrees and reveal in mm; a reveal puts the feet further out, so a spread is met in two steps."""
        # The reveal hangs on the splay and the splay, of a spread that is asked for, on the reveal: first as if there
        # were none, then with the reveal that this splay asks for.
        wish, width = self.wish, self.sections.top.width_mm
        splay = wish.splay.angle_deg if wish.splay else min(90.0, usual_deg + self.move.steeper_deg)
        reveal = self._reveal(splay)
        if wish.spread_across_mm is not None:
            splay = splay_from_spread(wish.spread_across_mm, height_mm, width, 0.0, wish.unit)
            reveal = self._reveal(splay)
            splay = splay_from_spread(wish.spread_across_mm, height_mm, width, reveal, wish.unit)
        return splay, reveal

    def _reveal(self, splay_deg: float) -> float:
        """How far a thick leg stands proud: the least that leaves enough wood between opposite housings, then what the
        move asks for besides; less where the housing would run out of the board's bottom face.
        """
        #     |<-------------- top's width ------------->|
        #     | housing |<--- wood between --->| housing |     each depth / sin b deep in the top face
        #
        # The depth is the leg's thickness less what it stands proud. On its way down the floor comes out by t cot b:
        # the bottom face must keep some depth, or the housing runs out of the board's edge.
        top, thickness = self.sections.top, self.sections.leg.thickness_mm
        deepest = (top.width_mm - WANTED_BETWEEN_MM) / 2 * sine(splay_deg)
        proud = round_up(max(0.0, thickness - deepest) + self.move.prouder_mm, self.wish.unit)
        run_out = thickness - (LEAST_BOTTOM_DEPTH_MM + top.thickness_mm * cotangent(splay_deg)) * sine(splay_deg)
        return max(0.0, min(proud, round_down(max(0.0, run_out), self.wish.unit), MOST_REVEAL_MM))

    def _inset(self, height_mm: float, rake_deg: float, splay_deg: float) -> float:
        """As usual, but over the feet where that can be, with enough wood at the end; then the moves."""
        # From the board's end to the housing on the bottom face, where it comes nearest: the inset less what the wall
        # leans over the board's thickness and half the clearance, measured along the board.
        unit, steps = self.wish.unit, INSET_STEPS[self.wish.unit]
        opened = CLEARANCE_MM[unit] / (2 * sine(leg_face_deg(rake_deg, splay_deg)))
        lean = self.sections.top.thickness_mm * cotangent(edge_line_deg(rake_deg, splay_deg))
        throw = height_mm * cotangent(rake_deg)
        least = WANTED_END_WOOD_MM + lean + opened
        wanted = INSET_MM[unit] if throw >= INSET_MM[unit] else max(least, round_down(throw, unit) - steps)
        return round_up(max(least, wanted) + self.move.inset_moves * INSET_MOVE * round_up(1, unit, steps), unit, steps)
