"""Every feature of every part, measured from the coordinates in every written file, against figures from the job alone.

The parts say which features they have; what each must measure is worked out here from job and shop. A contour that
nothing here measures fails. DXF and SVG, nominal and with the kerf in, are read by readers of the tests' own.
"""

from functools import cache
from math import acos, atan, cos, degrees, hypot, radians, sin, tan

import pytest
from kit_cache import made
from measured_contours import direction_deg, distance, read_closed, signed_distance
from part_names import cut_file, finished_file
from sample_jobs import ideal_shop_text

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

JOB, SHOP = read_job(demo_job_text()), read_shop(ideal_shop_text())
KIT = make_kit(solve(JOB), SHOP)
PARTS = {part.slug: part for part in KIT.parts}
KERF = SHOP.machine.tool_mm
STATES = {"included": (cut_file, KERF / 2), "left out": (finished_file, 0.0)}
CASES = [(slug, form, state) for slug in PARTS for form in ("dxf", "svg") for state in STATES]

RAKE, SPLAY = JOB.rake_deg, JOB.splay_deg
TILT = 90 - SPLAY
FACE = degrees(atan(tan(radians(RAKE)) / sin(radians(SPLAY))))
SHEET, JOINT = SHOP.sheet.thickness_mm, SHOP.sheet.joint_clearance_mm
ROUTER = SHOP.hand_router
OPENING = JOB.leg.width_mm + JOB.housing.clearance_mm + ROUTER.bush_mm - ROUTER.cutter_mm


def cross(a, b):
    """Vector product."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def sharp_angle_deg(a, b):
    """The angle between two directions, at most 90."""
    dot = abs(sum(x * y for x, y in zip(a, b, strict=True))) / (hypot(*a) * hypot(*b))
    return degrees(acos(min(1.0, dot)))


AXIS = (1 / tan(radians(RAKE)), 1 / tan(radians(SPLAY)), -1.0)  # of the (+x, +y) leg, downward
WIDE = (0.0, sin(radians(SPLAY)), cos(radians(SPLAY)))  # out of its wide face: housing floor's normal
WALL = cross(AXIS, WIDE)  # out of its narrow edge: housing wall's normal
UP = (0.0, 0.0, 1.0)

USES = {
    "rake": RAKE,
    "splay": SPLAY,
    "leg face": sharp_angle_deg(AXIS, cross(WIDE, UP)),
    "leg edge": sharp_angle_deg(AXIS, cross(WALL, UP)),
    "board edge": sharp_angle_deg(cross(WALL, (0.0, 1.0, 0.0)), (1.0, 0.0, 0.0)),
    "board faces": sharp_angle_deg(cross(WALL, UP), (1.0, 0.0, 0.0)),
    "true square": 90.0,
}
"""What a flank is for, and its angle by vectors: lines where the planes of leg and housing meet board and floor."""

EXPECTED = {
    ("plate", "slot R, near wall"): FACE,
    ("plate", "slot R, far wall"): FACE,
    ("plate", "slot L, near wall"): 180 - FACE,
    ("plate", "slot L, far wall"): 180 - FACE,
    ("plate", "slot R, opening"): OPENING,
    ("plate", "slot L, opening"): OPENING,
    ("plate", "length"): 452.0,
    ("taper-gauge", "slope"): degrees(atan(1 / 20)),
    ("projection-gauge", "recess over left foot"): SHEET + 7 + JOB.leg.thickness_mm,  # standoff 7, no reveal
    ("projection-gauge", "recess over right foot"): SHEET + 7 + JOB.leg.thickness_mm,
    ("depth-gauge", "top face, low"): (32 - 9.1 * cos(radians(SPLAY))) / sin(radians(SPLAY)) - 0.2,
    ("depth-gauge", "bottom face, high"): (32 - 45 * cos(radians(SPLAY))) / sin(radians(SPLAY)) + 0.2,
    ("leg-gauge", "go, opening"): JOB.leg.width_mm - 0.3,  # cut 0.3 over, to be dressed
    ("leg-gauge", "no-go, opening"): JOB.leg.width_mm - 0.15 - 0.3,
    ("leg-gauge", "thickness, opening"): JOB.leg.thickness_mm - 0.3,
    ("housing-plug", "low, width"): JOB.leg.width_mm + JOB.housing.clearance_mm - 0.075 + 0.3,
    ("housing-plug", "high, width"): JOB.leg.width_mm + JOB.housing.clearance_mm + 0.075 + 0.3,
    ("brace-template", "depth"): JOB.brace.depth_mm,
    ("brace-template", "left end"): degrees(atan(tan(radians(SPLAY)) / sin(radians(RAKE)))),
    ("brace-template", "flank"): 180 - USES["board faces"],  # near square, so set off this edge and not the plate
    ("brace-template", "right end"): 180 - degrees(atan(tan(radians(SPLAY)) / sin(radians(RAKE)))),
}
"""Figures that decide the work, from the job: slots' slant and opening; the plate's length worked out beforehand."""


def expected(part, feature):
    """What a feature must measure, from the job; its own nominal figure where nothing of the job decides it."""
    if (part.slug, feature.name) in EXPECTED:
        return EXPECTED[part.slug, feature.name]
    if feature.kind == "mortise" and feature.name.endswith(", width"):
        return SHEET + JOINT
    if feature.kind == "flank":
        return flank_deg(part, feature)
    stands_on_plate = part.slug in ("bearer", "end-bearer", "mask-foot") and feature.measure == "angle_deg"
    if stands_on_plate and feature.name.startswith(("seat", "plate tenon", "tenon,")):
        return TILT if feature.name.startswith("seat") or feature.name.endswith("end") else TILT + 90
    return feature.value


def flank_deg(part, feature):
    """A flank's direction from its use: as asked at lower left and upper right, its supplement at the other two."""
    use = next(s.name for s in part.settings if s.frame.endswith(feature.name) and not s.name.startswith("worst"))
    angle = USES[use.split(",")[0]]
    return angle if feature.name in ("flank lower left", "flank upper right") else 180 - angle


