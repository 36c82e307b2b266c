"""Ways to spoil a folder, for showing that the judge sees it: one file's bytes, or a part's files and kit.json alike.

A consistent fault is put into the plan, before any file is made from it: then every file and kit.json agree, and only
what the job asks for can show that something is wrong.
"""

import re
from dataclasses import replace
from math import cos, radians, sin

from jigmaker.findings import cautions_in
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Circle, Outline, piece
from jigmaker.making import kit_json, numbers_json
from jigmaker.making.cut_files import cut_files
from jigmaker.making.cuttable import check_cuttable
from jigmaker.making.job_check import check_job, refuse_errors
from jigmaker.making.json_text import json_text
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.parts.part import Hole
from jigmaker.sheets.place import refuse_too_large, single_part_sheet
from jigmaker.trestle.solve import solve


def with_part(plan, slug, change):
    """The plan with one part changed everywhere: in the kit, on its own sheet and on every placed sheet."""

    def on_sheet(sheet):
        placed = tuple(replace(p, part=change(p.part)) if p.part.slug == slug else p for p in sheet.placed)
        return replace(sheet, placed=placed)

    parts = tuple(change(part) if part.slug == slug else part for part in plan.kit.parts)
    assert parts != plan.kit.parts, f"nothing changed in {slug}"
    return replace(
        plan,
        kit=replace(plan.kit, parts=parts),
        part_sheets=tuple(on_sheet(sheet) for sheet in plan.part_sheets),
        sheets=tuple(on_sheet(sheet) for sheet in plan.sheets),
    )


def with_settings(plan, name, by):
    """The plan with one figure of the set-up changed, in the kit and on every part that tells it."""

    def changed(settings):
        return tuple(replace(s, value=s.value + by) if s.name == name else s for s in settings)

    parts = tuple(replace(part, settings=changed(part.settings)) for part in plan.kit.parts)
    return replace(plan, kit=replace(plan.kit, parts=parts, settings=changed(plan.kit.settings)))


def light_plan(job, shop, source):
    """A plan without marks and without placed sheets, so that one part's files are quickly made anew.

    Raises what the whole plan would: JobError with every fault, DoesNotFit for parts larger than the sheet.
    """
    shop = replace(shop, machine=replace(shop.machine, marking="none"))
    findings = check_job(job, shop)
    refuse_errors(findings, source)
    kit = make_kit(solve(job), shop)
    refuse_errors(check_cuttable(kit), source)
    refuse_too_large(kit.parts, shop)
    alone = tuple(single_part_sheet(part, shop.machine.widest_cut_mm) for part in kit.parts)
    return Plan(job, shop, kit, alone, (), tuple(cautions_in(findings)))


def files_of(plan, source, base_plan=None, base_cuts=()):
    """(files, cut files) of a plan; parts that are those of the base plan keep the base's cut files."""
    kept = {part.slug for part in base_plan.kit.parts if part in plan.kit.parts} if base_plan else set()
    fresh = [i for i, part in enumerate(plan.kit.parts) if part.slug not in kept]
    small = replace(
        plan,
        kit=replace(plan.kit, parts=tuple(plan.kit.parts[i] for i in fresh)),
        part_sheets=tuple(plan.part_sheets[i] for i in fresh),
    )
    made = {cut.name: cut for cut in (*[c for c in base_cuts if c.sheet in kept], *cut_files(small))}
    order = [part.slug for part in plan.kit.parts]
    cuts = sorted(made.values(), key=lambda cut: order.index(cut.sheet))
    others = {
        numbers_json.NAME: json_text(numbers_json.all_numbers(plan.kit.trestle, plan.shop)),
        "job.toml": source.job_text,
        "shop.toml": source.shop_text,
        **{cut.name: cut.data for cut in cuts},
    }
    return {kit_json.NAME: kit_json.kit_json(plan, cuts, others), **others}, tuple(cuts)


def vertex_moved(contour, index, dx, dy):
    """A change that moves one corner of a contour ("outer" or a hole's name); pieces on both sides follow."""

    def change(part):
        return _reshaped(part, contour, lambda shape: _moved_corner(shape, index, dx, dy))

    return change


