"""What is scored on the parts: the one list of all words and lines, part by part; a part and a Shop in, words out.

A mark costs a pen lift for every stroke and hides the next one, so each has a level and a reason. Level "short" is
scored by a shop that marks "short" or "score": hands, faces, the lines and figures that one saws and sets by. Level
"score" is scored by a shop that asks for all. Small pieces of which there are several have a mark of two letters in
place of their name in short marking; the picture of names and the cut list explain it. The coupon's marks, which are
its form, stand with the coupon.
"""

from collections.abc import Sequence
from typing import Literal

from jigmaker.job.shop import Shop
from jigmaker.parts.part import Said
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class MarkRow:
    """A mark: what it is, its words ("" for lines), from which level on, why; `short`: its words in short marking."""

    what: str
    words: str
    level: Literal["short", "score"]
    why: str
    short: str = ""


_NAME = "which part it is"
_AMONG_OTHERS = "which part it is, among others that look like it"
_KIT = "which parts and papers belong together: those of one number fit one another"
_LEAN = "wedges of another splay hold board and legs otherwise"
_FENCE = "the side that goes to the fence: turned about, the plate leans the wrong way"

_HEAD = MarkRow("head", "HEAD THIS END", "short", "turned end for end a leg gets its angles on the wrong sides")
_SLIDE = MarkRow("slide", "SLIDE, DO NOT TURN", "short", "a leg that is turned between its cuts is lost")
_FAR_WALL = MarkRow("name", "FAR WALL", "short", "which of the two walls, whose slots lie one behind the other")
_FACES_YOU = MarkRow("face", "THIS FACE TO YOU", "short", "turned about, its slot leans the other way")

