"""Kits spoilt in every file and in all of kit.json, judged without a file being written: Parts in, findings out.

A part is changed before its lines are made, and its features are told anew from the changed contours: nothing differs
from anything, and only the job can show the fault. Part frames; mm, degrees.
"""

from dataclasses import replace
from functools import cache
from math import dist, radians, tan

from folders_from_records import folder_of, with_part_of_kit
from sample_jobs import DEMO, DEMO_SHOP
from spoil_read_folder import only

from jigmaker.errors import OutlineError, TooNarrow
from jigmaker.geometry.frames import Frame, PlaneFrame
from jigmaker.geometry.outline import Arc, Circle, Outline, piece
from jigmaker.parts.corners import direction_deg
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.use.fit import fit_findings, prove_fit
from jigmaker.trestle.solve import solve

SHOP = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, compensation="included", marking="none"))

REFUSED = 0


@cache
def kit():
    """The demo's parts by slug."""
    return {part.slug: part for part in make_kit(solve(DEMO), SHOP).parts}


@cache
def sound(slugs):
    """(folder, what the judge misses in it, its parts as cut) of these parts alone."""
    folder, before = only(whole_folder(), *slugs), CutBefore()
    return folder, {_key(finding) for finding in prove_fit(folder, before)[0]}, before


@cache
def whole_folder():
    """All parts of the demo's kit, as files of them would be read."""
    return folder_of(DEMO, SHOP, with_sheets=False)


def codes_of(slugs, changes):
    """The codes of what the judge finds when these parts are changed, each {slug: change} of a Part into a Part.

    REFUSED alone when there is no such part, or the tool cannot cut it.
    """
    try:
        return set(_codes(spoilt(slugs, changes), slugs))
    except (OutlineError, TooNarrow):
        return {REFUSED}


def is_found(folder, slugs):
    """Whether the judge finds anything of tool, size, fit or assembly in a spoilt folder; it stops at the first."""
    return any(code >= 200 for code in _codes(folder, slugs))


def spoilt(slugs, changes):
    """The folder of these parts, some of them changed. Raises OutlineError and TooNarrow as the kit does."""
    folder, _, _ = sound(slugs)
    for slug, change in changes.items():
        folder = with_part_of_kit(folder, told_anew(change(kit()[slug])))
    return folder


def _codes(folder, slugs):
    """The codes of what the judge finds in it and not in the sound one, as it goes on."""
    _, known, before = sound(slugs)
    found = fit_findings(folder, before.copy(), [])
    return (finding.code for finding in found if _key(finding) not in known)


def with_setting_off(slugs, name, by):
    """The folder of these parts with a figure of the set-up told off by so much, in kit and parts."""
    folder, _, _ = sound(slugs)

    def off(settings):
        return tuple((told, value + by if told == name else value, unit) for told, value, unit in settings)

    assert off(folder.kit.settings) != folder.kit.settings, f"no setting is called {name}"
    parts = tuple(replace(part, settings=off(part.settings)) for part in folder.kit.parts)
    return replace(folder, kit=replace(folder.kit, parts=parts, settings=off(folder.kit.settings)))


def told_anew(part):
    """The part in a frame at its new box's corner, each feature's figure as its contours now are."""
    low_x, low_y, _, _ = part.outline.bounds
    back = PlaneFrame(-low_x, -low_y)
    moved = replace(
        part,
        outline=part.outline.placed(back),
        holes=tuple(replace(hole, contour=hole.contour.placed(back)) for hole in part.holes),
        placements=tuple(
            replace(place, assembly_from_part=place.assembly_from_part @ Frame((low_x, low_y, 0.0)))
            for place in part.placements
        ),
    )
    return replace(moved, features=tuple(replace(f, value=_figure(moved, f)) for f in moved.features))


def edge_moved(name, start_mm, end_mm=None):
    """A change: a straight piece's two ends moved out of the material, its corners sliding along its neighbours.

    Roundings and relief bites go along with their corner. One figure moves the piece as it is, two turn it.
    """

    def change(part):
        feature = next(f for f in part.features if f.name == name)
        shape = part.contour(feature.contour)
        new = _slid(shape, feature.pieces[0], start_mm, start_mm if end_mm is None else end_mm)
        return with_contour(part, feature.contour, new)

    return change


