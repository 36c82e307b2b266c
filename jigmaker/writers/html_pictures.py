"""A picture within an HTML page: Picture in, an svg element out; picture frame, y up, turned into SVG's, y down; mm.

For the eye, not for a machine: thousandths of a millimetre, one path for all shapes of a layer that follow one another.
There are no ids, so that any number of pictures can stand in one page. Labels and dimensions are its description.
"""

from html import escape

from jigmaker.drawing.picture import Picture, PictureLayer
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc
from jigmaker.geometry.strokes import Strokes
from jigmaker.units import text

PLACES = 3


def svg_element(picture: Picture) -> str:
    """The picture as an image with a name, as large as the room it stands in. Same picture, same words.

    Raises OutOfRange for a shape on an undeclared layer.
    """
    pen = PagePen(picture)
    picture.draw(pen)
    words = [each.text for each in (*picture.labels, *picture.dimensions) if each.text.strip()]
    said = " · ".join(words)
    described = f"<desc>{escape(said)}</desc>\n" if said else ""
    box = f"0 0 {text(picture.width_mm, PLACES)} {text(picture.height_mm, PLACES)}"
    return (
        f'<svg viewBox="{box}" role="img" aria-label="{escape(picture.title)}" fill="none" stroke-linejoin="round">\n'
        f"{described}{pen.paths()}</svg>\n"
    )


class PagePen:
    """Collects path data layer by layer; y is turned over about the picture's height."""

    def __init__(self, picture: Picture) -> None:
        self._height = picture.height_mm
        self._layers = {layer.name: layer for layer in picture.layers}
        self._groups: list[tuple[PictureLayer, list[str]]] = []
        self._here: Point = (0.0, 0.0)

    def paths(self) -> str:
        """The path elements, in drawing order."""
        paths = ""
        for layer, data in self._groups:
            # Ends of lines are round where there are no dashes, which they would lengthen.
            dashes = " ".join(text(length, PLACES) for length in layer.dashes)
            ends = f'stroke-dasharray="{dashes}"' if dashes else 'stroke-linecap="round"'
            line = f'stroke="{escape(layer.colour)}" stroke-width="{text(layer.width_mm, PLACES)}" {ends}'
            paths += f'<path {line} d="{"".join(data)}"/>\n' if data else ""
        return paths

    def use_layer(self, name: str) -> None:
        """What follows belongs to this layer."""
        if name not in self._layers:
            raise OutOfRange(f'a shape lies on layer "{name}", which the picture does not declare; declare it')
        if not self._groups or self._groups[-1][0].name != name:
            self._groups.append((self._layers[name], []))

    def move_to(self, at: Point) -> None:
        """Start a contour."""
        self._here = at
        self._add(f"M{self._place(at)}")

    def line_to(self, to: Point) -> None:
        """A straight piece."""
        self._here = to
        self._add(f"L{self._place(to)}")

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece, at most half a turn. Turned over, an anticlockwise arc has SVG's sweep flag 0."""
        radius, sweep = text(Arc(self._here, to, bulge).radius, PLACES), 0 if bulge > 0 else 1
        self._here = to
        self._add(f"A{radius} {radius} 0 0 {sweep} {self._place(to)}")

    def close(self) -> None:
        """End the contour where it began."""
        self._add("Z")

    def end(self) -> None:
        """Nothing to do: a path holds many contours."""

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle, as two halves."""
        left, right = (centre[0] - radius, centre[1]), (centre[0] + radius, centre[1])
        self.move_to(left)
        self.arc_to(right, 1.0)
        self.arc_to(left, 1.0)
        self.close()

    def strokes(self, strokes: Strokes) -> None:
        """Every stroke of the table."""
        words, before = self._groups[-1][1], -1
        for (x0, y0, x1, y1, bulge), number in zip(strokes.pieces.tolist(), strokes.contour.tolist(), strict=True):
            if number != before:
                self.move_to((x0, y0))
                before = number
            if bulge:
                self._here = (x0, y0)
                self.arc_to((x1, y1), bulge)
            else:
                words.append(f"L{text(x1, PLACES)} {text(self._height - y1, PLACES)}")

    def _add(self, words: str) -> None:
        self._groups[-1][1].append(words)

    def _place(self, at: Point) -> str:
        return f"{text(at[0], PLACES)} {text(self._height - at[1], PLACES)}"
