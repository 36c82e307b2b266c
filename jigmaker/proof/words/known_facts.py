"""What every fact on papers and parts must say, by its name.

Names are those that papers and parts carry; mm, mm³, degrees, numbers of pieces, or the words themselves. Figures come
from the proof's own solids and the parts as cut, those of practice from the one table that papers are made from too.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from math import ceil, degrees, radians, sin, tan
from operator import attrgetter

from jigmaker.geometry.tolerance import SHARED_FLANK_DEG, TOUCH_MM
from jigmaker.geometry.vectors import dot
from jigmaker.job.job import Job
from jigmaker.job.practice import FENCE_SCREW, HANDS_AWAY, PRACTICE, STOP_BOLT
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.holding import SCREW_CLEAR_MM
from jigmaker.proof.checks.measured import Unmeasured
from jigmaker.proof.expected import as_glued, board, directions, leg
from jigmaker.proof.expected_numbers import (
    expected_angles,
    expected_brace,
    expected_foot,
    expected_housing,
    expected_leg,
)
from jigmaker.proof.records import DeclaredKit
from jigmaker.proof.use.bevels import flanks_as_cut, needed_angles
from jigmaker.proof.use.gauges import KitAsCut, half_band
from jigmaker.proof.use.jig import JigAsCut
from jigmaker.proof.words.figures import AsCut, Value
from jigmaker.proof.words.known_buying import bought_facts, screw_facts, timber_facts
from jigmaker.proof.words.known_directions import jig_directions, timber_directions
from jigmaker.proof.words.known_first_off import first_off_facts
from jigmaker.proof.words.known_hand_work import HandJigs
from jigmaker.proof.words.known_jig import jig_facts, router_facts
from jigmaker.proof.words.known_marking import marking_facts
from jigmaker.proof.words.known_tape import tape_facts
from jigmaker.record import dataclass
from jigmaker.units import text

_SHOWN_DEG = 0.005 + 1e-6  # less is called square

KnownFacts = dict[str, Value]

_OF_JOB = {
    "trestle.height": "height_mm",
    "trestle.inset": "inset_mm",
    "top.length": "top.length_mm",
    "top.width": "top.width_mm",
    "top.thickness": "top.thickness_mm",
    "leg.width": "leg.width_mm",
    "leg.thickness": "leg.thickness_mm",
    "leg.horn": "leg.horn_mm",
    "leg.trim": "leg.trim_mm",
    "brace.thickness": "brace.thickness_mm",
    "housing.clearance": "housing.clearance_mm",
    "housing.reveal": "housing.reveal_mm",
}
"""Facts that are what job.toml says: the job's field of each."""

_OF_SHOP = {
    "sheet.length": "sheet.length_mm",
    "sheet.width": "sheet.width_mm",
    "sheet.thickness": "sheet.thickness_mm",
    "sheet.material": "sheet.material",
    "machine.tool": "machine.tool_mm",
    "machine.accuracy": "machine.accuracy_mm",
    "machine.bridge": "machine.bridge_width_mm",
}
"""Facts that are what shop.toml says: the shop's field of each."""


