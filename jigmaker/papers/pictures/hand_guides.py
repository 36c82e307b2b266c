"""Saw guides and paring guide, taken apart and at work. Jig frame; paper mm.

Everything is drawn from that hand's own pieces and places; nothing is mirrored. Saw and chisel are plain stand-ins of
the sizes that the shop tells.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, scale
from jigmaker.papers.pictures.canvas import Canvas, Spot, fitted
from jigmaker.papers.pictures.jig_bodies import BOARD_ON_MM, drawn_solid, exploded
from jigmaker.papers.pictures.jig_on_board import operator_view
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.parts.housing_saw.layout import SawLayout, lay_out_saw
from jigmaker.parts.housing_saw.paring_guide import PARING_GUIDE
from jigmaker.parts.housing_saw.saw_guide import SAW_GUIDE
from jigmaker.parts.kit import Kit
from jigmaker.parts.solids import Worked
from jigmaker.trestle.solids import housing_solid

_HIGH_MM, _WIDE_MM, _COLUMN_MM = 78.0, 92.0, 38.0
_PAIR_MM, _PAIR_COLUMN_MM = 60.0, 26.0
_LETTER_MM = 9.0
_CHISEL_MM = (25.0, 5.0)  # width and thickness; common practice, no source
_HANDLE_MM = 110.0


def saw_guide_apart_picture(kit: Kit) -> Picture:
    """Every piece of the R guide off along the way it goes in."""
    lay = lay_out_saw(kit.trestle, kit.shop)
    _, out, _ = lay.axes
    # Cheeks come off along the floor's normal and a little apart, plates along the normal alone, the fence off the
    # board's face: so every joint shows where it goes.
    near = next(place for part in kit.parts for place in part.placements if place.name == "near cheek R")
    across = near.assembly_from_part.z_axis
    ways = {
        "near cheek": add(scale(out, 60.0), scale(across, -20.0)),
        "far cheek": add(scale(out, 60.0), scale(across, 20.0)),
        "saw guide near": scale(out, 60.0),
        "saw guide far": scale(out, 60.0),
        "saw guide fence": (0.0, 0.0, 70.0),
    }
    words: Pointed = [
        ("saw guide near", "near plate R: letter up, END OUT over the stop"),
        ("saw guide far", "far plate R"),
        ("near cheek", "near cheek"),
        ("far cheek", "far cheek"),
        ("near bearer", "bearer"),
        ("far bearer", "bearer"),
        ("stop", "stop: pressed toward the board"),
        ("saw guide fence", "fence: one screw a bearer"),
    ]
    view = View.from_viewer((0.45, 0.75, 1.0), (0.0, 1.0, 0.0))
    return named_picture(exploded(bodies_of(kit, SAW_GUIDE, "R"), ways), view, words, "The saw guide R taken apart")


Pointed = list[tuple[str, str] | tuple[str, str, Side]]
"""Words, and the beginning of the name of the body that they point at; on which side of the picture they stand."""


def saw_guide_on_board(kit: Kit, hand: Worked) -> tuple[list[Body], Pointed]:
    """The guide on the clamped board, the saw's plate on its near cheek, and what must be seen before it is sawn."""
    lay = lay_out_saw(kit.trestle, kit.shop)
    stop: Side = "right" if hand == "R" else "left"
    other: Side = "left" if hand == "R" else "right"
    words: Pointed = [
        ("stop", f"stop at your {stop}", stop),
        ("board", "top face toward you", other),
        ("saw guide fence", "fence on the top face", stop if hand == "R" else other),
        ("hand saw", "saw flat on the cheek, its back comes down on the cheek's top", other),
    ]
    # Plate and back on the near cheek, half way down the cut, the handle toward the operator.
    name = f"near cheek {hand}"
    part, place = next((part, place) for part in kit.parts for place in part.placements if place.name == name)
    saw, frame = lay.saw, place.assembly_from_part
    # The face toward the waste is the underside for R, and the marked face for L, where the piece lies turned over.
    z = -saw.plate_mm if hand == "R" else part.thickness_mm
    top = part.outline.bounds[3] + lay.depth_square / 2
    middle = part.outline.bounds[2] / 2 - 20.0
    low, high = middle - saw.length_mm / 2, middle + saw.length_mm / 2
    plate = Solid.block((low, top - saw.depth_mm, z), (high, top, z + saw.plate_mm))
    out = (saw.back_mm - saw.plate_mm) / 2
    back = Solid.block((low, top, z - out), (high, top + 10.0, z + saw.plate_mm + out))
    handle = Solid.block((low - 90.0, top - saw.depth_mm + 20.0, z - 10.0), (low, top + 30.0, z + 10.0))
    return [
        *bodies_of(kit, SAW_GUIDE, hand),
        _board(kit, lay, hand),
        Body("hand saw", Solid.union([plate, back, handle]).placed(frame)),
    ], words


