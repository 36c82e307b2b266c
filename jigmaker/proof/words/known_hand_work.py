"""What the jigs of hand work and their sheets must say, worked out by the proof from the jigs as cut."""

from __future__ import annotations

from math import floor, radians, sin, tan

from jigmaker.geometry.vectors import dot, subtract
from jigmaker.job.shop import HandSaw
from jigmaker.proof.use.drilling_template import TemplateAsCut
from jigmaker.proof.use.gauges import KitAsCut
from jigmaker.proof.use.housing_saw import HandGuides
from jigmaker.proof.use.jig import HANDS, JigAsCut
from jigmaker.proof.use.leg_box import LegBox, wrong_turns_deg
from jigmaker.proof.use.leg_cradle import LegCradle, cradle_facts
from jigmaker.proof.use.wedges import JIG_USE, wedges_as_cut
from jigmaker.proof.words.figures import AsCut, Value
from jigmaker.record import dataclass

UNDER_HEAD_MM = 12.0  # of a clamping wedge's ear, at the most
CLAMP_MM = 8.0  # a clamp's jaw above its middle, which is at the middle of the board's thickness


@dataclass(frozen=True, slots=True)
class HandJigs:
    """The jigs beside the routing jig; None for one that the kit is without."""

    guides: HandGuides | None = None
    box: LegBox | None = None
    cradle: LegCradle | None = None
    template: TemplateAsCut | None = None

    def facts(self, kit: KitAsCut, jig: JigAsCut) -> dict[str, Value]:
        """What each of them comes to. Raises Unmeasured."""
        return {
            **(hand_saw_facts(kit.shop.hand_saw) if kit.shop.hand_saw else {}),
            **(hand_work_facts(self.guides) if self.guides else {}),
            **(cradle_facts(self.cradle) if self.cradle else {}),
            **(leg_box_facts(self.box) if self.box else {}),
            **wedge_facts(kit, jig, self.guides),
            **(template_facts(self.template) if self.template else {}),
        }


def hand_saw_facts(saw: HandSaw) -> dict[str, Value]:
    """The hand saw as the shop gives it."""
    return {
        "hand_saw.plate": saw.plate_mm,
        "hand_saw.kerf": saw.kerf_mm,
        "hand_saw.depth": saw.depth_mm,
        "hand_saw.back": saw.back_mm,
        "hand_saw.length": saw.length_mm,
    }


def leg_box_facts(box: LegBox) -> dict[str, Value]:
    """What the box as cut comes to, and what a leg costs that is turned in it. Raises Unmeasured."""
    # The slot's opening, from face to face, square to the saw.
    (near, _), (far, _) = (box.slot_face("near", which) for which in ("left", "right"))
    turned = wrong_turns_deg(box.job)
    return {
        "leg_box.pieces": len(box.pieces),
        "leg_box.slot": AsCut(abs(dot(subtract(far, near), box.saw_plane[1]))),
        "leg_box.end_for_end": turned["end_for_end"],
        "leg_box.rolled": turned["rolled"],
    }


def hand_work_facts(guides: HandGuides) -> dict[str, Value]:
    """What the guides as cut come to, and the chisel as the shop gives it. Raises Unmeasured."""
    ramp = guides.ramp()
    near, far = (guides.cheek_face(side, "R")[1] for side in ("near", "far"))
    # Clamps take the fence's band under the bearers.
    fence, bearer = (guides.piece(name, "R").solid.bounds[0][1] for name in ("saw guide fence", "near bearer"))
    edges, sheet = (fence, bearer), guides.saw_guide.shop.sheet
    joint, job_routs = sheet.joint_clearance_mm + sheet.thickness_spread_mm, guides.saw_guide.shop.routs_housings
    return {
        "chisel.blade": guides.chisel.blade_mm,
        "saw_guide.spacer": abs(dot(subtract(near.origin, far.origin), near.z_axis)),
        "saw_guide.wrong_face": guides.wrong_face_mm3(),
        # How much less deep the ramp is at the board's bottom face than at its top face.
        "paring_guide.too_deep": guides.job.top.thickness_mm * ramp.z_axis[2] / ramp.z_axis[1],
        # A trial piece is as long as the guide, which reaches from the board's end over its far bearer.
        **({} if job_routs else {"jig.off_cut": AsCut(-guides.piece("saw guide fence", "R").solid.bounds[0][0])}),
        "jig.joint": joint,
        "jig.mortise": guides.saw_guide.shop.sheet.thickness_mm + joint,
        "saw_guide.board_lean": 90 - guides.job.splay_deg,
        "saw_guide.throat": AsCut(guides.job.top.width_mm + (max(edges) + min(edges)) / 2),
        "saw_guide.pieces": len(guides.saw_guide.pieces("R")),
        "paring_guide.pieces": len(guides.paring_guide.pieces("both")),
        **guide_directions(guides),
    }


