"""A coupon cut by a disc in shapely and measured as with a caliper; readings as a form; mm.

Measuring works on what is left of the sheet only: it knows neither the kerf nor the machine's error.
"""

from dataclasses import replace
from itertools import pairwise
from math import cos, dist, radians, sin, tan

import numpy as np
import shapely
from cut_by_disc import cut
from sample_jobs import DEMO_SHOP

from jigmaker.coupon.forecast import forecast
from jigmaker.coupon.form_text import form_text
from jigmaker.coupon.least_squares import CRUSH_MM
from jigmaker.coupon.stations import stations
from jigmaker.job.shop import Machine
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_size import coupon_size

SHOPS = {
    "laser": (DEMO_SHOP, "mm"),
    "laser inch": (replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit="in")), "in"),
    "cnc": (replace(DEMO_SHOP, machine=Machine("cnc", 3.175)), "mm"),
}


def affine(scale_x, scale_y, skew_deg):
    """The machine's map for cut_by_disc: its y axis leans toward +x by the skew."""
    return (scale_x, scale_y * tan(radians(skew_deg)), 0.0, scale_y, 0, 0)


MIDDLE = CRUSH_MM / 2
"""The crush that is taken where nothing else tells it: with it, ideal readings give the machine back exactly."""


_CUT = {}
"""Coupons that were cut before, whatever the crush is with which they are measured."""


def caliper(shop, unit, true_kerf, error, compensation="included", crush=MIDDLE):
    """One ideal reading of every place on the coupon that this shop's file becomes on that machine."""
    size = coupon_size(shop, unit)
    cut_by = repr((shop, unit, true_kerf, compensation, error))
    if cut_by not in _CUT:
        _CUT[cut_by] = cut(coupon(shop, unit), shop.machine, true_kerf, compensation, error)
    pieces = _CUT[cut_by]
    body = pieces.body
    return {
        **{f"{name}_wedge": behind_wedge(body, pieces.out_of[f"{name}, wedge"], name, crush) for name in "AB"},
        **_lengths(body),
        **_diagonals(body, size),
        **_hole_and_disc(body, pieces.out_of["F, hole and disc"]),
    }


def behind_wedge(body, wedge, name, crush):
    """The wedge pushed down its slot until both flanks are met, then from its thick end to the slot's.

    Both are convex: what stops the wedge is the corner of it that reaches farthest over a flank, once the wood has
    given way by the crush.
    """
    slot = slot_of(body, name)
    flanks = sorted(sides(slot), key=lambda side: -dist(*side))[:2]
    corners = np.array([start for start, _ in sides(wedge)])
    normals, rooms = [], []
    for start, end in flanks:
        way = (np.array(end) - start) / dist(start, end)
        out = np.array((way[1], -way[0]))
        out *= np.sign((np.array(start) - slot.centroid.coords[0]) @ out)
        normals.append(out)
        rooms.append((np.array(start) - corners) @ out)
    on = np.linalg.solve(np.array(normals), [room.min() + crush for room in rooms])
    (start, end), (at, _) = thick_end(slot, name), thick_end(wedge, name)
    ux, uy = (np.array(end) - start) / dist(start, end)
    x, y = np.array(at) + on - start
    return float(abs(ux * y - uy * x))


def slot_of(body, name):
    """The opening that A's wedge, or B's, is put into: the longest one of the two that point that way."""
    rings = [ring for ring in body.interiors if not 0.98 < _width(ring, 0) / _width(ring, 1) < 1.02]
    across = 0 if name == "A" else 1
    lying = [ring for ring in rings if _width(ring, across) < 12 and _width(ring, 1 - across) > 45]
    return shapely.Polygon(min(lying, key=lambda ring: ring.bounds[across]))


def _width(ring, axis):
    return ring.bounds[axis + 2] - ring.bounds[axis]


