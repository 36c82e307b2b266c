"""A Plan and the files made from it in, kit.json's content out: all that a stranger needs to assemble the kit.

Lengths in mm and angles in degrees, units in the keys. Vertices are [x, y, bulge] in the part frame, the bulge being
that of the piece which starts there; placements are assembly_from_part, parts on sheets sheet_from_part.
"""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from decimal import Decimal
from hashlib import sha256
from typing import Any

from jigmaker import __version__
from jigmaker.cutting.holding import is_told
from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.job.job import Job
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import Shop
from jigmaker.making.cut_files import CutFile
from jigmaker.making.json_text import json_text, ratio
from jigmaker.making.ownership import KIT, sealed
from jigmaker.making.plan import Plan
from jigmaker.parts.part import Part, Setting
from jigmaker.sheets.sheet import Sheet

SCHEMA = f"jigmaker kit {KIT_NUMBER}"
NAME = KIT
_FILES = b' "files": {\n  "'


def kit_json(plan: Plan, cut_files: Sequence[CutFile], files: Mapping[str, bytes], is_whole: bool = True) -> bytes:
    """kit.json. `files` are all files of the folder but kit.json itself, by name; each is listed with its hash.

    is_whole: False for some parts of a kit, which cannot be put together by themselves.
    """
    # What a reader needs first stands first; the list of files last, where it can be written anew without the rest, and
    # behind it the seal.
    shop, held = plan.shop, dict[str, dict[str, Any]]()
    if is_told(shop.machine):
        held = {each.part.slug: {"bridges": each.bridges, "held_by": each.how} for each in plan.held}
    content = {
        "schema": SCHEMA,
        "version": __version__,
        "kit_number": plan.kit.number,
        **({} if is_whole else {"whole": False}),
        "job": _asked(plan.job),
        "shop": _asked(shop),
        "settings": [_setting(setting) for setting in plan.kit.settings],
        "parts": [_part(part, cut_files) | held.get(part.slug, {}) for part in plan.kit.parts],
        "sheets": [_sheet(sheet, cut_files, shop) for sheet in plan.sheets],
        "files": _hashes(files),
    }
    return sealed(json_text(content))


def _asked(record: Job | Shop) -> dict[str, Any]:
    """Every field but the file, which lies beside kit.json, and the timber and further sizes where there are none."""
    nothing = (("timber", None), ("further_sizes", ()))
    told = asdict(record).items()
    return {key: value for key, value in told if key != "read_from" and (key, value) not in nothing}


def relisted(kit: bytes, files: Mapping[str, bytes]) -> bytes:
    """A kit.json with another list of files, which is its last entry but the seal; all before it stays as it is."""
    # Cut at the text, not read and written again: whatever this jigmaker would write otherwise stays as it was.
    before, _, _ = kit.rpartition(_FILES)
    listed = json_text({"files": _hashes(files)})
    return sealed(before + listed.removeprefix(b"{").removeprefix(b"\n"))


def _hashes(files: Mapping[str, bytes]) -> dict[str, str]:
    return {name: sha256(data).hexdigest() for name, data in files.items()}


