"""The foot-levelling block, its pads and its taper gauge: Trestle and Shop in, Parts out. Part frame; mm, degrees.

The scribing block stands on the floor and is pushed against a leg; plain layers of the sheet under the nose set the
height of the nose's top face, on which the knife slides. Assembly frame: origin on the floor at the block's rear right
corner seen toward the leg, x toward the leg, z up.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import cos, floor, radians, sin, tan

from jigmaker.geometry.frames import Frame
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, draw_rectangle, round_hole
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Feature, Hole, Part, Placement, Setting
from jigmaker.parts.relief import DOWEL_PLAY_MM, dowel_diameter
from jigmaker.parts.taper_gauge import taper_parts
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.trestle.records import Trestle
from jigmaker.units import length_text

ASSEMBLY = "foot block"
BODY_LENGTH_MM = 80.0
BODY_WIDTH_MM = 60.0
TIP_MM = 8.0
PLAIN_LAYERS = 4
ASKEW_DEG = 10.0  # how far from square to the leg's face the block may be pushed
SPARE_REACH_MM = 2.0
DOWELS_BACK_MM = ((18.0, 0.0), (62.0, 12.0))
"""Each dowel: back from the body's front, off its middle line. Unequal, so that a turned layer does not go on."""

PAD_MM = 60.0
PAD_INSIDE_MM = 2.0
PAD_AWAY_MM = 2.0
FRONT_BOX = Box(26.0, 38.0, 76.0, 56.0)
REAR_BOX = Box(4.0, 4.0, 54.0, 35.0)
"""Two free rectangles of the body, clear of all but the widest dowel holes."""
BESIDE_DOWEL_MM = 1.95


def foot_block_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Nose, plain layer, pad, taper gauge and its scale."""
    thickness = shop.sheet_for("foot block").thickness_mm
    layer = _layer("foot block layer", 0.0, [i * thickness for i in range(PLAIN_LAYERS)], shop)
    block = (
        _nose(trestle, shop),
        replace(layer, marks=fill_box(words_of("foot-block-layer", ["name", "face"], shop), _boxes(shop)[1], 5.0)),
        _pad(trestle, shop),
    )
    return (*block, *taper_parts(trestle.job.unit, shop, ASSEMBLY))


def nose_length(trestle: Trestle, thickness_mm: float) -> float:
    """How far the nose reaches beyond the body, mm, so that no layer touches a leg before the nose does.

    A leg's face recedes by height x cot of its lean at most; pushed askew the body's corner gains half its width x tan.
    """
    flattest = min(trestle.angles.rake_deg, trestle.angles.splay_deg)
    recedes = (PLAIN_LAYERS + 1) * thickness_mm * cos(radians(flattest)) / sin(radians(flattest))
    return recedes + BODY_WIDTH_MM / 2 * tan(radians(ASKEW_DEG)) + SPARE_REACH_MM


def pad_size(trestle: Trestle) -> tuple[float, float]:
    """(along, across) of a pad, mm: whole, at most 60 x 60, inside the foot, so that the block can come up to the leg.

    The foot is a parallelogram: level_width along the board, t / sin(splay) across it, its short sides off square by
    the edge twist.
    """
    angles, leg = trestle.angles, trestle.job.leg
    deep = leg.thickness_mm / sin(radians(angles.splay_deg))
    along = trestle.leg.level_width_mm - deep * tan(radians(angles.edge_twist_deg))
    return _pad_side(along), _pad_side(deep)


def _pad_side(room: float) -> float:
    """At most PAD_MM, clear of the foot's edges by PAD_INSIDE_MM (on a very thin leg by an eighth), in whole mm."""
    return min(PAD_MM, float(max(1, floor(room - 2 * min(PAD_INSIDE_MM, room / 8)))))


def _boxes(shop: Shop) -> tuple[Box, Box]:
    """FRONT_BOX and REAR_BOX, clear of this shop's dowel holes."""
    away = (dowel_diameter(shop) + DOWEL_PLAY_MM) / 2 + BESIDE_DOWEL_MM
    (front, _), (back, off) = ((BODY_LENGTH_MM - x, y) for x, y in DOWELS_BACK_MM)
    middle = BODY_WIDTH_MM / 2
    return (
        replace(FRONT_BOX, x_low=max(FRONT_BOX.x_low, back + away), y_low=max(FRONT_BOX.y_low, middle + away)),
        replace(REAR_BOX, x_high=min(REAR_BOX.x_high, front - away), y_high=min(REAR_BOX.y_high, middle + off - away)),
    )


