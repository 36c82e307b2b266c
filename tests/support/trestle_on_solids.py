"""A trestle cut from solid blocks by planes, straight from the job's keys, and measured: the judge of the solver.

Nothing of jigmaker.trestle is used. Only three directions are reasoned: out of a leg's wide face (the face holds the
board's direction and stands at the splay), out of the plane at the rake (it holds the direction across the board), and
the cross product of the two, down the leg. All else is measured on corners that the kernel made. Timber frame, mm, deg.
"""

import random
from dataclasses import replace
from math import atan2, cos, degrees, hypot, radians, sin, tan

from sample_jobs import a_job

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, length, scale, subtract, unit

FAR = 4000.0
X, Y, UP = (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
DOWN = (0.0, 0.0, -1.0)


def random_valid_jobs(seed, count):
    """Trestles that can be built: every third has rake and splay 5 degrees or more apart, some stand plumb one way."""
    draw = random.Random(seed)
    jobs = []
    while len(jobs) < count:
        rake, splay = draw.uniform(60, 90), draw.uniform(60, 90)
        rake, splay = draw.choice((rake, rake, rake, 90.0)), draw.choice((splay, splay, splay, 90.0))
        if len(jobs) % 3 == 0 and abs(rake - splay) < 5:
            continue
        jobs.append(_job_around(draw, rake, splay))
    return jobs


def _job_around(draw, rake, splay):
    """Timber and inset such that housings keep their floors, brace and end wood their room."""
    leg, reveal = (draw.uniform(45, 110), draw.uniform(30, 45)), draw.choice((0.0, draw.uniform(0, 10)))
    depth = (leg[1] - reveal) / sin(radians(splay))
    thickness = min(draw.uniform(20, 60), (depth - 4) * tan(radians(splay)))
    inset = draw.uniform(40, 150) + thickness / tan(radians(rake)) + 40
    size = (2 * (inset + 1.5 * leg[0]) + draw.uniform(50, 600), 2 * depth + draw.uniform(13, 90), thickness)
    brace = (draw.uniform(60, 140), draw.uniform(9, 25))
    job = a_job(draw.uniform(400, 1000), (rake, splay), inset, size, leg, brace, draw.choice((0.0, 0.15, 0.3)), reveal)
    horn, trim = draw.choice((0.0, 5.0)), draw.choice((0.0, 25.0))
    return replace(job, leg=replace(job.leg, horn_mm=horn, trim_mm=trim))


def directions(job):
    """(down the leg, out of its wide face, out of its narrow edge to the board's end, out of the plane at the rake)."""
    wide = (0.0, sin(radians(job.splay_deg)), cos(radians(job.splay_deg)))
    raked = (sin(radians(job.rake_deg)), 0.0, cos(radians(job.rake_deg)))
    down = unit(cross(wide, raked))
    down = down if down[2] < 0 else scale(down, -1)
    edge = cross(down, wide)
    return down, wide, edge if edge[0] > 0 else scale(edge, -1), raked


def arris_point(job):
    """Where the leg's near wall crosses the board's top arris."""
    return (job.top.length_mm / 2 - job.inset_mm, job.top.width_mm / 2, 0.0)


def cut(body, *planes):
    """The body cut by planes, each (a point, the direction that goes away)."""
    for point, away in planes:
        body = body.kept_below(point, away)
    return body


def everything():
    return Solid.block((-FAR, -FAR, -FAR), (FAR, FAR, FAR))


def leg_sides(job):
    """The four long faces of the +x +y leg as planes."""
    _, wide, edge, _ = directions(job)
    start = arris_point(job)
    outer = add(start, scale(wide, job.housing.reveal_mm))
    inner = subtract(outer, scale(wide, job.leg.thickness_mm))
    far = subtract(start, scale(edge, job.leg.width_mm))
    return (outer, wide), (inner, scale(wide, -1)), (start, edge), (far, scale(edge, -1))


def finished_leg(job):
    """The +x +y leg from the level of the top face to the floor."""
    return cut(everything(), *leg_sides(job), ((0, 0, 0), UP), ((0, 0, -job.height_mm), DOWN))


def leg_as_cut(job):
    """The same leg with horn and trim still on it, both measured along the leg."""
    down = directions(job)[0]
    head = scale(down, -job.leg.horn_mm)
    foot = add((0.0, 0.0, -job.height_mm), scale(down, job.leg.trim_mm))
    return cut(everything(), *leg_sides(job), (head, UP), (foot, DOWN))


def board(job):
    half = job.top.length_mm / 2, job.top.width_mm / 2
    return Solid.block((-half[0], -half[1], -job.top.thickness_mm), (*half, 0.0))


def housing(job):
    """What the housing takes out of the board: walls opened by half the clearance each."""
    _, inner, near, far = leg_sides(job)
    open_by = job.housing.clearance_mm / 2
    return cut(board(job), inner, *((add(p, scale(away, open_by)), away) for p, away in (near, far)))


def hand_sawn_housing(job):
    """The same with its near wall sawn square across the board at the rake, no clearance."""
    _, _, _, raked = directions(job)
    _, inner, _, far = leg_sides(job)
    return cut(board(job), inner, (arris_point(job), raked), far)


def across(p):
    """The mirror image at the other edge of the board."""
    return (p[0], -p[1], p[2])


def brace(job):
    """The flat brace on the outer arrises of the +x legs, tight under the board, ends flush with the outer faces."""
    _, wide, _, raked = directions(job)
    touch = max(finished_leg(job).corners, key=lambda p: dot(p, raked))
    under = (0.0, 0.0, -job.top.thickness_mm)
    falls = cross(Y, raked)
    falls = falls if falls[2] < 0 else scale(falls, -1)
    # The depth is measured on the inside face, from the line in which that face meets the board's underside.
    x_top = (dot(touch, raked) - under[2] * raked[2]) / raked[0]
    bottom = add((x_top, 0.0, under[2]), scale(falls, job.brace.depth_mm))
    outer = leg_sides(job)[0][0]
    return cut(
        everything(),
        (touch, scale(raked, -1)),
        (add(touch, scale(raked, job.brace.thickness_mm)), raked),
        (under, UP),
        (bottom, falls),
        (outer, wide),
        (across(outer), across(wide)),
    )


def between_deg(a, b):
    """The angle between two directions, exact for small angles too."""
    return degrees(atan2(length(cross(a, b)), dot(a, b)))


def lines_deg(a, b):
    """The angle between two lines or two planes' normals, 0 to 90."""
    angle = between_deg(a, b)
    return min(angle, 180 - angle)


def farthest(points, *ways):
    """The point farthest along the first direction; of those within a micron, along the next, and so on."""
    for way in ways:
        most = max(dot(p, way) for p in points)
        points = [p for p in points if dot(p, way) > most - 1e-3]
    assert len(points) == 1, points
    return points[0]


def normal_of(solid, toward):
    """The outward normal of the solid's flat face that looks most nearly toward a direction, from its triangles."""
    mesh = solid.mesh()
    points = mesh.vert_properties[:, :3]
    normals = []
    for a, b, c in mesh.tri_verts:
        turned = cross(*(tuple(float(v) for v in points[k] - points[a]) for k in (b, c)))
        if length(turned) > 1:
            normals.append(unit(turned))
    return max(normals, key=lambda n: dot(n, toward))


def named_corners(solid, job):
    """{(outer or inner, near or far, head or foot): corner} of a leg's solid."""
    _, wide, edge, _ = directions(job)
    sides = {"outer": wide, "inner": scale(wide, -1)}
    ends = {"head": UP, "foot": DOWN}
    edges = {"near": edge, "far": scale(edge, -1)}
    return {
        (side, way, end): farthest(solid.corners, sides[side], edges[way], ends[end])
        for end in ends
        for side in sides
        for way in edges
    }


def extent(points, way):
    along = [dot(p, way) for p in points]
    return max(along) - min(along)


def measured_leg(job):
    """Every figure of the leg, and the two lines of its ends, measured on its solids."""
    down = directions(job)[0]
    finished, as_cut = (named_corners(solid, job) for solid in (finished_leg(job), leg_as_cut(job)))
    tip, toe = finished["outer", "near", "head"], finished["outer", "near", "foot"]
    return {
        "width_mm": extent(finished.values(), normal_of(finished_leg(job), directions(job)[2])),
        "thickness_mm": extent(finished.values(), normal_of(finished_leg(job), directions(job)[1])),
        "length_mm": length(subtract(toe, tip)),
        "cut_length_mm": length(subtract(as_cut["outer", "near", "foot"], as_cut["outer", "near", "head"])),
        "blank_mm": extent(as_cut.values(), down),
        "level_width_mm": length(subtract(finished["outer", "far", "head"], tip)),
        # The next leg of the row is this one shifted along the board until its head lies on this one's foot.
        "along_per_leg_mm": dot(subtract(as_cut["outer", "near", "foot"], as_cut["outer", "near", "head"]), down),
    }


def measured_housing(job):
    solid = housing(job)
    _, wide, edge, _ = directions(job)
    half_length, half_width, thickness = job.top.length_mm / 2, job.top.width_mm / 2, job.top.thickness_mm
    arris = [p for p in solid.corners if p[1] > half_width - 1e-6 and p[2] > -1e-6]
    bottom_arris = [p for p in solid.corners if p[1] > half_width - 1e-6 and p[2] < 1e-6 - thickness]
    return {
        "width_mm": extent(solid.corners, edge),
        "width_on_arris_mm": extent(arris, X),
        "depth_square_mm": extent(solid.corners, wide),
        "depth_top_mm": extent([p for p in solid.corners if p[2] > -1e-6], Y),
        "depth_bottom_mm": extent([p for p in solid.corners if p[2] < 1e-6 - thickness], Y),
        "start_top_mm": half_length - max(p[0] for p in arris),
        "start_bottom_mm": half_length - max(p[0] for p in bottom_arris),
        "volume_mm3": solid.volume,
    }


def measured_brace(job):
    solid, raked = brace(job), directions(job)[3]
    inside = [p for p in solid.corners if dot(p, raked) < min(dot(q, raked) for q in solid.corners) + 1e-6]
    top = [p for p in solid.corners if p[2] > -job.top.thickness_mm - 1e-6]
    leg = named_corners(finished_leg(job), job)
    return {
        "top_mm": extent([p for p in inside if p in top], Y),
        "bottom_mm": extent([p for p in inside if p not in top], Y),
        "depth_mm": extent(inside, unit(subtract(*_ends_of(inside)))),
        "thickness_mm": extent(solid.corners, normal_of(solid, raked)),
        "gap_mm": dot(subtract(leg["outer", "near", "head"], leg["inner", "near", "head"]), raked),
        "stand_back_mm": job.top.length_mm / 2 - max(p[0] for p in top),
    }


def _ends_of(inside):
    """A point of the inside face's top edge and the one below it, at the same y (the middle of the brace)."""
    high, low = max(inside, key=lambda p: p[2]), min(inside, key=lambda p: p[2])
    return (high[0], 0.0, high[2]), (low[0], 0.0, low[2])


def measured_foot(job):
    on_floor = [p for p in finished_leg(job).corners if p[2] < 1e-6 - job.height_mm]
    four = [(sx * x, sy * y, z) for x, y, z in on_floor for sx in (1, -1) for sy in (1, -1)]
    return {"spread_along_mm": extent(four, X), "spread_across_mm": extent(four, Y)}


def measured_angles(job):
    """Every angle of the record, measured between edges and faces of the solids."""
    return {**_leg_angles(job), **_housing_angles(job), **_brace_angles(job)}


def _leg_angles(job):
    solid = finished_leg(job)
    _, wide, edge, _ = directions(job)
    at = named_corners(solid, job)
    tip = at["outer", "near", "head"]
    arris = subtract(at["outer", "near", "foot"], tip)
    on_wide, on_edge = subtract(at["outer", "far", "head"], tip), subtract(at["inner", "near", "head"], tip)
    end, wide_face, narrow = (normal_of(solid, way) for way in (UP, wide, edge))
    return {
        "rake_deg": degrees(atan2(-arris[2], arris[0])),
        "splay_deg": degrees(atan2(-arris[2], arris[1])),
        "true_lean_deg": degrees(atan2(-arris[2], hypot(arris[0], arris[1]))),
        "leg_face_deg": lines_deg(on_wide, arris),
        "leg_edge_deg": 90 - lines_deg(on_edge, arris),
        "saw_mitre_deg": 90 - lines_deg(on_wide, arris),
        "saw_tilt_deg": 90 - lines_deg(end, wide_face),
        "saw_mitre_on_edge_deg": 90 - lines_deg(on_edge, arris),
        "saw_tilt_on_edge_deg": 90 - lines_deg(end, narrow),
        "edge_twist_deg": lines_deg(on_edge, Y),
    }


def _housing_angles(job):
    solid, sawn = housing(job), hand_sawn_housing(job)
    _, wide, edge, raked = directions(job)
    on_edge = [p for p in solid.corners if p[1] > job.top.width_mm / 2 - 1e-6]
    line = subtract(farthest(on_edge, edge, UP), farthest(on_edge, edge, DOWN))
    return {
        "edge_line_deg": lines_deg(line, X),
        "wall_deg": lines_deg(normal_of(sawn, scale(wide, -1)), normal_of(sawn, raked)),
    }


def _brace_angles(job):
    solid = brace(job)
    _, wide, edge, raked = directions(job)
    face, end, top = (normal_of(solid, way) for way in (raked, wide, UP))
    inside = farthest_pair(solid.corners, scale(raked, -1))
    return {
        "brace_end_deg": lines_deg(inside, Y),
        "brace_end_tilt_deg": 90 - lines_deg(face, end),
        "brace_edge_deg": lines_deg(face, top),
        "brace_wedge_deg": lines_deg(face, normal_of(finished_leg(job), edge)),
    }


def farthest_pair(corners, inward):
    """The end line of the brace's inside face at +y, from its top to its bottom."""
    most = max(dot(p, inward) for p in corners)
    inside = [p for p in corners if dot(p, inward) > most - 1e-6 and p[1] > 0]
    high, low = max(inside, key=lambda p: p[2]), min(inside, key=lambda p: p[2])
    return subtract(low, high)
