"""The depth gauge, which sorts housings by depth, go and no-go: Trestle and Shop in, Part out. Part frame; mm.

A bar with a tongue at each edge, the upper for the top face of the board, the lower for the bottom face, where a
sloping floor is less deep. Held flat and flush with that face it lies on the board's edge on one of two shoulders, the
tongue in the housing and the other shoulder over the mouth: LOW must lie on, or the housing is too shallow; HIGH, known
by its cut corner, must be held off by the tongue, or it is too deep. Tip and shoulders face the same way, so whatever
width the cut has moves them alike.
"""

from jigmaker.job.practice import PRACTICE
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline
from jigmaker.parts.gauge_limits import AWAY_MM
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Mark, Part, Setting
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cotangent
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text

DEPTH_LIMIT_MM = PRACTICE["limit.depth"].mm
"""What a housing's depth may be off by at either face: common practice, no source."""

BAR_MM = 48.0
TONGUE_MM, SHOULDER_MM = 14.0, 48.0
LEAST_LENGTH_MM = 100.0
"""Beside a narrow housing the bar goes on behind its shoulders, so that it keeps room for words."""

LEAST_TONGUE_MM = 8.0
BESIDE_MM = 4.0
"""Of the housing's width left free, so that the shoulder over the mouth lies on nothing."""

CUT_CORNER_MM = 6.0
_NAME_ROOM_MM = 4.5  # from the bar's middle to the words above and below the name


@dataclass(frozen=True, slots=True)
class _DepthGaugeSize:
    """top, bottom: reach of each tongue when the housing is right, before limits. The outline's figures beside it."""

    top: float
    bottom: float
    tongue: float
    shoulder: float

    @property
    def ear(self) -> float:
        """What the bar has beyond each shoulder, set back behind it."""
        short = (LEAST_LENGTH_MM - 2 * self.shoulder - self.tongue) / 2
        return max(short, CUT_CORNER_MM) if short > 0 else 0.0

    @property
    def bar(self) -> float:
        return BAR_MM + 2 * (CUT_CORNER_MM if self.ear else 0.0)

    @property
    def length(self) -> float:
        return 2 * (self.shoulder + self.ear) + self.tongue

    @property
    def height(self) -> float:
        return self.top + self.bottom + self.bar

    def corners(self) -> list[OutlineCorner]:
        """Anticlockwise from the left end of the lower edge; beside a narrow housing the bar's ends are set back."""
        #             __
        #     _______|  |____          tongue for the top face: low shoulder at the left, high one at the right
        #    |              /          (its corner cut), each a limit above or below the tongue's right reach
        #    |______    ____\          and the same for the bottom face below
        #           |__|
        length, high = self.length, self.height
        left, right = (length - self.tongue) / 2, (length + self.tongue) / 2
        low, over, cut, ear = self.bottom - DEPTH_LIMIT_MM, self.bottom + DEPTH_LIMIT_MM, CUT_CORNER_MM, self.ear
        upper, under = high - self.top + DEPTH_LIMIT_MM, high - self.top - DEPTH_LIMIT_MM
        lower_ear = [
            OutlineCorner((0.0, low + cut), "bottom face, ear", "free"),
            OutlineCorner((ear, low + cut), "bottom face, end of low shoulder", "free"),
        ]
        upper_ear = [
            OutlineCorner((ear, upper), "top face, end of low shoulder", "free"),
            OutlineCorner((ear, upper - cut), "top face, ear", "free"),
        ]
        return [
            *(lower_ear if ear else []),
            OutlineCorner((ear, low), "bottom face, low shoulder"),
            OutlineCorner((left, low), "bottom face, left side", "free"),
            OutlineCorner((left, 0.0), "bottom face, tip"),
            OutlineCorner((right, 0.0), "bottom face, right side", "free"),
            OutlineCorner((right, over), "bottom face, high shoulder"),
            OutlineCorner((length - (ear or cut), over), "bottom face, cut corner", "free"),
            OutlineCorner((length, over + cut), "right end", "free"),
            OutlineCorner((length, under - cut), "top face, cut corner", "free"),
            OutlineCorner((length - (ear or cut), under), "top face, high shoulder"),
            OutlineCorner((right, under), "top face, right side", "free"),
            OutlineCorner((right, high), "top face, tip"),
            OutlineCorner((left, high), "top face, left side", "free"),
            OutlineCorner((left, upper), "top face, low shoulder"),
            *(upper_ear if ear else []),
            OutlineCorner((0.0, upper - (cut if ear else 0.0)), "left end", "free"),
        ]

    def limits(self) -> list[tuple[str, str, float]]:
        """Face, limit, reach from shoulder to tip."""
        return [
            (face, limit, reach + off)
            for face, reach in (("top", self.top), ("bottom", self.bottom))
            for limit, off in (("low", -DEPTH_LIMIT_MM), ("high", DEPTH_LIMIT_MM))
        ]

    def settings(self, shop: Shop) -> tuple[Setting, ...]:
        """What each shoulder tells, and how far off the gauge can come out."""
        told = {
            "low": "held flat and flush with the {} face, this shoulder must lie on the board's edge, else too "
            "shallow; its reach is the depth where a tongue as thick as the sheet first meets the floor",
            "high": "the shoulder with the cut corner must be held off the board's edge by the tongue, else too deep",
        }
        off = shop.machine.accuracy_words
        why = f"tip and shoulder each out of place by {off}, opposite ways: measure from one to the other"
        return (
            *(
                Setting(
                    f"depth gauge, {face} face, {limit}",
                    mm,
                    "mm",
                    told[limit].format(face),
                    f"flush with the {face} face",
                )
                for face, limit, mm in self.limits()
            ),
            Setting("depth gauge, worst error", 2 * shop.machine.accuracy_mm, "mm", why, "tip to shoulder"),
        )

    def marks(self, trestle: Trestle, shop: Shop) -> tuple[Mark, ...]:
        """Beside each shoulder its face, limit and size; the name on the middle of the bar."""
        half, middle = self.length / 2, self.bottom + self.bar / 2
        edge = DEPTH_LIMIT_MM + AWAY_MM + (CUT_CORNER_MM if self.ear else 0.0)
        name = fill_box(
            words_of("depth-gauge", ["name"], shop),
            Box(AWAY_MM, middle - 2.0, self.length - AWAY_MM, middle + 2.0),
            4.0,
        )
        marks: list[Mark] = []
        for face, limit, mm in self.limits():
            x = AWAY_MM if limit == "low" else half + AWAY_MM / 2
            low = middle + _NAME_ROOM_MM if face == "top" else self.bottom + edge
            high = self.bottom + self.bar - edge if face == "top" else middle - _NAME_ROOM_MM
            cut = CUT_CORNER_MM if limit == "high" else 0.0
            words = words_of(
                "depth-gauge",
                ["limits", "lies" if limit == "low" else "stands"],
                shop,
                face=face.upper(),
                limit=limit.upper(),
                size=caliper_text(mm, trestle.job.unit),
            )
            marks += fill_box(words, Box(x, low, x + half - 1.5 * AWAY_MM - cut, high), 4.0)
        return (*marks, *name)


