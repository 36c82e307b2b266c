"""Strokes as the text of DXF entities (R2000): strokes in mm in, lines of an ENTITIES section out; file units.

A kit has tens of thousands of strokes of letters, on which the library would spend most of a run looking for properties
that they do not have. So it writes all of a file but these: four kinds of entities, each with layer and colour, which a
test holds to what the library itself writes.
"""

from collections.abc import Callable, Sequence

from jigmaker.geometry.frames import Point
from jigmaker.writers.dxf_pen import EntityPen, Vertex
from jigmaker.writers.dxf_text import real

_MARK = "  2\nENTITIES\n"


class EntityTextPen(EntityPen):
    """Writes entities of the layout whose handle is `owner`; `next_handle` gives each entity a handle of its own."""

    def __init__(self, owner: str, next_handle: Callable[[], str], colours: dict[str, int], unit_mm: float) -> None:
        super().__init__(colours, unit_mm)
        self._owner = owner
        self._next_handle = next_handle
        self._entities: list[str] = []

    def put_into(self, written: str) -> str:
        """The text of a DXF file with the entities before all others of its ENTITIES section."""
        before, mark, after = written.partition(_MARK)
        assert mark  # the library writes the section even when nothing is in it
        return "".join((before, mark, *self._entities, after))

    def add_line(self, start: Point, end: Point) -> None:
        """DXF reference, LINE: 10 start, 11 end."""
        self._add("LINE", f"100\nAcDbLine\n{_spatial(start)} 11\n{real(end[0])}\n 21\n{real(end[1])}\n 31\n0.0\n")

    def add_arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """DXF reference, ARC: a circle's figures, then 50 and 51, the directions of its ends in degrees."""
        self._add("ARC", f"{_circle(centre, radius)}100\nAcDbArc\n 50\n{real(from_deg)}\n 51\n{real(to_deg)}\n")

    def add_circle(self, centre: Point, radius: float) -> None:
        """DXF reference, CIRCLE."""
        self._add("CIRCLE", _circle(centre, radius))

    def add_polyline(self, vertices: Sequence[Vertex], closed: bool) -> None:
        """DXF reference, LWPOLYLINE: 90 how many vertices, 70 bit 1 closed, 42 the bulge where there is one."""
        places = "".join(
            f" 10\n{real(x)}\n 20\n{real(y)}\n 42\n{real(bulge)}\n" if bulge else f" 10\n{real(x)}\n 20\n{real(y)}\n"
            for x, y, bulge in vertices
        )
        self._add("LWPOLYLINE", f"100\nAcDbPolyline\n 90\n{len(vertices)}\n 70\n{int(closed)}\n{places}")

    def _add(self, kind: str, figures: str) -> None:
        """DXF reference, common group codes: 5 handle, 330 owner, 8 layer, 62 colour."""
        head = f"  0\n{kind}\n  5\n{self._next_handle()}\n330\n{self._owner}\n100\nAcDbEntity\n"
        self._entities.append(f"{head}  8\n{self.layer}\n 62\n{self.colour}\n{figures}")


def _circle(centre: Point, radius: float) -> str:
    """DXF reference, CIRCLE: 10 the centre, 40 the radius."""
    return f"100\nAcDbCircle\n{_spatial(centre)} 40\n{real(radius)}\n"


def _spatial(at: Point) -> str:
    """A point with its height, which is 0."""
    return f" 10\n{real(at[0])}\n 20\n{real(at[1])}\n 30\n0.0\n"
