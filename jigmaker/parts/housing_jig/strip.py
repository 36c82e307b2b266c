"""Fence and back strip: one shape, hung on the bearers' tenons. Layouts in, Part out. Part frame; mm.

The fence lies on the board's top face and gives every housing its place; the back strip on the bottom face keeps the
wood from breaking out. Both are cut into, right through, by the first housing of each hand, and can be renewed.
"""

from jigmaker.geometry.frames import Frame
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import SCREW_HOLE_MM, across, draw_rectangle, mortise, round_hole
from jigmaker.parts.housing_jig.layout import ALONG_MM, SCREW_UP_MM, STRIP_WEB_MM, JigLayout
from jigmaker.parts.housing_jig.rib_marks import strip_marks
from jigmaker.parts.part import Held, Part, Placement, Setting, State
from jigmaker.parts.relief import hole_diameter

BELOW_EDGE_MM = 0.3  # the strip's upper edge under the worked edge: never proud of it, or it would carry the jig


def strip(layouts: tuple[JigLayout, ...], shop: Shop) -> Part:
    """Fence or back strip with as many spares as the jig uses. A one-handed L jig takes the R shape turned over."""
    layout = layouts[0]
    width, height = layout.strip_high - layout.strip_low, layout.strip_depth - BELOW_EDGE_MM
    outline, features = draw_rectangle(
        width, height, {"lower edge": "free", "right end": "free", "upper edge": "edge", "left end": "free"}
    )
    depth = across(features, "lower edge", "upper edge", "depth", "edge", height)
    length = across(features, "right end", "left end", "length", "edge", width)
    # A mortise and a screw hole under every plain bearer. Part frame: y = 0 is the strip's lower edge, so that what is
    # told downward from the worked edge is taken off the strip's depth.
    made = []
    for name, x in layout.bearer_faces:
        left = x - layout.strip_low - layout.joint / 2
        low = layout.strip_depth - layout.lug_depth + layout.under_tenon - ALONG_MM / 2
        high = layout.strip_depth - layout.over_tenon + ALONG_MM / 2
        right = left + layout.sheet + layout.joint
        made.append(mortise(f"mortise, {name}", (left, low), (right, high), layout.bites))
        centre = (x + layout.sheet / 2 - layout.strip_low, layout.strip_depth - layout.lug_depth + SCREW_UP_MM)
        made.append(round_hole(f"screw, {name}", centre, hole_diameter(shop, SCREW_HOLE_MM)))
    placements = tuple(place for lay in layouts for place in _placements(lay))
    # The screw's hole; with a wide cutter it comes out larger than the screw's head wants.
    diameter = hole_diameter(shop, SCREW_HOLE_MM)
    why = "for a 3.5 mm countersunk screw" if diameter == SCREW_HOLE_MM else "for a 3.5 mm screw with a washer"
    return Part(
        name="fence or back strip",
        slug="fence-or-back-strip",
        assembly="housing jig",
        hand="",
        needed=len(placements),
        spares=len(placements),
        thickness_mm=layout.sheet,
        outline=outline,
        holes=tuple(hole for hole, _ in made),
        features=(*features, depth, length, *(feature for _, found in made for feature in found)),
        settings=(Setting("screw hole", diameter, "mm", f"{why} into the fence's lug, pilot 2.5 mm", "fence only"),),
        marks=strip_marks(layout, shop),
        placements=placements,
        least_wood_mm=(("web", STRIP_WEB_MM),),
    )


def _placements(layout: JigLayout) -> list[Placement]:
    """Fence on the top face (Z from 0 to p), back strip on the bottom face; for L alone turned over, end for end."""
    state: State = "both" if layout.hands == "both" else layout.hands
    suffix = "" if state == "both" else f" {state}"
    places = (("fence", 0.0), ("back strip", -layout.top_thickness - layout.sheet))
    made = []
    for name, z in places:
        # Half a turn about the upright Y: X runs to the left, and what was the marked face looks at the board.
        if layout.hands == "L":
            frame = Frame(
                (-layout.strip_low, -layout.strip_depth, z + layout.sheet),
                (-1.0, 0.0, 0.0),
                (0.0, 1.0, 0.0),
                (0.0, 0.0, -1.0),
            )
        else:
            frame = Frame((layout.strip_low, -layout.strip_depth, z))
        held: Held = "under" if (name == "fence") == (layout.hands != "L") else "over"
        made.append(Placement(name + suffix, state, frame, held))
    return made