@dataclass(frozen=True)
class KitFacts:
    """Everything that is known of one kit; `table` is worked out when it is first asked for. Raises Unmeasured."""

    kit: KitAsCut
    jig: JigAsCut
    declared: DeclaredKit
    by_hand: HandJigs = HandJigs()

    @cached_property
    def table(self) -> KnownFacts:
        """Every fact by its name."""
        job, shop = self.kit.job, self.kit.shop
        wide, clearance, half = job.leg.width_mm, job.housing.clearance_mm, half_band(job)
        whole = {
            **{name: attrgetter(field)(shop) for name, field in _OF_SHOP.items()},
            "machine.tool_name": "kerf" if shop.machine.kind == "laser" else "cutter",
            "layers.bridge": shop.layers["bridge"].name,
            "layers.note": shop.layers["note"].name,
            "fence_screw": FENCE_SCREW[job.unit],
            "hands_away": HANDS_AWAY[job.unit],
            "stop_bolt": STOP_BOLT[job.unit],
            **{name: figure.mm for name, figure in PRACTICE.items()},
            **timber_directions(job),
            **(jig_directions(self.jig) if shop.routs_housings else {}),
            **(jig_facts(self.jig) | router_facts(job, shop) if shop.routs_housings else {}),
            # Limits of gauge and plug, and the play that they allow.
            "leg_gauge.go": wide,
            "leg_gauge.no_go": wide - 2 * half,
            "plug.low": wide + clearance - half,
            "plug.high": wide + clearance + half,
            "play.least": clearance - half,
            "play.most": clearance + 3 * half,
            "play.asked": clearance,
            **_of_kit(job, shop, self.declared),
            **bought_facts(job, self.declared, shop, self.kit.saw_kerf_mm),
            **first_off_facts(job),
            **_flanks(self.kit),
            **self.by_hand.facts(self.kit, self.jig),
        }
        # What the jig decides is alike for all sizes; of the trestle each size has its own.
        each = [self._of_size(job.of_size(i)) for i in range(len(job.sizes))]
        return whole | (each[0] if len(each) == 1 else _together(job, shop, each, self.kit.saw_kerf_mm))

    def _of_size(self, job: Job) -> KnownFacts:
        """What a plain job of one size says of its trestle."""
        found: KnownFacts = {f"angles.{name}": value for name, value in expected_angles(job).items()}
        for group, figures in (
            ("leg", expected_leg(job)),
            ("housing", expected_housing(job)),
            ("brace", expected_brace(job)),
            ("foot", expected_foot(job)),
        ):
            found |= {f"{group}.{name.rpartition('_')[0]}": value for name, value in figures.items()}
        return {
            **found,
            "leg.along_over_height": -1 / directions(job).down[2],
            "job.name": " ".join(job.name.split()),
            **{name: attrgetter(field)(job) for name, field in _OF_JOB.items()},
            **_standing(job),
            **tape_facts(job, *self._guided, self.kit.shop),
            **timber_facts(job, self.kit.shop, self.kit.saw_kerf_mm),
            **marking_facts(job),
        }

    @property
    def _guided(self) -> tuple[float, float]:
        """How long a wall is guided and how deep the fence's lugs are, mm, by the parts as cut."""
        if self.by_hand.guides and not self.kit.shop.routs_housings:
            return self.by_hand.guides.guided_mm
        # A wall is guided for the length of the slot; bearers hang down from Y = 0, the worked edge.
        plate = self.jig.plate("R")
        slot = plate.edge("slot R, rear end").middle[1] - plate.edge("slot R, front end").middle[1]
        bearers = [piece for piece in self.jig.pieces("R") if piece.part.declared.slug == "bearer"]
        return slot, -min((piece.solid.bounds[0][1] for piece in bearers), default=-1.0)

    def known_or_none(self) -> KnownFacts:
        """The table; empty when a part that it is measured on is not there, which is reported elsewhere."""
        try:
            return self.table
        except Unmeasured:
            return {}


def _together(job: Job, shop: Shop, each: list[KnownFacts], saw_kerf_mm: float) -> KnownFacts:
    """What several sizes have alike by its own name; all that each has by a name that says which, "size.2.leg.length".

    What differs has no other name, so that a page which does not say which size it is for is found out. What play
    and winding do is given for the highest; one leg more is sawn, of the longest.
    """
    found: KnownFacts = {}
    for name, value in each[0].items():
        # One figure twice worked out may differ in its last decimals; words must be the same.
        if all(
            one[name] == value
            or (
                isinstance(value, float | int) and isinstance(o := one[name], float | int) and abs(o - value) < TOUCH_MM
            )
            for one in each
        ):
            found[name] = value
    highest = max(range(len(each)), key=lambda i: job.sizes[i].height_mm)
    found |= {name: each[highest][name] for name in ("press.travel", "rock.of_winding")}
    for i, (size, one) in enumerate(zip(job.sizes, each, strict=True)):
        own = one | _batch(size.trestles) | timber_facts(job.of_size(i), shop, saw_kerf_mm, int(i == highest))
        own |= {name: value for name, value in screw_facts(job.of_size(i)).items() if name.endswith(".count")}
        found |= {f"size.{i + 1}.{name}": value for name, value in own.items()}
    # Braces are cut for the whole batch in one go, and top boards where all are of one length.
    shared = ("cut.brace.", "cut.top.") if "top.length" in found else ("cut.brace.",)
    own = timber_facts(job, shop, saw_kerf_mm)
    return found | {name: value for name, value in own.items() if name.startswith(shared)}


