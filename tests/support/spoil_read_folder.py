"""Folders with one thing wrong, as the judge works on them: a Folder in, a Folder out. Part and file frames; mm.

`everywhere` changes a part's outline or opening in kit.json and in all of its files alike, so that no two files differ.
"""

from dataclasses import replace
from math import cos, radians, sin

from jigmaker.geometry.outline import Circle, Outline, bounds_of, piece
from jigmaker.proof.contours import contours_of

NEAR_MM = 3.0  # a file's contour is a told one's when their boxes agree to this, after the shift


def part_of(folder, slug):
    """The told part."""
    return next(part for part in folder.kit.parts if part.slug == slug)


def with_part(folder, told):
    """The folder with one told part put in place of its namesake."""
    parts = tuple(told if part.slug == told.slug else part for part in folder.kit.parts)
    return replace(folder, kit=replace(folder.kit, parts=parts, sheets=()))


def only(folder, *slugs):
    """The folder with these parts alone, without sheets, each by its file with the tool's width included."""
    parts = tuple(
        replace(part, files=tuple(f for f in part.files if f.compensation == "included"))
        for part in folder.kit.parts
        if part.slug in slugs
    )
    return replace(folder, kit=replace(folder.kit, parts=parts, sheets=()))


def with_setting(folder, name, value):
    """The folder with another value for a setting of the jig."""
    settings = tuple((n, value if n == name else v, u) for n, v, u in folder.kit.settings)
    return replace(folder, kit=replace(folder.kit, settings=settings))


def with_files(folder, slug, change):
    """The folder with `change(contour, told file)` applied to every closed contour of the part's own files."""
    files = dict(folder.files)
    for told in part_of(folder, slug).files:
        read = files[told.name]
        contours = tuple(
            replace(c, shape=change(c.shape, told)) if isinstance(c.shape, Outline | Circle) else c
            for c in read.contours
        )
        files[told.name] = replace(read, lines=contours_of(contours))
    return replace(folder, files=files)


def moved(outline, move):
    """The outline with every corner moved by move(corner); bulges stay."""
    return Outline(tuple(piece(move(s.start), move(s.end), s.bulge) for s in outline.segments))


def everywhere(folder, slug, contour, move):
    """The part's outline ("outer") or opening moved corner by corner, in kit.json and all of the part's files.

    move takes a corner in the part frame and gives it moved; a corner of a compensated line goes with the finished
    corner next to it.
    """
    told = part_of(folder, slug)
    named = {"outer": told.outline, **dict(told.holes)}[contour]

    def change(shape, file):
        low = _origin(folder, told, file)
        if not isinstance(shape, Outline) or not _same_place(shape, named, low):
            return shape

        def go(p):
            at = (p[0] - low[0], p[1] - low[1])
            corner = min(named.corners, key=lambda c: (c[0] - at[0]) ** 2 + (c[1] - at[1]) ** 2)
            new = move(corner)
            return (p[0] + new[0] - corner[0], p[1] + new[1] - corner[1])

        return moved(shape, go)

    changed = with_files(folder, slug, change)
    if contour == "outer":
        return with_part(changed, replace(told, outline=moved(told.outline, move)))
    holes = tuple((name, moved(shape, move) if name == contour else shape) for name, shape in told.holes)
    return with_part(changed, replace(told, holes=holes))


def _origin(folder, told, file):
    """Where the part frame's origin lies in a file: the box of all its closed contours, less what they were moved."""
    shapes = [c.shape for c in folder.files[file.name].contours if isinstance(c.shape, Outline | Circle)]
    low_x, low_y, high_x, high_y = bounds_of(shapes)
    _, _, width, height = told.outline.bounds
    return ((low_x + high_x - width) / 2, (low_y + high_y - height) / 2)


def _same_place(shape, named, low):
    box, told = shape.bounds, named.bounds
    return all(abs(box[i] - low[i % 2] - told[i]) < NEAR_MM for i in range(4))


def turned(angle_deg, about):
    """A move: a turn about a point, anticlockwise."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))

    def move(p):
        x, y = p[0] - about[0], p[1] - about[1]
        return (about[0] + c * x - s * y, about[1] + s * x + c * y)

    return move


def shifted(dx, dy, where=lambda p: True):
    """A move: a shift of the corners that `where` picks."""
    return lambda p: (p[0] + dx, p[1] + dy) if where(p) else p