def _layer(name: str, reach: float, heights: Sequence[float], shop: Shop) -> Part:
    """The nose or a plain layer, still without marks; its pieces lie `heights` above the floor."""
    #     ___________
    #    |  o        \__       dowels o through all layers; the nose on top reaches out by `reach`, to a blunt tip,
    #    |      o     __|      so that it meets a leaning leg before any layer does
    #    |___________/
    long, wide = BODY_LENGTH_MM, BODY_WIDTH_MM
    # Anticlockwise from the rear right; the nose runs to a blunt tip in the middle of the front, by `reach`.
    front = [OutlineCorner((long, 0.0), "front edge")]
    if reach:
        front = [
            OutlineCorner((long, 0.0), "nose, right side"),
            OutlineCorner((long + reach, (wide - TIP_MM) / 2), "nose tip"),
            OutlineCorner((long + reach, (wide + TIP_MM) / 2), "nose, left side"),
        ]
    sides = [OutlineCorner((long, wide), "left edge", "free"), OutlineCorner((0.0, wide), "rear edge", "free")]
    outline, pieces = draw_outline([OutlineCorner((0.0, 0.0), "right edge", "free"), *front, *sides])
    far = "nose tip" if reach else "front edge"
    features = [
        *pieces,
        across(pieces, "right edge", "left edge", "width", "edge", wide),
        across(pieces, far, "rear edge", "length", "edge", long + reach),
    ]
    if reach:
        tip = next(feature for feature in pieces if feature.name == far)
        features.append(Feature("nose tip, width", "edge", "outer", tip.pieces, "length_mm", TIP_MM))
    holes: list[Hole] = []
    for i, (back, off) in enumerate(DOWELS_BACK_MM, 1):
        diameter = dowel_diameter(shop) + DOWEL_PLAY_MM
        hole, feature = round_hole(f"dowel hole {i}", (long - back, wide / 2 + off), diameter)
        holes.append(hole)
        features += feature
    numbers = [f" {i}" for i in range(1, len(heights) + 1)] if len(heights) > 1 else [""]
    return Part(
        name=name,
        slug=name.replace(" ", "-"),
        assembly=ASSEMBLY,
        hand="",
        needed=len(heights),
        spares=0,
        thickness_mm=shop.sheet_for("foot block").thickness_mm,
        outline=outline,
        holes=tuple(holes),
        features=tuple(features),
        placements=tuple(
            Placement(f"{name}{number}", "both", Frame((0.0, 0.0, height)))
            for number, height in zip(numbers, heights, strict=True)
        ),
    )


def _nose(trestle: Trestle, shop: Shop) -> Part:
    thickness, unit = shop.sheet_for("foot block").thickness_mm, trestle.job.unit
    reach = nose_length(trestle, thickness)
    nose = _layer("foot block nose", reach, [PLAIN_LAYERS * thickness], shop)
    heights = [(count, count * thickness) for count in range(1, PLAIN_LAYERS + 2)]
    table = [
        line
        for count, height in heights
        for line in words_of(
            "foot-block-nose",
            ["heights"],
            shop,
            count="1 SHEET" if count == 1 else str(count),
            height=length_text(height, unit),
        )
    ]
    front, rear = _boxes(shop)
    marks = (
        *fill_box(words_of("foot-block-nose", ["top", "knife"], shop), front, 5.0),
        *fill_box(table, rear, 5.0),
    )
    # A scribing height for each stack, and the nose's reach.
    why = "nose on {} plain layers; measure the stack, and leave the legs this much longer or more"
    stacks = [
        Setting(
            f"scribing height, {count} sheet{'s' if count > 1 else ''}",
            height,
            "mm",
            why.format(count - 1),
            "floor to nose",
        )
        for count, height in heights
    ]
    reaches = Setting(
        "nose length", reach, "mm", "the nose meets a leaning leg before any layer does", "beyond the body"
    )
    return replace(nose, marks=marks, settings=(*stacks, reaches))


def _pad(trestle: Trestle, shop: Shop) -> Part:
    """Its thickness is all that works: a saw or a stub takes nothing from a pad."""
    along, across_foot = pad_size(trestle)
    outline, pieces = draw_rectangle(
        along, across_foot, {"near edge": "free", "right end": "free", "far edge": "free", "left end": "free"}
    )
    box = Box(PAD_AWAY_MM, PAD_AWAY_MM, along - PAD_AWAY_MM, across_foot - PAD_AWAY_MM)
    why = "three equal pads under three feet; smaller than a foot, so that the block can come up to the leg"
    return Part(
        name="foot pad",
        slug="foot-pad",
        assembly=ASSEMBLY,
        hand="",
        needed=3,
        spares=1,
        thickness_mm=shop.sheet_for("foot block").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            across(pieces, "left end", "right end", "along the foot", "edge", along),
            across(pieces, "near edge", "far edge", "across the foot", "edge", across_foot),
        ),
        marks=fill_box(words_of("foot-pad", ["name"], shop), box, 5.0),
        settings=tuple(
            Setting(f"pad, {way} the foot", side, "mm", why, f"{way} the trestle")
            for way, side in (("along", along), ("across", across_foot))
        ),
    )
