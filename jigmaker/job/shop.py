"""The shop: sheet material, machine, hand router, files and layers. It outlives jobs. Millimetres."""

from dataclasses import field
from typing import Literal

from jigmaker.errors import OutOfRange
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.agreement import (
    LayerFacts,
    hand_router_faults,
    hand_saw_faults,
    housing_work_faults,
    kerf_faults,
    layer_faults,
    leg_saw_faults,
    paper_faults,
    sheet_faults,
)
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.sections import ALSO
from jigmaker.job.self_check import check_record
from jigmaker.job.toml import FileText
from jigmaker.record import dataclass
from jigmaker.units import Unit

Operation = Literal["mark", "inner", "outer", "bridge", "note"]
Compensation = Literal["included", "left out"]
"""Whether the width of the cut is in the lines of a file."""

OPERATIONS: tuple[Operation, ...] = ("mark", "inner", "outer", "bridge", "note")

AVERAGED_MM = 0.01
"""Where kerf in x and in y move no line by more than this beside where kerf, their mean, moves it, kerf is used."""


@dataclass(frozen=True, slots=True)
class SheetMaterial:
    """What the machine cuts: its thickness as measured, its size on the bed, the margin kept free all round, mm.

    count: how many there are, None for as many as it takes. serves: which parts are cut from it and from no other, by
    slug or by what they belong to; empty for any of the first sheet's thickness.
    """

    material: str
    thickness_mm: float
    length_mm: float
    width_mm: float
    margin_mm: float
    thickness_spread_mm: float = 0.0
    joint_clearance_mm: float = 0.1
    count: int | None = None
    serves: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what the rules of [sheet] refuse; raises OutOfRange."""
        check_record(self, "sheet")
        _refuse(sheet_faults(self.length_mm, self.width_mm, self.margin_mm))


@dataclass(frozen=True, slots=True)
class Machine:
    """Laser, CNC or none. tool_mm is the full width of what one cut removes: kerf of a laser, cutter diameter of a CNC.

    paper: parts are printed at full size, glued on, sawn and filed to the line by hand. tool_mm is 0, accuracy_mm how
    near the line a hand comes.

    bridges: how many bridges of wood, bridge_width_mm wide, hold each part in the sheet where its edges allow it.

    A crooked machine, in its own x and y: kerf_x_mm is the cut's width measured along x, which is what lines that run
    along y take away, kerf_y_mm the same in y; both or none are given, and tool_mm is their mean. With scales p, q and
    skew s the machine makes x' = p x + q y tan s, y' = q y of what is drawn: scale_x and scale_y are the length
    measured over the length drawn, and skew_deg is positive when the y axis leans toward +x, so that diagonals from
    lower left to upper right come out longer than the others.
    """

    kind: Literal["laser", "cnc", "paper"]
    tool_mm: float
    accuracy_mm: float = 0.1
    compensation: Literal["included", "left out", "both"] = "included"
    marking: Literal["score", "short", "none"] = "score"
    bridges: int = 0
    bridge_width_mm: float = 6.0
    kerf_x_mm: float | None = None
    kerf_y_mm: float | None = None
    scale_x: float = 1.0
    scale_y: float = 1.0
    skew_deg: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what the rules of [machine] refuse; raises OutOfRange."""
        not_its_own = {"laser": ("cutter",), "cnc": ("kerf",), "paper": ("kerf", "cutter")}.get(self.kind, ("kerf",))
        check_record(self, "machine", leave_out=not_its_own)
        _refuse(kerf_faults(self.kind, self.tool_mm, self.kerf_x_mm, self.kerf_y_mm))
        if self.is_paper:
            _refuse(paper_faults(self.accuracy_mm, self.bridges, self.is_corrected, self.tool_mm))

    @property
    def is_paper(self) -> bool:
        """True when no machine cuts the kit: paper is glued on, and a hand saws to its lines."""
        return self.kind == "paper"

    @property
    def accuracy_words(self) -> str:
        """What accuracy_mm is the accuracy of, as sentences about parts name it."""
        return "what print, saw and file come to" if self.is_paper else "the machine's accuracy"

    @property
    def is_corrected(self) -> bool:
        """True when the machine's scale or skew is not ideal, so that compensated files are bent the other way."""
        return (self.scale_x, self.scale_y, self.skew_deg) != (1.0, 1.0, 0.0)

    @property
    def is_directed(self) -> bool:
        """True when the cut's width depends on its direction so much that the lines must follow it."""
        return self.cut_width_mm[0] != self.cut_width_mm[1]

    @property
    def is_averaged(self) -> bool:
        """True when kerf in x and in y are given, but differ so little that their mean stands for both."""
        widths = [width for width in (self.kerf_x_mm, self.kerf_y_mm) if width is not None]
        moved = [abs(width - self.tool_mm) / 2 for width in widths]
        return len(set(widths)) == 2 and max(moved) <= AVERAGED_MM + TOUCH_MM

    @property
    def cut_width_mm(self) -> tuple[float, float]:
        """The cut's width to allow for, measured along x and along y, mm; both tool_mm unless they differ enough."""
        x, y = self.kerf_x_mm, self.kerf_y_mm
        return (self.tool_mm, self.tool_mm) if x is None or y is None or self.is_averaged else (x, y)

    @property
    def widest_cut_mm(self) -> float:
        """The larger of the two, mm: so much room a cut may need, however it runs."""
        return max(self.cut_width_mm)


