"""The root element of an SVG in, its page out: size in mm, scale, and the matrix from user units to mm with y up."""

from dataclasses import dataclass

from jigmaker.proof.faults import LARGEST_MM, Faults
from jigmaker.proof.readers.svg_plane import NUMBER, PX_MM, SvgMatrix, length_mm
from jigmaker.units import Unit

_UNITS: dict[str, Unit] = {"mm": "mm", "cm": "mm", "in": "in"}
_EVEN = 1e-6  # share by which the two scales of a page may differ
_PIXELS = 1e-5  # share by which a size in pixels may miss the millimetres that it stands for


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
    (wide, word), (high, other) = sizes[0], sizes[1]
    low_x, low_y, width, height = box or (0.0, 0.0, wide / PX_MM, high / PX_MM)
    if word in ("", "px") and max(abs(wide / width - 1), abs(high / height - 1)) < _PIXELS:
        wide, high = width, height
    along, across = wide / width, high / height
    if abs(along - across) > _EVEN * max(along, across):
        faults.add(106, "a user unit is not as wide as it is high", "make viewBox and size the same shape", value=said)
    unit = _UNITS.get(word) if word == other else None
    flip = SvgMatrix(along, 0.0, 0.0, -across, -low_x * along, high + low_y * across)
    return SvgPage(unit, said, wide, high, along, flip)
