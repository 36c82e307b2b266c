"""How each part is held while its outline is cut: parts, sheets and Machine in; bridges, a screw or tape out; mm."""

from collections.abc import Iterable, Sequence
from typing import Literal

from jigmaker.cutting.bridge_places import bridge_places
from jigmaker.findings import Finding
from jigmaker.geometry.outline import Circle
from jigmaker.job.shop import Machine
from jigmaker.parts.part import Part
from jigmaker.record import dataclass
from jigmaker.sheets.sheet import Sheet

How = Literal["bridges", "screw", "tape", "nothing"]

HELD_BY: dict[How, str] = {
    "bridges": "bridges",
    "screw": "a screw with a washer through its round hole, set when the inner cuts are made",
    "tape": "double-sided tape under it",
    "nothing": "nothing once it is cut",
}
"""In words, for people. "nothing" is a laser's: it does not push."""

SCREW_CLEAR_MM = 10.0
"""A screw stays a cutter's width and this much more clear of every path, for its head and the machine's nut."""

_ROUNDING_MM = 0.05
_SCREW_MM = (4.0, 12.0)  # a round hole so wide takes a screw and is covered by a washer


@dataclass(frozen=True, slots=True)
class Holding:
    """A part, how many bridges each of its pieces has, and what holds it."""

    part: Part
    bridges: int
    how: How


def holdings(parts: Sequence[Part], machine: Machine) -> tuple[Holding, ...]:
    """How each part is held, in their order."""
    import shapely

    found = []
    for part in parts:
        if bridges := len(bridge_places(part, machine)):
            found.append(Holding(part, bridges, "bridges"))
        elif machine.kind == "laser":
            found.append(Holding(part, 0, "nothing"))
        else:
            # A screw wants a round hole of its width, far enough from the path, half a cutter outside the edge.
            (low, high), least = _SCREW_MM, machine.tool_mm / 2 + SCREW_CLEAR_MM
            rounds = [each.contour for each in part.holes if isinstance(each.contour, Circle)]
            centres = [hole.centre for hole in rounds if low <= 2 * hole.radius <= high]
            edge = shapely.linearrings(part.outline.points(16))
            takes_screw = any(edge.distance(shapely.Point(centre)) >= least for centre in centres)
            found.append(Holding(part, 0, "screw" if takes_screw else "tape"))
    return tuple(found)


def is_told(machine: Machine) -> bool:
    """True when it matters what holds a piece: to a cutter always, to a laser when bridges are asked for."""
    return machine.kind == "cnc" or machine.bridges > 0


def bridges_end_in_one(sheet: Sheet, machine: Machine) -> bool:
    """Whether all bridges of a sheet end in one piece of waste that is a bridge wide everywhere between them.

    Waste between pieces without bridges may be cut away whole, and what is left between others must not lie alone. The
    sheet's margin counts as firm.
    """
    import shapely

    wide, tool = machine.bridge_width_mm, machine.widest_cut_mm
    placed = [(each.part, each.part.outline.placed(each.sheet_from_part)) for each in sheet.placed]
    cut = shapely.union_all([shapely.polygons(outline.points(16)) for _, outline in placed]).buffer(tool)
    firm = shapely.box(0, 0, sheet.length_mm, sheet.width_mm).buffer(wide, join_style="mitre").difference(cut)
    thick = shapely.get_parts(firm.buffer(_ROUNDING_MM - wide / 2))
    ends = []
    for part, outline in placed:
        for spot in bridge_places(part, machine):
            edge = outline.segments[spot.piece]
            (x, y), (ux, uy), out = edge.start, edge.start_direction, tool + wide / 2
            ends.append(shapely.Point(x + ux * spot.along_mm + uy * out, y + uy * spot.along_mm - ux * out))
    if not ends:
        return True
    main = max(thick, key=lambda each: each.area, default=shapely.Polygon())
    return bool((shapely.distance(ends, main) <= wide / 2).all())


def bridge_findings(held: Iterable[Holding], machine: Machine) -> list[Finding]:
    """Cautions: parts held by fewer bridges than asked for, or by none, and what holds them instead."""
    if not is_told(machine):
        return []
    held = tuple(held)
    few = [f"{each.part.name} {each.bridges}" for each in held if 0 < each.bridges < machine.bridges]
    findings = []
    if few:
        says = f"some parts have no room for {machine.bridges} bridges on edges that nothing depends on: "
        do = "mind them while the last cut is made, or make the bridges narrower"
        findings.append(_caution(says + ", ".join(few), do))
    loose = {how: names_held(held, how) for how in ("screw", "tape", "nothing")}
    by = {"screw": "by a screw and washer through a round hole of their own", "tape": "by double-sided tape"}
    by["nothing"] = "by nothing once they are cut"
    told = "; ".join(f"{by[how]}: {names}" for how, names in loose.items() if names)
    if told and machine.bridges:
        says = f"some parts have no bridge, because none of their edges may carry one; they are held {told}"
        findings.append(_caution(says, "the sheet Cut the kit tells when"))
    elif told:
        says = f"no bridges are asked for, so the parts are held {told}"
        do = "set bridges, let your program leave some, or hold each part so"
        findings.append(_caution(says, do))
    return findings


def names_held(held: Iterable[Holding], how: How) -> str:
    """The parts that are held that way, each with how many there are of it: "mask foot (4), coupon"; "" for none."""
    found = [each.part for each in held if each.how == how]
    return ", ".join(part.name + (f" ({part.pieces})" if part.pieces > 1 else "") for part in found)


def _caution(says: str, do: str) -> Finding:
    return Finding(210, says, do, "shop machine.bridges", severity="caution")