@cache
def files():
    """The demo's files."""
    return made(demo_job_text(), ideal_shop_text())


@cache
def cut_contours(slug, form, state):
    """({contour's name: contour as read}, the part's origin in the file) for one part in one file."""
    named, offset = STATES[state]
    part, name = PARTS[slug], named(slug, form)
    read = read_closed(name, files()[name])
    outer = [c for c in read if c.layer == SHOP.layers["outer"].name]
    inner = [c for c in read if c.layer == SHOP.layers["inner"].name]
    assert (len(outer), len(inner)) == (1, len(part.holes))
    # both files of a part lay it in the same place
    origin = lowest(outer[0], part) if not offset else cut_contours(slug, form, "left out")[1]
    named = {"outer": outer[0]}
    for hole in part.holes:
        low = complex(*hole.contour.bounds[:2])
        named[hole.name] = min(inner, key=lambda c, low=low: abs(complex(*c.box[:2]) - origin - low))
    assert len({id(c) for c in named.values()}) == len(part.holes) + 1
    return named, origin


def lowest(outer, part):
    """Where the part's origin lies: the box of the outline's corners in the nominal file against that in the part."""
    corners = part.outline.corners
    return complex(*outer.box[:2]) - complex(min(x for x, _ in corners), min(y for _, y in corners))


def as_drawn(value, part, feature, offset):
    """A finished figure as drawn: wider by twice the offset where material lies between the lines, else narrower.

    Lines that run the same way have material on the same side: both are moved alike, and the figure stays.
    """
    if feature.measure == "angle_deg":
        return value
    if feature.measure == "diameter_mm":
        return value - 2 * offset
    pieces = [part.contour(feature.contour).segments[i] for i in feature.pieces]
    line = (complex(*pieces[0].start), complex(*pieces[0].end))
    other = complex(*pieces[1].end) - complex(*pieces[1].start)
    if ((line[1] - line[0]).conjugate() * other).real > 0:
        return value
    middle = (complex(*pieces[1].start) + complex(*pieces[1].end)) / 2
    # outlines run anticlockwise and holes clockwise: material lies left of every line
    return value + (2 * offset if signed_distance(middle, line) > 0 else -2 * offset)


