"""Names beside a drawing: clear of each other, leaders uncrossed, figures kept with their units; paper mm."""

import random

import pytest
import shapely

from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Circle, bounds_of
from jigmaker.papers.pictures.canvas import OUTLINE, Canvas
from jigmaker.papers.pictures.names import NameLabel, name_beside


@pytest.mark.parametrize("number", range(12))
def test_names_keep_clear_and_leaders_do_not_cross(number):
    """Places anywhere in the drawing, up to eight names a side."""
    draw, canvas = random.Random(number), Canvas()
    canvas.line([(0, 0), (90, 0), (90, 70), (0, 70), (0, 0)], OUTLINE)
    texts = ("plate", "fence on the top face", "two clamps from below, on the free band", "stop")
    names = [
        NameLabel(
            f"{texts[i % 4]} {i}", (draw.uniform(2, 88), draw.uniform(2, 68)), draw.choice(("left", "right", None))
        )
        for i in range(8)
    ]
    name_beside(canvas, names)
    boxes = [shapely.box(*bounds_of(label.strokes)) for label in canvas.labels]
    assert not any(one.intersects(other) for i, one in enumerate(boxes) for other in boxes[:i])
    leaders = [shapely.LineString(drawn.shape.points()) for drawn in canvas.shapes[1:] if drawn.layer != OUTLINE]
    assert len(leaders) == len(names)
    for side in (-1, 1):
        column = [leader for leader in leaders if (leader.coords[0][0] > 45) == (side == 1)]
        assert not any(one.crosses(other) for i, one in enumerate(column) for other in column[:i])
    dots = [drawn.shape.centre for drawn in canvas.shapes if isinstance(drawn.shape, Circle)]
    assert sorted(dots) == sorted(name.at for name in names)


@pytest.mark.parametrize(
    ("text", "wide", "lines"),
    [
        ("top board 900 mm × 120 mm × 45 mm", 40.0, ("top board 900 mm ×", "120 mm × 45 mm")),
        ("height 720 mm, floor to top face", 40.0, ("height 720 mm, floor", "to top face")),
        ('bottom edge 7 9/32"', 28.0, ("bottom edge", '7 9/32"')),
        ("plate", 1.0, ("plate",)),
        ("a  b ", 40.0, ("a b",)),
    ],
)
def test_lines_break_at_blanks_only(text, wide, lines):
    """A figure is never parted from its unit; a word too wide stands alone."""
    assert letters_wrapped(text, wide) == lines
    assert all(text_width(line, 2.5) <= wide or " " not in line for line in lines)
