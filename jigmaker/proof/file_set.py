"""The files that together cut one part or sheet: Folder in, FileSets out, each with all its contours. Sheet frame; mm.

A shop may want a file for each operation; whatever is judged about a part is judged over all of them together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.job.shop import OPERATIONS, Operation
from jigmaker.proof.pieces import Pieces, pieces_of
from jigmaker.proof.read_folder import operations_of
from jigmaker.proof.records import Compensation, Folder, Form, ReadContour, ReadFile, ToldFile, ToldPart, ToldSheet

MARK, INNER, OUTER, NOTE = range(4)
"""Numbers of the operations, in cutting order."""

CUT = (INNER, OUTER)


@dataclass(frozen=True, slots=True)
class Drawn:
    """A contour with its operation and the name of the file it was read from."""

    operation: Operation
    contour: ReadContour
    file: str

    @property
    def shape(self) -> Outline | Circle | Stroke:
        """The contour's shape."""
        return self.contour.shape


@dataclass(frozen=True)
class FileSet:
    """Files of one form and compensation for one part or sheet; `drawn` is every contour on a layer of the shop's."""

    owner: ToldPart | ToldSheet
    form: Form
    compensation: Compensation
    told: tuple[ToldFile, ...]
    files: tuple[ReadFile, ...]
    drawn: tuple[Drawn, ...]

    @property
    def name(self) -> str:
        """What findings call it: its file, or the first of them."""
        return self.told[0].name

    @property
    def offset_mm(self) -> float:
        """How far kit.json says the lines were moved."""
        return self.told[0].offset_mm

    @property
    def is_whole(self) -> bool:
        """True when every one of its files could be read."""
        return len(self.files) == len(self.told)

    @cached_property
    def pieces(self) -> Pieces:
        """All its contours as a table; `owner` counts through `drawn`."""
        return pieces_of([(OPERATIONS.index(each.operation), each.shape) for each in self.drawn])

    def of(self, operation: Operation) -> list[Drawn]:
        """The contours of one operation, in file order."""
        return [each for each in self.drawn if each.operation == operation]


def file_sets(folder: Folder) -> list[FileSet]:
    """Every set of files that kit.json tells: of the parts, then of the sheets, in its order."""
    return [*_sets(folder, folder.kit.parts), *_sets(folder, folder.kit.sheets)]


def _sets(folder: Folder, owners: tuple[ToldPart, ...] | tuple[ToldSheet, ...]) -> Iterator[FileSet]:
    for owner in owners:
        groups: dict[tuple[Form, Compensation], list[ToldFile]] = {}
        for told in owner.files:
            groups.setdefault((told.form, told.compensation), []).append(told)
        for (form, compensation), group in groups.items():
            read = [(told, folder.files[told.name]) for told in group if told.name in folder.files]
            files = tuple(file for _, file in read)
            drawn = [
                Drawn(operation, contour, file.name)
                for told, file in read
                for contour, operation in zip(file.contours, operations_of(file, told, folder.shop), strict=True)
                if operation is not None
            ]
            yield FileSet(owner, form, compensation, tuple(group), files, tuple(drawn))
