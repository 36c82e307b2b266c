"""A part of the kit as data: outline, holes, features, marks, settings and where it sits. Part frame; mm, degrees.

Part frame: x right, y up, lower left of the outline's box at (0, 0), seen from the marked face. Outlines are at
finished (nominal) size: no kerf, no tool. Whoever prints, cuts or proves a part reads this record and never asks which
part it is.
"""

from dataclasses import replace
from typing import Literal

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.outline import Circle, Contour, Outline
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass

PartHand = Literal["", "R", "L"]
State = Literal["both", "R", "L"]
Held = Literal["under", "middle", "over"]
FeatureKind = Literal["edge", "free", "flank", "slot_wall", "slot_end", "mortise", "tenon", "hole", "recess", "corner"]
WoodKind = Literal["web", "neck", "land"]


@dataclass(frozen=True, slots=True)
class Hole:
    """A named opening. Its contour is an Outline run clockwise, or a Circle."""

    name: str
    contour: Contour


@dataclass(frozen=True, slots=True)
class Feature:
    """A named place on a contour, with its finished figure. Kind "free" marks an edge that nothing depends on.

    `contour` is "outer" or a hole's name. `pieces` are indices into that outline's segments (empty for a circle).
    `measure` says what `value` is: "angle_deg" (direction of the piece, anticlockwise from the part's x axis, 0 up to
    180), "across_mm" (distance between the two pieces, square to the first), "diameter_mm", "length_mm", "x_mm" or
    "y_mm" (the straight piece's distance from the part frame's y or x axis, at its middle).
    """

    name: str
    kind: FeatureKind
    contour: str
    pieces: tuple[int, ...]
    measure: Literal["angle_deg", "across_mm", "diameter_mm", "length_mm", "x_mm", "y_mm"]
    value: float


@dataclass(frozen=True, slots=True)
class Mark:
    """Something scored or drawn, not cut: text in single-stroke letters, or plain lines (text ""). Part frame.

    fact: what it says, by its name in mark_list; the lines of one saying have the same.
    """

    text: str
    at: Point
    height_mm: float
    turn_deg: float
    strokes: Strokes
    fact: str = ""


class Said(str):
    """Words to be scored that know what they say: `fact`, their name in mark_list."""

    fact: str

    def __new__(cls, words: str, fact: str) -> "Said":
        """The words with their name."""
        made = super().__new__(cls, words)
        made.fact = fact
        return made


@dataclass(frozen=True, slots=True)
class Setting:
    """A figure the user sets or checks: its value, its unit ("mm" or "deg"), why, and where it is measured."""

    name: str
    value: float
    unit: Literal["mm", "deg"]
    why: str
    frame: str = ""


@dataclass(frozen=True, slots=True)
class Placement:
    """One piece of the part in the assembly: a name, the state of the jig it belongs to, and assembly_from_part.

    held: what stays in its place when the piece is cut from a sheet of another thickness: its underside (z = 0 of the
    part), its middle, or its marked face.
    """

    name: str
    state: State
    assembly_from_part: Frame
    held: Held = "under"


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the kit. `needed` pieces go into the assembly, `spares` more are worth cutting at the same time.

    `least_wood_mm` is what the layout promises to leave: no "web" between two cuts and no "neck" of the outline is
    narrower, and the "land" between a slot and the nearest bearer is not.
    `lies_unturned`: its x must lie along the machine's x, because it measures the machine.
    `assembly` names what it belongs to ("housing jig", "bevel plate", "foot block"). `name` is for people, `slug` for
    file names (lower case, hyphens). `short_mark`: two letters that stand for its name on it, "" for none.
    """

    name: str
    slug: str
    assembly: str
    hand: PartHand
    needed: int
    spares: int
    thickness_mm: float
    outline: Outline
    holes: tuple[Hole, ...] = ()
    features: tuple[Feature, ...] = ()
    marks: tuple[Mark, ...] = ()
    settings: tuple[Setting, ...] = ()
    placements: tuple[Placement, ...] = ()
    lies_unturned: bool = False
    short_mark: str = ""
    least_wood_mm: tuple[tuple[WoodKind, float], ...] = ()

    @property
    def pieces(self) -> int:
        """How many to cut, spares included."""
        return self.needed + self.spares

    def of_thickness(self, thickness_mm: float) -> "Part":
        """The same part out of another sheet, its outline unchanged, each piece where what it touches holds it."""
        less = self.thickness_mm - thickness_mm
        up: dict[Held, float] = {"under": 0.0, "middle": less / 2, "over": less}
        placements = tuple(
            replace(place, assembly_from_part=place.assembly_from_part @ Frame((0.0, 0.0, up[place.held])))
            for place in self.placements
        )
        return replace(self, thickness_mm=thickness_mm, placements=placements)

    def contour(self, name: str) -> Outline | Circle:
        """The contour a feature names. Raises KeyError for a name the part does not have."""
        return self.outline if name == "outer" else {hole.name: hole.contour for hole in self.holes}[name]
