"""What the proof works on: files as read, the kit as declared, parts as they come off the machine. mm, degrees.

It takes the job from job.toml, shop from shop.toml, names and places from kit.json, and every shape from the DXF and
SVG files. With what made the files it shares the geometry room, the reader of job and shop, units and the table of
practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from jigmaker.geometry.frames import Frame, PlaneFrame, Point
from jigmaker.geometry.outline import Bounds, Circle, Outline
from jigmaker.job.job import Job
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import Compensation, Operation, Shop
from jigmaker.proof.contours import Contours, ReadContour
from jigmaker.record import dataclass
from jigmaker.units import Unit

if TYPE_CHECKING:
    from shapely import Polygon

Form = Literal["dxf", "svg"]


@dataclass(frozen=True)
class ReadFile:
    """A file as read. `unit` is what it says of itself, None when it says nothing. `lines` are in file order, mm.

    `layers` are those it declares; `width_mm` and `height_mm` the page (SVG) or the drawing's limits, which are the
    sheet (DXF).
    `unit_said` is what the file says of its unit in its own words, `measurement` a DXF's $MEASUREMENT, `box_mm` the
    extents that a DXF states, `scale` the millimetres of one of an SVG's user units. `moved_mm` is how far
    its lines lay off those of the same thing's other file; they are given where those are.
    """

    name: str
    form: Form
    unit: Unit | None
    width_mm: float
    height_mm: float
    layers: tuple[str, ...]
    lines: Contours
    notes: tuple[str, ...] = ()
    unit_said: str = ""
    measurement: Unit | None = None
    box_mm: Bounds | None = None
    scale: float = 1.0
    moved_mm: tuple[float, float] = (0.0, 0.0)

    @cached_property
    def contours(self) -> tuple[ReadContour, ...]:
        """Every contour as a shape, marks and notes too: for people, and for those who look at one file only."""
        return tuple(self.lines.contour(number) for number in range(len(self.lines)))


@dataclass(frozen=True, slots=True)
class DeclaredFile:
    """A file that kit.json lists for a part or a sheet. `shapes` counts those of each operation as they follow."""

    name: str
    compensation: Compensation
    tool_mm: float
    offset_mm: float
    operations: tuple[Operation, ...] = ("mark", "inner", "outer", "note")
    moved_mm: tuple[float, float] = (0.0, 0.0)
    shapes: Mapping[Operation, int] = field(default_factory=dict)
    has_square: bool = True

    @property
    def form(self) -> Form:
        """By the ending of its name: dxf or svg."""
        return "dxf" if self.name.endswith(".dxf") else "svg"


@dataclass(frozen=True, slots=True)
class DeclaredFeature:
    """A feature as kit.json declares it: see jigmaker's parts for the meaning of kind and measure."""

    name: str
    kind: str
    contour: str
    pieces: tuple[int, ...]
    measure: str
    value: float


@dataclass(frozen=True, slots=True)
class DeclaredPlacement:
    """Where a piece stands: state "both", "R" or "L"; assembly_from_part."""

    name: str
    state: str
    frame: Frame


@dataclass(frozen=True, slots=True)
class DeclaredMark:
    """A mark as kit.json declares it: what it says, by name, None in kits that name none; its text, or for "" its
    lines as rows of x, y, bulge."""

    fact: str | None
    text: str
    at: Point
    height_mm: float
    turn_deg: float
    lines: tuple[tuple[tuple[float, ...], ...], ...] = ()


@dataclass(frozen=True, slots=True)
class DeclaredPart:
    """A part as kit.json declares it. Outline and holes are only declared: the shapes that count come from the files.

    bridges: on each of its pieces; None where nothing is declared. held_by: "bridges", "screw", "tape" or "nothing".
    """

    name: str
    slug: str
    assembly: str
    hand: str
    needed: int
    spares: int
    thickness_mm: float
    outline: Outline
    holes: tuple[tuple[str, Outline | Circle], ...]
    features: tuple[DeclaredFeature, ...]
    settings: tuple[tuple[str, float, str], ...]
    placements: tuple[DeclaredPlacement, ...]
    files: tuple[DeclaredFile, ...]
    least_wood_mm: dict[str, float] = field(default_factory=dict)
    bridges: int | None = None
    held_by: str = ""
    marks: tuple[DeclaredMark, ...] = ()


@dataclass(frozen=True, slots=True)
class DeclaredSheet:
    """A sheet with its pieces (part's slug, sheet_from_part) as kit.json declares it; screws: None where none are."""

    name: str
    length_mm: float
    width_mm: float
    pieces: tuple[tuple[str, PlaneFrame], ...]
    files: tuple[DeclaredFile, ...]
    screws: tuple[Point, ...] | None = None


@dataclass(frozen=True, slots=True)
class DeclaredKit:
    """All of kit.json that the proof uses; `hashes` by file name. `number` is 1 for kits before the present one.

    is_whole: False for some parts that were cut again, which make no jig by themselves. kit_number: what is scored on
    the jig's parts, "" for kits made before there was one.
    """

    parts: tuple[DeclaredPart, ...]
    sheets: tuple[DeclaredSheet, ...]
    settings: tuple[tuple[str, float, str], ...]
    hashes: dict[str, str]
    number: int = KIT_NUMBER
    is_whole: bool = True
    kit_number: str = ""


@dataclass(frozen=True, slots=True)
class Folder:
    """A folder to prove: job and shop read from its own two files, the kit as declared, and every cut file as read.

    `numbers` are the groups of numbers.json: angles_deg, leg, housing, brace, foot, jig, and sizes.2.leg for the second
    of several sizes; empty when not read. `changed` are names of files that are not as kit.json declares them;
    saw_kerf_mm: what boards.toml says of the saw.
    """

    job: Job
    shop: Shop
    kit: DeclaredKit
    files: dict[str, ReadFile]
    numbers: dict[str, dict[str, float]] = field(default_factory=dict)
    changed: frozenset[str] = frozenset()
    saw_kerf_mm: float = SAW_KERF_MM


@dataclass(frozen=True, slots=True)
class CutPart:
    """A part as it comes off the machine by one file: what is left of the sheet, part frame (its box starts at (0, 0)).

    `material` has chords for arcs, at least 64 a quarter. is_machined: a tool went along the lines; else they are the
    part. is_changed: the file is not as it was made.
    """

    declared: DeclaredPart
    file: str
    material: Polygon
    is_machined: bool = False
    is_changed: bool = False
