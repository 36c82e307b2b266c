"""Lengths, transforms and the page of an SVG: from what attributes say to matrices and millimetres with y up."""

import re
from math import cos, hypot, isfinite, radians, sin, tan

from jigmaker.geometry.frames import Point
from jigmaker.proof.faults import LARGEST_MM, Faults
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit

_NUMBER = r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_LENGTH = re.compile(rf"({_NUMBER})\s*([a-z%]*)", re.IGNORECASE)
_TRANSFORM = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([-+0-9.eE,\s]*)\)\s*")
NUMBER = re.compile(_NUMBER)

# CSS Values and Units, absolute lengths: 1 in = 2.54 cm = 96 px = 72 pt = 6 pc.
_MM_OF = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH, "pt": MM_PER_INCH / 72, "pc": MM_PER_INCH / 6, "q": 0.25}
PX_MM = MM_PER_INCH / 96

LONGEST_TRANSFORM = 10_000
"""Characters of a transform that are looked at; what is cut off there is not understood."""

_UNITS: dict[str, Unit] = {"mm": "mm", "cm": "mm", "in": "in"}
_PIXELS = 1e-5  # share by which a size in pixels may miss the millimetres that it stands for
_EVEN = 1e-7  # share by which two stretches may differ and still be one scale
_EVEN_PAGE = 1e-6  # the same of a page's two scales


@dataclass(frozen=True, slots=True)
class SvgMatrix:
    """x' = a x + c y + e, y' = b x + d y + f, as in SVG's matrix(a b c d e f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def point(self, x: float, y: float) -> Point:
        """The point in the outer frame."""
        return (self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def __matmul__(self, inner: "SvgMatrix") -> "SvgMatrix":
        """outer_from_middle @ middle_from_inner."""
        e, f = self.point(inner.e, inner.f)
        return SvgMatrix(
            self.a * inner.a + self.c * inner.b,
            self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d,
            self.b * inner.c + self.d * inner.d,
            e,
            f,
        )

    @property
    def scale(self) -> float:
        """The length of what was 1 long along x."""
        return hypot(self.a, self.b)

    @property
    def sense(self) -> int:
        """1 when turns keep their sense, -1 when the plane is mirrored."""
        return 1 if self.a * self.d - self.b * self.c > 0 else -1

    @property
    def is_even(self) -> bool:
        """True when circles stay circles: the same scale every way, no skew; and not nothing."""
        along, across = hypot(self.a, self.b), hypot(self.c, self.d)
        skew = self.a * self.c + self.b * self.d
        return along > 0 and abs(along - across) <= _EVEN * along and abs(skew) <= _EVEN * along * across


def transform_of(text: str) -> SvgMatrix | None:
    """The matrix that a transform attribute stands for; None when it is none."""
    # "translate(...) rotate(...)" turns first and shifts then: the steps multiply in the order in which they are
    # written.
    found, at = SvgMatrix(), 0
    while at < len(text):
        step = _TRANSFORM.match(text, at)
        if step is None or (one := _one(step[1], [float(n) for n in NUMBER.findall(step[2])])) is None:
            return None if text[at:].strip() else found
        found, at = found @ one, step.end()
    return found


def length_mm(text: str) -> tuple[float, str] | None:
    """A length's mm and its unit word; px or no word is CSS's 1/96 inch. None when it is no absolute length."""
    found = _LENGTH.fullmatch(text.strip())
    if found is None:
        return None
    word = found[2].lower()
    size = float(found[1]) * (PX_MM if word in ("", "px") else _MM_OF.get(word, float("nan")))
    return (size, word) if isfinite(size) else None


def _one(name: str, figures: list[float]) -> SvgMatrix | None:
    """One step of a transform list; None for a name or a number of figures that SVG does not have."""
    if not all(isfinite(figure) for figure in figures):
        return None
    match name, figures:
        case "matrix", [a, b, c, d, e, f]:
            return SvgMatrix(a, b, c, d, e, f)
        case "translate", [x, *rest] if len(rest) <= 1:
            return SvgMatrix(e=x, f=rest[0] if rest else 0.0)
        case "scale", [x, *rest] if len(rest) <= 1:
            return SvgMatrix(a=x, d=rest[0] if rest else x)
        case "rotate", [turn]:
            return SvgMatrix(cos(radians(turn)), sin(radians(turn)), -sin(radians(turn)), cos(radians(turn)))
        case "rotate", [turn, x, y]:
            turned = _one("rotate", [turn])
            return SvgMatrix(e=x, f=y) @ turned @ SvgMatrix(e=-x, f=-y) if turned else None
        case "skewX", [skew]:
            return SvgMatrix(c=tan(radians(skew)))
        case "skewY", [skew]:
            return SvgMatrix(b=tan(radians(skew)))
    return None


@dataclass(frozen=True, slots=True)
class SvgPage:
    """The page: unit of its size (None for px and others), what it says, size in mm, scale (mm a user unit), matrix."""

    unit: Unit | None
    unit_said: str
    width_mm: float
    height_mm: float
    scale: float
    mm_from_user: SvgMatrix


def page_of(attributes: dict[str, str], faults: Faults) -> SvgPage:
    """The page that width, height and viewBox make, with a fault (106) for each that is missing or disagrees.

    Without a viewBox a user unit is 1/96 inch (CSS); without a size the viewBox is taken as millimetres. A size in
    pixels is rounded by whoever wrote it: where it comes that near to one millimetre a user unit, it is taken as that.
    """
    # What a user unit is in mm follows from two things that may disagree: the page's size and the viewBox shown on it.
    said = f"width {attributes.get('width', 'missing')}, height {attributes.get('height', 'missing')}"
    view = attributes.get("viewBox", "")
    box = [float(word) for word in NUMBER.findall(view)]
    if NUMBER.sub("", view).strip(" ,\t\r\n") or len(box) != 4 or min(box[2:]) <= 0 or sum(map(abs, box)) >= LARGEST_MM:
        box = []
    sizes = [length_mm(attributes.get(key, "")) for key in ("width", "height")]
    if not box:
        faults.add(106, "the viewBox is missing or is none", 'write the files again: viewBox="0 0 width height", in mm')
    if sizes[0] is None or sizes[1] is None or min(sizes[0][0], sizes[1][0]) <= 0:
        faults.add(106, f"the page has no size in mm or in ({said})"[:120], 'write the files again: width="100mm"')
        low_x, low_y, width, height = box or (0.0, 0.0, 100.0, 100.0)
        return SvgPage(None, said, width, height, 1.0, SvgMatrix(d=-1.0, e=-low_x, f=height + low_y))
    # Millimetres over user units, along and across: that both are one is checked, that it is 1 elsewhere.
    (wide, word), (high, other) = sizes[0], sizes[1]
    low_x, low_y, width, height = box or (0.0, 0.0, wide / PX_MM, high / PX_MM)
    if word in ("", "px") and max(abs(wide / width - 1), abs(high / height - 1)) < _PIXELS:
        wide, high = width, height
    along, across = wide / width, high / height
    if abs(along - across) > _EVEN_PAGE * max(along, across):
        faults.add(106, "a user unit is not as wide as it is high", "make viewBox and size the same shape", value=said)
    unit = _UNITS.get(word) if word == other else None
    # x' = along (x - low_x), y' = height - across (y - low_y): SVG counts y from the top down, we from the bottom up.
    flip = SvgMatrix(along, 0.0, 0.0, -across, -low_x * along, high + low_y * across)
    return SvgPage(unit, said, wide, high, along, flip)