@dataclass(frozen=True, slots=True)
class HandRouter:
    """The hand router that rides on the jig, mm. bush == cutter means a bearing-guided cutter (no guide bush).

    base_mm: base diameter, or twice the distance from axis to flat. cutter_reach_mm: base to tip, gripped properly.
    bush_bore_mm, blade_mm (cutting length) and bearing_height_mm are None when not given. stops: of the depth turret.
    """

    base_mm: float
    bush_mm: float
    cutter_mm: float
    cutter_reach_mm: float
    bush_length_mm: float | None = None
    bush_bore_mm: float | None = None
    blade_mm: float | None = None
    bearing_height_mm: float | None = None
    stops: int = 3

    def __post_init__(self) -> None:
        """Refuse what the rules of [hand_router] refuse; raises OutOfRange."""
        check_record(self, "hand_router")
        _refuse(hand_router_faults(self.bush_mm, self.cutter_mm, self.bush_length_mm))

    @property
    def is_bearing_guided(self) -> bool:
        """True when a bearing of the cutter's own diameter follows the slot."""
        return self.bush_mm == self.cutter_mm

    @property
    def guide_offset_mm(self) -> float:
        """(bush - cutter) / 2: how far the cut stays inside the slot's wall."""
        return (self.bush_mm - self.cutter_mm) / 2


@dataclass(frozen=True, slots=True)
class HousingWork:
    """How housings are made; None is the hand router's, as in files that say nothing of it."""

    by: Literal["router", "saw and chisel", "both"] | None = None

    def __post_init__(self) -> None:
        """Refuse what the rules of [housing_work] refuse; raises OutOfRange."""
        if self.by is not None:
            check_record(self, "housing_work")


@dataclass(frozen=True, slots=True)
class HandSaw:
    """The back saw that runs along the housing saw guide, mm.

    depth_mm: from the line of teeth to the underside of the back, the larger of heel and toe: then a canted plate
    leaves wood and never takes too much. kerf_mm less plate_mm is the set of the teeth, both sides together.
    """

    plate_mm: float
    kerf_mm: float
    depth_mm: float
    back_mm: float
    length_mm: float

    def __post_init__(self) -> None:
        """Refuse what the rules of [hand_saw] refuse, and a cut narrower than the plate; raises OutOfRange."""
        check_record(self, "hand_saw")
        _refuse(hand_saw_faults(self.plate_mm, self.kerf_mm))

    @property
    def set_mm(self) -> float:
        """How far the teeth stand out of the plate, on either side."""
        return (self.kerf_mm - self.plate_mm) / 2


