"""The files that together cut one part or sheet, with all their contours. Sheet frame; mm.

A shop may want a file for each operation; whatever is found about a part is found over all of them together.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING

from jigmaker.job.shop import OPERATIONS, Compensation, Operation
from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.contours import Contours, ReadContour, ReadShape, joined_contours
from jigmaker.proof.readers.read_folder import operations_of
from jigmaker.proof.records import DeclaredFile, DeclaredPart, DeclaredSheet, Folder, Form, ReadFile
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices

MARK, INNER, OUTER, BRIDGE, NOTE = range(5)
"""Numbers of the operations, in cutting order; the last two are never cut."""

CUT = (INNER, OUTER)


@dataclass(frozen=True, slots=True)
class DrawnContour:
    """A contour with its operation and the name of the file it was read from."""

    operation: Operation
    contour: ReadContour
    file: str

    @property
    def shape(self) -> ReadShape:
        """The contour's shape, sheet frame, mm."""
        return self.contour.shape


@dataclass(frozen=True)
class FileSet:
    """Files of one form and compensation for one part or sheet; `lines` are all contours on a layer of the shop's.

    By contour: `operations` counts through OPERATIONS, `sources` through `files`. `is_changed` when one of its files is
    not as it was made.
    """

    owner: DeclaredPart | DeclaredSheet
    form: Form
    compensation: Compensation
    declared: tuple[DeclaredFile, ...]
    files: tuple[ReadFile, ...]
    lines: Contours
    operations: Indices
    sources: Indices
    is_changed: bool = False

    @property
    def name(self) -> str:
        """What findings call it: its file, or the first of them."""
        return self.declared[0].name

    @property
    def offset_mm(self) -> float:
        """How far kit.json says the lines were moved off finished size, mm."""
        return self.declared[0].offset_mm

    @property
    def is_whole(self) -> bool:
        """True when every one of its files could be read."""
        return len(self.files) == len(self.declared)

    @cached_property
    def pieces(self) -> Pieces:
        """All its contours as a table; `owner` counts through them."""
        return Pieces(self.lines.table, self.lines.owner, self.operations[self.lines.owner])

    def of(self, *operations: Operation) -> list[DrawnContour]:
        """The contours of some operations as shapes, in file order; those that are cut."""
        import numpy as np

        kinds = [OPERATIONS.index(operation) for operation in operations]
        return [self.drawn(number) for number in np.flatnonzero(np.isin(self.operations, kinds)).tolist()]

    def drawn(self, number: int) -> DrawnContour:
        """One contour as a shape."""
        return DrawnContour(self.operation(number), self.lines.contour(number), self.file(number))

    def operation(self, number: int) -> Operation:
        """What one contour is for."""
        return OPERATIONS[int(self.operations[number])]

    def file(self, number: int) -> str:
        """The name of the file that holds a contour."""
        return self.files[int(self.sources[number])].name


def file_sets(folder: Folder) -> list[FileSet]:
    """Every set of files that kit.json declares: of the parts, then of the sheets, in its order."""
    return [*_sets(folder, folder.kit.parts), *_sets(folder, folder.kit.sheets)]


def _sets(folder: Folder, owners: tuple[DeclaredPart, ...] | tuple[DeclaredSheet, ...]) -> Iterator[FileSet]:
    import numpy as np

    for owner in owners:
        # Files that a machine runs one after another are one set: same form, same compensation.
        groups: dict[tuple[Form, Compensation], list[DeclaredFile]] = {}
        for each in owner.files:
            groups.setdefault((each.form, each.compensation), []).append(each)
        for (form, compensation), group in groups.items():
            read = [(declared, folder.files[declared.name]) for declared in group if declared.name in folder.files]
            # Contours on layers that are none of the shop's are left out: check_head reports them. Each contour's
            # operation follows from its layer; where a shop has one layer for several, from its place in the file.
            kinds = [operations_of(file, declared, folder.shop) for declared, file in read]
            lines = [
                file.lines if (of >= 0).all() else file.lines.only(np.flatnonzero(of >= 0).tolist())
                for (_, file), of in zip(read, kinds, strict=True)
            ]
            operations = np.concatenate([np.zeros(0, dtype=np.int64), *(of[of >= 0] for of in kinds)])
            sources = np.repeat(np.arange(len(read)), [len(each) for each in lines])
            files = tuple(file for _, file in read)
            is_changed = any(declared.name in folder.changed for declared in group)
            yield FileSet(
                owner, form, compensation, tuple(group), files, joined_contours(lines), operations, sources, is_changed
            )
