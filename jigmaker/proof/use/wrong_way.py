"""Saw guides and paring guide put on the wrong way round (5xx, 6xx).

board           |       |X = 0: an R guide's stop. Its foot hangs below the board's edge, beyond its right end:
________________|stop   |anywhere else along the board it would stand in the wood, so that the guide goes on at
                |foot   |that end only. Nothing of the kind tells the top face from the bottom face: words do.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, dot
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.housing_saw import HandGuides
from jigmaker.proof.use.jig import HANDS, JigPiece

LEAST_FOOT_MM = 10.0  # a stop that meets less of the board's end is not seen to meet it; common practice, no source

WARNINGS: tuple[tuple[str, str, Vector], ...] = (
    ("saw guide fence", "top", (0.0, 0.0, 1.0)),
    ("paring guide fence", "top", (0.0, 0.0, 1.0)),
    ("saw guide near plate", "hand", (0.0, 1.0, 0.0)),
    ("saw guide near plate", "end", (0.0, 1.0, 0.0)),
)
"""What must stand on a guide, by piece and mark, and the way that it is looked at: by the operator, from above."""


def wrong_way_findings(guides: HandGuides) -> Iterator[Finding]:
    """A guide goes on at its own end of the board alone, and has on it what no piece of it can tell."""
    top = guides.job.top
    everywhere = Solid.block((-top.length_mm, -top.width_mm, -top.thickness_mm), (top.length_mm, 0.0, 0.0))
    for hand in HANDS:
        # `everywhere` reaches beyond X = 0 to both sides: wherever the guide is pushed along the board, or put on at
        # its other end, there is wood where the stop's foot hangs.
        stop = guides.piece("stop", hand)
        in_wood = stop.solid.common(everywhere)
        meets = 0.0 if in_wood.is_empty else -in_wood.bounds[0][1]
        if meets < LEAST_FOOT_MM:
            says = f"the saw guide {hand} goes on at the board's other end too: its stop reaches {meets:.2f} mm into it"
            value, limit = f"{meets:.4f} mm", f"{LEAST_FOOT_MM:.0f} mm"
            yield Finding(518, says, AGAIN, part="saw guide stop", value=value, limit=limit, at=f"saw guide {hand}")
        yield from _warnings(guides.saw_guide.pieces(hand))
    yield from _warnings(guides.paring_guide.pieces("both"))


def _warnings(pieces: list[JigPiece]) -> Iterator[Finding]:
    for start, fact, seen_from in WARNINGS:
        for piece in (each for each in pieces if each.name.startswith(start)):
            is_there = any(mark.fact == fact and mark.text for mark in piece.part.declared.marks)
            if not is_there or dot(piece.frame.z_axis, seen_from) <= 0:
                lacks = "is without" if not is_there else "hides"
                says = f'the {piece.name} {lacks} its mark "{fact}", which keeps it from being put on the wrong way'
                yield Finding(608, says, AGAIN, part=piece.name, at=fact)