def depth_gauge(trestle: Trestle, shop: Shop) -> Part:
    """The gauge. No corner is relieved: nothing seats in one."""
    # A tongue as thick as the sheet touches the floor first where that is shallowest: at its face or behind it.
    housing, slope = trestle.housing, cotangent(trestle.job.splay_deg)
    rise = min(shop.sheet_for("depth-gauge", "gauges").thickness_mm, trestle.job.top.thickness_mm) * slope
    free = housing.width_mm - BESIDE_MM
    tongue = max(LEAST_TONGUE_MM, min(TONGUE_MM, free / 3))
    size = _DepthGaugeSize(
        min(housing.depth_top_mm, housing.depth_top_mm - rise),
        min(housing.depth_bottom_mm, housing.depth_bottom_mm + rise),
        tongue,
        min(SHOULDER_MM, free - tongue),
    )
    outline, pieces = draw_outline(size.corners())
    reaches = [
        across(pieces, f"{face} face, {limit} shoulder", f"{face} face, tip", f"{face} face, {limit}", "edge", mm)
        for face, limit, mm in size.limits()
    ]
    return Part(
        name="depth gauge",
        slug="depth-gauge",
        assembly="gauges",
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("depth-gauge", "gauges").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            *reaches,
            across(pieces, "top face, left side", "top face, right side", "tongue, width", "free", size.tongue),
            across(pieces, "left end", "right end", "length", "free", size.length),
            across(pieces, "bottom face, tip", "top face, tip", "height", "free", size.height),
        ),
        marks=size.marks(trestle, shop),
        settings=size.settings(shop),
    )