def edge_turned(name, angle_deg):
    """A change: a straight piece turned about its middle."""

    def change(part):
        feature = next(f for f in part.features if f.name == name)
        half = tan(radians(angle_deg)) * part.contour(feature.contour).segments[feature.pieces[0]].length / 2
        return edge_moved(name, -half, half)(part)

    return change


def contour_moved(name, dx, dy):
    """A change: an opening moved as it is."""
    return lambda part: with_contour(part, name, part.contour(name).placed(PlaneFrame(dx, dy)))


def hole_wider(name, by_mm):
    """A change: a round hole's diameter."""
    return lambda part: with_contour(
        part, name, replace(part.contour(name), radius=part.contour(name).radius + by_mm / 2)
    )


def corner_rounder(contour, number, by_mm):
    """A change: the radius of one rounding between two straight pieces, which it goes on to touch."""

    def change(part):
        pieces = list(part.contour(contour).segments)
        arc, cut = pieces[number], tan(abs(pieces[number].included) / 2) * by_mm
        before, after = pieces[number - 1], pieces[(number + 1) % len(pieces)]
        start = _along(before.end, before.end_direction, -cut)
        end = _along(after.start, after.start_direction, cut)
        pieces[number - 1] = piece(before.start, start)
        pieces[number] = piece(start, end, arc.bulge)
        pieces[(number + 1) % len(pieces)] = piece(end, after.end)
        return with_contour(part, contour, Outline(tuple(pieces)))

    return change


def with_contour(part, name, shape):
    """The part with one contour put in place of its own."""
    if name == "outer":
        return replace(part, outline=shape)
    return replace(part, holes=tuple(replace(h, contour=shape) if h.name == name else h for h in part.holes))


def _slid(outline, number, start_mm, end_mm):
    """The outline with one straight piece moved; what lies between it and the straight pieces beside it goes along."""
    pieces, count = outline.segments, len(outline.segments)
    (ux, uy), moves = pieces[number].start_direction, {}
    for step, out_mm in ((-1, start_mm), (1, end_mm)):
        beside = number + step
        while isinstance(pieces[beside % count], Arc):
            beside += step
        (vx, vy) = pieces[beside % count].start_direction
        far = out_mm / (vx * uy - vy * ux)
        corners = range(beside + 1, number + 1) if step < 0 else range(number + 1, beside + 1)
        moves |= {k % count: (vx * far, vy * far) for k in corners}
    at = [(p.start[0] + moves.get(k, (0, 0))[0], p.start[1] + moves.get(k, (0, 0))[1]) for k, p in enumerate(pieces)]
    return Outline(tuple(piece(at[k], at[(k + 1) % count], p.bulge) for k, p in enumerate(pieces)))


def _along(at, way, by_mm):
    return at[0] + way[0] * by_mm, at[1] + way[1] * by_mm


def _key(finding):
    return finding.code, finding.part, finding.at


def _figure(part, feature):
    contour = part.contour(feature.contour)
    if isinstance(contour, Circle):
        return 2 * contour.radius
    first = contour.segments[feature.pieces[0]]
    if feature.measure == "diameter_mm":
        return 2 * first.radius
    if feature.measure == "angle_deg":
        return direction_deg(first.start, first.end)
    if feature.measure == "across_mm":
        (ux, uy), other = first.start_direction, contour.segments[feature.pieces[1]]
        middle = (
            (other.start[0] + other.end[0]) / 2 - first.start[0],
            (other.start[1] + other.end[1]) / 2 - first.start[1],
        )
        return abs(ux * middle[1] - uy * middle[0])
    return {
        "length_mm": dist(first.start, first.end),
        "x_mm": (first.start[0] + first.end[0]) / 2,
        "y_mm": (first.start[1] + first.end[1]) / 2,
    }[feature.measure]
