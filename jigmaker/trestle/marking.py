"""A solved trestle in, the lines that a hand marks on its board out, in their order; mm, degrees, along the board.

All distances run along the board from one end, the datum end; both edges and both halves of a face are marked alike,
since the two housings of an end are each other's mirror images. Clearance is in every figure, as the housing is cut.
The shortcut with one bevel stands beside the exact way, with what it leaves.
"""

from collections.abc import Iterator
from typing import Literal

from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine, tangent
from jigmaker.trestle.housing import hand_sawn_start_mm
from jigmaker.trestle.records import Trestle

Face = Literal["edge", "top face", "bottom face"]
BoardEnd = Literal["datum end", "other end"]
Wall = Literal["near", "far", "floor"]


@dataclass(frozen=True, slots=True)
class MarkingLine:
    """One line, on both edges or on both halves of a face.

    step: lines of one step are marked with one setting. wall: toward the board's nearer end ("near"), away ("far"), or
    the floor's line. from_datum: where the line starts on `arris`; to_datum: where it ends along the board. angle: off
    that arris; leans: the way the line runs off square. depth: from the edge to where the line ends, None on an edge.
    """

    step: int
    face: Face
    what: str
    end: BoardEnd
    wall: Wall
    arris: Literal["top", "bottom"]
    from_datum_mm: float
    to_datum_mm: float
    angle_deg: float
    leans: str
    depth_mm: float | None
    tool: str
    why: str


@dataclass(frozen=True, slots=True)
class GaugeSetting:
    """A marking gauge run along the edge, on one face, from wall to wall."""

    face: Face
    depth_mm: float


@dataclass(frozen=True, slots=True)
class BevelSetting:
    """A bevel, its angle off the arris that its stock lies along, and the face on which its blade lies."""

    name: str
    face: str
    angle_deg: float
    off: str


@dataclass(frozen=True, slots=True)
class SingleBevel:
    """What one bevel at the rake leaves, walls sawn square across the board; mm along the board unless told otherwise.

    start_bottom: near wall on the bottom arris. gap_floor: at the near wall, all along the floor's line; gap_bottom: at
    the near wall on the bottom arris; on the top arris there is none. jam: how much the leg is too wide for the far
    wall, clearance counted: move that line on by it and the leg goes in, with the gap at both walls.
    ease: what to plane off the leg's far edge at its inner arris instead, square to that edge, down to nothing `reveal`
    from its outer arris. slant: turn the lines on both faces by this, off square; slant_left: what then is still left
    on the bottom arris, because the edge line is at the rake; with the exact edge line nothing is.
    """

    bevel_deg: float
    start_bottom_mm: float
    gap_floor_mm: float
    gap_bottom_mm: float
    jam_mm: float
    ease_mm: float
    slant_deg: float
    slant_left_mm: float


@dataclass(frozen=True, slots=True)
class Marking:
    """Both ways, the settings of the exact one, and the shortcut's figures."""

    exact: tuple[MarkingLine, ...]
    with_one_bevel: tuple[MarkingLine, ...]
    gauges: tuple[GaugeSetting, ...]
    bevels: tuple[BevelSetting, ...]
    shortcut: SingleBevel


def marking(trestle: Trestle) -> Marking:
    """The lines of all four housings. Lines and gauges are alike at both ends and on both edges."""
    angles, shortcut = trestle.angles, single_bevel(trestle)
    exact = _Way(
        angles.edge_line_deg,
        90 - angles.edge_twist_deg,
        trestle.housing.start_bottom_mm,
        "edge bevel",
        "face bevel",
        "the walls stand square to the housing's floor, so that a leg with square edges fits as sawn",
    )
    sawn = "the walls are sawn square across the board, at the rake"
    one = _Way(angles.rake_deg, 90.0, shortcut.start_bottom_mm, "rake bevel", "square", sawn)
    return Marking(
        tuple(_lines(trestle, exact)),
        tuple(_lines(trestle, one)),
        (
            GaugeSetting("top face", trestle.housing.depth_top_mm),
            GaugeSetting("bottom face", trestle.housing.depth_bottom_mm),
        ),
        (
            BevelSetting("edge bevel", "both edges", angles.edge_line_deg, "the top arris"),
            BevelSetting("face bevel", "top and bottom face", 90 - angles.edge_twist_deg, "the arris"),
            BevelSetting("rake bevel, for the shortcut only", "both edges", angles.rake_deg, "the top arris"),
        ),
        shortcut,
    )


