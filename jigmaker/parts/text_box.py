"""Lines of text fitted into a free box on a part: lines and box in, Marks out. Part frame, mm, letters upright."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from jigmaker.geometry.lettering import text_width
from jigmaker.parts.marks import TEXT_MM, text_mark
from jigmaker.parts.part import Mark, Part, Said
from jigmaker.record import dataclass

CLEAR_MM = 1.5  # from letters to a cut that they may come near to
LINE_PITCH = 1.7  # baseline to baseline, in letter heights

_HEIGHTS_MM = (12.0, 10.0, 8.0, 7.0, 6.0, 5.0, 4.5, 4.0, TEXT_MM)


@dataclass(frozen=True, slots=True)
class Box:
    """A free rectangle on a part, mm. It may be empty (high below low): nothing fits in it then."""

    x_low: float
    y_low: float
    x_high: float
    y_high: float

    @property
    def width(self) -> float:
        """Width in mm, at least 0."""
        return max(0.0, self.x_high - self.x_low)

    @property
    def height(self) -> float:
        """Height in mm, at least 0."""
        return max(0.0, self.y_high - self.y_low)

    def mirrored(self) -> "Box":
        """The mirror image in the y axis."""
        return Box(-self.x_high, self.y_low, -self.x_low, self.y_high)

    def moved(self, x: float, y: float) -> "Box":
        """The box shifted."""
        return Box(self.x_low + x, self.y_low + y, self.x_high + x, self.y_high + y)


def fill_box(lines: Sequence[str], box: Box, largest_mm: float = 8.0, is_loud: bool = False) -> tuple[Mark, ...]:
    """The lines, most important first, from the top down, wrapped at spaces where they must be: with as few breaks as
    any height allows, and as large as they fit so; is_loud: as large as any break allows.

    What does not fit at the least height for reading is left out from the end of the list.
    """
    for count in range(len(lines), 0, -1):
        fits = [
            (len(wrapped), -height, wrapped)
            for height in _HEIGHTS_MM
            if height <= largest_mm
            and (wrapped := _wrap(lines[:count], box.width, height))
            and (height * (1 + LINE_PITCH * (len(wrapped) - 1))) <= box.height
        ]
        if fits:
            _, below, wrapped = min(fits, key=lambda fit: fit[1] if is_loud else fit[:2])
            height = -below
            tops = [box.y_high - height - i * LINE_PITCH * height for i in range(len(wrapped))]
            return tuple(text_mark(line, (box.x_low, y), height) for line, y in zip(wrapped, tops, strict=True))
    return ()


def fill_inside(
    part: Part, choices: Iterable[Sequence[str]], box: Box, largest_mm: float, slant: float = 0.0
) -> tuple[Mark, ...]:
    """The first of these lines that fit into the box and keep CLEAR_MM from every line that the part is cut along; ()
    where none does. A slanted edge may cut the box's left corners off: it is narrowed from that side as far as it must.

    slant: the box leans so far to the right for 1 up, as the edges beside it do, and each line starts where it does.
    """
    import shapely

    holes = [hole.contour.points(64) for hole in part.holes]
    wood = shapely.Polygon(part.outline.points(64), holes).buffer(-CLEAR_MM)
    for lines in choices:
        for narrower in range(int(box.width)):
            marks = fill_box(lines, replace(box, x_low=box.x_low + narrower), largest_mm)
            if slant:
                # Letters stand upright: their tops meet a left edge that leans, their feet the right one.
                ways = [slant * (mark.at[1] + mark.height_mm - box.y_low) for mark in marks]
                marks = tuple(
                    text_mark(Said(mark.text, mark.fact), (mark.at[0] + way, mark.at[1]), mark.height_mm)
                    for mark, way in zip(marks, ways, strict=True)
                )
            drawn = [shapely.LineString(stroke.points(8)) for mark in marks for stroke in mark.strokes]
            if marks and shapely.contains(wood, drawn).all():
                return marks
    return ()


def _wrap(lines: Sequence[str], width: float, height: float) -> list[str] | None:
    """Lines broken at spaces to the width, their pieces about alike; None when a single word is wider."""
    wrapped: list[str] = []
    for line in lines:
        pieces = _broken(line, width, height)
        if pieces is None:
            return None
        while len(pieces) > 1:
            narrower = _broken(line, max(text_width(piece, height) for piece in pieces) - 1e-6, height)
            if narrower is None or len(narrower) > len(pieces):
                break
            pieces = narrower
        wrapped += pieces
    return wrapped


def _broken(line: str, width: float, height: float) -> list[str] | None:
    """A line broken at spaces as late as the width allows; None when a single word is wider."""
    pieces = [""]
    for word in line.split():
        longer = f"{pieces[-1]} {word}".strip()
        if text_width(word, height) > width:
            return None
        if text_width(longer, height) <= width:
            pieces[-1] = longer
        else:
            pieces.append(word)
    return [Said(piece, getattr(line, "fact", "")) for piece in pieces]
