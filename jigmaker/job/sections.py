"""The rules of the job file and the shop file: every section and key with its kind, range, default and meaning.

This table is the only place where a limit stands: the reader, the records' own checks, the commented files for new
jobs and the documentation are all made from it. Lengths in mm, angles in degrees off the level.
"""

from jigmaker.job.hand_sections import HAND_SECTIONS
from jigmaker.job.rules import KIT_NUMBER as KIT_NUMBER
from jigmaker.job.rules import LONGEST_TEXT as LONGEST_TEXT
from jigmaker.job.rules import Default as Default
from jigmaker.job.rules import Kind as Kind
from jigmaker.job.rules import Rule as Rule
from jigmaker.job.rules import Section as Section
from jigmaker.job.rules import section_of as section_of
from jigmaker.job.rules import top_names as top_names


def _length(key: str, low: float, high: float, sample: str, meaning: str, each: str = "") -> Rule:
    return Rule(key, "length", meaning, sample, low, high, field=f"{key}_mm", each=each)


def _length_or(default: float | None, key: str, low: float, high: float, sample: str, meaning: str) -> Rule:
    return Rule(key, "length", meaning, sample, low, high, required=False, default=default, field=f"{key}_mm")


def _optional(
    key: str, kind: Kind, meaning: str, sample: str, low: float, high: float, field: str = "", default: Default = None
) -> Rule:
    return Rule(key, kind, meaning, sample, low, high, required=False, default=default, field=field or key)


def _width_of_cut(key: str, low: float, high: float, sample: str, meaning: str) -> Rule:
    """One of kerf and cutter: which of them is needed depends on the kind of machine."""
    return Rule(key, "length", meaning, sample, low, high, required=False, field="tool_mm")


def _angle(key: str, meaning: str) -> Rule:
    return Rule(key, "angle", meaning, "78", 60, 90, required=False, field=key)


def _scale(axis: str, who: str = "machine") -> Rule:
    meaning = f"what the {who} makes of 1 in {axis}: the length measured over the length drawn"
    return Rule(
        f"scale_{axis}", "ratio", meaning, "# 1.0", 0.98, 1.02, required=False, default=1.0, field=f"scale_{axis}"
    )


def _choice(
    key: str, choices: tuple[str, ...], sample: str, meaning: str, default: str | None = None, was: str | None = None
) -> Rule:
    field = "unit" if key == "units" else key
    needed = default is None
    return Rule(key, "choice", meaning, sample, 0, 0, choices, required=needed, default=default, field=field, was=was)


# Chosen by a search over the palette's indices 10 to 249: 3 : 1 or more against white, any two at least 22 apart by
# CIEDE2000 also for protan-, deutan- and tritanopes, no black, and none of the full red, green, blue or orange that
# machines' own programs give a meaning to. tests/job/test_layer_colours.py measures all of that.
LAYER_COLOURS: dict[str, tuple[str, str]] = {
    "mark": ("#a57c00", "mustard"),  # index 42; warm and light, as a scorched line is
    "inner": ("#3f7f7f", "teal"),  # index 135; cool and of middle depth, so no outline by any eye
    "outer": ("#5f007f", "plum"),  # index 204; the darkest: the line that all else lies in
    "note": ("#9f7fff", "lilac"),  # index 181; the lightest: what is never cut stands back
    "bridge": ("#7f001f", "maroon"),  # index 244; dark, as the outlines that it stands across
}
"""Colour of each operation and its name in words; as the DXF palette has it, so that DXF and SVG look alike."""


def _names(key: str, choices: tuple[str, ...], sample: str, meaning: str, field: str) -> Rule:
    """A list of names out of these; none when it is left out."""
    return Rule(key, "names", meaning, sample, choices=choices, required=False, default=(), field=field)


SERVED = ("gauges", "bevel plate", "foot block", "brace template", "coupon", "wedges")
"""What may be cut from another sheet than the jig: whatever fits into nothing else of the kit."""

