"""What may stand on parts, and where: a table of sayings, in which names in braces are facts of known_facts.

"here.": worked out from the place of the mark on its part as cut (part_places.py).
"""

_HEAD, _SLIDE = ("HEAD {here.end} END",), ("SLIDE, DO NOT TURN",)
_WALL, _FACES_YOU = ("{here.side} WALL",), ("{here.face} FACE TO YOU",)

SAYINGS: dict[str, dict[str, tuple[str, ...]]] = {
    "plate": {
        "hand": ("{here.hand}",),
        "stop": ("STOP FOR {here.stop_for}",),
        "top": ("{here.face} FACE",),
        "feed": ("FEED",),
        "projection": ("PROJECTION {jig.projection:caliper}",),
        "guide": (
            "BUSH {router.bush:given}, CUTTER {router.cutter:given}",
            "{router.bearing}, CUTTER {router.cutter:given}",
        ),
        "tilt": ("TILT {jig.plate_tilt:degrees}° OFF LEVEL",),
        "kit": ("KIT {kit.number}",),
        "job": ("{job.name}",),
        "leg": ("LEG {leg.width:given} × {leg.thickness:given}",),
        "clearance": ("CLEARANCE {housing.clearance:caliper}",),
        "sheet": ("SHEET {jig.sheet:caliper}",),
    },
    "bearer": {"name": ("BEARER", "BE"), "fence": ("{here.side} SIDE", "{here.side}")},
    "end-bearer": {"name": ("END BEARER", "EB"), "fence": ("{here.side} SIDE", "{here.side}")},
    "stop": {
        "name": ("STOP",),
        "kit": ("KIT {kit.number}",),
        "right": ("R: {here.end_R} END",),
        "left": ("L: {here.end_L} END",),
    },
    "fence-or-back-strip": {"name": ("FENCE OR BACK STRIP", "FS"), "clamps": ("CLAMP HERE",)},
    "mask-for-slot": {
        "name": ("MASK FOR SLOT {here.hand}", "MASK {here.hand}"),
        "work": ("{here.work} IN WORK",),
        "stop": ("STOP AT {here.end} END",),
    },
    "mask-foot": {"name": ("MASK FOOT", "MF")},
    "bevel-plate": {
        "title": ("BEVEL PLATE {here.number}", "BEVEL PLATE"),
        "kit": ("KIT {kit.number}",),
        "strip": ("STRIP GLUED BEHIND",),
        "angle": ("{here.angle:degrees}°",),
        "off square": ("{here.complement:degrees}° OFF SQUARE",),
        "within": ("WITHIN {flank.within}°",),
        "witness": ("WITNESS",),
    },
    "stock-strip": {"name": ("STRIP", "ST")},
    "foot-block-nose": {
        "top": ("TOP LAYER", "NOSE"),
        "knife": ("KNIFE ON THIS FACE", "KNIFE FACE"),
        "heights": (
            "1 SHEET: {foot_block.1:given}",
            *(f"{count}: {{foot_block.{count}:given}}" for count in range(2, 10)),
        ),
    },
    "foot-block-layer": {"name": ("FOOT BLOCK", "FB"), "face": ("THIS FACE UP",)},
    "foot-pad": {"name": ("PAD", "PA")},
    "pad-strip": {"name": ("SPARE PAD",), "saw": ("SAW ON THE LINES",)},
    "taper-gauge": {"figures": ("{here.score:bare}",)},
    "taper-scale": {"name": ("TAPER SCALE, {here.unit}",), "figures": ("{here.score:bare}",)},
    "projection-gauge": {"projection": ("PROJECTION {jig.projection:caliper}",), "touch": ("CUTTER JUST TOUCHES",)},
    "leg-gauge": {
        "limits": ("{here.limit} {here.size:caliper}",),
        "dress": ("DRESS AT ARROWS",),
        "name": ("LEG GAUGE",),
    },
    "housing-plug": {
        "low": ("{here.limit} {here.size:caliper}",),
        "high": ("{here.limit} {here.size:caliper}",),
        "in": ("MUST {here.must}",),
        "stops": ("MUST {here.must}",),
        "dress": ("DRESS {here.dress} SIDE",),
        "name": ("HOUSING PLUG",),
        "from": ("IN FROM THE TOP FACE",),
    },
    "depth-gauge": {
        "limits": ("{here.face} FACE {here.limit} {here.size:caliper}", "{here.face} {here.limit} {here.size:caliper}"),
        "lies": ("MUST {here.must}",),
        "stands": ("MUST {here.must}",),
        "name": ("DEPTH GAUGE",),
    },
    "brace-template": {
        "angle": ("{here.angle:degrees}°",),
        "top": ("BRACE: {here.edge} EDGE UNDER THE TOP", "{here.edge} EDGE UNDER THE TOP"),
        "half": ("HALF: {here.middle} EDGE ON THE BRACE'S MIDDLE, TURN OVER",),
        "face": ("INSIDE FACE",),
        "ends": ("ENDS {angles.brace_end:degrees}° OFF LONG EDGE",),
        "edge": (
            "TOP EDGE {angles.brace_edge:degrees}° OFF THIS FACE, UNDERCUT",
            "TOP EDGE {angles.brace_edge:degrees}° OFF THIS FACE",
        ),
        "square edge": ("TOP EDGE {brace.square_edge} TO THIS FACE", "TOP EDGE {brace.square_edge}"),
        "tilt": (
            "ENDS {angles.brace_end_tilt:degrees}° OFF UPRIGHT, UNDERCUT",
            "ENDS {angles.brace_end_tilt:degrees}° OFF UPRIGHT",
        ),
        "square ends": ("ENDS {brace.square_ends} TO THIS FACE", "ENDS {brace.square_ends}"),
    },
    "coupon": {
        "tool": ("{machine.tool:plain}",),
        "station": ("{here.station}",),
        "name": ("COUPON",),
        "sheet": ("SHEET {part.coupon.thickness:plain} MM", "SHEET {part.coupon.thickness:plain} IN"),
        "axis": ("{here.axis}",),
    },
    "drilling-template-plate": {
        "hand": ("{here.hole_hand}",),
        "face": ("THIS FACE FOR {here.face_hand}",),
        "drill": ("DRILL {template.drill:given}",),
        "prick": ("PRICK WITH {template.drill:given}, DRILL {leg_screw.hole:given}",),
        "kit": ("KIT {kit.number}",),
        "name": ("DRILLING TEMPLATE",),
    },
    "drilling-template-head-strip": {
        "hand": ("HEAD OF LEGS IN {here.lip_hand}", "HEAD, {here.lip_hand}"),
        "head": ("HEAD",),
        "gap": ("NO GAP: TURN LEG OVER", "GAP MUST SHOW"),
    },
    "drilling-template-side-strip": {"name": ("DRILLING TEMPLATE", "DS")},
    "saw-guide-fence": {
        "top": ("ON {here.face} FACE",),
        "name": ("SAW GUIDE {here.hand}",),
        "kit": ("KIT {kit.number}",),
        "saw": ("SAW {hand_saw.depth:given} DEEP, PLATE {hand_saw.plate:caliper}, KERF {hand_saw.kerf:caliper}",),
        "leg": ("LEG {leg.width:given} × {leg.thickness:given}",),
        "clamps": ("CLAMP HERE",),
    },
    "saw-guide-near-plate": {
        "hand": ("{here.hand}",),
        "end": ("THIS END {here.end}", "END {here.end}"),
        "name": ("SAW GUIDE, NEAR",),
    },
    "saw-guide-far-plate": {"name": ("SAW GUIDE {here.hand}",)},
    "saw-guide-near-cheek": {"name": ("{here.side} CHEEK",)},
    "saw-guide-far-cheek": {"name": ("{here.side} CHEEK",)},
    "saw-guide-bearer": {"name": ("SAW GUIDE", "SB")},
    "saw-guide-stop": {"name": ("SAW GUIDE STOP", "SS")},
    "saw-guide-spacer": {"name": ("SPACER {saw_guide.spacer:caliper}",)},
    "paring-guide-ramp": {"back": ("CHISEL BACK DOWN",), "name": ("PARING GUIDE",)},
    "paring-guide-rib": {"name": ("PARING GUIDE", "PR")},
    "paring-guide-fence": {"top": ("ON {here.face} FACE",), "name": ("PARING GUIDE",), "clamps": ("CLAMP HERE",)},
    "leg-box-near-wall": {"head": _HEAD, "slide": _SLIDE},
    "leg-box-near-half": {"head": _HEAD},
    "leg-box-far-wall": {"name": _WALL, "face": _FACES_YOU},
    "leg-box-far-half": {"name": _WALL, "face": _FACES_YOU},
    "leg-box-right-half": {"slide": _SLIDE},
    "leg-box-bottom": {
        "face": ("WIDE FACE DOWN",),
        "saw": ("SAW {hand_saw.depth:given} DEEP, KERF {hand_saw.kerf:caliper}",),
        "leg": ("LEG {leg.width:given} × {leg.thickness:given}",),
        "name": ("LEG BOX",),
        "kit": ("KIT {kit.number}",),
    },
    "leg-box-strip": {"name": ("LEG BOX", "LS")},
    "cradle-rib": {
        "first": (
            "FIRST END: FAR END OF CUT {angles.saw_tilt_on_edge:degrees}° OFF SQUARE, TO THE {here.first}",
            "FIRST: {angles.saw_tilt_on_edge:degrees}° OFF SQUARE, FAR END {here.first}",
        ),
        "second": (
            "SECOND END: LEG END FOR END, OTHER WIDE FACE DOWN, FAR END TO THE {here.second}",
            "SECOND: END FOR END, OTHER FACE DOWN, FAR END {here.second}",
        ),
        "square": ("CUT {here.across} ACROSS",),
        "turn": ("SECOND END: LEG END FOR END, OTHER WIDE FACE DOWN",),
        "slope": ("SLOPE {angles.saw_mitre_on_edge:degrees}° OFF THE TABLE",),
        "leg": ("LEG {leg.width:given} × {leg.thickness:given}",),
        "name": ("SLOPING CRADLE",),
        "blade": ("BLADE {here.end} END",),
    },
    "cradle-fence-rib": {"name": ("FENCE RIB",)},
    "cradle-low-cross-piece": {"name": ("{here.cross} CROSS PIECE", "XL")},
    "cradle-high-cross-piece": {"name": ("{here.cross} CROSS PIECE", "XH")},
    "cradle-packing-strip": {"name": ("PACKING STRIP", "PK")},
    "front-wedge": {"name": ("FRONT WEDGE", "FW"), "lean": ("{wedge.lean:degrees}° OFF PLUMB",)},
    "back-wedge": {"name": ("BACK WEDGE", "BW"), "lean": ("{wedge.lean:degrees}° OFF PLUMB",)},
    "clamping-wedge": {"name": ("CLAMPING WEDGE", "CW"), "lean": ("{wedge.lean:degrees}° OFF PLUMB",)},
}
"""By the part's slug, without a number or a hand behind it, and the mark's name."""

USES: dict[str, tuple[str, ...]] = {
    "OFF LEVEL": ("RAKE", "SPLAY"),
    "OFF ARRIS": ("LEG FACE", "LEG EDGE"),
    "OFF LONG EDGE": ("BRACE END",),
    "OFF TOP ARRIS": ("BOARD EDGE",),
    "OFF EDGE": ("BOARD FACES",),
    "OFF TABLE, LEG ON FACE": ("SAW BLADE",),
    "OFF ITS FACE": ("BRACE TOP EDGE",),
}
"""What a flank of a bevel plate is for, by what its angle is off; "TRUE SQUARE" is off its reference edge."""

LINES: dict[str, tuple[str, ...]] = {
    "plate": ("feed arrow", "centre lines"),
    "bevel-plate": ("strip lines",),
    "pad-strip": ("lines",),
    "taper-gauge": ("scores",),
    "taper-scale": ("scores",),
    "projection-gauge": ("box",),
    "leg-gauge": ("box", "arrows"),
    "housing-plug": ("box",),
    "coupon": ("scale", "axis arrow"),
}
"""Marks without words."""