def wedge_facts(kit: KitAsCut, jig: JigAsCut, guides: HandGuides | None) -> dict[str, Value]:
    """Jaws and clamps for the wedges as cut; nothing in a kit without any. Raises Unmeasured."""
    wedges = wedges_as_cut(kit, jig, guides)
    if wedges is None:
        return {}
    job, front = kit.job, wedges.front
    # On a clamped leg the ear is so far under the head line, whatever of it stands over that.
    under = min(UNDER_HEAD_MM, max(0.0, floor(job.top.thickness_mm / 2 - CLAMP_MM)))
    # From its thin end to the head line a wedge is below_mm and `under` long, and so much thicker there by the tangent
    # of its lean.
    at_head = front.thickness("thin end") + (front.below_mm + under) * tan(radians(front.lean_deg))
    stands_out = job.housing.reveal_mm / sin(radians(job.splay_deg))
    found: dict[str, Value] = {
        "wedge.lean": 90 - job.splay_deg,
        "wedge.layers": front.layers,
        "wedge.under_head": under,
        "wedge.clamp_apart": AsCut(job.top.width_mm + 2 * (stands_out + at_head)),
    }
    for board in wedges.leanings:
        use = "rout" if board.use == JIG_USE else "saw"
        near, far = board.touching
        found |= {f"wedge.jaws_{use}": AsCut(far - near), f"wedge.jaw_top_{use}": -board.jaw_top}
    return found


def guide_directions(guides: HandGuides) -> dict[str, Value]:
    """At which of the operator's hands the stop of each guide lies, and on which face its fence."""
    found: dict[str, Value] = {}
    for hand in ("R", "L"):
        low, high = guides.piece("stop", hand).solid.bounds
        cheeks = [guides.piece(f"{side} cheek", hand).solid.bounds for side in ("near", "far")]
        middle = sum(box[0][0] + box[1][0] for box in cheeks) / 4
        found[f"saw_guide.stop_{hand}"] = "right" if (low[0] + high[0]) / 2 > middle else "left"
    fence = guides.piece("saw guide fence", "R").solid.bounds
    found["saw_guide.fence"] = "top" if fence[0][2] + fence[1][2] > -guides.job.top.thickness_mm else "bottom"
    return found


def template_facts(template: TemplateAsCut) -> dict[str, Value]:
    """Where screws are marked, by the template's holes, and how it tells a leg that lies wrong. Raises Unmeasured."""
    holes, width = template.holes(), template.job.leg.width_mm
    return {
        "template.drill": template.drill_mm,
        "template.gap": AsCut(template.gap_mm),
        "template.nearer": AsCut(template.nearer_mm),
        "template.gape": AsCut(template.gape_mm),
        "template.face": template.face_hand,
        "template.other_face": next(hand for hand in HANDS if hand != template.face_hand),
        "template.pieces": len(template.jig.pieces("both")),
        "leg_screw.from_head": tuple(AsCut(hole.v) for hole in holes),
        "leg_screw.from_edge": tuple(AsCut(e) for hole in holes for e in (hole.e, width - hole.e)),
    }
