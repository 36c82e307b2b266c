"""The jig taken apart along the ways its pieces go in. Jig frame; paper mm.

Plate and mask come off out of the plate's plane, the stop off along the board; fence and back strip slide inward off
their tenons, into the room where the board will be, and then down.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.vectors import add
from jigmaker.papers.pictures.canvas import Canvas, fitted
from jigmaker.papers.pictures.jig_bodies import exploded, jig_bodies, out_of_plate
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.parts.kit import Kit

VIEW = View.from_viewer((-0.45, 0.62, 1.0), (0.0, 1.0, 0.0))
_WIDE_MM, _COLUMN_MM, _HIGH_MM = 92.0, 38.0, 62.0
_APART_MM = 16.0  # free room between a piece and the next, at full size
_MASK_MM, _STOP_MM = 45.0, 60.0  # how far mask and stop are off the plate and the bearer

_WORDS: tuple[tuple[str, str], ...] = (
    ("mask in", "mask for the slot not in use"),
    ("plate", "plate: marks up, cut-off corner toward you"),
    ("bearer, centre", "bearer"),
    ("bearer, side R", "bearer"),
    ("bearer, far", "bearer"),
    ("end bearer, left", "end bearer: pressed outward, its face is the stop plane"),
    ("end bearer, right", "end bearer: pressed outward, its face is the stop plane"),
    ("stop", "stop: two bolts M6"),
    ("fence", "fence: on the tenons that point at the top face, one screw a bearer"),
    ("back strip", "back strip: slides on its tenons, no screw"),
)


_MOVES = "; for L at the other end"
_TWO_JIGS = "jig R; jig L is its mirror image"


def jig_exploded_picture(kit: Kit) -> Picture:
    """Every piece of the jig set for R, off its place, with its name."""
    layout = kit.layout
    both = layout.hands == "both"
    rise = 0.5 * (layout.plate_rear - layout.plate_front)  # so far that the bearers show below the plate
    # How far each piece is moved, by the beginning of its name; jig frame.
    ways = {
        "plate": out_of_plate(kit, "R", rise),
        "mask": out_of_plate(kit, "R", rise + _MASK_MM),
        "stop": (_STOP_MM, 0.0, 0.0),
        "fence": (0.0, -(layout.strip_depth + _APART_MM), 0.0 - layout.sheet - 4.0),
        "back strip": add((0.0, -(2 * layout.strip_depth + 1.6 * _APART_MM), 0.0), (0.0, 0.0, layout.sheet + 4.0)),
    }
    bodies = exploded(jig_bodies(kit, "R"), ways)
    drawn = project(bodies, VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    if not both:
        canvas.words(_TWO_JIGS, (canvas.bounds[0], canvas.bounds[3] + 4.0))
    # Words that two bodies share, such as those of both end bearers, stand once, at the first of them that is seen.
    places, names = seen_places(bodies, VIEW), list[NameLabel]()
    for start, words in _WORDS:
        found = [body.name for body in bodies if body.name.startswith(start) and body.name in places]
        if found and words not in [name.text for name in names]:
            side: Side | None = "right" if start == "stop" else None
            words += _MOVES if start == "stop" and both else ""
            names.append(NameLabel(words, spot.point(places[found[0]]), side))
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The jig taken apart")
