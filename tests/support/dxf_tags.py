"""A reader of DXF for tests, written from the reference alone: bytes in, header, layers, contours out, file units."""

from dataclasses import dataclass
from itertools import pairwise, takewhile
from math import atan, hypot, sin

Tag = tuple[int, str]


@dataclass(frozen=True)
class Contour:
    """One entity: its kind, layer, colour, whether it is closed, and its vertices as (x, y, bulge)."""

    kind: str
    layer: str
    colour: int
    is_closed: bool
    vertices: tuple[tuple[float, float, float], ...] = ()
    circle: tuple[float, ...] = ()

    @property
    def area(self) -> float:
        """Signed area, arcs included."""
        total = 0.0
        for (x0, y0, bulge), (x1, y1, _) in pairwise([*self.vertices, self.vertices[0]]):
            total += (x0 * y1 - x1 * y0) / 2
            if bulge:
                turn, radius = 4 * atan(bulge), hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * bulge)
                total += radius**2 * (turn - sin(turn)) / 2
        return total


def tags(written: bytes) -> list[Tag]:
    """Every group code with its value."""
    lines = written.decode("ascii").splitlines()
    return [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]


def header(written: bytes) -> dict[str, list[str]]:
    """The header's variables with their values."""
    found: dict[str, list[str]] = {}
    name = ""
    for code, value in _section(tags(written), "HEADER"):
        if code == 9:
            name = value
        else:
            found.setdefault(name, []).append(value)
    return found


def entries(written: bytes, section: str) -> list[tuple[str, list[Tag]]]:
    """What begins with a group code 0 in a section, with the tags that follow it."""
    found: list[tuple[str, list[Tag]]] = []
    for code, value in _section(tags(written), section):
        if code == 0:
            found.append((value, []))
        elif found:
            found[-1][1].append((code, value))
    return found


def layers(written: bytes) -> dict[str, dict[int, str]]:
    """The layer table: name to its tags."""
    return {dict(body)[2]: dict(body) for kind, body in entries(written, "TABLES") if kind == "LAYER"}


def contours(written: bytes) -> list[Contour]:
    """Every drawn entity, in file order. Fails on a kind it does not know."""
    found: list[Contour] = []
    for kind, body in entries(written, "ENTITIES"):
        one = dict(body)
        if kind == "VERTEX":
            old = found.pop()
            vertex = (float(one[10]), float(one[20]), float(one.get(42, "0")))
            found.append(Contour(old.kind, old.layer, old.colour, old.is_closed, (*old.vertices, vertex)))
            assert (one[8], int(one[62])) == (old.layer, old.colour)
        elif kind != "SEQEND":
            found.append(_contour(kind, body, one))
    return found


def _contour(kind: str, body: list[Tag], one: dict[int, str]) -> Contour:
    layer, colour = one[8], int(one[62])
    if kind == "LWPOLYLINE":
        vertices = _light_vertices(body)
        assert len(vertices) == int(one[90])
        return Contour(kind, layer, colour, bool(int(one[70]) & 1), vertices)
    if kind == "POLYLINE":
        assert one[66] == "1"
        return Contour(kind, layer, colour, bool(int(one[70]) & 1))
    if kind == "LINE":
        ends = ((float(one[10]), float(one[20]), 0.0), (float(one[11]), float(one[21]), 0.0))
        return Contour(kind, layer, colour, False, ends)
    assert kind in ("CIRCLE", "ARC"), kind
    codes = (10, 20, 40) if kind == "CIRCLE" else (10, 20, 40, 50, 51)
    return Contour(kind, layer, colour, kind == "CIRCLE", (), tuple(float(one[code]) for code in codes))


def _light_vertices(body: list[Tag]) -> tuple[tuple[float, float, float], ...]:
    found: list[list[float]] = []
    for code, value in body:
        if code == 10:
            found.append([float(value), 0.0, 0.0])
        elif code == 20:
            found[-1][1] = float(value)
        elif code == 42:
            found[-1][2] = float(value)
    return tuple((x, y, bulge) for x, y, bulge in found)


def _section(all_tags: list[Tag], name: str) -> list[Tag]:
    start = all_tags.index((2, name)) + 1
    return list(takewhile(lambda tag: tag != (0, "ENDSEC"), all_tags[start:]))
