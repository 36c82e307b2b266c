"""Wedges glued up and put to use in numbers: between jaws and a leaning board with its jig, and on splayed legs.

Nothing here reads the layout: outlines and settings come from the parts, and what leans from the job. Jig frame, X
along the board; leaning, v is level and away from the operator, n plumb and up.
"""

from math import cos, radians, sin

import hand_guides_on_solids as hand
import jig_on_solids as jig

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, scale

JAW_MM = (60.0, 100.0)  # how thick and deep the jaws of a vice are; common practice, no source
BELOW_MM = 48.0  # straight side below the jaw's top
ACROSS = (-1.0, 0.0, 0.0)


def axes(job):
    """(v, n), jig frame."""
    s, c = sin(radians(job.splay_deg)), cos(radians(job.splay_deg))
    return (0.0, c, -s), (0.0, s, c)


def stack(part):
    """One stack as it is glued, all layers of it, part frame; its middle at z = 0."""
    layers = part.needed // 2
    solid = Solid.prism_of_points([part.outline.points(8)], part.thickness_mm * layers)
    return solid.moved((0.0, 0.0, -part.thickness_mm * layers / 2))


def edge(part, name):
    """A straight piece of a part's outline."""
    return part.outline.segments[next(f.pieces[0] for f in part.features if f.name == name)]


def ear_out(part):
    """How far the ear stands out of the straight side."""
    return edge(part, "straight side").start[1]


def setting(wedges, name):
    return next(each.value for part in wedges for each in part.settings if each.name == name)


def at_work(job, parts, side, use):
    """Everything of the housing jig or saw guide for a hand, (name, solid), the board and what lies behind it."""
    top = job.top
    if use == "housing jig":
        found = [(name, solid) for name, _, _, solid in jig.stations(parts, side)]
        return [*found, ("board", jig.board_in_jig(job, parts, side))]
    found = [(name, solid) for name, _, _, solid in hand.pieces(parts, "housing saw guide", side)]
    fence = next(solid for name, solid in found if "fence" in name)
    (low, foot, _), (high, _, thick) = fence.bounds
    offcut = Solid.block((low, foot, -top.thickness_mm - thick), (high, 0.0, -top.thickness_mm))
    return [*found, ("board", hand.board_at(job, side)), ("back offcut", offcut)]


def free_places(bodies, wide):
    """X of the middles of the two stacks: farthest apart on the fence where no lug hangs before or behind it."""
    fence = next(solid for name, solid in bodies if name.startswith("fence") or " fence" in name)
    low, high = fence.bounds[0][0], fence.bounds[1][0]
    lugs = sorted(
        (solid.bounds[0][0], solid.bounds[1][0]) for name, solid in bodies if "bearer" in name or "stop" in name
    )
    gaps, at = [], low
    for start, end in [*lugs, (high, high)]:
        if min(start, high) - at >= wide:
            gaps.append((at, min(start, high)))
        at = max(at, end)
    return gaps[0][0] + wide / 2, gaps[-1][1] - wide / 2


def leaning(job, wedges, bodies, use):
    """(wedges and jaws by name, v of both jaws' faces): the board leaning between jaws as far apart as told."""
    front, back = wedges
    (v, n), top = axes(job), -setting(wedges, f"jaws below the top arris, {use}")
    apart, s = setting(wedges, f"jaws apart, {use}"), sin(radians(job.splay_deg))
    fence = next(solid for name, solid in bodies if name.startswith("fence") or " fence" in name)
    # The front wedge, its ear on the jaw, touches the fence's face, Z = sheet, with the foot of its slope first.
    front_face = ((top - BELOW_MM) * cos(radians(job.splay_deg)) - fence.bounds[1][2]) / s
    front_face -= edge(front, "thin end").length
    jaws = (front_face, front_face + apart)
    wide = front.thickness_mm * front.needed / 2
    found = {}
    for i, x in enumerate(free_places(bodies, wide)):
        for part, face, up, way in ((front, jaws[0], 1, 1), (back, jaws[1], -1, -1)):
            # x of the part runs from its thin end: up for a front wedge, down for a back one.
            ear = part.outline.bounds[2] - BELOW_MM
            end = top - BELOW_MM if up == 1 else top + ear
            at = add(add((x, 0.0, 0.0), scale(v, face - way * ear_out(part))), scale(n, end))
            found[f"{part.name} {i}"] = stack(part).placed(Frame(at, scale(n, up), scale(v, way), ACROSS))
    low, high = fence.bounds[0][0], fence.bounds[1][0]
    level = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), v, n)
    thick, deep = JAW_MM
    for name, near, far in (("front jaw", jaws[0] - thick, jaws[0]), ("back jaw", jaws[1], jaws[1] + thick)):
        found[name] = Solid.block((low, near, top - deep), (high, far, top)).placed(level)
    return found, jaws


def on_legs(job, part):
    """Both wedges on the outer faces of the pair at the +x end, their ears clear of a clamp 16 high at the middle of
    the board's thickness, no more than 12 under the head line; timber frame.
    """
    apart = setting([part], "clamp's jaws apart")
    body = stack(part)
    # The legs' middle where the clamp is: half the board's thickness down.
    low, high = jig.leg(job).common(jig.board(job)).bounds
    x, up = (low[0] + high[0]) / 2, -BELOW_MM - min(12.0, job.top.thickness_mm // 2 - 8.0)
    right = Frame((x, apart / 2 + ear_out(part), up), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))
    left = Frame((x, -apart / 2 - ear_out(part), up), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
    return {1: body.placed(right), -1: body.placed(left)}
