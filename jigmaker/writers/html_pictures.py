"""Pictures within an HTML page, one path a layer; picture frame, y up, is turned into SVG's. mm.

For the eye, not for a machine: thousandths of a millimetre, one path for all shapes of a layer that follow one another.
There are no ids, so that any number of pictures can stand in one page. Labels and dimensions are its description.
"""

from html import escape

from jigmaker.drawing.picture import Picture, PictureLayer
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import Point
from jigmaker.units import text
from jigmaker.writers.svg_path import PathPen

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


class PagePen(PathPen):
    """Collects path data layer by layer."""

    def __init__(self, picture: Picture) -> None:
        super().__init__(picture.height_mm, PLACES)
        self._layers = {layer.name: layer for layer in picture.layers}
        self._groups: list[tuple[PictureLayer, list[str]]] = []

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
        self.words = self._groups[-1][1]

    def end(self) -> None:
        """Nothing to do: a path holds many contours."""

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle, as two halves."""
        left, right = (centre[0] - radius, centre[1]), (centre[0] + radius, centre[1])
        self.move_to(left)
        self.arc_to(right, 1.0)
        self.arc_to(left, 1.0)
        self.close()