def single_bevel(trestle: Trestle) -> SingleBevel:
    """What the shortcut leaves in this job.

    A plane at the rake, square across the board, and the leg's edge cross in the leg's outer arris. They part by
    cot a cos2 b a mm down the board's edge, and by tan tau a mm into it; along the floor both run parallel.
    """
    job, angles, housing = trestle.job, trestle.angles, trestle.housing
    gap_floor = housing.depth_top_mm * tangent(angles.edge_twist_deg)
    gap_bottom = job.top.thickness_mm * cotangent(job.rake_deg) * cosine(job.splay_deg) ** 2
    opened = job.inset_mm - housing.start_top_mm
    return SingleBevel(
        bevel_deg=job.rake_deg,
        start_bottom_mm=hand_sawn_start_mm(job) - opened,
        gap_floor_mm=gap_floor,
        gap_bottom_mm=gap_bottom,
        jam_mm=max(0.0, gap_floor - 2 * opened),
        ease_mm=gap_floor * sine(angles.leg_face_deg),
        slant_deg=angles.edge_twist_deg,
        slant_left_mm=gap_bottom,
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """Angles off the arris on edge and faces, and the near wall's distance from the board's end on the bottom arris."""

    edge_deg: float
    face_deg: float
    start_bottom: float
    edge_tool: str
    face_tool: str
    edge_why: str


def _lines(trestle: Trestle, way: _Way) -> Iterator[MarkingLine]:
    """Edges first, then the faces' lines from the points found there, then the floors."""
    for end in _ENDS:
        for wall in _WALLS:
            high, low = _start(trestle, way, "top face", wall), _start(trestle, way, "bottom face", wall)
            yield MarkingLine(
                1,
                "edge",
                f"{wall} wall",
                end,
                wall,
                "top",
                _from_datum(trestle, end, high),
                _from_datum(trestle, end, low),
                way.edge_deg,
                _leaning(way.edge_deg, f"toward the {end} going down"),
                None,
                way.edge_tool,
                way.edge_why,
            )
    yield from _face_lines(trestle, way, 2, "top face")
    yield from _face_lines(trestle, way, 3, "bottom face")
    yield from _floor_lines(trestle, way, 4, "top face")
    yield from _floor_lines(trestle, way, 5, "bottom face")


_ENDS: tuple[BoardEnd, ...] = ("datum end", "other end")
_WALLS: tuple[Wall, ...] = ("near", "far")


def _from_datum(trestle: Trestle, end: BoardEnd, from_end: float) -> float:
    """A distance from the board's nearer end, told from the datum end."""
    return from_end if end == "datum end" else trestle.job.top.length_mm - from_end


def _start(trestle: Trestle, way: _Way, face: Face, wall: Wall) -> float:
    """From the board's nearer end to a wall, on the arris of a face."""
    near = way.start_bottom if face == "bottom face" else trestle.housing.start_top_mm
    return near + (trestle.housing.width_on_arris_mm if wall == "far" else 0.0)


def _depth(trestle: Trestle, face: Face) -> float:
    return trestle.housing.depth_top_mm if face == "top face" else trestle.housing.depth_bottom_mm


def _leaning(angle_deg: float, where: str) -> str:
    return "square across" if angle_deg == 90 else where


def _face_lines(trestle: Trestle, way: _Way, step: int, face: Face) -> Iterator[MarkingLine]:
    depth = _depth(trestle, face)
    for end in _ENDS:
        for wall in _WALLS:
            start = _start(trestle, way, face, wall)
            inward = depth * cotangent(way.face_deg)
            yield MarkingLine(
                step,
                face,
                f"{wall} wall",
                end,
                wall,
                "top" if face == "top face" else "bottom",
                _from_datum(trestle, end, start),
                _from_datum(trestle, end, start + inward),
                way.face_deg,
                _leaning(way.face_deg, "toward the middle of the board going in"),
                depth,
                way.face_tool,
                "from the end of the line on the edge" if face == "bottom face" else "from the same points",
            )


def _floor_lines(trestle: Trestle, way: _Way, step: int, face: Face) -> Iterator[MarkingLine]:
    depth = _depth(trestle, face)
    for end in _ENDS:
        near, far = (_start(trestle, way, face, wall) + depth * cotangent(way.face_deg) for wall in _WALLS)
        yield MarkingLine(
            step,
            face,
            "floor",
            end,
            "floor",
            "top" if face == "top face" else "bottom",
            _from_datum(trestle, end, near),
            _from_datum(trestle, end, far),
            0.0,
            "along the board",
            depth,
            "marking gauge, from the edge",
            "deeper in the top face: the floor slopes outward with the splay",
        )
