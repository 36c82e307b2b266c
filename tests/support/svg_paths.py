"""A reader of SVG for tests, written from the standard alone: bytes in, shapes out in the page's frame, y up, mm."""

import re
from dataclasses import dataclass
from math import acos, copysign, pi, sqrt
from xml.etree import ElementTree

NAMESPACE = "{http://www.w3.org/2000/svg}"

Step = tuple[str, tuple[float, ...]]


@dataclass(frozen=True)
class Shape:
    """A path's pieces as (start, end, radius, is anticlockwise with y up), radius 0 for straight; or a circle."""

    layer: str
    attributes: dict[str, str]
    is_closed: bool
    pieces: tuple[tuple[complex, complex, float, bool], ...] = ()
    circle: tuple[float, ...] = ()

    @property
    def area(self) -> float:
        """Signed area with y up, arcs included (none over half a turn)."""
        total = 0.0
        for start, end, radius, is_anticlockwise in self.pieces:
            total += (start.conjugate() * end).imag / 2
            if radius:
                total += _segment_area(abs(end - start), radius) * (1 if is_anticlockwise else -1)
        return total


def root(written: bytes) -> ElementTree.Element:
    """The parsed document."""
    return ElementTree.fromstring(written)


def shapes(written: bytes) -> list[Shape]:
    """Every run of a path and every circle, in file order, with the title of its group as its layer."""
    page = root(written)
    height = float(page.attrib["viewBox"].split()[3])
    found: list[Shape] = []
    for group in page.findall(f"{NAMESPACE}g"):
        layer = group.findtext(f"{NAMESPACE}title") or ""
        for element in group:
            if element.tag == f"{NAMESPACE}circle":
                x, y, r = (float(element.attrib[key]) for key in ("cx", "cy", "r"))
                found.append(Shape(layer, element.attrib, True, (), (x, height - y, r)))
            elif element.tag == f"{NAMESPACE}path":
                runs = re.findall("M[^M]*", element.attrib["d"])
                found += [_path(layer, element.attrib, run, height) for run in runs]
    return found


def _path(layer: str, attributes: dict[str, str], data: str, height: float) -> Shape:
    steps = _steps(data)
    assert steps[0][0] == "M" and all(letter in "LAZ" for letter, _ in steps[1:])
    here = start = _up(steps[0][1], height)
    pieces = []
    for letter, numbers in steps[1:]:
        end = start if letter == "Z" else _up(numbers[-2:], height)
        radius = 0.0
        if letter == "A":
            assert numbers[0] == numbers[1] and numbers[2] == numbers[3] == 0
            radius = max(numbers[0], abs(end - here) / 2)  # SVG 2: a radius too small is scaled up
        if letter != "Z" or end != here:
            pieces.append((here, end, radius, letter == "A" and numbers[4] == 0))
        here = end
    return Shape(layer, attributes, steps[-1][0] == "Z", tuple(pieces))


def _steps(data: str) -> list[Step]:
    assert re.fullmatch(r"[MLAZ0-9. -]+", data), data
    return [
        (letter, tuple(float(number) for number in numbers.split()))
        for letter, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", data)
    ]


def _up(numbers: tuple[float, ...], height: float) -> complex:
    return complex(numbers[0], height - numbers[1])


def _segment_area(chord: float, radius: float) -> float:
    half = min(1.0, chord / 2 / radius)
    turn = 2 * (pi / 2 - acos(half))
    return radius**2 * turn / 2 - chord / 2 * sqrt(max(0.0, radius**2 - chord**2 / 4))


def centre(piece: tuple[complex, complex, float, bool]) -> complex:
    """Centre of an arc of at most half a turn."""
    start, end, radius, is_anticlockwise = piece
    chord = end - start
    rise = sqrt(max(0.0, radius**2 - abs(chord) ** 2 / 4))
    return (start + end) / 2 + chord / abs(chord) * 1j * copysign(rise, 1 if is_anticlockwise else -1)
