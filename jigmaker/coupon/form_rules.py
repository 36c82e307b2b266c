"""The rules of the reading form: every section and key with its kind, range and meaning. Lengths in mm.

Places to measure stand in [readings] under the keys of their stations; their ranges depend on the coupon and are made
when it is known.
"""

from jigmaker.coupon.first_coupon import FirstCoupon
from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.lines import Allowance
from jigmaker.coupon.stations import stations
from jigmaker.job.rules import Rule, Section, section_of
from jigmaker.job.sections import SHOP
from jigmaker.parts.coupon_size import WEDGES_MM, WIDEST_CUT_MM, CouponSize

CALIPER_MM = 0.02
"""Step of a caliper, and how far one reading strays from another of the same thing, as one standard deviation."""

COUPON = Section(
    "coupon",
    "How the coupon that was cut was drawn.",
    (
        Rule("units", "choice", "the units of the readings", "mm", choices=("mm", "in"), field="unit"),
        Rule("form", "whole number", "which coupon was cut; leave it", "2", 1, 2, required=False, default=1),
        Rule("drawn_in", "choice", "the units of the coupon; leave it", "mm", choices=("mm", "in"), field="drawn_in"),
        Rule("machine", "choice", "as drawn; leave it", "laser", choices=("laser", "cnc"), field="kind"),
        Rule(
            "made_for",
            "length",
            "the kerf or cutter it was drawn for; leave it",
            "0.2",
            0.01,
            WIDEST_CUT_MM,
            field="tool_mm",
        ),
        Rule("thickness", "length", "the sheet it was drawn for; leave it", "9.1", 2, 30, field="thickness_mm"),
        Rule(
            "compensation",
            "choice",
            "which of the files was cut: with the width of the cut in its lines, or at finished size",
            "included",
            choices=("included", "left out"),
            field="compensation",
        ),
        Rule("added", "length", "what the machine's own program added", "0", 0, 12, required=False, default=0.0),
        Rule(
            "caliper",
            "length",
            "the caliper's step, and how far it strays",
            "0.02",
            0.001,
            0.5,
            required=False,
            default=CALIPER_MM,
        ),
    ),
)

LINES = Section(
    "lines",
    "What the files were corrected for when the coupon was drawn; leave it.",
    tuple(section_of(SHOP, "machine").rule(key) for key in ("kerf_x", "kerf_y", "scale_x", "scale_y", "skew_deg")),
)

GAP = Section(
    "gap",
    "C: where an offcut of the sheet stops, from the gap's narrow end.",
    (
        Rule("marked_face", "length", "entered from the marked face", "[]", required=False),
        Rule("other_face", "length", "entered from the face that lay on the bed", "[]", required=False),
    ),
)

COMB = Section(
    "comb",
    "C of a first coupon: the narrowest slot that an offcut of the sheet enters, by its figure.",
    (
        Rule("marked_face", "length", "entered from the marked face", "[]", required=False),
        Rule("other_face", "length", "entered from the face that lay on the bed", "[]", required=False),
    ),
)

TURN_OVER = Section(
    "turn_over",
    "The bevel plate's witness corner, if you have one cut with the coupon's settings.",
    (
        Rule("opening", "length", "between the two lines at their far ends", "[]", 0, 10),
        Rule("length", "length", "the lines' length, square to the batten", "80", 20, 200),
        Rule(
            "leans", "choice", "leaning of the line drawn with the marks in sight", "right", choices=("right", "left")
        ),
        Rule(
            "lay",
            "choice",
            "how the plate lay on the bed: its marks to be read along x, or along y",
            "unturned",
            choices=("unturned", "quarter turn"),
        ),
    ),
)


def readings_section(size: CouponSize | FirstCoupon, lines: Allowance, tool_mm: float) -> Section:
    """[readings] with a range for each place: what a machine of that cut would give, and room for any real one."""
    expected = forecast(size, lines, Guess(tool_mm, tool_mm, 1.0, 1.0, 0.0))
    rules = []
    for place in stations(size):
        # A wedge may lie anywhere in its slot, a stack be off by a millimetre of kerf a strip, all else by a millimetre
        # and two in a hundred: a slip of the pen or of the unit lies beyond that, and no machine that cuts at all.
        room = 1.0 + 0.02 * expected[place.key]
        if isinstance(size, FirstCoupon) and place.key in ("A", "B"):
            room = float(size.strips)
        low, high = max(0.0, round(expected[place.key] - room, 2)), round(expected[place.key] + room, 2)
        if not isinstance(size, FirstCoupon) and place.strays_mm:
            low, high = 0.5, round(size.slot[1] - WEDGES_MM[place.key[0]], 2)
        rules.append(Rule(place.key, "length", place.how, "[]", low, high, required=place.needed))
    return Section("readings", "Three readings of every place.", tuple(rules))
