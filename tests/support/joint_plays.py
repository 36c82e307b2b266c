"""How much play tenons have in their mortises, measured on the solids of an assembly as it is put together; mm."""

from jigmaker.geometry.frames import Frame


def joint_plays(whole):
    """[(mortise's name, [across, across, along, along])] for every mortise of (part, frame, solid) put together.

    Its play at either side and at both ends, the smaller first, half-way through its part; ValueError for a mortise
    with no tenon in it, or with two.
    """
    found = []
    for part, frame, _ in whole:
        for mortise in (hole for hole in part.holes if hole.name.startswith("mortise")):
            low_x, low_y, high_x, high_y = mortise.contour.bounds
            ((x0, y0, x1, y1),) = tenons_in(whole, part, frame, mortise)
            sides, ends = sorted([sorted((x0 - low_x, high_x - x1)), sorted((y0 - low_y, high_y - y1))])
            found.append((mortise.name, [*sides, *ends]))
    return found


def tenons_in(whole, part, frame, mortise):
    """Boxes of what other pieces put through a mortise half-way through its part, part frame."""
    (low_x, low_y, high_x, high_y), middle = mortise.contour.bounds, part.thickness_mm / 2
    axes = (frame.x_axis, frame.y_axis, frame.z_axis)
    back = Frame(frame.inside((0, 0, 0)), *(tuple(axis[i] for axis in axes) for i in range(3)))
    for other, _, solid in whole:
        if other is not part:
            slice_ = solid.placed(back).kept_below((0, 0, middle + 0.01), (0, 0, 1))
            for piece in slice_.kept_below((0, 0, middle - 0.01), (0, 0, -1)).pieces():
                (x0, y0, _), (x1, y1, _) = piece.bounds
                if low_x < (x0 + x1) / 2 < high_x and low_y < (y0 + y1) / 2 < high_y:
                    yield x0, y0, x1, y1
