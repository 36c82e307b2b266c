"""Every code a finding of the proof may carry, with what it means: 1xx file, 2xx tool, 3xx size, 4xx fit, 5xx assembly,
6xx words.

A code keeps its meaning for good; a check that goes away leaves its code unused.
"""

FILE_CODES: dict[int, str] = {
    101: "a file cannot be read: binary, cut short, wrongly encoded, too large, or no file of its kind",
    102: "a file holds something that the proof does not understand, so it cannot say what a machine would cut",
    103: "a figure in a file is no finite number of a size that a sheet can have",
    104: "a file's unit is missing, or is not the one that the shop asks for",
    105: "a DXF's $MEASUREMENT disagrees with the unit",
    106: "the page's scale is missing, unequal along and across, or not 1 unit = 1 mm",
    107: "the reference square is missing, not alone, of the wrong size, in the wrong place or on the wrong layer",
    108: "a contour that is cut is open, or its bridges do not pair up",
    109: "a contour is closed only by ends that meet, or was pieced together from loose lines",
    110: "the same line is there twice",
    111: "a piece has no length",
    112: "a contour crosses itself or another one",
    113: "something lies at a negative coordinate or off the page",
    114: "an inner contour does not lie inside exactly one outer one, or outer ones overlap",
    115: "contours are not in cutting order: marks, inner before what holds them, outer last",
    116: "a layer is not the shop's, is not declared, is switched off, or disagrees with its colour",
    117: "DXF and SVG of the same thing differ",
    118: "compensated and nominal lines are not half the tool's width apart, or lie on the wrong side",
    119: "a shape is the mirror image of what it should be",
    120: "a file's contours are not those that kit.json declares",
    121: "a piece on a sheet is not where kit.json places it, or is missing, or is one too many",
    122: "a file that kit.json lists is missing, or one that is there is not listed",
    123: "a file was changed since it was made",
    124: "kit.json, job.toml or shop.toml cannot be read, or they disagree",
    125: "the extents that a file states are not those of its contours",
    126: "the kit is of an older kind; what its time did not ask for is only told",
}
"""What is wrong with a file, whatever it is for."""

TOOL_CODES: dict[int, str] = {
    251: "a part's opening or gap is narrower than the tool",
    252: "the lines do not allow for the tool's width, or allow for it twice",
    253: "the lines run on the wrong side of the contour",
    254: "the tool leaves more in a corner than its own roundness",
    255: "a bridge is too narrow to hold, or is not one straight gap",
    256: "the waste of an opening does not come free",
    257: "kerf in x and in y differ so little that their mean is used",
    258: "a bridge is not where an edge does nothing, is marked wrongly, or is one too many or too few",
    259: "a place for a screw is within the cutter's reach, or is not where kit.json tells it",
}
"""What the machine's tool makes of a file's lines."""

SIZE_CODES: dict[int, str] = {
    331: "an edge of a cut part is not where it belongs",
    332: "a hole of a cut part is missing, or one too many",
    333: "a size, an angle or a radius of a cut part is not the one declared in kit.json",
    334: "a piece could not be cut at all: its outline is missing or open",
    335: "a size of the jig's parts does not follow from job and shop",
    336: "a gauge, plug or template does not agree with the job",
    337: "an angle that the job needs is missing on the bevel plates, or is off",
    338: "a part of the foot block, a pad or the taper gauge does not agree with the job",
    339: "a figure in numbers.json does not agree with the trestle cut from solids",
    340: "a figure of the coupon is not the one its readings are reckoned from",
    341: "a part or a feature that the proof needs is not declared in kit.json",
    342: "a part's nominal outline crosses itself, or its openings do not lie inside it and apart",
    343: "less wood is left between two cuts, or in a neck of a part, than the layout promises",
    349: "a wedge does not have the splay's angle, has its ear at the wrong end, or tells its jaws wrongly",
}
"""What is left of the sheet, against what was wanted."""

FIT_CODES: dict[int, str] = {
    451: "the routed housing is not as wide as the job asks",
    452: "the routed housing is not as deep as the job asks",
    453: "the routed housing does not start where the job asks",
    454: "the routed housing leans otherwise than the job asks",
    455: "the slot is the other hand's",
    456: "cutter or bush touches a part that it should not",
    457: "the leg does not go into its housing",
    458: "the leg stands prouder of the board's edge than the job asks, or less",
    459: "the projection told is not the one that the jig needs",
    460: "the housing does not come out at all",
    461: "the feet do not stand in one plane",
    462: "the trestle's height is not the job's",
    463: "the feet's spread is not the one that numbers.json tells",
    464: "a setting that kit.json tells is not the one that job and shop give",
    465: "the leg box does not saw the ends of legs as the job asks",
    466: "the sloping cradle does not bring the ends of legs to the saw as the job asks",
    468: "a leg goes into another leg's housing",
}
"""What the jig does to the board, and how the trestle stands."""

ASSEMBLY_CODES: dict[int, str] = {
    501: "two parts of the jig want the same place",
    502: "a tenon has no play in its mortise, or too much",
    503: "a bearer's seat does not tilt the plate by 90° less the splay",
    504: "the plate's standoff is not the same on all bearers",
    505: "the stop does not stand where the housing's start needs it",
    506: "a part stands above the plate that the router runs on",
    507: "the router's base is not carried safely everywhere along the slot",
    508: "the band for clamps or jaws below the bearers is too narrow",
    509: "a part's place in kit.json is not the one that its joints give it",
    510: "fence or back strip does not lie where the board's faces are",
    511: "the stop's bolt holes do not lie over the end bearer's",
    512: "a bolt does not go through its hole",
    513: "less of the plate lies between a slot and a bearer than the layout promises",
    518: "a guide goes on at an end of the board that is not its own",
    519: "the weight of router or jig is not inside of what the wedges carry",
}
"""How the jig goes together."""

WORD_CODES: dict[int, str] = {
    601: "a word on a part or paper tells another hand, side, end, face, limit or way than the solids do",
    602: "a figure in words is not the one that is proved, or not in the job's unit and as fine as it should be",
    603: "a figure of practice is not that of the table",
    604: "a word or figure has no name, or one that nobody knows",
    605: "the letters and lines scored in a file are not those that kit.json declares",
    606: "a paper cannot be read, or a row or fact that it should have is missing",
    607: "the kit number in kit.json, on a part or on a page is not that of the kit's own parts",
    608: "a guide is without the word that keeps it from being put on the wrong way",
}
"""What parts and papers say, against what was proved; kits before kit 2 name nothing, and are not asked."""

SINCE_KIT_2: frozenset[int] = frozenset()
"""Codes of checks that no kit 1 was made to pass: there they are cautions, so that no kit fails for its age."""

CODES: dict[int, str] = FILE_CODES | TOOL_CODES | SIZE_CODES | FIT_CODES | ASSEMBLY_CODES | WORD_CODES
"""All of them."""
