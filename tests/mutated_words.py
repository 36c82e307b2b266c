"""Words made wrong, on parts and on papers, each with its place, what is put there, and the code that must find it.

On parts the mark is changed as the maker hands it on, before anything is written: then file and kit.json agree. On
papers the text is changed in the folder and its hash renewed: then nothing shows that it was changed.
"""

from dataclasses import replace

from jigmaker.geometry.outline import Stroke, piece
from jigmaker.geometry.strokes import Strokes

EXCHANGED = "exchanged"

# Which demo, part, mark, what it says, what is put there; with EXCHANGED each takes the other's words.
PARTS = (
    ("laser, mm", "plate", "hand", "R", "L", EXCHANGED, 601),
    ("laser, mm", "plate", "hand", "L", "R", "", 601),
    ("laser, mm", "plate", "stop", "STOP FOR R", "STOP FOR L", EXCHANGED, 601),
    ("laser, mm", "plate", "top", "TOP FACE", "BOTTOM FACE", "", 601),
    ("laser, mm", "plate", "feed", "FEED", "FEED ANTICLOCKWISE", "", 601),
    ("laser, mm", "plate", "projection", "PROJECTION 48.1 mm", "PROJECTION 50.1 mm", "", 602),
    ("laser, mm", "plate", "projection", "PROJECTION 48.1 mm", "PROJECTION 48 mm", "", 602),
    ("laser, mm", "plate", "projection", "PROJECTION 48.1 mm", 'PROJECTION 48.1"', "", 602),
    ("laser, mm", "plate", "guide", "BUSH 17 mm, CUTTER 12 mm", "BUSH 12 mm, CUTTER 17 mm", "", 602),
    ("laser, mm", "plate", "guide", "BUSH 17 mm, CUTTER 12 mm", "BEARING, CUTTER 12 mm", "", 601),
    ("laser, mm", "plate", "tilt", "TILT 12.00° OFF LEVEL", "TILT 12.00° OFF PLUMB", "", 601),
    ("laser, mm", "plate", "tilt", "TILT 12.00° OFF LEVEL", "TILT 12.01° OFF LEVEL", "", 602),
    ("laser, mm", "plate", "leg", "LEG 70 mm × 32 mm", "LEG 32 mm × 70 mm", "", 602),
    ("laser, mm", "plate", "clearance", "CLEARANCE 0.15 mm", "CLEARANCE 0.2 mm", "", 602),
    ("laser, mm", "plate", "sheet", "SHEET 9.1 mm", "SHEET 9 mm", "", 602),
    ("laser, mm", "bearer", "fence", "FENCE SIDE", "BACK SIDE", "", 601),
    ("laser, mm", "end-bearer", "fence", "FENCE SIDE", "BACK SIDE", "", 601),
    ("laser, mm", "stop", "right", "R: RIGHT END", "R: LEFT END", "", 601),
    ("laser, mm", "stop", "left", "L: LEFT END", "L: RIGHT END", "", 601),
    ("laser, mm", "mask-for-slot-r", "name", "MASK FOR SLOT R", "MASK FOR SLOT L", "", 601),
    ("laser, mm", "mask-for-slot-r", "work", "L IN WORK", "R IN WORK", "", 601),
    ("laser, mm", "mask-for-slot-r", "stop", "STOP AT LEFT END", "STOP AT RIGHT END", "", 601),
    ("laser, mm", "mask-for-slot-l", "name", "MASK FOR SLOT L", "MASK FOR SLOT R", "", 601),
    ("laser, mm", "mask-for-slot-l", "stop", "STOP AT RIGHT END", "STOP AT LEFT END", "", 601),
    ("laser, mm", "bevel-plate", "angle", "78.25°", "77.75°", EXCHANGED, 602),
    ("laser, mm", "bevel-plate", "angle", "78.00°", "78.01°", "", 602),
    ("laser, mm", "bevel-plate", "off square", "11.75° OFF SQUARE", "78.25° OFF SQUARE", "", 602),
    ("laser, mm", "bevel-plate", "use", "LEG FACE OFF ARRIS", "LEG EDGE OFF ARRIS", EXCHANGED, 601),
    ("laser, mm", "bevel-plate", "use", "LEG EDGE OFF ARRIS", "LEG EDGE OFF LEVEL", "", 601),
    ("laser, mm", "foot-block-nose", "heights", "2: 18.2 mm", "2: 19.2 mm", "", 602),
    ("laser, mm", "foot-block-nose", "knife", "KNIFE ON THIS FACE", "KNIFE ON THE OTHER FACE", "", 601),
    ("laser, mm", "foot-block-layer", "face", "THIS FACE UP", "THIS FACE DOWN", "", 601),
    ("laser, mm", "taper-gauge", "figures", "8", "9", EXCHANGED, 602),
    ("laser, mm", "taper-scale", "figures", "4", "5", "", 602),
    ("laser, mm", "taper-scale", "name", "TAPER SCALE, mm", "TAPER SCALE, in", "", 601),
    ("laser, mm", "projection-gauge", "projection", "PROJECTION 48.1 mm", "PROJECTION 48.2 mm", "", 602),
    ("laser, mm", "leg-gauge", "limits", "GO 70 mm", "NO-GO 69.85 mm", EXCHANGED, 601),
    ("laser, mm", "leg-gauge", "limits", "GO 70 mm", "GO 69.85 mm", "", 602),
    ("laser, mm", "leg-gauge", "limits", "NO-GO 69.85 mm", "NO-GO 69.8 mm", "", 602),
    ("laser, mm", "housing-plug", "low", "LOW 70.075 mm", "HIGH 70.225 mm", "", 601),
    ("laser, mm", "housing-plug", "in", "MUST GO IN", "MUST STOP", "", 601),
    ("laser, mm", "housing-plug", "stops", "MUST STOP", "MUST GO IN", "", 601),
    ("laser, mm", "housing-plug", "dress", "DRESS THIS SIDE", "DRESS OTHER SIDE", "", 601),
    ("laser, mm", "housing-plug", "from", "IN FROM THE TOP FACE", "IN FROM THE BOTTOM FACE", "", 601),
    ("laser, mm", "depth-gauge", "limits", "TOP FACE", "BOTTOM FACE", EXCHANGED, 601),
    ("laser, mm", "depth-gauge", "lies", "MUST LIE ON", "MUST STAND OFF", "", 601),
    (
        "laser, mm",
        "brace-template",
        "top",
        "BRACE: THIS EDGE UNDER THE TOP",
        "BRACE: OTHER EDGE UNDER THE TOP",
        "",
        601,
    ),
    ("laser, mm", "brace-template", "face", "INSIDE FACE", "OUTSIDE FACE", "", 601),
    ("laser, mm", "brace-template", "ends", "ENDS 78.25° OFF LONG EDGE", "ENDS 11.75° OFF LONG EDGE", "", 602),
    ("laser, mm", "brace-template", "edge", "TOP EDGE 78.00° OFF", "TOP EDGE 77.00° OFF", "", 602),
    ("laser, mm", "brace-template", "angle", "87.52°", "78.00°", "", 602),
    ("laser, mm", "coupon", "station", "A", "B", EXCHANGED, 601),
    ("laser, mm", "coupon", "axis", "X", "Y", EXCHANGED, 601),
    ("laser, mm", "coupon", "sheet", "SHEET 9.10 MM", "SHEET 9.00 MM", "", 602),
    ("laser, mm", "coupon", "tool", "0.20", "0.30", "", 602),
    ("CNC, inches", "plate", "hand", "R", "L", EXCHANGED, 601),
    ("CNC, inches", "plate", "stop", "STOP FOR L", "STOP FOR R", "", 601),
    ("CNC, inches", "plate", "top", "TOP FACE", "BOTTOM FACE", "", 601),
    ("CNC, inches", "plate", "projection", 'PROJECTION 1.6463"', 'PROJECTION 1.6563"', "", 602),
    ("CNC, inches", "plate", "projection", 'PROJECTION 1.6463"', 'PROJECTION 1 41/64"', "", 602),
    ("CNC, inches", "plate", "guide", 'BUSH 3/4", CUTTER 1/2"', 'BUSH 5/8", CUTTER 1/2"', "", 602),
    ("CNC, inches", "bearer", "fence", "FENCE", "BACK", "", 601),
    ("CNC, inches", "bearer", "name", "BE", "EB", "", 601),
    ("CNC, inches", "mask-for-slot-r", "name", "MASK R", "MASK L", "", 601),
    ("CNC, inches", "mask-for-slot-l", "work", "R IN WORK", "L IN WORK", "", 601),
    ("CNC, inches", "bevel-plate-1", "angle", "76.00°", "80.00°", EXCHANGED, 602),
    ("CNC, inches", "bevel-plate-2", "use", "TRUE SQUARE", "BOARD FACES OFF EDGE", "", 601),
    ("CNC, inches", "leg-gauge", "limits", 'GO 3"', 'NO-GO 2.9941"', EXCHANGED, 601),
    ("CNC, inches", "leg-gauge", "limits", 'NO-GO 2.9941"', 'NO-GO 2.9841"', "", 602),
    ("CNC, inches", "housing-plug", "high", 'HIGH 3.0090"', 'HIGH 3.0190"', "", 602),
    ("CNC, inches", "depth-gauge", "limits", 'TOP LOW 0.7942"', 'BOTTOM LOW 0.6161"', EXCHANGED, 601),
    ("CNC, inches", "brace-template", "tilt", "ENDS 2.41° OFF UPRIGHT", "ENDS 2.41° OFF SQUARE", "", 601),
    ("CNC, inches", "brace-template", "ends", "ENDS 80.29° OFF LONG EDGE", "ENDS 80.39° OFF LONG EDGE", "", 602),
    ("CNC, inches", "taper-scale", "figures", "3/16", "1/8", EXCHANGED, 602),
)