LEFT_OUT = (
    "coupon",
    "projection-gauge",
    "leg-gauge",
    "housing-plug",
    "depth-gauge",
    "taper-gauge",
    "taper-scale",
    "pad-strip",
    "brace-template",
)
"""Parts that a kit can do without."""

ALSO = ("drilling template", "clamping wedges", "leaning wedges")
"""Jigs that a kit can have besides: by itself a shop that saws its housings has them all, any other one none."""


def _layer(operation: str, name: str, was: str | None, is_cut: bool, meaning: str) -> Section:
    colour, _ = LAYER_COLOURS[operation]
    stays = "must stay true: a kit without its cuts is no kit" if is_cut else "false leaves these lines out"
    return Section(
        f"layers.{operation}",
        meaning,
        (
            Rule("name", "layer name", "as it stands in the file", name, required=False, default=name, field="name"),
            Rule(
                "colour", "colour", "red, green, blue", colour, required=False, default=colour, field="colour", was=was
            ),
            _length_or(0.1, "width", 0.01, 2, "0.1", "how wide the line is drawn"),
            Rule("write", "yes or no", stays, "true", required=False, default=True, field="write"),
        ),
    )


_UNITS = ("mm", "in")
_HEIGHT_MM, _TOP_LENGTH_MM = (100, 3000), (200, 6000)

# What wood's moisture is known by: itself, or the air that it lies in.
_DAMP: tuple[tuple[str, Kind, str, str, float, float, str], ...] = (
    ("moisture", "percent", "the wood's moisture {}, in % of its dry weight, by a meter", "# 12", 4, 30, ""),
    ("temperature", "temperature", "instead of the moisture: how warm it is {}", '# "20 C"', -30, 50, "_c"),
    ("humidity", "percent", "with the temperature: the air's relative humidity {}, in %", "# 50", 5, 98, ""),
)

JOB: tuple[Section, ...] = (
    Section(
        "job",
        "What is made. Bare numbers of this file are in these units.",
        (
            Rule("name", "text", "the name on every file and part", "My trestles", field="name"),
            _choice("units", _UNITS, "mm", 'the units of this file, "mm" or "in"'),
            Rule("trestles", "whole number", "how many trestles", "2", 1, 1000, field="trestles", each="size.trestles"),
        ),
    ),
    Section(
        "trestle",
        "Angles are bevel settings off the level: 90 is plumb, 78 leans 12 degrees.",
        (
            _length(
                "height",
                *_HEIGHT_MM,
                "750",
                "the way from the floor to the top of the board, finished",
                each="size.height",
            ),
            _angle("rake_deg", "the lean seen from the side; without it the splay serves both"),
            _angle("splay_deg", "the lean seen from the end; without it the rake serves both"),
            _length(
                "inset", 10, 1500, "130", "the way from the board's end to the housing's near wall, on the top arris"
            ),
        ),
    ),
    Section(
        "top",
        "The board on top, as measured.",
        (
            _length("length", *_TOP_LENGTH_MM, "900", "the size along the board", each="size.top_length"),
            _length("width", 40, 600, "120", "the size across the board"),
            _length("thickness", 15, 150, "45", "the way from the top face to the bottom face"),
        ),
    ),
    Section(
        "leg",
        "The legs' section, as measured.",
        (
            _length("width", 20, 200, "70", "the wide face"),
            _length("thickness", 12, 120, "32", "the narrow face"),
            _length_or(0.0, "horn", 0, 200, "0", "the wood left on the head, cut off after assembly"),
            _length_or(0.0, "trim", 0, 200, "4", "the wood left on the foot, which levelling takes off"),
        ),
    ),
    Section(
        "brace",
        "The board across the two legs of an end, tight under the top.",
        (
            _length("depth", 20, 400, "110", "the height as it stands, top edge to bottom edge"),
            _length("thickness", 5, 100, "18", "the way from face to face"),
        ),
    ),
    Section(
        "housing",
        "How the leg fits into the board's edge.",
        (
            _choice(
                "joint",
                ("glued", "dry"),
                "glued",
                '"glued", or "dry": legs that come out again, held by one screw each',
                "glued",
            ),
            _length_or(
                None, "clearance", 0, 2, "0.15", "the play added to the leg's width; left out, as the joint asks"
            ),
            _length_or(0.0, "reveal", 0, 20, "0", "how far the leg's face stands proud of the board's edge"),
        ),
    ),
    Section(
        "timber",
        "How damp the legs are and will be: they swell across the grain, and their housings along it do not.",
        (
            _optional("species", "text", 'the legs: "softwood", or a hardwood such as "white ash"', "# softwood", 0, 0),
            *(
                _optional(f"{key}_{when}", kind, meaning.format(where), sample, low, high, f"{key}_{when}{scale}")
                for when, where in (("now", "as it is measured and worked"), ("later", "where the trestles stand"))
                for key, kind, meaning, sample, low, high, scale in _DAMP
            ),
        ),
    ),
    Section(
        "size",
        "For several sizes from one jig: one such table a size, and no height under [trestle]. Angles, sections and "
        "inset are those above.",
        (
            _length("height", *_HEIGHT_MM, "600", "the finished height of this size"),
            _optional(
                "trestles", "whole number", "how many of this size; left out, as many as under [job]", "2", 1, 1000
            ),
            _length_or(None, "top_length", *_TOP_LENGTH_MM, "900", "the length of its board; left out, as under [top]"),
        ),
        most=12,
        is_optional=True,
    ),
)