def saw_guide_on_board_picture(kit: Kit, hand: Worked) -> Picture:
    """The guide at work beside that for the other hand."""
    bodies, words = saw_guide_on_board(kit, hand)
    title = f"The saw guide {hand} on the board"
    return named_picture(bodies, operator_view(hand), words, title, _PAIR_MM, _PAIR_COLUMN_MM, hand)


def paring_guide_picture(kit: Kit) -> Picture:
    """The paring guide before a sawn and chopped R housing, the chisel on its ramp."""
    # v runs up the floor's slope, n out of the floor.
    lay = lay_out_saw(kit.trestle, kit.shop)
    v, n, _ = lay.axes
    # Its middle stands where the housing's is at the ramp's middle and the floor's rear end, half way.
    at_v = (lay.ramp_front + lay.reach) / 2
    middle = (lay.near_face + lay.far_face) / 2 + at_v * lay.lie / lay.rise
    wide, thick = _CHISEL_MM
    on_ramp = Frame(scale(n, -lay.depth_square), (1.0, 0.0, 0.0), v, n)
    tip = lay.reach * 0.3
    blade = Solid.block((-wide / 2, tip - lay.chisel.blade_mm, 0.0), (wide / 2, tip, thick)).placed(on_ramp)
    handle = Solid.block((-14.0, tip - lay.chisel.blade_mm - _HANDLE_MM, -6.0), (14.0, tip - lay.chisel.blade_mm, 22.0))
    chisel = Body("chisel", Solid.union([blade, handle.placed(on_ramp)]).moved((middle, 0.0, 0.0)))
    top = kit.trestle.job.top
    cut = housing_solid(kit.trestle).moved((-top.length_mm / 2, -top.width_mm / 2, 0.0))
    board = _board(kit, lay, "R")
    guide = [Body(body.name, body.solid.moved((middle, 0.0, 0.0))) for body in bodies_of(kit, PARING_GUIDE, "R")]
    words: Pointed = [
        ("chisel", "chisel, its back flat on the ramp"),
        ("paring guide ramp", "ramp, in the plane of the floor"),
        ("right rib", "ribs hook on the edge"),
        ("paring guide fence", "fence on the top face"),
        ("board", "board edge up, top face toward you"),
    ]
    bodies = [*guide, Body("board", board.solid.minus(cut)), chisel]
    view = View.from_viewer((0.55, 0.95, 1.0), (0.0, 1.0, 0.0))
    return named_picture(bodies, view, words, "The paring guide at work")


def named_picture(
    bodies: list[Body],
    view: View,
    words: Pointed,
    title: str,
    wide_mm: float = _WIDE_MM,
    column_mm: float = _COLUMN_MM,
    letter: str = "",
) -> Picture:
    """The bodies drawn, and each that is seen named by the beginning of its name."""
    drawn = project(bodies, view)
    spot, canvas = fitted(drawn, wide_mm, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    names = names_of(bodies, view, words, spot)
    if letter:
        low, _, high, top = canvas.bounds
        canvas.words(
            letter, (high - _LETTER_MM if letter == "R" else low + _LETTER_MM, top + 2.0), "middle", _LETTER_MM
        )
    name_beside(canvas, names, column_mm)
    return canvas.picture(title)


def names_of(bodies: list[Body], view: View, words: Pointed, spot: Spot) -> list[NameLabel]:
    """The words for every body of which something is seen, where they point at."""
    places, names = seen_places(bodies, view), list[NameLabel]()
    for start, text, *side in words:
        seen = [places[body.name] for body in bodies if body.name.startswith(start) and body.name in places]
        names += [NameLabel(text, spot.point(seen[0]), *side)] if seen else []
    return names


def bodies_of(kit: Kit, assembly: str, hand: Worked) -> list[Body]:
    """Every piece of what belongs together, in its state for a hand, where it stands."""
    return [
        Body(place.name, drawn_solid(part).placed(place.assembly_from_part))
        for part in kit.parts
        if part.assembly == assembly
        for place in part.placements
        if place.state in ("both", hand)
    ]


def _board(kit: Kit, lay: SawLayout, hand: Worked) -> Body:
    """The board from its end at X = 0 to somewhat beyond the guide."""
    top = kit.trestle.job.top
    long = min(top.length_mm, BOARD_ON_MM - lay.left_end)
    low, high = (-long, 0.0) if hand == "R" else (0.0, long)
    return Body("board", Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0.0, 0.0)))
