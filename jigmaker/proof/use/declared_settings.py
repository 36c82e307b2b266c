"""Settings that kit.json declares (464), and the stop's bolts (511, 512). Jig frame; mm, degrees."""

from collections.abc import Iterator
from math import hypot

from jigmaker.findings import Finding
from jigmaker.proof.use.assemble import EXACT_DEG, EXACT_MM, off_finding
from jigmaker.proof.use.jig import HANDS, JigAsCut, JigPiece

BOLT_MM = 6.0
"""An M6 bolt's greatest diameter (ISO 261: nominal diameter of M6)."""

BOLT_PLAY_MM = 0.2
"""So far apart may the two holes of one bolt lie: half of what an M6 bolt leaves in a 6.2 hole, on both sides."""


def setting_findings(jig: JigAsCut) -> Iterator[Finding]:
    """Every figure that follows from job and shop alone must be declared as it is; one left out is not asked here."""
    router, job = jig.shop.router, jig.job
    # The bush runs along the slot's wall, the cutter in its middle: the slot is wider by their difference.
    offset = (router.bush_mm - router.cutter_mm) / 2
    wanted = {
        "plate tilt": (90 - job.splay_deg, "°", EXACT_DEG),
        "guide offset": (offset, "mm", EXACT_MM),
        "slot width": (job.leg.width_mm + job.housing.clearance_mm + 2 * offset, "mm", EXACT_MM),
    }
    for name, (figure, unit, limit) in wanted.items():
        declared = jig.settings.get(name)
        if declared is not None and abs(declared - figure) > limit:
            yield off_finding(464, "kit.json", "settings", f"the {name}", declared, figure, unit)


def bolt_findings(jig: JigAsCut) -> Iterator[Finding]:
    """The stop's holes lie over those of the end bearer that it is bolted to, for both hands; a bolt goes through."""
    for part in jig.parts:
        for name in part.names(ends=" bolt"):
            diameter = part.hole(name)[1]
            if diameter < BOLT_MM - EXACT_MM:
                yield off_finding(512, part.declared.name, name, "the hole for an M6 bolt", diameter, BOLT_MM)
    for hand in HANDS:
        pieces = jig.pieces(hand)
        stops = [piece for piece in pieces if piece.part.declared.slug == "stop"]
        ends = [piece for piece in pieces if piece.part.declared.slug == "end-bearer"]
        for stop in stops if ends else []:
            # The stop goes on the end bearer beside it, for R at the right end, for L at the left.
            end = min(ends, key=lambda end: abs(end.frame.origin[0] - stop.frame.origin[0]))
            for name in ("front bolt", "rear bolt"):
                (_, y, z), (_, end_y, end_z) = _hole(stop, name), _hole(end, name)
                apart = hypot(y - end_y, z - end_z)
                if apart > BOLT_PLAY_MM:
                    what = "the way from its hole to the end bearer's"
                    yield off_finding(511, stop.name, name, what, apart, 0.0)


def _hole(piece: JigPiece, name: str) -> tuple[float, float, float]:
    (x, y), _ = piece.part.hole(name)
    return piece.frame.point((x, y, 0.0))