@dataclass(frozen=True, slots=True)
class Chisel:
    """The chisel that runs along the paring guide, mm. blade_mm: from its edge to the bolster."""

    blade_mm: float

    def __post_init__(self) -> None:
        """Refuse what the rules of [chisel] refuse; raises OutOfRange."""
        check_record(self, "chisel")


@dataclass(frozen=True, slots=True)
class LegSaw:
    """The saw for the ends of legs. cutting_height_mm: of a plain mitre saw, at its fence; None for others."""

    kind: Literal["tilting", "plain", "hand"] = "tilting"
    cutting_height_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse what the rules of [leg_saw] refuse; raises OutOfRange."""
        check_record(self, "leg_saw")


@dataclass(frozen=True, slots=True)
class Layer:
    """How one operation is written: layer name, colour "#rrggbb", line width, and whether it is written at all."""

    name: str
    colour: str
    width_mm: float
    write: bool = True

    def __post_init__(self) -> None:
        """Refuse what the rules of [layers] refuse; raises OutOfRange."""
        check_record(self, "layers.mark")


@dataclass(frozen=True, slots=True)
class FileChoices:
    """Which DXF is written, in which unit, and whether each operation has a file of its own ("apart").

    parts: each part by itself at "finished size", or "both" so and with the cut's width in its lines.
    contours: what lines that are cut are in DXF; "line and arc" is for programs that make chords of a polyline's arcs.
    """

    dxf: Literal["R2000", "R12"] = "R2000"
    unit: Unit = "mm"
    operations: Literal["together", "apart"] = "together"
    parts: Literal["finished size", "both"] = "finished size"
    contours: Literal["polylines", "line and arc"] = "polylines"

    def __post_init__(self) -> None:
        """Refuse what the rules of [files] refuse; raises OutOfRange."""
        check_record(self, "files")


@dataclass(frozen=True, slots=True)
class KitChoices:
    """What is cut of the kit: parts that are left out, by slug, whether spare pieces are, and further jigs, by name;
    None is as the shop needs. jaws_mm: how far the vice opens in which wedges hold the board, None if that is not said.
    """

    leave_out: tuple[str, ...] = ()
    spares: bool = True
    also: tuple[str, ...] | None = None
    jaws_mm: float | None = None

    def __post_init__(self) -> None:
        """Refuse what the rules of [kit] refuse; raises OutOfRange."""
        check_record(self, "kit")


@dataclass(frozen=True, slots=True)
class PaperChoices:
    """Which papers are wanted besides those that every kit has. handout: pages for a class of pupils."""

    handout: bool = False

    def __post_init__(self) -> None:
        """Refuse what the rules of [papers] refuse; raises OutOfRange."""
        check_record(self, "papers")


PaperSize = Literal["A4", "A3", "Letter", "Tabloid"]

PAPER_MM: dict[PaperSize, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "Letter": (215.9, 279.4),
    "Tabloid": (279.4, 431.8),
}
"""Width and height of the sheets that lie in printers, upright, mm: ISO 216; ANSI/ASME Y14.1 sizes A and B."""


@dataclass(frozen=True, slots=True)
class Paper:
    """The paper in the printer. scale_x, scale_y: length measured over length drawn, across and along the page.

    The scales correct what is printed at full size; files for the machine never know of them.
    """

    size: PaperSize = "A4"
    scale_x: float = 1.0
    scale_y: float = 1.0

    def __post_init__(self) -> None:
        """Refuse what the rules of [paper] refuse; raises OutOfRange."""
        check_record(self, "paper")

    @property
    def page_mm(self) -> tuple[float, float]:
        """Width and height of the page, upright, mm."""
        return PAPER_MM[self.size]


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything a shop is. `layers` holds one Layer for every operation, in cutting order.

    `sheet` is what the jig is cut from, and all that no further sheet serves. `read_from` as of a Job. `hand_router`,
    `hand_saw` and `chisel` are None in a shop without them.
    """

    sheet: SheetMaterial
    machine: Machine
    hand_router: HandRouter | None
    files: FileChoices
    layers: dict[Operation, Layer]
    paper: Paper = field(default_factory=Paper)
    further_sheets: tuple[SheetMaterial, ...] = ()
    kit: KitChoices = field(default_factory=KitChoices)
    papers: PaperChoices = field(default_factory=PaperChoices)
    housing_work: HousingWork = field(default_factory=HousingWork)
    hand_saw: HandSaw | None = None
    chisel: Chisel | None = None
    leg_saw: LegSaw = field(default_factory=LegSaw)
    read_from: FileText | None = field(default=None, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Refuse layers that are missing, disagree, leave out a cut or do not suit the DXF; raises OutOfRange."""
        if tuple(self.layers) != OPERATIONS:
            raise OutOfRange(f"layers are {', '.join(self.layers)}, must be {', '.join(OPERATIONS)}, in this order")
        facts: dict[str, LayerFacts] = {
            name: (layer.name, (layer.colour, layer.width_mm), layer.write) for name, layer in self.layers.items()
        }
        _refuse(layer_faults(facts, self.files.dxf))
        tools = (self.hand_router is not None, self.hand_saw is not None, self.chisel is not None)
        _refuse(housing_work_faults(self.housing_work.by, *tools))
        _refuse(leg_saw_faults(self.leg_saw.kind, self.hand_saw is not None, self.leg_saw.cutting_height_mm))

    @property
    def router(self) -> HandRouter:
        """The hand router, for what is routed. Raises OutOfRange where the shop has none."""
        if self.hand_router is None:
            raise OutOfRange("hand_router is missing: nothing is routed in this shop")
        return self.hand_router

    @property
    def routs_housings(self) -> bool:
        """True when housings are routed, too or only: unless something else is said, whoever has a router does."""
        return self.hand_router is not None and self.housing_work.by != "saw and chisel"

    @property
    def saws_housings(self) -> bool:
        """True when housings are made with saw and chisel, too or only."""
        return self.housing_work.by in ("saw and chisel", "both") or self.hand_router is None

    @property
    def timber_kerf_mm(self) -> float:
        """What a cut through timber takes, mm: the hand saw's kerf where it saws the legs, else a table saw's."""
        return self.hand_saw.kerf_mm if self.leg_saw.kind == "hand" and self.hand_saw else SAW_KERF_MM

    @property
    def also(self) -> tuple[str, ...]:
        """Jigs that the kit has besides, by name: those that are asked for, else all where housings are sawn."""
        return self.kit.also if self.kit.also is not None else ALSO if self.saws_housings else ()

    @property
    def left_out(self) -> frozenset[str]:
        """Parts that the kit does without, by slug: those that are not wanted, and what paper cannot make."""
        return frozenset(self.kit.leave_out) | (NOT_OF_PAPER if self.machine.is_paper else frozenset())

    def sheet_for(self, *names: str) -> SheetMaterial:
        """What a part is cut from: the first sheet that serves one of its names, slug or assembly, else the shop's."""
        return next((each for each in self.further_sheets if set(names) & set(each.serves)), self.sheet)


def _refuse(faults: dict[str, str]) -> None:
    if faults:
        raise OutOfRange([f"{key} {fault}" for key, fault in faults.items()])


NOT_OF_PAPER = frozenset(("coupon", "leg-gauge", "housing-plug", "taper-gauge", "taper-scale", "pad-strip"))
"""What a hand cannot saw and file from paper as finely as it measures, and what measures a machine."""
