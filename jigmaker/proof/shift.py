"""Where the part frame's origin lies in a part's own file: its sets of files in, a shift out. Sheet frame; mm."""

from jigmaker.geometry.outline import Circle, Outline, bounds_of
from jigmaker.proof.file_set import FileSet
from jigmaker.proof.rings import points_of

Shift = tuple[float, float]


def part_shift(files: FileSet, nominal: FileSet | None) -> tuple[Shift | None, bool]:
    """The lower left of the part's box at finished size; True when it is exact.

    It is read from the nominal file when there is one. Else the compensated outline is moved back by the offset, with
    chords for its arcs. None when there is no closed outline to go by.
    """
    for each in (files if files.compensation == "left out" else None, nominal):
        if each is not None and (outlines := _outlines(each)):
            low_x, low_y, _, _ = bounds_of(outlines)
            return (low_x, low_y), True
    outlines = _outlines(files)
    return (_moved_back(outlines, files.offset_mm) if outlines else None), False


def _outlines(files: FileSet) -> list[Outline | Circle]:
    return [each.shape for each in files.of("outer") if isinstance(each.shape, Outline | Circle)]


def _moved_back(outlines: list[Outline | Circle], offset_mm: float) -> Shift | None:
    import shapely

    area = shapely.union_all([shapely.Polygon(points_of(shape)) for shape in outlines])
    nominal = shapely.buffer(area, -offset_mm, join_style="mitre", mitre_limit=20.0)
    low_x, low_y, _, _ = nominal.bounds
    return (float(low_x), float(low_y)) if not nominal.is_empty else None
