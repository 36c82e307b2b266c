"""The ENTITIES section of a DXF file as text, coordinates rounded once to six decimals. File units.

A kit has thousands of strokes of letters, on which the library would spend most of a run looking for properties that
they do not have. So it writes all of a file but these: four kinds of entities, each with layer and colour, which a test
holds to what the library itself writes.
"""

from collections.abc import Sequence

from jigmaker.geometry.frames import Point
from jigmaker.writers.dxf_pen import EntityPen, PolylineVertex


class EntityTextPen(EntityPen):
    """Writes into `entities`, numbered by handles from `handle` on. `owner`: handle of the layout, "" in R12."""

    def __init__(self, handle: int, owner: str, colours: dict[str, int], unit_mm: float) -> None:
        super().__init__(colours, unit_mm)
        self.handle = handle
        self.entities: list[str] = []
        self._is_r12 = not owner
        self._owner = "" if self._is_r12 else f"330\n{owner}\n100\nAcDbEntity\n"

    def add_line(self, start: Point, end: Point) -> None:
        """DXF reference, LINE: 10 start, 11 end."""
        ends = f"{_spatial(start)} 11\n{_real(end[0])}\n 21\n{_real(end[1])}\n 31\n0.0\n"
        self.entities.append(f"{self._head('LINE')}{self._kind('AcDbLine')}{ends}")

    def add_arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """DXF reference, ARC: a circle's figures, then 50 and 51, the directions of its ends in degrees."""
        circle = f"{self._kind('AcDbCircle')}{_spatial(centre)} 40\n{_real(radius)}\n"
        arc = f"{self._kind('AcDbArc')} 50\n{_real(from_deg)}\n 51\n{_real(to_deg)}\n"
        self.entities.append(f"{self._head('ARC')}{circle}{arc}")

    def add_circle(self, centre: Point, radius: float) -> None:
        """DXF reference, CIRCLE: 10 the centre, 40 the radius."""
        figures = f"{_spatial(centre)} 40\n{_real(radius)}\n"
        self.entities.append(f"{self._head('CIRCLE')}{self._kind('AcDbCircle')}{figures}")

    def add_polyline(self, vertices: Sequence[PolylineVertex], closed: bool) -> None:
        """DXF reference, LWPOLYLINE: 90 how many vertices, 70 bit 1 closed, 42 the bulge where there is one."""
        if self._is_r12:
            self._add_old_polyline(vertices, closed)
            return
        places = "".join(
            f" 10\n{_real(x)}\n 20\n{_real(y)}\n 42\n{_real(bulge)}\n"
            if bulge
            else f" 10\n{_real(x)}\n 20\n{_real(y)}\n"
            for x, y, bulge in vertices
        )
        figures = f" 90\n{len(vertices)}\n 70\n{int(closed)}\n{places}"
        self.entities.append(f"{self._head('LWPOLYLINE')}{self._kind('AcDbPolyline')}{figures}")

    def _add_old_polyline(self, vertices: Sequence[PolylineVertex], closed: bool) -> None:
        """DXF reference, POLYLINE of R12: 66 vertices follow, each an entity of its own, then SEQEND."""
        flags = f" 66\n1\n{_spatial((0.0, 0.0))} 70\n{int(closed)}\n"
        self.entities.append(f"{self._head('POLYLINE')}{flags}")
        end = f"  0\nSEQEND\n  5\n{self._next()}\n  8\n{self.layer}\n"
        for x, y, bulge in vertices:
            bent = f" 42\n{_real(bulge)}\n" if bulge else ""
            self.entities.append(f"{self._head('VERTEX')}{_spatial((x, y))}{bent} 70\n0\n")
        self.entities.append(end)

    def _head(self, kind: str) -> str:
        """DXF reference, common group codes: 5 handle, 330 owner, 8 layer, 62 colour."""
        return f"  0\n{kind}\n  5\n{self._next()}\n{self._owner}  8\n{self.layer}\n 62\n{self.colour}\n"

    def _kind(self, name: str) -> str:
        """The subclass marker, which R12 does not know."""
        return "" if self._is_r12 else f"100\n{name}\n"

    def _next(self) -> str:
        self.handle += 1
        return f"{self.handle - 1:X}"


def _spatial(at: Point) -> str:
    """A point with its height, which is 0."""
    return f" 10\n{_real(at[0])}\n 20\n{_real(at[1])}\n 30\n0.0\n"


def _real(value: float) -> str:
    """A number that is rounded already, as `dxf_text.real` writes it."""
    written = f"{value:.6f}".rstrip("0")
    return f"{written}0" if written[-1] == "." else written
