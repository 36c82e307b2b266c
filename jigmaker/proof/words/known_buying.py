"""What is bought and cut, worked out by the proof: the figures and names of the cut list; mm.

How long a board must be follows from the pieces' own planes; screws are held to the sizes that the shops sell.
"""

from math import ceil, radians, sin

from jigmaker.job.job import Job
from jigmaker.job.practice import GLUE_ML_PER_MM2, PRACTICE, SCREWS_SPARE
from jigmaker.job.screw_sizes import screw_sizes
from jigmaker.job.shop import Shop
from jigmaker.proof.expected import directions
from jigmaker.proof.expected_numbers import expected_angles, expected_brace, expected_housing, expected_leg
from jigmaker.proof.records import DeclaredKit
from jigmaker.proof.words.figures import Value

_LEAST_HOLD_MM = 15.0  # a screw that reaches less far into the wood that holds it is no use
_SPARE_MM = 3.0  # between the proof's way to reckon what stays whole and the maker's, besides so many widths of the cut


def bought_facts(job: Job, declared: DeclaredKit, shop: Shop, saw_kerf_mm: float) -> dict[str, Value]:
    """Every figure and name of the cut list, but for the timber."""
    # Glue for floor and walls of four housings a trestle, to the nearest ml: the floor is as long as the board is thick
    # at the splay, a wall's area is the housing's section over the sine at which the wall crosses it.
    housing = expected_housing(job)
    floor = housing["width_on_arris_mm"] * job.top.thickness_mm / sin(radians(job.splay_deg))
    section = housing["volume_mm3"] / housing["width_on_arris_mm"]
    joint = floor + 2 * section / sin(radians(expected_angles(job)["leg_face"]))
    each = 4 * joint * GLUE_ML_PER_MM2
    found: dict[str, Value] = {
        "glue.name": "wood glue",
        "glue.one": float(f"{each:.0f}"),
        "glue.batch": float(f"{each * job.all_trestles:.0f}"),
        "glue.spare": 0,
        **screw_facts(job),
        "saw.cut": saw_kerf_mm,
    }
    # The sheets to cut, each kind with how many: all pieces of a sheet come from one stock, which its first one names.
    parts = {part.slug: part for part in declared.parts}
    first = [parts[sheet.pieces[0][0]] for sheet in declared.sheets if sheet.pieces]
    stocks = [shop.sheet_for(part.slug, part.assembly) for part in first]
    for number, stock in enumerate(dict.fromkeys(stocks), 1):
        found |= {
            f"stock.{number}.count": stocks.count(stock),
            f"stock.{number}.material": stock.material,
            f"stock.{number}.length": stock.length_mm,
            f"stock.{number}.width": stock.width_mm,
            f"stock.{number}.thickness": stock.thickness_mm,
        }
    if declared.sheets:
        # How much of the last one no tool comes near.
        last, wide = declared.sheets[-1], shop.machine.widest_cut_mm
        boxes = [parts[slug].outline.placed(frame).bounds for slug, frame in last.pieces]
        right = last.length_mm - max((box[2] for box in boxes), default=0.0) - wide
        above = last.width_mm - max((box[3] for box in boxes), default=0.0) - wide
        spare = 3 * wide + _SPARE_MM
        found["left.right.length"], found["left.right.width"] = (right - spare, right), _whole(last.width_mm)
        found["left.above.length"], found["left.above.width"] = _whole(last.length_mm), (above - spare, above)
    return found


def _whole(mm: float) -> Value:
    """A sheet's whole side, which is told rounded down."""
    return (mm - 1.0, mm)


def timber_facts(job: Job, shop: Shop, saw_kerf_mm: float, spare_legs: int = 1) -> dict[str, Value]:
    """Legs and braces are cut one after another out of one board: a cut takes the saw's kerf, along the board as much
    more as the cut lies askew; one spare of each. Legs that are turned between their cuts have each a square blank."""
    d, n, leg = directions(job), job.all_trestles, expected_leg(job)
    # A kerf taken askew takes more of the board's length: its width over the cosine of how far it is off square.
    leg_each = leg["along_per_leg_mm"] + saw_kerf_mm / -d.down[2]
    slanted = leg["blank_mm"] - leg["cut_length_mm"]
    if shop.leg_saw.kind == "plain" and job.splay_deg != 90:
        leg_each, slanted = leg["blank_mm"] + 2 * PRACTICE["practice.blank_over"].mm + saw_kerf_mm, 0.0
    brace_each = expected_brace(job)["bottom_mm"] + saw_kerf_mm / d.wide[1]
    top_each = job.top.length_mm + saw_kerf_mm
    rows = {
        "leg": (4, spare_legs, leg_each, (4 * n + spare_legs) * leg_each + slanted),
        "top": (1, 0, top_each, n * top_each),
        "brace": (2, 1, brace_each, (2 * n + 1) * brace_each),
    }
    found: dict[str, Value] = {}
    for name, (one, spare, each, board) in rows.items():
        counts = {"one": one, "batch": one * n, "spare": spare, "total": one * n + spare}
        found |= {f"cut.{name}.{key}": count for key, count in counts.items()}
        found |= {f"cut.{name}.each": each, f"cut.{name}.board": board}
    return found


def screw_facts(job: Job) -> dict[str, Value]:
    """Sizes as sold for wood so thick, of those that hold; two a joint, or one for a leg that comes out again. Where
    they are marked must lie in the wood; how far from its edges, the pattern decides."""
    sizes, n = screw_sizes(job.leg.thickness_mm, job.unit), job.all_trestles
    found: dict[str, Value] = {}
    for name, through, each in (
        ("leg_screw", job.leg.thickness_mm, (4, 8)),
        ("brace_screw", job.brace.thickness_mm, (4, 8)),
        ("screw", min(job.leg.thickness_mm, job.brace.thickness_mm), (4, 8, 12, 16)),
    ):
        counts = tuple(n * one for one in each)
        found |= {
            f"{name}.name": tuple(size.name for size in sizes if size.length_mm - through >= _LEAST_HOLD_MM),
            f"{name}.one": each,
            f"{name}.batch": counts,
            f"{name}.count": counts,
            f"{name}.spare": tuple(ceil(count * SCREWS_SPARE - 1e-9) for count in counts),
            f"{name}.hole": sizes[0].clearance_hole_mm,
            f"{name}.pilot": sizes[0].pilot_mm,
            f"{name}.hard_pilot": sizes[0].hardwood_pilot_mm,
        }
    # From, and to, where a screw may be marked; the upper one of a leg by its left edge, seen from outside.
    room = 2 * sizes[0].diameter_mm
    along = job.leg.horn_mm - job.top.thickness_mm / directions(job).down[2]
    return found | {
        "leg_screw.from_head": (job.leg.horn_mm, along),
        "leg_screw.from_edge": (room, job.leg.width_mm - room),
        "leg_screw.upper_edge": "left",
        "leg_screw.lower_edge": "right",
        "brace_screw.from_top": (room, job.brace.depth_mm - room),
        "brace_screw.from_end": (0.0, expected_brace(job)["top_mm"] / 2),
    }
