"""A draft of views, with the sizes and angles of the work in them. Paper frame; paper mm.

Sizes and angles are given as points of the work, in the
frame of the view's solids, so a number can only be what is drawn.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from jigmaker.drawing.angular_dimension import AngularDimension
from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.draft import LINE_STEP, WORDS_MM, Draft
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import Anchor, text_width
from jigmaker.geometry.vectors import Vector
from jigmaker.papers.drawings.pens import DIMENSIONS, EDGES, HIDDEN, NUMBERS
from jigmaker.papers.drawings.placed_view import PlacedView
from jigmaker.record import dataclass
from jigmaker.units import Unit, fixed

ViewSide = Literal["below", "above", "left", "right"]

FIRST_MM, STEP_MM = 10.0, 7.5
"""From a view to its first dimension line, and from one line to the next."""


@dataclass(kw_only=True)
class ScaledDraft(Draft):
    """A draft of views. `scale` is paper mm over real mm of every view, `unit` that of the numbers.

    `decimals` of a mm: one for what is marked and sawn by hand, two for what follows a machine or a caliper.
    """

    scale: float
    unit: Unit
    decimals: int = 1

    def view(self, view: PlacedView) -> None:
        """The edges of a view, hidden ones in dashes, zigzags where it breaks off."""
        self.add(DIMENSIONS, *view.zigzags)
        self.add(HIDDEN, *view.hidden)
        self.add(EDGES, *view.visible)

    def caption(self, view: PlacedView, name: str, rise_mm: float = 3.0) -> None:
        """The name of a view, so far over its left end, clear of extension lines at that end."""
        low_x, _, _, high_y = view.box
        self.words(name, (low_x + 1.5, high_y + rise_mm))

    def size(
        self,
        view: PlacedView,
        start: Vector,
        end: Vector,
        side: ViewSide,
        row: int = 0,
        beyond: Literal["start", "end"] = "end",
        out_mm: float = FIRST_MM,
        is_fit: bool = False,
    ) -> None:
        """A length along the paper's x or y, on the row-th dimension line out from that side of the view."""
        # Dimension lines stand in rows outside the view's box, so that shorter ones lie inside longer ones:
        #
        #     |   view   |
        #     |__________|
        #     |<--row 0->|         out_mm below the box
        #     |<----row 1---->|    and each further one STEP_MM on
        #
        low_x, low_y, high_x, high_y = view.box
        out = out_mm + row * STEP_MM
        at = {
            "below": (0.0, low_y - out),
            "above": (0.0, high_y + out),
            "left": (low_x - out, 0.0),
            "right": (high_x + out, 0.0),
        }[side]
        turn_deg = 0.0 if side in ("below", "above") else 90.0
        self._linear(view.point(start), view.point(end), at, turn_deg, beyond, is_fit)

    def slanting_size(
        self,
        view: PlacedView,
        start: Vector,
        end: Vector,
        along: Vector,
        out_mm: float,
        beyond: Literal["start", "end"] = "end",
        is_fit: bool = False,
    ) -> None:
        """A length along a direction of the work, its line out_mm to the left of start as one looks along it."""
        turn_deg = view.turn_deg(along)
        at = PlaneFrame(*view.point(start), turn_deg).point((0.0, out_mm))
        self._linear(view.point(start), view.point(end), at, turn_deg, beyond, is_fit)

    def angle(
        self,
        view: PlacedView,
        vertex: Vector,
        rays: tuple[Vector, Vector],
        radius_mm: float,
        text: Point,
        words: Sequence[str],
        reach_mm: tuple[float, float] = (0.0, 0.0),
        anchor: Anchor = "left",
        words_above: bool = False,
    ) -> None:
        """The angle between two directions of the work. `text`: where number and words begin, paper mm off the vertex.

        `words` name what the angle is off, and its complement; they stand below the number, or above it.
        """
        at = view.point(vertex)
        # An angular dimension runs anticlockwise from its first ray: the two change places where that is the long way.
        first, second = (view.turn_deg(ray) for ray in rays)
        if (second - first) % 360 > 180:
            first, second, reach_mm = second, first, reach_mm[::-1]
        found = AngularDimension(DIMENSIONS, NUMBERS, at, first, second, radius_mm, reach_mm)
        x, y = at[0] + text[0], at[1] + text[1]
        half = {"left": 0.5, "middle": 0.0, "right": -0.5}[anchor] * text_width(found.text, found.height_mm)
        self.dimensions.append(replace(found, text_mid=(x + half, y)))
        up = found.height_mm + 1.5 + (len(words) - 1) * LINE_STEP * WORDS_MM
        self.words(words, (x, y + up if words_above else y - LINE_STEP * WORDS_MM), anchor)

    def _linear(
        self,
        start: Point,
        end: Point,
        at: Point,
        turn_deg: float,
        beyond: Literal["start", "end"],
        is_fit: bool,
    ) -> None:
        layers, scale, unit = (DIMENSIONS, NUMBERS), self.scale, self.unit
        self.dimensions.append(
            LinearDimension(*layers, start, end, at, turn_deg, scale, unit, self.decimals, beyond=beyond, is_fit=is_fit)
        )


def off(angle_deg: float, reference: str, complement: str = "square") -> tuple[str, str]:
    """What stands under an angle's number: ("off the top arris", "(11.50° off square)"). Printed, they add up to 90."""
    left = 90 - round(angle_deg, 2)
    return (f"off {reference}", f"({fixed(left, 2)}° off {complement})")