def _standing(job: Job) -> KnownFacts:
    """The trestle before its feet are levelled, and what makes it rock."""
    glued, foot, foot_now = as_glued(job), expected_foot(as_glued(job)), expected_foot(job)
    soles = [p[1] for p in leg(job).corners if p[2] < -job.height_mm + 1e-6]
    half_winding = PRACTICE["limit.winding"].mm / job.top.width_mm
    # How far a foot travels along the board for a mm of play. The seat is what leg and board have in common.
    d, body = directions(job), leg(job).common(board(job))
    edges = [dot(p, d.edge) for p in body.corners]
    near = [dot(p, d.down) for p, e in zip(body.corners, edges, strict=True) if e > max(edges) - 1e-4]
    far = [dot(p, d.down) for p, e in zip(body.corners, edges, strict=True) if e < min(edges) + 1e-4]
    #      near wall         The leg turns in its seat until a corner at one wall's top and one at the other's bottom
    #   |    \  leg  |       touch: by the angle play / (their distance along the leg), first one way, then the other.
    #   |_____\______|       Its foot travels that angle times the leg's length below the seat's middle.
    #      far wall
    ways = (max(near) - min(far), max(far) - min(near))
    longer, shorter = max(ways), min(ways) if min(ways) > 0 else max(ways)
    arm = (job.height_mm - job.top.thickness_mm / 2) / -d.down[2]
    return {
        "as_glued.height": glued.height_mm,
        "as_glued.along": foot["spread_along_mm"],
        "as_glued.across": foot["spread_across_mm"],
        "press.play": 1.0,
        "press.travel": arm * d.edge[0] * (1 / longer + 1 / shorter),
        "rock.of_winding": (max(soles) + min(soles)) * half_winding,
        "brace.undercut": job.brace.thickness_mm * tan(radians(expected_angles(job)["brace_end_tilt"])),
        "brace.each_end": (expected_brace(job)["bottom_mm"] - expected_brace(job)["top_mm"]) / 2,
        "foot.beyond_end": abs(foot_now["spread_along_mm"] - job.top.length_mm) / 2,
        "foot.beyond_edge": abs(foot_now["spread_across_mm"] - job.top.width_mm) / 2,
        "standing.end": _inside(foot_now["spread_along_mm"] - job.top.length_mm),
        "standing.edge": _inside(foot_now["spread_across_mm"] - job.top.width_mm),
        "leg.slope": expected_leg(job)["blank_mm"] - expected_leg(job)["cut_length_mm"],
    }


def _inside(beyond_mm: float) -> Value:
    """Where the board ends, by how much farther the feet reach; either word where they stand below it."""
    return ("inside", "outside") if abs(beyond_mm) < TOUCH_MM else "inside" if beyond_mm > 0 else "outside"


