"""Judging a part's marks and features by shapely: inside, clear of cuts and of each other; every piece measured."""

from itertools import combinations
from math import atan2, degrees, dist

import shapely

CLEAR_MM = 1.5
READ_TURNED_OVER = ("drilling-template-head-strip",)
"""Parts of which one half is read while they are turned over: its words stand half about."""


def polygon(part):
    """The part's material, part frame."""
    return shapely.Polygon(part.outline.points(64), [hole.contour.points(64) for hole in part.holes])


def ink(mark):
    """The mark's strokes as lines."""
    return shapely.MultiLineString([stroke.points(3) for stroke in mark.strokes])


def text_box(mark):
    """The box round a text mark's strokes."""
    return shapely.box(*ink(mark).bounds)


def mark_faults(part):
    """What is wrong with a part's marks, in words: outside, near a cut, small, turned over, or one over another."""
    material, faults = polygon(part), []
    inks = [(mark, ink(mark)) for mark in part.marks]
    shapely.prepare(material)
    turns = (0, 90, 180) if part.slug in READ_TURNED_OVER else (0, 90)
    for mark, lines in inks:
        gap = lines.distance(material.boundary)
        if not material.contains(lines) or gap < CLEAR_MM:
            faults.append(f"{mark.text!r} at {mark.at} is {gap:.2f} from a cut")
        if mark.text and (mark.height_mm < 3.5 or mark.turn_deg not in turns):
            faults.append(f"{mark.text!r} is {mark.height_mm} high, turned {mark.turn_deg}")
    shapes = [(mark.text, shapely.box(*lines.bounds) if mark.text else lines) for mark, lines in inks]
    for (text, shape), (other, other_shape) in combinations(shapes, 2):
        if (text or other) and shape.distance(other_shape) < 0.3:
            faults.append(f"{text!r} and {other!r} touch")
    return faults


def measured(part, feature):
    """A feature's figure from the contour's coordinates."""
    contour = part.contour(feature.contour)
    pieces = [contour.segments[i] for i in feature.pieces]
    if feature.measure == "diameter_mm":
        return 2 * (pieces[0] if pieces else contour).radius
    (ax, ay), (bx, by) = pieces[0].start, pieces[0].end
    if feature.measure == "angle_deg":
        return degrees(atan2(by - ay, bx - ax)) % 180
    if feature.measure == "length_mm":
        return dist(pieces[0].start, pieces[0].end)
    if feature.measure in ("x_mm", "y_mm"):
        return abs(ax + bx if feature.measure == "x_mm" else ay + by) / 2
    assert feature.measure == "across_mm", feature.measure
    x, y = pieces[1].start
    return abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / dist((ax, ay), (bx, by))


def unmeasured(part):
    """(contour, piece) that no feature names."""
    named = {(feature.contour, i) for feature in part.features for i in feature.pieces or (0,)}
    contours = [("outer", part.outline), *((hole.name, hole.contour) for hole in part.holes)]
    every = {(name, i) for name, contour in contours for i in range(len(getattr(contour, "segments", (0,))))}
    return every - named