def matching_piece(contour, wanted, origin):
    """The straight piece of a read contour that stands for a nominal one: parallel, nearest to its middle."""
    start, end = complex(*wanted.start) + origin, complex(*wanted.end) + origin
    middle, unit = (start + end) / 2, (end - start) / abs(end - start)
    straight = [p for p in contour.pieces if p[2] == 0 and abs(p[1] - p[0]) > 1e-6]
    parallel = [p for p in straight if abs(((p[1] - p[0]) * unit.conjugate()).imag) < 1e-5]
    return min(parallel, key=lambda p: abs((p[0] + p[1]) / 2 - middle))


def measured(part, feature, named, origin):
    """The feature's figure from the coordinates that were read."""
    contour, nominal = named[feature.contour], part.contour(feature.contour)
    if contour.circle:
        return 2 * contour.circle[1]
    pieces = [matching_piece(contour, nominal.segments[i], origin) for i in feature.pieces]
    return direction_deg(pieces[0]) if feature.measure == "angle_deg" else distance(*pieces)


@pytest.mark.parametrize(("slug", "form", "state"), CASES)
def test_every_feature_measures_what_the_job_asks(slug, form, state):
    """Angles within 1e-4 degrees (six decimals on the shortest pieces), widths within 3e-6 mm."""
    part, offset = PARTS[slug], STATES[state][1]
    named, origin = cut_contours(slug, form, state)
    for feature in part.features:
        if feature.kind == "corner" or feature.measure in ("length_mm", "x_mm", "y_mm"):
            continue  # their lines are judged, one by one, below
        wanted = as_drawn(expected(part, feature), part, feature, offset)
        tolerance = 1e-4 if feature.measure == "angle_deg" else 3e-6
        assert measured(part, feature, named, origin) == pytest.approx(wanted, abs=tolerance), feature.name


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("form", ["dxf", "svg"])
def test_flanks_and_slot_walls_to_the_last_digit(form, state):
    """The long lines that set a bevel or guide the bush: within 1e-5 degrees of the job's angles."""
    found = 0
    for part in KIT.parts:
        for feature in part.features:
            if feature.kind in ("flank", "slot_wall") and feature.measure == "angle_deg":
                named, origin = cut_contours(part.slug, form, state)
                assert measured(part, feature, named, origin) == pytest.approx(expected(part, feature), abs=1e-5)
                found += 1
    assert found == 4 + 1 + 4  # bevel plate, brace template, both slots


@pytest.mark.parametrize(("slug", "form", "state"), CASES)
def test_every_line_is_moved_to_the_waste_side(slug, form, state):
    """Each straight piece and each circle of each contour lies exactly the offset off its nominal place."""
    part, offset = PARTS[slug], STATES[state][1]
    named, origin = cut_contours(slug, form, state)
    for name, contour in named.items():
        nominal = part.contour(name)
        if contour.circle:
            assert abs(contour.circle[0] - origin - complex(*nominal.centre)) < 2e-6
            assert contour.circle[1] == pytest.approx(nominal.radius - offset, abs=2e-6)
            continue
        for segment in (s for s in nominal.segments if not s.bulge):
            piece = matching_piece(contour, segment, origin)
            line = (complex(*segment.start) + origin, complex(*segment.end) + origin)
            middle = (piece[0] + piece[1]) / 2
            assert signed_distance(middle, line) == pytest.approx(-offset, abs=3e-6), (name, segment)


def test_every_piece_of_every_contour_belongs_to_a_feature():
    """No outline or hole is left that nothing measures."""
    for part in KIT.parts:
        for name in ["outer", *(hole.name for hole in part.holes)]:
            mine = [f for f in part.features if f.contour == name]
            assert mine, (part.slug, name)
            straight = {i for i, s in enumerate(getattr(part.contour(name), "segments", ())) if not s.bulge}
            assert straight <= {i for f in mine for i in f.pieces}, (part.slug, name)


def test_the_figures_that_decide_the_work_are_all_there():
    """Every expected figure was found as a feature, so none of them is listed in vain."""
    present = {(part.slug, feature.name) for part in KIT.parts for feature in part.features}
    assert set(EXPECTED) <= present
