"""Whole sheets cut in numbers: every piece on them is compared with its part. Sheet frame; mm."""

from __future__ import annotations

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.geometry.outline import Contour
from jigmaker.proof.checks.compare import nominal_of
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import CutLines, cut_piece, included_first, lines_of
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import CutPart, Folder


def sheet_findings(folder: Folder, before: CutBefore, cut: list[CutPart] | None = None) -> Iterator[Finding]:
    """Every piece on every sheet, by every set of the sheet's files, those with the tool's width included first.

    `cut`: what comes off the machine is added to it.
    """
    parts = {part.slug: (part, nominal_of(part)) for part in folder.kit.parts}
    sets = [(sheet, files) for sheet in folder.kit.sheets for files in included_first(sheet.files)]
    for sheet, files in sets:
        if not any(file.name in folder.files for file in files):
            continue
        lines, name = lines_of(files, folder), files[0].name
        yield from lines.findings
        # Compensated lines of neighbours never lie in each other, so each outer line is one piece's.
        # A cut that belongs to no piece: more outlines than pieces, or more openings than the pieces have.
        openings = sum(len(parts[slug][0].holes) for slug, _ in sheet.pieces if slug in parts)
        for has, wanted, what in ((lines.outer, len(sheet.pieces), "outlines"), (lines.inner, openings, "openings")):
            if len(has) != wanted:
                says = f"it cuts {len(has)} {what}, the pieces that kit.json places have {wanted}"
                yield Finding(121, says, AGAIN, part=name, value=str(len(has)), limit=str(wanted))
        around, is_changed = _Around(lines), any(file.name in folder.changed for file in files)
        for slug, frame in sheet.pieces:
            if slug not in parts:
                continue
            part, nominal = parts[slug]
            # Which lines are this piece's: those around a point inside it, brought to where kit.json places it.
            spot = nominal.representative_point()
            piece = around.piece_at(frame.point((spot.x, spot.y)))
            if piece is None:
                says, at = f"{part.name} cannot be cut where kit.json places it", f"{frame.x:.3f}, {frame.y:.3f}"
                yield Finding(334, says, AGAIN, part=name, at=at)
                continue
            machine = folder.shop.machine
            one, faults = cut_piece(part, nominal, piece, files[0], machine, before, frame.turn_deg, is_changed)
            if cut is not None and one is not None:
                cut.append(one)
            yield from faults


class _Around:
    """A sheet's lines, each outer one with the inner ones that it holds."""

    def __init__(self, lines: CutLines) -> None:
        import shapely

        self._lines = lines
        # An open line that another program left among the outlines may have two points; it holds no piece.
        rings = [shape.points(8) for shape in lines.outer]
        self._tree = shapely.STRtree([shapely.Polygon(ring if len(ring) > 2 else None) for ring in rings])
        self._held: dict[int, list[Contour]] = {i: [] for i in range(len(lines.outer))}
        for shape in lines.inner:
            for i in self._tree.query(shapely.Point(shape.points(4)[0]), predicate="within")[:1]:
                self._held[int(i)].append(shape)

    def piece_at(self, at: tuple[float, float]) -> CutLines | None:
        """The lines of the one piece around a point; None when there is no such piece, or more than one."""
        import shapely

        found = [int(i) for i in self._tree.query(shapely.Point(at), predicate="within")]
        return CutLines([self._lines.outer[found[0]]], self._held[found[0]], []) if len(found) == 1 else None
