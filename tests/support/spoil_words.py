"""Words made wrong, on parts and on papers, each with its place, what is put there, and the code that must find it.

On parts the mark is changed as the maker hands it on, before anything is written: then file and kit.json agree. On
papers the text is changed in the folder and its hash renewed: then nothing shows that it was changed.
"""

import csv
import html
import io
import re
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
    ("laser, mm", "plate", "kit", "KIT FR7-37J", "KIT FR7-37H", "", 607),
    ("laser, mm", "stop", "kit", "KIT FR7-37J", "KIT FR7-37H", "", 607),
    ("laser, mm", "bevel-plate", "kit", "KIT FR7-37J", "KIT 37J-FR7", "", 607),
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


_SHEETS, _CUT_LIST, _NOTES = "set-up-sheets.html", "cut-list.html", "notes.html"
_INDEX, _CSV = "index.html", "cut-list.csv"

# Of several sizes: another size's figure, a figure that does not say of which size it is, a count of all of them.
_OF_SIZES = tuple(
    ("three sizes", *row)
    for row in (
        ("set-up-sheets.html", "size.2.leg.cut_length:rule", "689 mm", "807 mm", 602),
        ("set-up-sheets.html", "size.2.leg.cut_length:rule", "name", "leg.cut_length:rule", 604),
        ("set-up-sheets.html", "size.3.batch.legs:number", "4", "12", 602),
        ("set-up-sheets.html", "size.3.tape.along:rule", "821.5 mm", "986.5 mm", 602),
        ("set-up-sheets.html", "size.3.foot.spread_across:rule", "", "396.5 mm", 602),
        ("set-up-sheets.html", "size.2.trestle.height:given", "650 mm", "762 mm", 602),
        ("set-up-sheets.html", "batch.housings:number", "24", "8", 602),
        ("cut-list.html", "size.3.top.length:rule", "800 mm", "900 mm", 602),
        ("cut-list.html", "size.2.cut.leg.spare:number", "0", "1", 602),
        ("cut-list.csv", "leg for size 650 mm / length, mm", "713.07", "830.93", 602),
        ("cut-list.csv", "leg for size 650 mm / what", "leg for size 650 mm", "leg", 606),
        ("index.html", "size.2.leg.length:chain", "", "801.86 mm", 602),
        ("notes.html", "size.3.foot.beyond_edge:rule", "", "5 mm", 602),
    )
)