def with_words(part, fact, old, new, how):
    """The part as the maker would hand it on with other words."""
    both = {old: new, new: old} if how == EXCHANGED else {old: new}
    marks = tuple(
        replace(mark, text=both.get(mark.text, mark.text)) if mark.fact == fact else mark for mark in part.marks
    )
    assert marks != part.marks, f"{part.slug} does not say {old!r}"
    return replace(part, marks=marks)


# Lines without words, and marks without names: which demo, part, mark, what is done to it, the code.
DRAWN = (
    ("laser, mm", "plate", "feed arrow", "turned", 601),
    ("laser, mm", "plate", "centre lines", "moved", 602),
    ("laser, mm", "plate", "hand", "nameless", 604),
    ("laser, mm", "plate", "feed arrow", "nameless", 604),
    ("CNC, inches", "plate", "feed arrow", "turned", 601),
    ("CNC, inches", "leg-gauge", "arrows", "turned", 601),
    ("CNC, inches", "leg-gauge", "limits", "nameless", 604),
)


def redrawn(part, fact, how):
    """The part with every mark of a name pointing the other way, lying elsewhere, or without its name."""
    marks = tuple(_redrawn(mark, how) if mark.fact == fact else mark for mark in part.marks)
    assert marks != part.marks, f"{part.slug} has no {fact}"
    return replace(part, marks=marks)


def _redrawn(mark, how):
    if how == "nameless":
        return replace(mark, fact="")
    if how == "moved":
        return replace(mark, strokes=Strokes.of(_moved(stroke, 1.0) for stroke in mark.strokes))
    # Mirrored about an upright line through its middle: an arrow then turns, or points, the other way.
    xs = [x for stroke in mark.strokes for segment in stroke.segments for x, _ in (segment.start, segment.end)]
    about = min(xs) + max(xs)
    return replace(mark, strokes=Strokes.of(_mirrored(stroke, about) for stroke in mark.strokes))


def _moved(stroke, by):
    return Stroke(
        tuple(piece((s.start[0] + by, s.start[1]), (s.end[0] + by, s.end[1]), s.bulge) for s in stroke.segments)
    )


def _mirrored(stroke, about):
    return Stroke(
        tuple(piece((about - s.start[0], s.start[1]), (about - s.end[0], s.end[1]), -s.bulge) for s in stroke.segments)
    )
