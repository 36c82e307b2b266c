"""What someone wants of a trestle before there is a job: a record of answers, most of which may be left out; mm."""

from dataclasses import field

from jigmaker.errors import UsageError
from jigmaker.record import dataclass
from jigmaker.suggest.backwards import Lean
from jigmaker.suggest.board_sizes import Board
from jigmaker.suggest.height import DOOR_MM, HeightWish
from jigmaker.units import Unit


@dataclass(frozen=True, slots=True)
class Wish:
    """Lengths in mm, `unit` for whoever reads. Boards are those at hand; none stands for usual sizes.

    spread_*_mm: wanted foot spread over the outer corners, along and across the board. piece_mm: the longest piece of
    board that a leg may use up; the height follows. rake, splay: as told or measured. other_heights_mm: of further
    sizes from the same jig, which get the first one's angles. Raises UsageError for two answers that decide the same
    thing, and when nothing tells the height.
    """

    height: HeightWish
    unit: Unit = "mm"
    name: str = "My trestles"
    trestles: int = 2
    boards: tuple[Board, ...] = ()
    top_length_mm: float | None = None
    rake: Lean | None = None
    splay: Lean | None = None
    spread_along_mm: float | None = None
    spread_across_mm: float | None = None
    piece_mm: float | None = None
    door_mm: float = field(default=DOOR_MM)
    other_heights_mm: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what contradicts itself."""
        height = self.height
        heights = {"a height": height.height_mm, "a body measure": height.body, "a leg's piece": self.piece_mm}
        along = {"a rake": self.rake, "a foot spread along": self.spread_along_mm}
        across = {"a splay": self.splay, "a foot spread across": self.spread_across_mm}
        for decided, by in (("height", heights), ("rake", along), ("splay", across)):
            given = [name for name, value in by.items() if value is not None]
            if len(given) > 1:
                raise UsageError(f"{' and '.join(given)} both decide the {decided}: give one of them")
        if height.use is None and not any(value is not None for value in heights.values()):
            raise UsageError(
                "nothing tells how high it is to be: give a use, a body measure, a height or a leg's piece"
            )