def sides(polygon):
    """Its straight sides, longest runs joined."""
    ring = shapely.Polygon(polygon.exterior).simplify(1e-7).exterior.coords
    return [(a, b) for a, b in pairwise(ring) if dist(a, b) > 2]


def thick_end(polygon, name):
    """The side farthest up for A, farthest right for B."""
    axis = 1 if name == "A" else 0
    return max(sides(polygon), key=lambda side: side[0][axis] + side[1][axis])


def _lengths(body):
    """Square to the edges: of each line laid across the piece the outermost two points, and the notch's side."""
    low_x, low_y, high_x, high_y = body.bounds
    lean = _edge(body, low_y + 20, low_y + 40)
    upright = cos(np.arctan(lean))
    bottom = _across(body, (low_x - 9, low_y + 15), (high_x + 9, low_y + 15))
    top = _across(body, (low_x - 9, high_y - 5), (high_x + 9, high_y - 5))
    right = _across(body, (high_x - 5 - 50 * lean, low_y - 9), (high_x - 5 - 50 * lean, high_y + 9), axis=1)
    return {
        "D_long_x": (bottom[-1] - bottom[0]) * upright,
        "D_short_x": (top[-1] - top[-2]) * upright,
        "D_long_y": right[-1] - right[0],
        "D_short_y": right[-1] - right[-2],
    }


def _edge(body, low, high):
    """How far the left edge leans, from its places at two heights."""
    ends = [_across(body, (body.bounds[0] - 9, y), (body.bounds[2] + 9, y))[0] for y in (low, high)]
    return (ends[1] - ends[0]) / (high - low)


def _across(body, start, end, axis=0):
    """Where a line goes in and out of the outer contour, along x or y, rising."""
    met = shapely.LineString([start, end]).intersection(shapely.Polygon(body.exterior))
    return sorted({point[axis] for part in getattr(met, "geoms", [met]) for point in part.coords})


def _diagonals(body, size):
    holes = [np.array(r.coords) for r in body.interiors if abs(r.bounds[3] - r.bounds[1] - size.square_hole) < 0.8]
    assert len(holes) == 4
    low, *between, high = sorted(holes, key=lambda ring: ring.mean(axis=0).sum())
    left, right = sorted(between, key=lambda ring: ring.mean(axis=0)[0])
    return {"E_rising": _far(low, high), "E_falling": _far(left, right)}


def _far(one, other):
    return float(np.linalg.norm(one[:, None, :] - other[None, :, :], axis=2).max())


def _hole_and_disc(body, disc):
    """The mean over three directions, 60 degrees apart."""
    hole = min(body.interiors, key=lambda ring: ring.centroid.distance(disc.centroid))
    return {"F_hole": _mean_width(hole), "F_disc": _mean_width(disc.exterior)}


def _mean_width(ring):
    points = np.array(ring.coords)
    turns = [np.array([cos(radians(a)), sin(radians(a))]) for a in (0, 60, 120)]
    return float(np.mean([(points @ turn).max() - (points @ turn).min() for turn in turns]))


def form_of(shop, unit, readings, **answers):
    """A filled-in form: `readings` by station, one figure or three, mm; `answers` by key with __ for the dot."""
    known = {"coupon.compensation": '"included"'} | {key.replace("__", "."): value for key, value in answers.items()}
    for key, values in readings.items():
        three = [values] * 3 if isinstance(values, float) else values
        known[f"readings.{key}"] = "[" + ", ".join(f'"{value:.12f} mm"' for value in three) + "]"
    return form_text(shop, unit, known).encode()


def noisy(size, lines, guess, draw, stray=0.02, step=0.01):
    """Three readings of every place, each straying by a normal deviate, as much as that place does, and rounded to the
    caliper's step."""
    ideal = forecast(size, lines, guess)
    strays = {place.key: max(stray, place.strays_mm) for place in stations(size)}
    return {key: [round((v + draw.gauss(0, strays[key])) / step) * step for _ in range(3)] for key, v in ideal.items()}