MARKS: dict[str, tuple[MarkRow, ...]] = {
    "plate": (
        MarkRow("hand", "{hand}", "short", "which slot serves which hand, read from where the router stands"),
        MarkRow("stop", "STOP FOR {hand}", "short", "at which end the stop is bolted"),
        MarkRow("top", "TOP FACE", "short", "a plate turned over has its hands exchanged"),
        MarkRow("feed", "FEED", "score", "what the arrow is"),
        MarkRow("feed arrow", "", "short", "fed the other way the bush leaves the wall"),
        MarkRow("centre lines", "", "short", "set over the housing's middle"),
        MarkRow("projection", "PROJECTION {projection}", "short", "set on the router"),
        MarkRow("guide", "{guide}, CUTTER {cutter}", "short", "the slot is right for these only"),
        MarkRow("tilt", "TILT {tilt}° OFF LEVEL", "short", "checked with a bevel once it is together"),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
        MarkRow("job", "{job}", "score", "whose kit it is; once, on its largest part"),
        MarkRow("leg", "LEG {leg}", "score", "what the slot is for"),
        MarkRow("clearance", "CLEARANCE {clearance}", "score", "what the slot is for"),
        MarkRow("sheet", "SHEET {sheet}", "score", "the mortises fit this thickness only"),
    ),
    "bearer": (
        MarkRow("name", "BEARER", "short", _AMONG_OTHERS, "BE"),
        MarkRow("fence", "FENCE SIDE", "short", _FENCE, "FENCE"),
    ),
    "end-bearer": (
        MarkRow("name", "END BEARER", "short", _AMONG_OTHERS, "EB"),
        MarkRow("fence", "FENCE SIDE", "short", _FENCE, "FENCE"),
    ),
    "stop": (
        MarkRow("name", "STOP", "short", _NAME),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
        MarkRow("right", "R: RIGHT END", "score", "where it is bolted for either hand"),
        MarkRow("left", "L: LEFT END", "score", "where it is bolted for either hand"),
    ),
    "fence-or-back-strip": (
        MarkRow("name", "FENCE OR BACK STRIP", "short", _AMONG_OTHERS, "FS"),
        MarkRow("clamps", "CLAMP HERE", "score", "above this band the cutter runs"),
    ),
    "mask-for-slot": (
        MarkRow("name", "MASK FOR SLOT {hand}", "short", "a mask goes into its own slot only", "MASK {hand}"),
        MarkRow("work", "{work} IN WORK", "short", "seen from the router while the other slot is in use"),
        MarkRow("stop", "STOP AT {side} END", "score", "the stop goes with the hand in work"),
    ),
    "mask-foot": (MarkRow("name", "MASK FOOT", "short", _AMONG_OTHERS, "MF"),),
    "bevel-plate": (
        MarkRow("title", "BEVEL PLATE {number}", "score", _NAME),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
        MarkRow("strip lines", "", "short", "where the strips are glued behind"),
        MarkRow("strip", "STRIP GLUED BEHIND", "score", "what the lines are"),
        MarkRow("angle", "{angle}°", "short", "what the flank is"),
        MarkRow("off square", "{complement}° OFF SQUARE", "score", "how a saw's scale tells the same angle"),
        MarkRow("use", "{use}", "short", "what a bevel set to this flank is used for"),
        MarkRow("within", "WITHIN {share}°", "score", "the uses of this flank differ by so little"),
        MarkRow("witness", "WITNESS", "score", "what the window is"),
    ),
    "stock-strip": (MarkRow("name", "STRIP", "short", _AMONG_OTHERS, "ST"),),
    "foot-block-nose": (
        MarkRow("top", "TOP LAYER", "short", "which layer it is", "NOSE"),
        MarkRow("knife", "KNIFE ON THIS FACE", "short", "the face whose height counts", "KNIFE FACE"),
        MarkRow("heights", "{count}: {height}", "score", "the scribing height of each stack"),
    ),
    "foot-block-layer": (
        MarkRow("name", "FOOT BLOCK", "short", _AMONG_OTHERS, "FB"),
        MarkRow("face", "THIS FACE UP", "score", "the dowel holes are not alike from both faces"),
    ),
    "foot-pad": (MarkRow("name", "PAD", "short", _AMONG_OTHERS, "PA"),),
    "pad-strip": (
        MarkRow("lines", "", "short", "sawn along"),
        MarkRow("name", "SPARE PAD", "score", "what a piece is"),
        MarkRow("saw", "SAW ON THE LINES", "score", "what the lines are"),
    ),
    "taper-gauge": (
        MarkRow("scores", "", "short", "read at the foot"),
        MarkRow("figures", "{figure}", "short", "thickness at the score"),
    ),
    "taper-scale": (
        MarkRow("scores", "", "short", "the gauge's, and its slope"),
        MarkRow("name", "TAPER SCALE, {unit}", "score", _NAME),
        MarkRow("figures", "{figure}", "short", "thickness at the score"),
    ),
    "projection-gauge": (
        MarkRow("projection", "PROJECTION {projection}", "short", "what it sets"),
        MarkRow("touch", "CUTTER JUST TOUCHES", "score", "how it is used"),
        MarkRow("box", "", "short", "for the size as measured"),
    ),
    "leg-gauge": (
        MarkRow("limits", "{limit} {size}", "short", "which notch is which, and its size when dressed"),
        MarkRow("box", "", "short", "for the sizes as measured"),
        MarkRow("arrows", "", "short", "at each wall that has wood left on"),
        MarkRow("dress", "DRESS AT ARROWS", "short", "what the arrows are"),
        MarkRow("name", "LEG GAUGE", "score", _NAME),
    ),
    "housing-plug": (
        MarkRow("low", "LOW {low}", "short", "which end is which, and its size when dressed"),
        MarkRow("in", "MUST GO IN", "score", "how it is used"),
        MarkRow("high", "HIGH {high}", "short", "which end is which, and its size when dressed"),
        MarkRow("stops", "MUST STOP", "score", "how it is used"),
        MarkRow("dress", "DRESS THIS SIDE", "short", "the side that has wood left on"),
        MarkRow("box", "", "short", "for the size as measured"),
        MarkRow("name", "HOUSING PLUG", "score", _NAME),
        MarkRow("from", "IN FROM THE TOP FACE", "score", "the housing narrows to the other"),
    ),
    "depth-gauge": (
        MarkRow("limits", "{face} FACE {limit} {size}", "short", "which shoulder is for what", "{face} {limit} {size}"),
        MarkRow("lies", "MUST LIE ON", "score", "how it is used"),
        MarkRow("stands", "MUST STAND OFF", "score", "how it is used"),
        MarkRow("name", "DEPTH GAUGE", "score", _NAME),
    ),
    "brace-template": (
        MarkRow("angle", "{angle}°", "short", "what the flank of its notch is"),
        MarkRow("use", "{use}", "short", "what a bevel set to this flank is used for"),
        MarkRow("top", "BRACE: THIS EDGE UNDER THE TOP", "short", "which edge is which", "THIS EDGE UNDER THE TOP"),
        MarkRow("half", "HALF: LEFT EDGE ON THE BRACE'S MIDDLE, TURN OVER", "short", "it is half a template"),
        MarkRow("face", "INSIDE FACE", "short", "the face that is marked out: it lies against the legs"),
        MarkRow("ends", "ENDS {end}° OFF LONG EDGE", "short", "sawn to"),
        MarkRow(
            "edge", "TOP EDGE {edge}° OFF THIS FACE, UNDERCUT", "short", "sawn to", "TOP EDGE {edge}° OFF THIS FACE"
        ),
        MarkRow("square edge", "TOP EDGE SQUARE TO THIS FACE", "short", "sawn to", "TOP EDGE SQUARE"),
        MarkRow("tilt", "ENDS {tilt}° OFF UPRIGHT, UNDERCUT", "short", "sawn to", "ENDS {tilt}° OFF UPRIGHT"),
        MarkRow("square ends", "ENDS SQUARE TO THIS FACE", "short", "sawn to", "ENDS SQUARE"),
    ),
    "drilling-template-plate": (
        MarkRow("hand", "{hand}", "short", "a leg in an L housing has its screws at other heights"),
        MarkRow("face", "THIS FACE FOR R", "short", "turned over it is the template of legs in L housings"),
        MarkRow("drill", "DRILL {drill}", "short", "its holes guide this drill"),
        MarkRow("prick", "PRICK WITH {drill}, DRILL {then}", "short", "its holes are wider than the screws'"),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
        MarkRow("name", "DRILLING TEMPLATE", "score", _NAME),
    ),
    "drilling-template-head-strip": (
        MarkRow("hand", "HEAD OF LEGS IN {hand}", "short", "read on the lip that stands up", "HEAD, {hand}"),
        MarkRow("head", "HEAD", "short", "which strip lies along the leg's head"),
        MarkRow(
            "gap", "NO GAP: TURN LEG OVER", "short", "the template goes on to the inner face as well", "GAP MUST SHOW"
        ),
    ),
    "drilling-template-side-strip": (MarkRow("name", "DRILLING TEMPLATE", "short", _AMONG_OTHERS, "DS"),),
    "saw-guide-fence": (
        MarkRow("top", "ON TOP FACE", "short", "on the bottom face both walls lean the wrong way"),
        MarkRow("name", "SAW GUIDE {hand}", "short", "which guide it belongs to"),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
        MarkRow("saw", "SAW {depth} DEEP, PLATE {plate}, KERF {kerf}", "short", "the guide is right for this saw only"),
        MarkRow("leg", "LEG {leg}", "score", "what the guide is for"),
        MarkRow("clamps", "CLAMP HERE", "score", "above this band the saw runs"),
    ),
    "saw-guide-near-plate": (
        MarkRow("hand", "{hand}", "short", "which hand the guide serves"),
        MarkRow("end", "THIS END OUT", "short", "the stop lies at the board's end", "END OUT"),
        MarkRow("name", "SAW GUIDE, NEAR", "score", _AMONG_OTHERS),
    ),
    "saw-guide-far-plate": (MarkRow("name", "SAW GUIDE {hand}", "short", _AMONG_OTHERS),),
    "saw-guide-near-cheek": (
        MarkRow("name", "NEAR CHEEK", "short", "the cheeks differ by tenths of a mm at their lower edge"),
    ),
    "saw-guide-far-cheek": (
        MarkRow("name", "FAR CHEEK", "short", "the cheeks differ by tenths of a mm at their lower edge"),
    ),
    "saw-guide-bearer": (MarkRow("name", "SAW GUIDE", "short", _AMONG_OTHERS, "SB"),),
    "saw-guide-stop": (MarkRow("name", "SAW GUIDE STOP", "short", _AMONG_OTHERS, "SS"),),
    "saw-guide-spacer": (MarkRow("name", "SPACER {width}", "short", "how wide it is, which makes the guide's width"),),
    "paring-guide-ramp": (
        MarkRow("back", "CHISEL BACK DOWN", "score", "how it is used"),
        MarkRow("name", "PARING GUIDE", "short", _NAME),
    ),
    "paring-guide-rib": (MarkRow("name", "PARING GUIDE", "short", _AMONG_OTHERS, "PR"),),
    "paring-guide-fence": (
        MarkRow("top", "ON TOP FACE", "short", "on the bottom face the floor leans the wrong way"),
        MarkRow("name", "PARING GUIDE", "score", _NAME),
        MarkRow("clamps", "CLAMP HERE", "score", "above this band the chisel runs"),
    ),
    "leg-box-near-wall": (_HEAD, _SLIDE),
    "leg-box-near-half": (_HEAD,),
    "leg-box-far-wall": (_FAR_WALL, _FACES_YOU),
    "leg-box-far-half": (_FAR_WALL, _FACES_YOU),
    "leg-box-right-half": (_SLIDE,),
    "leg-box-bottom": (
        MarkRow("face", "WIDE FACE DOWN", "short", "on a narrow edge the leg would be sawn to other angles"),
        MarkRow("saw", "SAW {depth} DEEP, KERF {kerf}", "short", "the box is right for this saw only"),
        MarkRow("leg", "LEG {leg}", "score", "what the box is for"),
        MarkRow("name", "LEG BOX", "short", _NAME),
        MarkRow("kit", "KIT {kit}", "short", _KIT),
    ),
    "leg-box-strip": (MarkRow("name", "LEG BOX", "short", _AMONG_OTHERS, "LS"),),
    "cradle-rib": (
        MarkRow(
            "first",
            "FIRST END: FAR END OF CUT {mitre}° OFF SQUARE, TO THE RIGHT",
            "short",
            "set on the saw",
            "FIRST: {mitre}° OFF SQUARE, FAR END RIGHT",
        ),
        MarkRow(
            "second",
            "SECOND END: LEG END FOR END, OTHER WIDE FACE DOWN, FAR END TO THE LEFT",
            "short",
            "turned end for end only, the second cut is off by twice the leg's lean",
            "SECOND: END FOR END, OTHER FACE DOWN, FAR END LEFT",
        ),
        MarkRow("square", "CUT SQUARE ACROSS", "short", "set on the saw"),
        MarkRow(
            "turn",
            "SECOND END: LEG END FOR END, OTHER WIDE FACE DOWN",
            "short",
            "turned end for end only, the second cut is off by twice the leg's lean",
        ),
        MarkRow("slope", "SLOPE {slope}° OFF THE TABLE", "score", "checked with a bevel once it is together"),
        MarkRow("leg", "LEG {leg}", "score", "what the cradle is for"),
        MarkRow("name", "SLOPING CRADLE", "score", _NAME),
        MarkRow("blade", "BLADE THIS END", "short", "the slope falls to the blade"),
    ),
    "cradle-fence-rib": (MarkRow("name", "FENCE RIB", "short", "the one that is higher and has no mortises"),),
    "cradle-low-cross-piece": (MarkRow("name", "LOW CROSS PIECE", "short", _AMONG_OTHERS, "XL"),),
    "cradle-high-cross-piece": (MarkRow("name", "HIGH CROSS PIECE", "short", _AMONG_OTHERS, "XH"),),
    "cradle-packing-strip": (MarkRow("name", "PACKING STRIP", "short", _NAME, "PK"),),
    "front-wedge": (
        MarkRow("name", "FRONT WEDGE", "short", "before the board its thick end is up", "FW"),
        MarkRow("lean", "{lean}° OFF PLUMB", "score", _LEAN),
    ),
    "back-wedge": (
        MarkRow("name", "BACK WEDGE", "short", "behind the board its thin end is up", "BW"),
        MarkRow("lean", "{lean}° OFF PLUMB", "score", _LEAN),
    ),
    "clamping-wedge": (
        MarkRow("name", "CLAMPING WEDGE", "short", _AMONG_OTHERS, "CW"),
        MarkRow("lean", "{lean}° OFF PLUMB", "score", _LEAN),
    ),
}
"""By the part's slug, without a number or a hand behind it."""

_ROWS = {(part, row.what): row for part, rows in MARKS.items() for row in rows}


def is_scored(part: str, what: str, shop: Shop) -> bool:
    """Whether this shop scores the mark. One that scores nothing keeps all: they are printed on paper, or copied."""
    return shop.machine.marking != "short" or _ROWS[part, what].level == "short"


def words_of(part: str, whats: Sequence[str], shop: Shop, **figures: str) -> list[Said]:
    """The words of these marks, in this order, with their figures; those that this shop does not score are left out.

    Raises KeyError for a mark that is not in the list, or a figure that is not given.
    """
    rows = [_ROWS[part, what] for what in whats if is_scored(part, what, shop)]
    is_short = shop.machine.marking == "short"
    return [Said(((row.short if is_short else "") or row.words).format(**figures), row.what) for row in rows]


def short_name(part: str) -> str:
    """The two letters that stand for the name of a part of which there are several, "" for any other."""
    row = _ROWS.get((part, "name"))
    return row.short if row and len(row.short) == 2 else ""
