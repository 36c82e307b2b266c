"""The trestle as the pages show it, wide and for a telephone: Trestle in, SVG text out; timber frame, mm, to pixels.

Every figure of the job has its dimension in the picture, drawn while somebody is at its field.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sin

from jigmaker.bench.screen import TEXT_PX, Screen, ScreenName, ScreenSpot, fit
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Point
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.parts.leg_saw.leg_cradle import cradle_of
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids
from jigmaker.units import fixed, length_text, text

VIEW = View.from_angles(-52.0, 20.0)
"""As on the papers: from the operator's right, a little above."""

WIDE_PX, COLUMN_PX, HIGH_PX = 720.0, 182.0, 430.0
NARROW_PX, NARROW_HIGH_PX = 358.0, 300.0


@dataclass(frozen=True, slots=True)
class FigureSpan:
    """A figure's dimension: a line with heads from one place to the other, or through several points; timber frame.

    thin: lines that carry it out from the wood. is_pointer: only a pointer to the place, for what is too small.
    """

    key: str
    words: str
    ways: tuple[Vector, ...]
    thin: tuple[tuple[Vector, Vector], ...] = ()
    is_pointer: bool = False

    def marks(self, spot: ScreenSpot, wide: float) -> list[str]:
        """The span on the screen, its words beside its middle and never off the picture."""
        # Two ways are a dimension: its words above its middle, or to the right below its upper end where it is rather
        # upright. More are an angle's arc, with its words at the middle one. A pointer comes down from the right.
        screen, ways = Screen(0, 0), [spot.point(VIEW.point(p)) for p in self.ways]
        for start, end in self.thin:
            screen.line([spot.point(VIEW.point(p)) for p in (start, end)], "thin")
        x, y = ways[len(ways) // 2]
        if self.is_pointer:
            screen.line([(x + 42, y - 42), (x, y)], "heavy")
            screen.dot((x, y))
            x, y = x + 46, y - 46
        elif len(ways) == 2:
            screen.heads(*ways)
            (x, y), (to_x, to_y) = ways
            x, y = (x + to_x) / 2 + 10, min(y, to_y, (y + to_y) / 2 - 12) - (12 if abs(to_y - y) < 40 else -20)
        else:
            screen.line(ways, "heavy")
            x, y = x - 8, y - 12
        half = 0.6 * TEXT_PX * len(self.words)
        screen.words(self.words, (min(max(x, half), wide - half), y), "big", "middle")
        return screen.marks


def trestle_pictures(trestle: Trestle) -> tuple[str, str, list[tuple[str, str]]]:
    """The wide picture, the narrow one, and what the narrow one's letters stand for."""
    drawn = project([Body(name, solid) for name, solid in trestle_solids(trestle).items()], VIEW)
    # Everything that may ever be shown decides the scale, dimensions that are hidden too: the trestle must not jump
    # when somebody goes from field to field.
    spans, floor = list(_spans(trestle)), _floor(trestle)
    reach = [VIEW.point(p) for span in spans for p in span.ways] + [VIEW.point(p) for p in floor]
    job = trestle.job
    title = f"The trestle, {length_text(job.height_mm, job.unit)} high, seen from its near end and one long side"
    pictures = []
    for wide, high, column in ((WIDE_PX, HIGH_PX, COLUMN_PX), (NARROW_PX, NARROW_HIGH_PX, 32.0)):
        screen, room = Screen(wide, high), column + 10
        spot = fit(reach, wide - 2 * room, high - 50, room, 25)
        names = list(_names(trestle, spot))
        screen.line([spot.point(VIEW.point(p)) for p in floor], "thin", is_closed=True)
        screen.bodies(drawn, spot)
        outer, screen.marks = screen.marks, []
        if wide == WIDE_PX:
            screen.names(names, column)
        else:
            screen.rings(names)
        named, screen.marks = screen.marks, outer
        screen.group(named, "names")
        for span in spans:
            screen.group(span.marks(spot, wide), "span", f"job:{span.key}")
        pictures.append(screen.svg(title, "wide" if wide == WIDE_PX else "narrow"))
    return pictures[0], pictures[1], [(name.words, name.figure) for name in names]


def _floor(trestle: Trestle) -> list[Vector]:
    """Where the feet stand, round their outer corners."""
    x, y, z = trestle.foot.spread_along_mm / 2, trestle.foot.spread_across_mm / 2, -trestle.job.height_mm
    return [(x, y, z), (-x, y, z), (-x, -y, z), (x, -y, z)]


def _names(trestle: Trestle, spot: ScreenSpot) -> Iterator[ScreenName]:
    """What each piece is and its size, at places that are always seen."""
    job, unit = trestle.job, trestle.job.unit
    x, y, z = _floor(trestle)[0]
    outer_near, outer_far = (tuple(leg_corners(trestle)[i]) for i in (0, 1))
    middle = (0.5 * z) * cotangent(job.splay_deg)

    def at(p: Vector) -> Point:
        return spot.point(VIEW.point(p))

    def sizes(*lengths_mm: float) -> str:
        told = [length_text(mm, unit, 1) for mm in lengths_mm]
        return f"{' × '.join(t.removesuffix(' mm') for t in told)} mm" if unit == "mm" else " × ".join(told)

    # Half way down from the top face to the floor a leg has gone out by half the height times the cotangent of rake or
    # splay: that is the middle of its outer face. A brace's middle lies as far out as the legs at its own level.
    half_length, half_width = job.top.length_mm / 2, job.top.width_mm / 2
    down = 0.5 * -z * cotangent(job.rake_deg)
    leg_x, leg_y = (outer_near[0] + outer_far[0]) / 2 + down, outer_near[1] - middle
    yield ScreenName("height", length_text(job.height_mm, unit, 1), at((-half_length, -half_width, 0.0)), "left")
    yield ScreenName(
        "leg, along an arris", length_text(trestle.leg.length_mm, unit, 1), at((-leg_x, -leg_y, 0.5 * z)), "left"
    )
    yield ScreenName("feet along", length_text(2 * x, unit, 1), at((-0.45 * x, -y, z)), "left")
    yield ScreenName("top board", sizes(*_top(trestle)), at((0.35 * half_length, 0.0, 0.0)), "right")
    under = -job.top.thickness_mm - 0.5 * job.brace.depth_mm
    brace_x = outer_near[0] - under * cotangent(job.rake_deg)
    yield ScreenName(
        "brace", sizes(job.brace.depth_mm, job.brace.thickness_mm), at((brace_x, 0.3 * half_width, under)), "right"
    )
    yield ScreenName("leg", sizes(job.leg.width_mm, job.leg.thickness_mm), at((leg_x, -leg_y, 0.5 * z)), "right")
    yield ScreenName("feet across", length_text(2 * y, unit, 1), at((x, 0.1 * y, z)), "right")


def _top(trestle: Trestle) -> tuple[float, float, float]:
    top = trestle.job.top
    return top.length_mm, top.width_mm, top.thickness_mm


def _spans(trestle: Trestle) -> Iterator[FigureSpan]:
    """The dimension of every figure of the job that has one; those of a leg at the +x end, -y side."""
    job, unit = trestle.job, trestle.job.unit
    # Half the board's length and width, its whole thickness. Each dimension stands off the wood, `up` above it or `out`
    # beside it, with lines from the wood to its ends.
    length, width, thick = (value / f for value, f in zip(_top(trestle), (2, 2, 1), strict=True))
    up, out = 0.10 * job.height_mm, 0.08 * job.top.length_mm

    def told(name: str, mm: float) -> str:
        return f"{name} {length_text(mm, unit)}"

    left_x, left_y, floor = -trestle.foot.spread_along_mm / 2 - out, -trestle.foot.spread_across_mm / 2, -job.height_mm
    corner: Vector = (-length, -width, 0.0)
    yield FigureSpan(
        "trestle.height",
        length_text(job.height_mm, unit),
        ((left_x, left_y, 0.0), (left_x, left_y, floor)),
        ((corner, (left_x, left_y, 0.0)), ((left_x + out, left_y, floor), (left_x, left_y, floor))),
    )
    for key, size, start, end in (
        ("top.length", job.top.length_mm, (-length, -width, 0.0), (length, -width, 0.0)),
        ("top.width", job.top.width_mm, (length, -width, 0.0), (length, width, 0.0)),
        ("trestle.inset", job.inset_mm, (length, -width, 0.0), (length - job.inset_mm, -width, 0.0)),
    ):
        low, high = ((p[0], p[1], p[2] + up) for p in (start, end))
        yield FigureSpan(key, length_text(size, unit), (low, high), ((start, low), (end, high)))
    beside = (length + out, -width, 0.0)
    below = (length + out, -width, -thick)
    ends = ((length, -width, 0.0), beside), ((length, -width, -thick), below)
    yield FigureSpan("top.thickness", length_text(job.top.thickness_mm, unit), (beside, below), ends)
    yield from _leg_spans(trestle)
    # The brace lies against the legs and leans with them by the rake: out of its face along (s, 0, c), down it along
    # (c, 0, -s). It begins under the board.
    s, c = sine(job.rake_deg), cosine(job.rake_deg)
    x, _, z = leg_corners(trestle)[0]
    at_top: Vector = (x + (z + thick) * cotangent(job.rake_deg), -0.35 * width, -thick)
    face = add(at_top, scale((s, 0.0, c), job.brace.thickness_mm))
    lower = add(face, scale((c, 0.0, -s), job.brace.depth_mm))
    yield FigureSpan("brace.depth", length_text(job.brace.depth_mm, unit), (face, lower))
    yield FigureSpan("brace.thickness", told("thick", job.brace.thickness_mm), (lower,), is_pointer=True)
    housing: Vector = (length - job.inset_mm - job.leg.width_mm / 2, -width, 0.0)
    yield FigureSpan("housing.joint", job.housing.joint, (housing,), is_pointer=True)
    yield FigureSpan("housing.clearance", told("wider by", job.housing.clearance_mm), (housing,), is_pointer=True)
    yield FigureSpan("housing.reveal", told("proud by", job.housing.reveal_mm), (housing,), is_pointer=True)


def _leg_spans(trestle: Trestle) -> Iterator[FigureSpan]:
    """Both angles where the near foot stands, off the level; the leg's section; horn and trim."""
    job, unit = trestle.job, trestle.job.unit
    # The leg at +x, -y, nearest to the eye, is the mirror image of the one that was solved, at +x, +y. Each angle is an
    # arc about its foot's outer corner, from the level up to the line that the leg shows from that side.
    corners = [(x, -y, z) for x, y, z in leg_corners(trestle)]
    (_, wide, edge) = [(x, -y, z) for x, y, z in leg_directions(trestle)]
    foot, radius = corners[4], 0.34 * job.height_mm
    for key, angle_deg, inward in (
        ("trestle.rake_deg", job.rake_deg, (-1.0, 0.0, 0.0)),
        ("trestle.splay_deg", job.splay_deg, (0.0, 1.0, 0.0)),
    ):
        # Twelve chords, and two rays that go on past the arc by a quarter.
        turns = [radians(angle_deg) * i / 12 for i in range(13)]
        arc = tuple(add(foot, add(scale(inward, radius * cos(turn)), (0.0, 0.0, radius * sin(turn)))) for turn in turns)
        rays = tuple((foot, add(foot, scale(add(end, scale(foot, -1.0)), 1.25))) for end in (arc[0], arc[-1]))
        yield FigureSpan(key, f"{text(angle_deg, 2)}° off the level", arc, rays)
    along = add(scale(corners[0], 0.45), scale(corners[4], 0.55))
    yield FigureSpan(
        "leg.width", length_text(job.leg.width_mm, unit), (along, add(along, scale(edge, -job.leg.width_mm)))
    )
    yield FigureSpan(
        "leg.thickness",
        length_text(job.leg.thickness_mm, unit),
        (along, add(along, scale(wide, -job.leg.thickness_mm))),
    )
    yield FigureSpan("leg.horn", f"horn {length_text(job.leg.horn_mm, unit)}", (corners[0],), is_pointer=True)
    yield FigureSpan("leg.trim", f"trim {length_text(job.leg.trim_mm, unit)}", (corners[4],), is_pointer=True)


def in_short(trestle: Trestle) -> str:
    """Leg and angles in one line."""
    unit = trestle.job.unit
    leg = length_text(trestle.leg.length_mm, unit, 0 if unit == "mm" else None)
    return f"Leg {leg}, rake {text(trestle.job.rake_deg, 2)}°, splay {text(trestle.job.splay_deg, 2)}° off the level."


def numbers(trestle: Trestle, shop: Shop | None) -> list[tuple[str, str]]:
    """What the figures come to, as the papers name it; saws that tilt where there is no shop yet."""
    unit, angles, foot = trestle.job.unit, trestle.angles, trestle.foot

    def told(mm: float) -> str:
        return length_text(mm, unit, 1 if unit == "mm" else None)

    beyond = foot.spread_along_mm - trestle.job.top.length_mm
    side = "beyond" if beyond >= 0 else "inside"
    flat = "Saw, leg's wide face down", f"mitre {fixed(angles.saw_mitre_deg, 2)}° off square"
    if shop is None or shop.leg_saw.kind == "tilting":
        sawn = [flat, ("", f"blade {fixed(angles.saw_tilt_deg, 2)}° off upright")]
    elif shop.leg_saw.kind == "plain" and not turns_legs(trestle, shop):
        sawn = [flat]
    elif cradle_of(trestle, shop):
        # On the slope the leg stands as if it lay on its narrow edge: what were tilt and mitre there change places.
        swing, slope = fixed(angles.saw_tilt_on_edge_deg, 2), fixed(angles.saw_mitre_on_edge_deg, 2)
        sawn = [("Saw, leg on the sloping cradle", f"mitre {swing}° off square"), ("", f"slope {slope}° off the table")]
    else:
        sawn = [("End line on the leg's wide face", f"{fixed(angles.leg_face_deg, 2)}° off the arris")]
        sawn.append(("on its narrow edge", f"{fixed(angles.leg_edge_deg, 2)}° off square"))
    return [
        ("Leg, along any of its arrises", told(trestle.leg.length_mm)),
        ("Shortest board for one leg", told(trestle.leg.blank_mm)),
        *sawn,
        ("Brace, top edge under the board", told(trestle.brace.top_mm)),
        (f"Feet stand {side} the board's end by", told(abs(beyond) / 2)),
        ("Feet across, over the outer corners", told(foot.spread_across_mm)),
    ]


def read_as(job: Job) -> str:
    """Which board becomes what: thickness x width."""
    told = [
        f"{name} {length_text(thick, job.unit)} x {length_text(wide, job.unit)}"
        for name, thick, wide in (
            ("top", job.top.thickness_mm, job.top.width_mm),
            ("legs", job.leg.thickness_mm, job.leg.width_mm),
            ("braces", job.brace.thickness_mm, job.brace.depth_mm),
        )
    ]
    return " · ".join(told)