SHOP: tuple[Section, ...] = (
    Section(
        "sheet",
        "What the machine cuts. Bare numbers of this file are in the units of [files] below.",
        (
            Rule("material", "text", "what it is", "birch plywood", field="material"),
            _length("thickness", 2, 30, "9.1", "the thickness measured with a caliper, not as sold"),
            _length_or(0.0, "thickness_spread", 0, 2, "0", "the thickest place of the sheet less the thinnest"),
            _length("length", 100, 6000, "600", "the size along the machine's x"),
            _length("width", 100, 6000, "400", "the size along the machine's y"),
            _length("margin", 0, 200, "5", "the strip kept free all round"),
            _length_or(0.1, "joint_clearance", 0, 1, "0.1", "the play of a tenon in its mortise"),
            _optional("count", "whole number", "how many there are; left out, as many as it takes", "# 3", 1, 1000),
            _names(
                "for", SERVED, '# ["gauges"]', "what alone is cut from it; for a second [[sheet]], an off-cut", "serves"
            ),
        ),
        most=20,
    ),
    Section(
        "machine",
        "The machine that cuts the sheet.",
        (
            _choice(
                "kind",
                ("laser", "cnc", "paper"),
                "laser",
                '"laser", "cnc", or "paper": printed, glued on and sawn by hand',
            ),
            _width_of_cut("kerf", 0.01, 1, "0.20", "the full width of a laser's cut, from a test cut"),
            _width_of_cut(
                "cutter", 1, 12, "# 6", "a CNC machine's cutter, its diameter: at most 0.9 of the sheet's thickness"
            ),
            _length_or(0.1, "accuracy", 0.01, 2, "0.1", "how far off its place a point may be cut"),
            _choice(
                "compensation",
                ("included", "left out", "both"),
                "included",
                'is half the cut\'s width in the lines: "included", "left out" or "both" sets of files',
                "included",
                was="both",
            ),
            _choice(
                "marking",
                ("score", "short", "none"),
                "score",
                'marks: "score" all, "short" only those needed (a cnc is slow at letters), "none"',
                "score",
            ),
            _optional(
                "bridges",
                "whole number",
                "how many bridges of wood hold each part in the sheet until they are sawn through",
                "0",
                0,
                12,
                default=0,
            ),
            _length_or(6.0, "bridge_width", 1, 30, "6", "the width of a bridge"),
            _length_or(None, "kerf_x", 0.01, 1, "# 0.20", "the kerf measured along x, of cuts that run along y"),
            _length_or(None, "kerf_y", 0.01, 1, "# 0.20", "the kerf measured along y, of cuts that run along x"),
            _scale("x"),
            _scale("y"),
            _optional(
                "skew_deg",
                "skew",
                "how far the machine's y axis leans toward +x, off square to x",
                "# 0.0",
                -1,
                1,
                default=0.0,
            ),
        ),
    ),
    Section(
        "hand_router",
        "The hand router that rides on the jig. bush = cutter means a cutter guided by a bearing, without a bush.",
        (
            _length(
                "base", 60, 400, "150", "the diameter of the base; with a flat, twice the distance from axis to flat"
            ),
            _length("bush", 5, 60, "17", "the outer diameter of the guide bush"),
            _length_or(None, "bush_length", 1, 40, "6", "how far the bush stands out below the base"),
            _length_or(None, "bush_bore", 3, 60, "# 15", "the inner diameter of the guide bush"),
            _length("cutter", 3, 50, "12", "the diameter of the cutter: a straight one that may be plunged"),
            _length(
                "cutter_reach", 10, 200, "55", "the way from the router's base to the cutter's tip, gripped properly"
            ),
            _length_or(None, "blade", 3, 150, "# 40", "the cutting length of the cutter"),
            _optional(
                "stops",
                "whole number",
                "how many depths the router's turret can be set to, one after another",
                "# 3",
                2,
                12,
                default=3,
            ),
            _length_or(None, "bearing_height", 1, 50, "# 6", "the height of the bearing on a bearing-guided cutter"),
        ),
        instead=("hand_saw", "chisel"),
    ),
    *HAND_SECTIONS,
    Section(
        "kit",
        "What is cut of the kit.",
        (
            _names("leave_out", LEFT_OUT, '# ["coupon"]', "parts that are not wanted", "leave_out"),
            _optional("spares", "yes or no", "false leaves out the pieces that are spare", "true", 0, 0, default=True),
            Rule("also", "names", "further jigs", f'# ["{ALSO[0]}"]', choices=ALSO, required=False, field="also"),
            _optional("jaws", "length", "how far the vice opens, for leaning wedges", "# 150", 20, 600, "jaws_mm"),
        ),
    ),
    Section(
        "files",
        "How the files are written.",
        (
            _choice("dxf", ("R2000", "R12"), "R2000", '"R2000" or "R12"', "R2000"),
            _choice("units", _UNITS, "mm", 'the units of this file and of the DXF, "mm" or "in"'),
            _choice(
                "operations",
                ("together", "apart"),
                "together",
                'marks, inner and outer cuts: "together" in one file, or "apart" with a file for each',
                "together",
            ),
            _choice(
                "parts",
                ("finished size", "both"),
                "finished size",
                'single parts at "finished size", or "both": also with the cut\'s width in their lines',
                "finished size",
            ),
            _choice(
                "contours",
                ("polylines", "line and arc"),
                "polylines",
                'cuts in DXF: "polylines", or "line and arc" where a program loses the arcs of polylines',
                "polylines",
            ),
        ),
    ),
    Section(
        "paper",
        "The paper in the printer. Its scales correct pages at full size, never the files for the machine.",
        (
            _choice("size", ("A4", "A3", "Letter", "Tabloid"), "A4", '"A4", "A3", "Letter" or "Tabloid"', "A4"),
            _scale("x", "printer"),
            _scale("y", "printer"),
        ),
    ),
    Section(
        "papers",
        "Which papers are wanted besides those that every kit has.",
        (
            _optional(
                "handout",
                "yes or no",
                "true adds pages for a class: one to copy, a check slip and the teacher's answers",
                "false",
                0,
                0,
                default=False,
            ),
        ),
    ),
    _layer("mark", "MARK", "#ff7f00", False, "Lines that are drawn or scored, not cut through."),
    _layer("inner", "INNER", "#007fff", True, "Cuts inside a part: holes, slots, mortises."),
    _layer("outer", "OUTER", "#000000", True, "The outlines, cut last."),
    _layer("bridge", "BRIDGE", None, False, "Where bridges hold a part: never cut; in files at finished size only."),
    _layer("note", "NOTE", "#808080", False, "Never cut: reference square, places for screws, in the sheet's waste."),
)
