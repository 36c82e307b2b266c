"""Where words and lines of a drawing lie on the paper, taken from its strokes alone: what touches what; paper mm."""

import shapely

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.lettering import text_width

CLEAR_MM = 0.35
"""Least distance between words and a line or other words: a line's width and a little paper."""


def word_boxes(picture):
    """[(words, polygon)] of every label and every dimension's number, as wide and high as their letters."""
    lines = [(label.text, label.at, label.height_mm, label.turn_deg, label.anchor) for label in picture.labels]
    lines += [(d.text, d.text_at, d.height_mm, d.text_turn_deg, "middle") for d in picture.dimensions]
    return [(words, _box(words, *rest)) for words, *rest in lines if words.strip()]


def _box(words, at, height, turn_deg, anchor):
    width = text_width(words, height)
    left = {"left": 0.0, "middle": -width / 2, "right": -width}[anchor]
    frame = PlaneFrame(*at, turn_deg)
    corners = ((left, 0.0), (left + width, 0.0), (left + width, height), (left, height))
    return shapely.Polygon([frame.point(corner) for corner in corners])


def drawn_lines(picture):
    """Everything else that is drawn, as lines of points."""
    shapes = [drawn.shape for drawn in picture.shapes]
    shapes += [stroke for dimension in picture.dimensions for stroke in dimension.lines]
    return [shapely.LineString(_points(shape)) for shape in shapes]


def _points(shape):
    points = shape.points(16)
    return points if hasattr(shape, "segments") and shape.segments[-1].end == points[-1] else [*points, points[0]]


def collisions(picture):
    """Words too near to a line or to other words, told in words."""
    boxes, lines = word_boxes(picture), drawn_lines(picture)
    tree = shapely.STRtree(lines)
    found = []
    for words, box in boxes:
        near = tree.query(box, predicate="dwithin", distance=CLEAR_MM)
        found += [f'"{words}" and a line at {lines[i].bounds}' for i in near]
    for i, (words, box) in enumerate(boxes):
        found += [f'"{words}" and "{other}"' for other, rest in boxes[i + 1 :] if box.distance(rest) < CLEAR_MM]
    return found


def outside(picture, frame):
    """Words and lines that reach beyond the frame, the frame itself and its marks left out."""
    low_x, low_y, high_x, high_y = frame
    room = shapely.box(low_x + 0.3, low_y + 0.3, high_x - 0.3, high_y - 0.3)
    marked = [shapely.LineString(_points(d.shape)) for d in picture.shapes if d.layer != "FRAME"]
    marked += [shapely.LineString(_points(stroke)) for each in picture.dimensions for stroke in each.lines]
    return [words for words, box in word_boxes(picture) if not room.contains(box)] + [
        line.bounds for line in marked if not room.buffer(0.31, join_style="mitre").covers(line)
    ]
