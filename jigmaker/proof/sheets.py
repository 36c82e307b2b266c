"""Whole sheets cut in numbers: a Folder in, findings out. Every piece is compared with its part. Sheet frame; mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.outline import Contour
from jigmaker.proof.compare import nominal_of
from jigmaker.proof.records import Folder, ToldFile, ToldPart, ToldSheet
from jigmaker.proof.same_lines import CutBefore
from jigmaker.proof.simulate import Lines, cut_piece, file_sets, lines_of

if TYPE_CHECKING:
    from shapely import Polygon

Told = tuple[ToldPart, "Polygon"]

AGAIN = "write the folder again with jigmaker make"


def sheet_findings(folder: Folder, before: CutBefore) -> Iterator[Finding]:
    """Every piece on every sheet, by every set of the sheet's files."""
    told = {part.slug: (part, nominal_of(part)) for part in folder.kit.parts}
    for sheet in folder.kit.sheets:
        for files in file_sets(sheet.files):
            if any(file.name in folder.files for file in files):
                yield from _sheet(sheet, files, folder, told, before)


def _sheet(
    sheet: ToldSheet, files: list[ToldFile], folder: Folder, told: dict[str, Told], before: CutBefore
) -> Iterator[Finding]:
    lines = lines_of(files, folder)
    yield from lines.findings
    around = _Around(lines)
    for slug, frame in sheet.pieces:
        if slug not in told:
            continue
        part, nominal = told[slug]
        spot = nominal.representative_point()
        piece = around.piece_at(frame.point((spot.x, spot.y)))
        if piece is None:
            says, at = f"{part.name} cannot be cut where kit.json places it", f"{frame.x:.3f}, {frame.y:.3f}"
            yield Finding(334, says, AGAIN, part=files[0].name, at=at)
        else:
            yield from cut_piece(part, nominal, piece, files[0], folder.shop.machine, before, frame.turn_deg)[1]


class _Around:
    """A sheet's lines, each outer one with the inner ones that it holds."""

    def __init__(self, lines: Lines) -> None:
        import shapely

        self._lines = lines
        self._tree = shapely.STRtree([shapely.Polygon(shape.points(8)) for shape in lines.outer])
        self._held: dict[int, list[Contour]] = {i: [] for i in range(len(lines.outer))}
        for shape in lines.inner:
            for i in self._tree.query(shapely.Point(shape.points(4)[0]), predicate="within")[:1]:
                self._held[int(i)].append(shape)

    def piece_at(self, at: tuple[float, float]) -> Lines | None:
        """The lines of the one piece around a point; None when there is no such piece, or more than one."""
        import shapely

        found = [int(i) for i in self._tree.query(shapely.Point(at), predicate="within")]
        return Lines([self._lines.outer[found[0]]], self._held[found[0]], []) if len(found) == 1 else None