# Which demo, paper, fact by its full name, what it says, what is put there, the code. In the rows of the list for
# spreadsheets a name is the row's and the column's.
PAPERS = (
    ("by hand", _SHEETS, "leg_box.end_for_end:degrees", "24.00", "22.97", 602),
    ("by hand", _SHEETS, "leg_box.rolled:degrees", "33.46", "24.00", 602),
    ("by hand", _SHEETS, "leg_box.slot:caliper", "1.05 mm", "1.5 mm", 602),
    ("by hand", _SHEETS, "leg_box.pieces:number", "7 pieces", "5 pieces", 602),
    ("by hand", _SHEETS, "hand_saw.depth:given", "75 mm", "57 mm", 602),
    ("by hand", _SHEETS, "wedge.jaws_saw:rule", "95.5 mm", "85.5 mm", 602),
    ("by hand", _SHEETS, "wedge.jaw_top_saw:rule", "49 mm", "39 mm", 602),
    ("by hand", _SHEETS, "wedge.clamp_apart:rule", "157.5 mm", "120 mm", 602),
    ("by hand", _SHEETS, "wedge.under_head:given", "12 mm", "21 mm", 602),
    ("by hand", _SHEETS, "wedge.layers:number", "2 layers", "3 layers", 602),
    ("by hand", _CUT_LIST, "saw.cut:given", "1 mm", "3.2 mm", 602),
    ("laser, mm", _SHEETS, "said.R", "R", "L", 601),
    ("laser, mm", _SHEETS, "said.L", "L", "R", 601),
    ("laser, mm", _SHEETS, "rout.stop_R", "right", "left", 601),
    ("laser, mm", _SHEETS, "rout.stop_L", "left", "right", 601),
    ("laser, mm", _SHEETS, "rout.end_R", "right", "left", 601),
    ("laser, mm", _SHEETS, "rout.mask_R", "L", "R", 601),
    ("laser, mm", _SHEETS, "rout.mask_L", "R", "L", 601),
    ("laser, mm", _SHEETS, "rout.feed_R", "clockwise", "anticlockwise", 601),
    ("laser, mm", _SHEETS, "rout.park", "front", "rear", 601),
    ("laser, mm", _SHEETS, "jig.fence_side", "toward you", "away from you", 601),
    ("laser, mm", _SHEETS, "jig.push", "outward", "inward", 601),
    ("laser, mm", _SHEETS, "jig.notch", "upward", "downward", 601),
    ("laser, mm", _SHEETS, "saw.face_down", "outer", "inner", 601),
    ("laser, mm", _SHEETS, "saw.mitre", "foot", "head", 601),
    ("laser, mm", _SHEETS, "saw.tilt", "head", "foot", 601),
    ("laser, mm", _SHEETS, "saw_edge.outer_face", "toward you", "away from you", 601),
    ("laser, mm", _SHEETS, "saw_brace.shorter_face", "outside", "inside", 601),
    ("laser, mm", _SHEETS, "housing.deeper_face", "top", "bottom", 601),
    ("laser, mm", _SHEETS, "housing.wall_runs", "toward", "away from", 601),
    ("laser, mm", _SHEETS, "foot.R", "right", "left", 601),
    ("laser, mm", _SHEETS, "foot.L", "left", "right", 601),
    ("laser, mm", _SHEETS, "machine.zero", "left", "right", 601),
    ("laser, mm", _SHEETS, "kit.number", "FR7-37J", "FR7-37H", 607),
    ("laser, mm", _NOTES, "kit.number", "FR7-37J", "FR7-37H", 607),
    ("laser, mm", _INDEX, "kit.number", "FR7-37J", "FR7-37H", 607),
    ("laser, mm", _SHEETS, "said.near wall", "near wall", "far wall", 601),
    ("laser, mm", _SHEETS, "said.top face", "top face", "bottom face", 601),
    ("laser, mm", _SHEETS, "jig.projection:caliper", "48.1 mm", "50.1 mm", 602),
    ("laser, mm", _SHEETS, "leg.cut_length:rule", "756 mm", "656 mm", 602),
    ("laser, mm", _SHEETS, "leg.cut_length:rule", "756 mm", '756"', 602),
    ("laser, mm", _SHEETS, "housing.start_top:rule", "120 mm", "120.5 mm", 602),
    ("laser, mm", _SHEETS, "plug.low:caliper", "70.075 mm", "70.08 mm", 602),
    (
        *("laser, mm", _SHEETS, "angles.saw_mitre:angle", "11.75° off square (78.25° off the arris)"),
        *("78.25° off square (11.75° off the arris)", 602),
    ),
    (
        *("laser, mm", _SHEETS, "angles.saw_tilt:angle", "12.00° off upright (78.00° off the table)"),
        *("12.00° off the table (78.00° off upright)", 602),
    ),
    ("laser, mm", _SHEETS, "tape.diagonals:rule", "1058 mm", "1068 mm", 602),
    (
        "laser, mm",
        _SHEETS,
        "tape.along.between",
        "near R to far L; near L to far R",
        "near R to far R; near L to far L",
        601,
    ),
    ("laser, mm", _SHEETS, "batch.housings_a_hand:number", "12 housings", "24 housings", 602),
    ("laser, mm", _SHEETS, "limit.projection:limit", "±0.1 mm", "±0.5 mm", 603),
    ("laser, mm", _SHEETS, "practice.chamfer:given", "3 mm", "30 mm", 603),
    ("laser, mm", _SHEETS, "first_off.projection_less.depth_top:signed", "-0.20", "+0.20", 602),
    ("laser, mm", _SHEETS, "first_off.projection_change.less_0.2:change", "+0.20", "-0.20", 602),
    ("laser, mm", _SHEETS, "first_off.stop_more.amount:hundredth", "0.2 mm", "2 mm", 602),
    ("laser, mm", _SHEETS, "leg_screw.pilot:given", "2.5 mm", "5 mm", 602),
    ("laser, mm", _SHEETS, "flank.leg_face", "flank LEG FACE", "flank LEG EDGE", 601),
    ("laser, mm", _CUT_LIST, "leg.blank:rule", "777.5 mm", "677.5 mm", 602),
    ("laser, mm", _CUT_LIST, "cut.leg.batch:number", "24", "20", 602),
    ("laser, mm", _CUT_LIST, "part.foot-pad.length:given", "60 mm", "66 mm", 602),
    ("laser, mm", _CUT_LIST, "leg_screw.name", "5.0 × 70", "5.0 × 35", 601),
    ("laser, mm", _CUT_LIST, "stock.1.thickness:given", "9.1 mm", "9 mm", 602),
    ("laser, mm", _NOTES, "marking.edge.near.datum_end.from:rule", "120 mm", "130 mm", 602),
    ("laser, mm", _NOTES, "marking.top_face.far.other_end.to:rule", "707 mm", "193 mm", 602),
    ("laser, mm", _NOTES, "housing.depth_bottom:fine", "23.1 mm", "32.7 mm", 602),
    ("laser, mm", _INDEX, "housing.depth_square:chain", "32.00 mm", "32.71 mm", 602),
    ("laser, mm", _INDEX, "angles.leg_face:angle", "11.75° off square", "12.25° off square", 602),
    ("laser, mm", _INDEX, "trestle.height:given", "720 mm", "270 mm", 602),
    ("laser, mm", _INDEX, "foot.beyond_end:rule", "33 mm", "153 mm", 602),
    ("laser, mm", _INDEX, "standing.end", "inside", "outside", 601),
    ("laser, mm", _SHEETS, "leg.cut_length:rule", "name", "leg.lenght:rule", 604),
    ("laser, mm", _CSV, "leg / length, mm", "777.33", "677.33", 602),
    ("laser, mm", _CSV, "leg / total", "25", "24", 602),
    ("laser, mm", _CSV, "brace / width, mm", "110", "18", 602),
    ("laser, mm", _CSV, "plate / thickness, mm", "9.1", "19.1", 602),
    ("laser, mm", _CSV, "mask for slot R / what", "mask for slot R", "mask for slot L", 606),
    ("laser, mm", _CSV, "top board / kind", "timber", "lumber", 606),
    ("CNC, inches", _SHEETS, "rout.stop_R", "right", "left", 601),
    ("CNC, inches", _SHEETS, "rout.stop_L", "left", "right", 601),
    ("CNC, inches", _SHEETS, "said.L", "L", "R", 601),
    ("CNC, inches", _SHEETS, "machine.turn", "anticlockwise", "clockwise", 601),
    ("CNC, inches", _SHEETS, "jig.projection:caliper", '1.6463"', '1.6563"', 602),
    ("CNC, inches", _SHEETS, "jig.projection:caliper", '1.6463"', "41.815 mm", 602),
    ("CNC, inches", _SHEETS, "leg.cut_length:rule", '31 9/16"', '30 9/16"', 602),
    ("CNC, inches", _SHEETS, "machine.passes:number", "4 passes", "2 passes", 602),
    ("CNC, inches", _SHEETS, "limit.depth:limit", '±0.008"', '±0.08"', 603),
    ("CNC, inches", _CUT_LIST, "brace.bottom:rule", '7 13/32"', '7 31/32"', 602),
    ("CNC, inches", _CUT_LIST, "part.bearer.mark", "BE", "EB", 601),
    (
        "CNC, inches",
        _NOTES,
        "angles.rake:angle",
        "76.00° off the top arris (14.00° off square)",
        "14.00° off the top arris",
        602,
    ),
    ("CNC, inches", _INDEX, "files.reference_size:file", "", "12.3456 in", 602),
    ("CNC, inches", _CSV, "leg / length, in", "32.4506", "28.4506", 602),
    ("CNC, inches", _CSV, "top board / length of board for all, in", "72.252", "36.126", 602),
    *_OF_SIZES,
)


def paper_with(data, name, old, new):
    """A paper with one fact's words changed, whatever they are where `old` is "", or its name where it is "name"."""
    if " / " in name:
        return _list_with(data.decode("utf-8-sig"), *name.split(" / "), old, new)
    text, fact = data.decode(), html.escape(name)
    if old == "name":
        changed = text.replace(f'<span data-fact="{fact}">', f'<span data-fact="{new}">', 1)
    else:
        words = re.escape(html.escape(old)) if old else "[^<]*"
        start = f'<span data-fact="{fact}">'
        changed = re.sub(
            f"{re.escape(start)}{words}</span>", lambda _: f"{start}{html.escape(new)}</span>", text, count=1
        )
    assert changed != text, f"{name} does not say {old!r}"
    return changed.encode()


def _list_with(text, what, column, old, new):
    rows = list(csv.reader(io.StringIO(text, newline="")))
    row, at = next(row for row in rows if row[1] == what), rows[0].index(column)
    assert row[at] == old, row
    row[at] = new
    out = io.StringIO()
    csv.writer(out, lineterminator="\r\n").writerows(rows)
    return out.getvalue().encode("utf-8-sig")
