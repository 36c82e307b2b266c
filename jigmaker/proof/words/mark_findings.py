"""The words and arrows on parts, held against what the kit's own solids say (6xx). Part frame; mm.

kit.json declares each mark with its name and text; that the lines in the files are those letters is held elsewhere
(check_letters.py). Words are compared in whole, so that none can be exchanged for another.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby
from math import dist, inf

from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import SHARED_FLANK_DEG
from jigmaker.proof.checks.measured import MeasuredPart, Unmeasured
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import DeclaredMark
from jigmaker.proof.use.bevels import needed_angles
from jigmaker.proof.use.jig import HANDS
from jigmaker.proof.words.figures import Statement, Value, parts_of, wrong_parts
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.known_number import WRONG as WRONG_NUMBER
from jigmaker.proof.words.part_places import Here, arrow_of, family_of, here_of
from jigmaker.proof.words.part_words import LINES, SAYINGS, USES
from jigmaker.record import dataclass

_DIRECTION, _FIGURE, NAMELESS = 601, 602, 604
_MOST_LINES = 12  # of one saying
_ON_LINE_MM = 0.01
_FLANKS = ("bevel-plate", "brace-template")


def mark_findings(facts: KitFacts, only: str = "") -> Iterator[Finding]:
    """Every mark of every part, or of one by its slug; what cannot be placed for want of a part is a fault too."""
    for part in (part for slug, part in facts.kit.parts.items() if only in ("", slug)):
        of_part = _MarksOf(facts, part)
        for _, group in groupby(part.declared.marks, key=lambda mark: (mark.fact, bool(mark.text))):
            marks = list(group)
            try:
                yield from of_part.said(marks) if marks[0].text else of_part.drawn(marks)
            except Unmeasured as error:
                yield error.finding


@dataclass(frozen=True)
class _MarksOf:
    """The marks of one part, judged by what is known of its kit."""

    facts: KitFacts
    part: MeasuredPart

    def said(self, marks: list[DeclaredMark]) -> Iterator[Finding]:
        """Marks of one name: each saying may take several of them, one below another."""
        fact = marks[0].fact
        if fact is None or (fact == "use" and family_of(self.part.declared.slug) in _FLANKS):
            yield from self.uses(marks) if fact else ()
            for mark in marks if not fact else ():
                says = f'"{mark.text}" on the {self.part.declared.name} has no name in kit.json, so nobody can judge it'
                yield Finding(NAMELESS, says, AGAIN, part=self.part.declared.name)
            return
        forms, at = SAYINGS.get(family_of(self.part.declared.slug), {}).get(fact, ()), 0
        # A saying may run over several lines, each a mark of its own, and several sayings of one name may follow each
        # other: the reading that leaves nothing wrong is taken, else the first, whose faults are reported.
        while at < len(marks):
            here = here_of(self.facts, self.part, marks[at]) if "{here." in "".join(forms) else {}
            # Every way to read a saying from this mark on: how many marks it takes, and what of it is not so.
            found: list[tuple[int, list[Finding]]] = []
            for count in range(1, min(len(marks) - at, _MOST_LINES) + 1):
                words = " ".join(mark.text for mark in marks[at : at + count])
                for stated in (parts_of(form, words) for form in forms):
                    found += [(count, self.wrong(stated, here, words))] if stated is not None else []
            if not found:
                says = f'"{marks[at].text}" is nothing that is to be said of "{fact}" on the {self.part.declared.name}'
                yield Finding(_DIRECTION if forms else NAMELESS, says, AGAIN, part=self.part.declared.name, at=fact)
            count, faults = min(found, key=lambda each: bool(each[1]), default=(1, []))
            yield from faults
            at += count

    def wrong(self, stated: list[Statement], here: Here, words: str) -> list[Finding]:
        """What of it is not so."""
        known = {
            each.name: here[each.name] if each.name in here else self.facts.table.get(each.name, ()) for each in stated
        }
        found = []
        for each in wrong_parts(stated, known, self.facts.kit.job.unit):
            value = known[each.name]
            says = f'"{words}" on the {self.part.declared.name}: "{each.words}" is not {shown(value)}'
            code = WRONG_NUMBER if each.name == "kit.number" else _DIRECTION if is_words(value) else _FIGURE
            found.append(Finding(code, says, AGAIN, part=self.part.declared.name, at=each.name))
        return found

    def uses(self, marks: list[DeclaredMark]) -> Iterator[Finding]:
        """What a flank is for: each use's own angle is the flank's, nearly, and it is measured off its own line."""
        needed = {name.upper(): angle for name, angle in needed_angles(self.facts.kit.job).items()}
        angles = here_of(self.facts, self.part, marks[0]).get("here.angle", ())
        flanks = angles if isinstance(angles, tuple) else ()
        words = rest = " ".join(mark.text for mark in marks)
        name = "(?:" + "|".join(re.escape(use) for uses in USES.values() for use in uses) + r")(?: \([0-9.]+°\))?"
        # "RAKE, SPLAY (80.00°) OFF LEVEL": uses, each with its angle where several share a flank, then what they are
        # off. Read from the left until nothing is left.
        while rest:
            found = re.match(rf"({name}(?:, {name})*) ({'|'.join(sorted(USES, key=len, reverse=True))})(?: |$)", rest)
            is_square = re.match("TRUE SQUARE(?: |$)", rest)
            if is_square and 90.0 in flanks:
                rest = rest[is_square.end() :]
                continue
            uses = re.findall(r"([A-Z ]+?)(?: \(([0-9.]+)°\))?(?:, |$)", found[1]) if found else []
            if found is None or not all(
                use in USES[found[2]]
                and any(abs(needed.get(use, inf) - float(angle)) <= SHARED_FLANK_DEG for angle in flanks)
                and (not own or abs(float(own) - needed[use]) <= 0.005 + 1e-6)
                for use, own in uses
            ):
                says = f'"{words}" on the {self.part.declared.name} is not what the flank beside it is for'
                yield Finding(_DIRECTION, says, AGAIN, part=self.part.declared.name, at="use")
                return
            rest = rest[found.end() :]

    def drawn(self, marks: list[DeclaredMark]) -> Iterator[Finding]:
        """Lines without words: those that point somewhere, or lie where something is."""
        fact, name = marks[0].fact or "", self.part.declared.name
        for mark in marks:
            code, says = 0, ""
            if fact not in LINES.get(family_of(self.part.declared.slug), ()):
                code = NAMELESS
                says = f'lines on the {name} have the name "{fact}" in kit.json, which nobody can judge'
            elif fact == "feed arrow" and not _is_clockwise(mark):
                code = _DIRECTION
                says = f"the feed arrow on the {name} does not go clockwise round the inside of the slot"
            elif fact == "centre lines":
                # As far from one wall as from the other, at every point.
                hands = [hand for hand in HANDS if self.facts.jig.plate(hand).declared.slug == self.part.declared.slug]
                walls = [[self.part.edge(f"slot {hand}, {side} wall") for side in ("near", "far")] for hand in hands]
                points = [(p[0], p[1]) for row in mark.lines for p in row]
                off = [max(abs(abs(a.left(p)) - abs(b.left(p))) for p in points) for a, b in walls if points]
                code = _FIGURE if min(off, default=_ON_LINE_MM) >= _ON_LINE_MM else 0
                says = f"a centre line on the {name} does not lie midway between the walls of its slot"
            elif fact == "arrows":
                # The tip lies nearer to the wall next to it, one of the right and upper ones, than the tail does.
                edges = [
                    self.part.edge(wall) for wall in ("go, right wall", "no-go, right wall", "thickness, upper wall")
                ]
                tail, tip = (*arrow_of(mark), ((0.0, 0.0), (0.0, 0.0)))[0]
                wall = min(edges, key=lambda edge: dist(edge.middle, tip))
                code = 0 if abs(wall.left(tip)) < abs(wall.left(tail)) else _DIRECTION
                says = f"an arrow on the {name} does not point at the wall that is to be dressed"
            if code:
                yield Finding(code, says, AGAIN, part=name, at=fact)


def is_words(value: Value) -> bool:
    """True for what is said in words, such as a direction, and not as a figure."""
    return isinstance(value, str) or (isinstance(value, tuple) and all(isinstance(one, str) for one in value))


def shown(value: Value) -> str:
    """What is known, for people; figures in mm and degrees."""
    if isinstance(value, tuple):
        return " or ".join(shown(one) for one in value) if value else "known here"
    return f'"{value}"' if isinstance(value, str) else f"{value:.4f}".rstrip("0").rstrip(".")


def _is_clockwise(mark: DeclaredMark) -> bool:
    """An arc that runs toward the head: negative bulges on the way there."""
    if len(mark.lines) != 2 or len(mark.lines[1]) != 3:
        return False
    ring, head = mark.lines
    # The head's middle point lies on one end of the arc: run toward it, an arc that turns clockwise has negative
    # bulges.
    ends = [dist(ring[at][:2], head[1][:2]) for at in (0, -1)]
    bulges = [row[2] for row in ring[:-1]]
    is_forward = ends[1] < ends[0]
    return min(ends) < _ON_LINE_MM and all(bulge < 0 if is_forward else bulge > 0 for bulge in bulges)