def turned(contour, angle_deg):
    """A change that turns a whole contour about the middle of its box."""

    def change(part):
        x0, y0, x1, y1 = part.contour(contour).bounds
        centre = ((x0 + x1) / 2, (y0 + y1) / 2)
        return _reshaped(part, contour, lambda shape: _mapped(shape, _turn(centre, angle_deg)))

    return change


def shifted(contour, dx, dy):
    """A change that moves a whole contour."""

    def change(part):
        return _reshaped(part, contour, lambda shape: _mapped(shape, lambda p: (p[0] + dx, p[1] + dy)))

    return change


def stretched(contour, sx, sy):
    """A change that stretches a whole contour about the middle of its box."""

    def change(part):
        x0, y0, x1, y1 = part.contour(contour).bounds
        cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
        return _reshaped(
            part, contour, lambda shape: _mapped(shape, lambda p: (cx + sx * (p[0] - cx), cy + sy * (p[1] - cy)))
        )

    return change


def radius_changed(hole, by):
    """A change that makes a round hole larger."""

    def change(part):
        return _reshaped(part, hole, lambda shape: Circle(shape.centre, shape.radius + by))

    return change


def hole_dropped(hole):
    """A change that forgets a hole with its features."""

    def change(part):
        return replace(
            part,
            holes=tuple(h for h in part.holes if h.name != hole),
            features=tuple(f for f in part.features if f.contour != hole),
        )

    return change


def mirrored(part):
    """The part as its mirror image, marks left as they are."""
    width = part.outline.bounds[2]

    def across(shape):
        flipped = shape.mirrored()
        return _mapped(flipped, lambda p: (p[0] + width, p[1]))

    holes = tuple(Hole(h.name, across(h.contour)) for h in part.holes)
    return replace(part, outline=across(part.outline), holes=holes)


def placed_off(dx=0.0, dy=0.0, dz=0.0, turn_deg=0.0):
    """A change that puts every piece of the part elsewhere in the assembly, turned about its own x axis."""

    def change(part):
        made = []
        for place in part.placements:
            frame = place.assembly_from_part
            c, s = cos(radians(turn_deg)), sin(radians(turn_deg))
            local = Frame((dx, dy, dz), (1.0, 0.0, 0.0), (0.0, c, s), (0.0, -s, c))
            made.append(replace(place, assembly_from_part=frame @ local))
        return replace(part, placements=tuple(made))

    return change


def _reshaped(part, contour, change):
    if contour == "outer":
        return replace(part, outline=change(part.outline))
    holes = tuple(Hole(h.name, change(h.contour)) if h.name == contour else h for h in part.holes)
    return replace(part, holes=holes)


def _mapped(shape, move):
    if isinstance(shape, Circle):
        return Circle(move(shape.centre), shape.radius)
    return Outline(tuple(piece(move(s.start), move(s.end), s.bulge) for s in shape.segments))


def _moved_corner(shape, index, dx, dy):
    at = shape.segments[index].start
    return _mapped(shape, lambda p: (p[0] + dx, p[1] + dy) if p == at else p)


def _turn(centre, angle_deg):
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))

    def move(p):
        x, y = p[0] - centre[0], p[1] - centre[1]
        return (centre[0] + c * x - s * y, centre[1] + s * x + c * y)

    return move


def dxf_scaled(data, factor):
    """Every length of a DXF times a factor, as a wrong import or export would leave it; the header's unit stays."""
    lines = data.decode("ascii").splitlines()
    for i in range(0, len(lines) - 1, 2):
        if int(lines[i]) in (10, 11, 20, 21, 40) and re.fullmatch(r"\s*-?\d+(\.\d+)?\s*", lines[i + 1]):
            lines[i + 1] = f"{float(lines[i + 1]) * factor:.6f}"
    return ("\n".join(lines) + "\n").encode("ascii")


def svg_scaled(data, factor):
    """Width and height of an SVG times a factor; its viewBox stays."""
    text = data.decode("utf-8")
    return re.sub(
        r'(width|height)="([\d.]+)mm"', lambda m: f'{m[1]}="{float(m[2]) * factor:.6f}mm"', text, count=2
    ).encode("utf-8")
