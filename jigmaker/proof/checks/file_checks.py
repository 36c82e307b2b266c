"""Every check of the files themselves (1xx), one after the other. Sheet and part frames; mm.

What was read is held against the shop, against itself, form against form, compensated against finished size, that
against kit.json, and sheets against the parts that lie on them. Whether the parts do their work is shown elsewhere.
"""

from __future__ import annotations

from jigmaker.findings import Finding
from jigmaker.job.shop import Compensation
from jigmaker.progress import counted
from jigmaker.proof.checks.as_cut import as_made, bent_letters, with_round_tool
from jigmaker.proof.checks.check_head import check_heads
from jigmaker.proof.checks.check_letters import check_letters
from jigmaker.proof.checks.check_lines import check_doubles, check_lines
from jigmaker.proof.checks.check_moved import MOVED_MM, check_moved
from jigmaker.proof.checks.check_same import check_declared, check_forms, check_marks, check_sheet, tolerance_mm
from jigmaker.proof.checks.file_set import CUT, MARK, FileSet, file_sets
from jigmaker.proof.checks.machine_error import ROUND_MM, most_stretched, round_width_mm
from jigmaker.proof.checks.pieces import Pieces, are_too_many
from jigmaker.proof.checks.places import finished_parts, laid_out, part_shift
from jigmaker.proof.faults import FILES_AGAIN, Faults, TooMuch
from jigmaker.proof.readers.resaved import RESAVED_MM
from jigmaker.proof.records import DeclaredPart, DeclaredSheet, Folder, Form

Key = tuple[str, Form, Compensation]
Sets = dict[Key, FileSet]


def check_files(folder: Folder) -> list[Finding]:
    """All findings about the folder's cut files, in the order in which kit.json lists the files."""
    import numpy as np

    sets = [files for files in file_sets(folder) if files.files]
    faults = {declared.name: Faults(declared.name) for files in sets for declared in files.declared}
    for files in sets:
        check_heads(files, folder.shop, faults)
    for files in [each for each in sets if are_too_many(each.pieces)]:
        faults[files.name].add(101, "it has more and larger arcs than any kit", FILES_AGAIN)
        sets.remove(files)
    as_read: Sets = {(_owner(files), files.form, files.compensation): files for files in sets}
    # An SVG that has the lines of its DXF, its operations in the same order and the same contours closed, is a twin:
    # what is found of one holds for both, and is reported once.
    twins: set[Key] = set()
    for (owner, form, compensation), files in as_read.items():
        dxf = as_read.get((owner, "dxf", compensation))
        if form == "svg" and dxf is not None:
            within = max(tolerance_mm(each, folder.shop.files.unit) for each in (dxf, files))
            is_same = check_forms(dxf, files, within, faults) and np.array_equal(dxf.operations, files.operations)
            if is_same and np.array_equal(dxf.lines.whole, files.lines.whole):
                twins.add((owner, form, compensation))
    by_key = {key: as_made(files, folder.shop.machine) for key, files in as_read.items()}
    # Lines among themselves; sets that are too large to compare are taken out of the table.
    for key, files in counted("proving lines", [each for each in by_key.items() if each[0] not in twins]):
        try:
            check_doubles(files, bent_letters(files, folder.shop.machine), faults)
            check_lines(files, folder.shop, faults)
        except TooMuch as error:
            faults[files.name].add(101, str(error), FILES_AGAIN)
            del by_key[key]
    _check_compensation(by_key, folder, faults)
    _check_against_kit(by_key, twins, folder, faults)
    return [finding for each in faults.values() for finding in each.findings]


def _owner(files: FileSet) -> str:
    kind = "part" if isinstance(files.owner, DeclaredPart) else "sheet"
    return f"{kind} {files.owner.slug if isinstance(files.owner, DeclaredPart) else files.owner.name}"


def _check_compensation(by_key: Sets, folder: Folder, faults: dict[str, Faults]) -> None:
    machine = folder.shop.machine
    parts = finished_parts(list(by_key.values()))
    for files in by_key.values():
        dxf = by_key.get((_owner(files), "dxf", files.compensation))
        if files.compensation != "included" or (files.form == "svg" and dxf is not None):
            continue
        nominal = by_key.get((_owner(files), files.form, "left out"))
        # A sheet need not have been written at finished size: its parts' own files laid out are as good.
        if nominal is None and isinstance(files.owner, DeclaredSheet):
            nominal = laid_out(files, parts)
        if nominal is not None:
            # What may be off adds up: the check's own limit, the arcs that stand for a bent curve, another program's
            # rounding.
            within = MOVED_MM + (ROUND_MM if machine.is_corrected or machine.is_directed else 0.0)
            within += RESAVED_MM if files.is_changed or nominal.is_changed else 0.0
            if machine.is_directed:
                files, nominal = with_round_tool(files, machine), with_round_tool(nominal, machine)
                within *= most_stretched(machine)
            check_moved(files, nominal, faults[files.name], within)


def _check_against_kit(by_key: Sets, twins: set[Key], folder: Folder, faults: dict[str, Faults]) -> None:
    """Parts against what is declared of them; sheets against parts. An SVG that has the lines of its DXF is spared."""
    machine = folder.shop.machine
    own: dict[tuple[Form, Compensation], dict[str, Pieces]] = {}
    exact: dict[tuple[Form, Compensation], dict[str, float]] = {}
    resaved: set[tuple[Form, Compensation, str]] = set()
    for name, files in by_key.items():
        key, tolerance = (files.form, files.compensation), tolerance_mm(files, folder.shop.files.unit)
        if isinstance(files.owner, DeclaredPart):
            nominal = by_key.get((_owner(files), files.form, "left out"))
            stretches = machine.is_directed and nominal is None and files.compensation == "included"
            # Where the cut's width differs in x and y, the outline is moved back where the tool is round.
            shift, is_exact = part_shift(with_round_tool(files, machine) if stretches else files, nominal)
            if shift is not None and stretches:
                (in_x, in_y), width = machine.cut_width_mm, round_width_mm(machine)
                shift = (shift[0] * in_x / width, shift[1] * in_y / width)
            if shift is None:
                continue
            if files.compensation == "left out" and name not in twins:
                check_declared(files, shift, tolerance, faults[files.name])
                check_letters(files, folder.shop, shift, tolerance, faults[files.name])
            own.setdefault(key, {})[files.owner.slug] = files.pieces.only((MARK, *CUT)).moved(-shift[0], -shift[1])
            if files.is_changed:
                resaved.add((*key, files.owner.slug))
            exact.setdefault(key, {})[files.owner.slug] = tolerance if is_exact else MOVED_MM + ROUND_MM
        elif isinstance(files.owner, DeclaredSheet) and files.is_whole and name not in twins:
            # A piece turned on a crooked bed has other lines than in its own file.
            turns_with_bed = files.compensation == "included" and (machine.is_directed or machine.is_corrected)
            is_resaved = files.is_changed or any((*key, slug) in resaved for slug, _ in files.owner.pieces)
            letters = bent_letters(files, machine) if is_resaved and turns_with_bed else None
            if key in own:
                parts = exact.get(key, {})
                # Both writings are rounded, the part's own and the sheet's.
                within = 2 * max([tolerance, *(parts.get(slug, tolerance) for slug, _ in files.owner.pieces)])
                check_sheet(files, own[key], within, faults[files.name], turns_with_bed, is_resaved, letters)
            else:
                within = MOVED_MM if turns_with_bed else 2 * tolerance
                nominal_lines = own.get((files.form, "left out"), {})
                check_marks(files, nominal_lines, within, faults[files.name], is_resaved, letters)
