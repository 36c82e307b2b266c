"""Where the part frame's origin lies in a part's own file: its sets of files in, a shift out. Sheet frame; mm."""

from math import inf

from jigmaker.geometry.outline import Circle, Outline, bounds_of
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.checks.file_set import FileSet
from jigmaker.proof.checks.rings import points_of
from jigmaker.proof.records import DeclaredPart

Shift = tuple[float, float]


def part_shift(files: FileSet, nominal: FileSet | None) -> tuple[Shift | None, bool]:
    """The lower left of the part's box at finished size; True when it is exact.

    It is read from the nominal file when there is one. Else the compensated outline is moved back by the offset, with
    chords for its arcs. None when there is no closed outline to go by.

    Chords that another program made of arcs stay within them, so a box that hangs on curves is no place to go by: the
    middle of the convex hull is, which they move by a thousandth of that.
    """
    import shapely

    for each in (files if files.compensation == "left out" else None, nominal):
        if each is not None and (outlines := _outlines(each)):
            if each.is_changed and isinstance(each.owner, DeclaredPart) and hangs_on_curves(each.owner.outline):
                (x, y), (told_x, told_y) = _middle(outlines), _middle([each.owner.outline])
                return (x - told_x, y - told_y), True
            low_x, low_y, _, _ = bounds_of(outlines)
            return (low_x, low_y), True
    rings = [shapely.polygons(points_of(shape)) for shape in _outlines(files)]
    finished = shapely.buffer(shapely.union_all(rings), -files.offset_mm, join_style="mitre", mitre_limit=20.0)
    low_x, low_y, _, _ = finished.bounds
    return ((float(low_x), float(low_y)) if not finished.is_empty else None), False


def hangs_on_curves(outline: Outline) -> bool:
    """True when a part's curves reach farther left or down than all its straight edges."""
    straight = [end for each in outline.segments if not each.bulge for end in (each.start, each.end)]
    lows = zip(*straight, strict=True) if straight else ((inf,), (inf,))
    return any(min(ends) > low + TOUCH_MM for ends, low in zip(lows, outline.bounds, strict=False))


def _middle(outlines: list[Outline | Circle]) -> Shift:
    import shapely

    middle = shapely.MultiPoint([point for shape in outlines for point in points_of(shape)]).convex_hull.centroid
    return (middle.x, middle.y)


def _outlines(files: FileSet) -> list[Outline | Circle]:
    return [each.shape for each in files.of("outer") if isinstance(each.shape, Outline | Circle)]
