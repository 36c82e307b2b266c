"""Some parts of a kit cut again, also from a sheet of another thickness: Job, Shop and names in, a Plan and files out.

The plan is the old kit with the new parts in it and only those on its sheets, so that its files prove both: that the
parts come off the machine right, and that they go together with what was cut before. mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from jigmaker.errors import JobError, UsageError
from jigmaker.job.naming import slug_of
from jigmaker.making import kit_json
from jigmaker.making.cut_files import CutFile, cut_files
from jigmaker.making.disk import start_of
from jigmaker.making.make import beside_cuts
from jigmaker.making.naming import SHEETS
from jigmaker.making.ownership import KIT, LONGEST_KIT
from jigmaker.making.plan import Plan, alone, kit_plan, placed
from jigmaker.parts.housing_jig.layout import PLATES, lay_out_jigs
from jigmaker.parts.housing_jig.mask import BELOW_MM
from jigmaker.parts.relief import mortise_width
from jigmaker.proof.readers.read_kit import read_kit
from jigmaker.proof.words.known_number import kit_number
from jigmaker.units import caliper_text, length_text

if TYPE_CHECKING:
    from jigmaker.job.job import Job
    from jigmaker.job.shop import Shop
    from jigmaker.making.job_check import Source

# Parts whose tenons go into mortises, and of what.
_TENONED = {
    "bearer": "plate and fence or back strip",
    "end-bearer": "plate and stop",
    "mask-foot": "masks",
    **{f"leg-box-{part}": "the leg box's bottom" for part in ("near-wall", "far-wall", "strip")},
    **{f"leg-box-{part}": "the leg box's bottom" for part in ("near-half", "far-half", "right-half")},
}

_STACKED = {"foot-block-nose", "foot-block-layer"}


def plan_again(job: Job, shop: Shop, source: Source, wanted: Sequence[str], thickness_mm: float | None) -> Plan:
    """The kit with the wanted parts, by slug or name, out of a sheet of this thickness; no others on its sheets.

    Raises UsageError for a part that the kit does not have, or that is cut with others; JobError, DoesNotFit as `plan`.
    """
    if shop.machine.is_paper:
        raise JobError('shop machine.kind is "paper": nothing is cut again; print the page of that part once more')
    kept = kit_plan(job, shop, source)
    # A part may be asked for by its name or by its slug, in any order; the kit's order decides.
    known = {part.slug: part.name for part in kept.kit.parts}
    asked = ["-".join(name.lower().split()) for name in wanted]
    unknown = [name for name, slug in zip(wanted, asked, strict=True) if slug not in known]
    if unknown:
        raise UsageError(f"this kit has no part {', '.join(unknown)}; its parts: {', '.join(known)}")
    slugs = tuple(slug for slug in known if slug in asked)
    if thickness_mm is None or thickness_mm == shop.sheet.thickness_mm:
        made = kept
    else:
        _refuse_what_hangs_together(slugs, shop, thickness_mm)
        # The new sheet serves the wanted parts alone, and the foot block as a whole where all its layers are wanted;
        # standing first it is found before the sheets that the shop file has.
        serves = (*slugs, "foot block") if set(slugs) >= _STACKED else slugs
        other = replace(shop.sheet, thickness_mm=thickness_mm, serves=serves)
        made = kit_plan(job, replace(shop, further_sheets=(other, *shop.further_sheets)), source)
    parts = tuple(part for part in made.kit.parts if part.slug in slugs)
    part_sheets = alone(made.kit.parts, made.shop)
    return replace(made, part_sheets=part_sheets, sheets=placed(parts, made.shop))


def whole_files(plan: Plan, source: Source) -> tuple[dict[str, bytes], tuple[CutFile, ...]]:
    """What is proved: kit.json of the whole kit with all its files; and the cut files among them."""
    cuts = cut_files(plan)
    others = beside_cuts(plan, source, cuts)
    return {kit_json.NAME: kit_json.kit_json(plan, cuts, others), **others}, cuts


def few_files(plan: Plan, source: Source, shop: Shop, cuts: Sequence[CutFile]) -> dict[str, bytes]:
    """What is written: the sheets, the parts on them at finished size, and a kit.json that tells of these alone.

    shop: as the shop file has it, without the other sheet.
    """
    slugs = {piece.part.slug for sheet in plan.sheets for piece in sheet.placed}
    chosen = [i for i, part in enumerate(plan.kit.parts) if part.slug in slugs]
    parts = tuple(plan.kit.parts[i] for i in chosen)
    held = tuple(plan.held[i] for i in chosen)
    few = replace(
        plan,
        kit=replace(plan.kit, parts=parts),
        part_sheets=tuple(plan.part_sheets[i] for i in chosen),
        held=held,
    )
    own = tuple(cut for cut in cuts if cut.sheet in slugs or cut.name.startswith(SHEETS))
    others = beside_cuts(few, source, own)
    told = kit_json.kit_json(replace(few, shop=shop), own, others, is_whole=False)
    return {kit_json.NAME: told, **others}


def folder_name(plan: Plan) -> str:
    """ "potting-bench-only-bearer-mask-foot"."""
    slugs = dict.fromkeys(piece.part.slug for sheet in plan.sheets for piece in sheet.placed)
    names = "-".join(part.slug for part in plan.kit.parts if part.slug in slugs)
    return f"{plan.job.slug}-only-{slug_of(names)}"


def other_kit(plan: Plan, folders: Iterable[Path]) -> tuple[Path, str] | None:
    """The first folder with a whole kit of another number, and that number, where a part of the jig is cut again.

    The number of a kit that was made before there were numbers is worked out from its parts; a folder without a kit, or
    with one that cannot be read, says nothing.
    """
    if not any(piece.part.assembly == "housing jig" for sheet in plan.sheets for piece in sheet.placed):
        return None
    for folder in dict.fromkeys(folders):
        try:
            kit, _ = read_kit(start_of(folder / KIT, LONGEST_KIT))
        except OSError:
            continue
        number = (kit.kit_number or kit_number(kit)) if kit and kit.is_whole else ""
        if number not in ("", plan.kit.number):
            return folder, number
    return None


def what_changes(plan: Plan, shop: Shop) -> list[str]:
    """In sentences: what the other sheet means for the parts that stay. shop: as the kit was cut. Units of the job."""
    # Outlines stay as they are; another thickness changes what lies on a part's face or goes through it.
    slugs = {piece.part.slug: piece.part for sheet in plan.sheets for piece in sheet.placed}
    told = []
    for slug, part in slugs.items():
        if part.thickness_mm != shop.sheet_for(slug, part.assembly).thickness_mm:
            told += _changes_with(slug, part.thickness_mm, plan, shop)
    if not told and any(part.thickness_mm != shop.sheet.thickness_mm for part in slugs.values()):
        told = ["Nothing else of the kit changes with this sheet."]
    return told


def _changes_with(slug: str, thickness_mm: float, plan: Plan, shop: Shop) -> list[str]:
    unit = plan.job.unit

    def figure(mm: float) -> str:
        return caliper_text(mm, unit)

    if slug in PLATES:
        old, new = (lay_out_jigs(plan.kit.trestle, each)[0].projection for each in (shop, plan.shop))
        under = BELOW_MM + thickness_mm - shop.sheet.thickness_mm
        masks = [f"The masks' faces lie {figure(under)} under the new plate's, {figure(BELOW_MM)} before."]
        return [
            f"Projection: {figure(new)} below the base with this plate, {figure(old)} with the old one. The kit's "
            "projection gauge is for the old one: set the cutter with a caliper, or cut the gauge again too.",
            *(masks if any(part.slug.startswith("mask-for") for part in plan.kit.parts) else []),
        ]
    if slug in _TENONED:
        wide = mortise_width(shop)
        return [
            f"Mortises in {_TENONED[slug]} are {figure(wide)} wide: tenons of the new {slug.replace('-', ' ')} have "
            f"{figure(wide - thickness_mm)} of play in them, {figure(wide - shop.sheet.thickness_mm)} before."
        ]
    if slug in _STACKED:
        return [
            f"Scribing heights: each layer is {figure(thickness_mm)}; the old layers and nose are not to be mixed in."
        ]
    return []


def _refuse_what_hangs_together(slugs: Sequence[str], shop: Shop, thickness_mm: float) -> None:
    old, new = (length_text(mm, shop.files.unit) for mm in (shop.sheet.thickness_mm, thickness_mm))
    faults = []
    if "fence-or-back-strip" in slugs:
        faults.append(
            f"fence or back strip: the bearers stand against its face, so from a sheet {new} thick the jig would sit "
            f"elsewhere on the board; cut it from a sheet {old} thick, or make the whole kit from the new sheet"
        )
    # Mortises have been cut for the old sheet: a thinner one goes in with more play, a thicker one not at all.
    most = mortise_width(shop)
    if thickness_mm > most:
        wide = length_text(most, shop.files.unit)
        faults += [
            f"{slug.replace('-', ' ')}: its tenons do not go into the mortises of the kit, which are {wide} wide, "
            f"from a sheet {new} thick; take one of {wide} or less, or make the whole kit from the new sheet"
            for slug in slugs
            if slug in _TENONED
        ]
    if faults:
        raise JobError(faults)
    if set(slugs) & _STACKED and not set(slugs) >= _STACKED:
        raise UsageError(
            "foot-block-nose and foot-block-layer: a scribing height is so many sheets; name both with --only"
        )