def _part(part: Part, cut_files: Sequence[CutFile]) -> dict[str, Any]:
    marks = []
    for mark in part.marks:
        size = {"height_mm": mark.height_mm, "turn_deg": mark.turn_deg}
        words = {"fact": mark.fact, "text": mark.text, "at_mm": list(mark.at), **size}
        # Lines that spell nothing are given in full, letters are not.
        marks.append(words if mark.text else words | {"strokes_mm": [_vertices(stroke) for stroke in mark.strokes]})
    placements = []
    for placement in part.placements:
        frame = placement.assembly_from_part
        axes = {name: [ratio(each) for each in getattr(frame, name)] for name in ("x_axis", "y_axis", "z_axis")}
        placements.append({"name": placement.name, "state": placement.state, "origin_mm": list(frame.origin), **axes})
    return {
        "name": part.name,
        "slug": part.slug,
        "assembly": part.assembly,
        "hand": part.hand,
        "needed": part.needed,
        "spares": part.spares,
        "thickness_mm": part.thickness_mm,
        "outline": _contour(part.outline),
        "holes": [{"name": hole.name, **_contour(hole.contour)} for hole in part.holes],
        "features": [
            {
                "name": feature.name,
                "kind": feature.kind,
                "contour": feature.contour,
                "pieces": list(feature.pieces),
                feature.measure: float(feature.value),
            }
            for feature in part.features
        ],
        "marks": marks,
        "settings": [_setting(setting) for setting in part.settings],
        "placements": placements,
        "files": _files_of(part.slug, cut_files),
        **({"least_wood_mm": dict(part.least_wood_mm)} if part.least_wood_mm else {}),
    }


def _contour(contour: Outline | Circle) -> dict[str, Any]:
    if isinstance(contour, Circle):
        return {"centre_mm": list(contour.centre), "radius_mm": contour.radius}
    return {"vertices_mm": _vertices(contour)}


def _vertices(chain: Outline | Stroke) -> list[list[float | Decimal]]:
    """[x, y, bulge] where each piece starts; of an open stroke its end too, with no piece and so no bulge after it."""
    rows: list[list[float | Decimal]] = [[*segment.start, ratio(segment.bulge)] for segment in chain.segments]
    return rows if isinstance(chain, Outline) else [*rows, [*chain.segments[-1].end, ratio(0)]]


def _setting(setting: Setting) -> dict[str, Any]:
    return {
        "name": setting.name,
        f"value_{setting.unit}": float(setting.value),
        "why": setting.why,
        "frame": setting.frame,
    }


def _sheet(sheet: Sheet, cut_files: Sequence[CutFile], shop: Shop) -> dict[str, Any]:
    # All files of a sheet show the same sheet: screws, way and openings are taken from the first.
    screws = next((list(made.screws_at) for made in cut_files if made.sheet == sheet.name), [])
    pieces = [(placed.part.slug, placed.sheet_from_part) for placed in sheet.placed]
    cut_mm, pierces = next((made.cut_mm, made.pierces) for made in cut_files if made.sheet == sheet.name)
    return {
        "name": sheet.name,
        "length_mm": sheet.length_mm,
        "width_mm": sheet.width_mm,
        "pieces": [
            {"part": slug, "x_mm": frame.x, "y_mm": frame.y, "turn_deg": frame.turn_deg} for slug, frame in pieces
        ],
        "files": _files_of(sheet.name, cut_files),
        "cut_mm": cut_mm,
        "pierces": pierces,
        **({"screws_mm": [list(at) for at in screws]} if shop.machine.kind == "cnc" else {}),
    }


def _files_of(sheet: str, cut_files: Sequence[CutFile]) -> list[dict[str, Any]]:
    told = []
    for made in [made for made in cut_files if made.sheet == sheet]:
        # What was done to the lines against a crooked machine; nothing for an ideal one. Degrees and mm.
        crooked: dict[str, Any] = {} if made.cut_width_mm is None else {"cut_width_mm": list(made.cut_width_mm)}
        if bent := made.correction:
            crooked["correction"] = {
                "scale_x": ratio(bent.scale_x),
                "scale_y": ratio(bent.scale_y),
                "skew_deg": float(bent.skew_deg),
                "moved_mm": [bent.moved_x_mm, bent.moved_y_mm],
            }
        told.append(
            {
                "name": made.name,
                "compensation": made.compensation,
                "tool_mm": made.tool_mm,
                "offset_mm": made.offset_mm,
                "operations": list(made.operations),
                "shapes": dict(made.shapes),
                "has_reference_square": made.has_square,
                **crooked,
                "sha256": sha256(made.data).hexdigest(),
            }
        )
    return told