def _of_kit(job: Job, shop: Shop, declared: DeclaredKit) -> KnownFacts:
    """How many of what, and each part's box; how a CNC machine is set, and what holds pieces that hang on no bridge;
    how high so many layers of the foot block are.
    """
    found: KnownFacts = _batch(job.all_trestles) | {
        "batch.pieces": sum(part.needed + part.spares for part in declared.parts),
        "batch.sheets": len(declared.sheets),
        "batch.jigs": 1 if any(part.slug == "plate" for part in declared.parts) else 2,
        "batch.plain_bearers": sum(part.needed for part in declared.parts if part.slug == "bearer"),
        "batch.jig_pieces": sum(part.needed for part in declared.parts if part.assembly == "housing jig"),
        "batch.parts": len(declared.parts),
        "kit.number": declared.kit_number,
    }
    for part in declared.parts:
        low_x, low_y, high_x, high_y = part.outline.bounds
        name = f"part.{part.slug}"
        found |= {f"{name}.length": high_x - low_x, f"{name}.width": high_y - low_y, f"{name}.name": part.name}
        found |= {f"{name}.needed": part.needed, f"{name}.spares": part.spares, f"{name}.thickness": part.thickness_mm}
        found |= {f"{name}.pieces": part.needed + part.spares}
        found |= {f"{name}.mark": tuple(mark.text for mark in part.marks if mark.fact in ("name", "top"))}
    for how, fact in (("screw", "held.screwed"), ("tape", "held.taped")):
        counts = [(part.name, part.needed + part.spares) for part in declared.parts if part.held_by == how]
        found[fact] = ", ".join(name + (f" ({count})" if count > 1 else "") for name, count in counts)
    thick, sliver = shop.sheet_for("foot block").thickness_mm, PRACTICE["practice.sliver"].mm
    for count in range(1, 10):
        found |= {f"foot_block.{count}": count * thick, f"foot_block.{count}_gap": count * thick - sliver}
        found[f"layers.{count}"] = count
    into_board, tool = PRACTICE["practice.into_board"].mm, shop.machine.tool_mm
    return found | {
        "machine.depth": shop.sheet.thickness_mm + into_board,
        "machine.into_board": into_board,
        **({"machine.passes": ceil((shop.sheet.thickness_mm + into_board) / tool)} if tool else {}),
        "machine.screw_clear": tool + SCREW_CLEAR_MM,
        "machine.zero": "left",
        "machine.turn": "anticlockwise",
        "machine.circle_start": "right",
    }


def _batch(n: int) -> KnownFacts:
    """What so many trestles are made of."""
    return {
        "batch.trestles": n,
        "batch.tops": n,
        "batch.legs": 4 * n,
        "batch.legs_and_spare": 4 * n + 1,
        "batch.braces": 2 * n,
        "batch.braces_and_spare": 2 * n + 1,
        "batch.housings": 4 * n,
        "batch.housings_a_hand": 2 * n,
    }


def _flanks(kit: KitAsCut) -> KnownFacts:
    """On which part the flank for each use is, and what the machine's accuracy makes of one."""
    flanks, found = flanks_as_cut(kit), KnownFacts()
    for use, angle in needed_angles(kit.job).items():
        on = [flank for flank in flanks if abs(flank.angle_deg - angle) < SHARED_FLANK_DEG]
        where = " of the brace template" if on and all(flank.corner == "of the notch" for flank in on) else ""
        found[f"flank.{use.replace(' ', '_')}"] = f"flank {use.upper()}{where}"
    plates = [flank for flank in flanks if flank.corner != "of the notch"]
    if plates:
        # As long as a true square one is.
        accuracy, flank = kit.shop.machine.accuracy_mm, plates[0]
        square = replace(flank, length_mm=flank.length_mm * sin(radians(flank.angle_deg)))
        found["flank.length"] = AsCut(square.length_mm)
        found["flank.off"] = degrees(accuracy / square.length_mm)
        found["flank.off_both"] = square.worst_deg(accuracy)
    found["flank.within"] = text(SHARED_FLANK_DEG)
    angles = expected_angles(kit.job)
    # Where no saw tilts the ends are left square, and planed in their place.
    tilt = angles["brace_end_tilt"] if kit.shop.leg_saw.kind == "tilting" else 0.0
    for name, angle in (("edge", 90 - angles["brace_edge"]), ("ends", tilt)):
        if abs(angle) < _SHOWN_DEG:
            found[f"brace.square_{name}"] = "SQUARE"
    return found
