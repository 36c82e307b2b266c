"""How small an error the judge sees, feature by feature: run by hand, prints a table.

.venv/bin/python tests/support/smallest_errors.py

After the table it says which figures have changed.

Each row changes one thing of the demo's kit in every file and all of kit.json alike, features' own figures too. Its
two figures are the smallest of STEPS that are found when an edge moves out of the wood and into it, a line turns to
the left and to the right, a hole moves right and left or gets wider and narrower; None when no step is found.
"""

from dataclasses import dataclass

from spoil_parts import (
    REFUSED,
    codes_of,
    contour_moved,
    corner_rounder,
    edge_moved,
    edge_turned,
    hole_wider,
    is_found,
    spoilt,
)

STEPS = (0.002, 0.003, 0.005, 0.01, 0.015, 0.02, 0.03, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0, 3.0, 5.0)

JIG = ("plate", "bearer", "end-bearer", "stop", "fence-or-back-strip")
MASKED = (*JIG, "mask-for-slot-r", "mask-for-slot-l", "mask-foot")
GAUGED = (*JIG, "projection-gauge")
PLATES = ("bevel-plate", "brace-template")
BLOCK = ("foot-block-nose", "foot-block-layer")
TAPER = ("taper-gauge", "taper-scale")

MOVES = {
    "moved": edge_moved,
    "turned": edge_turned,
    "shifted": lambda name, by: contour_moved(name, by, 0.0),
    "shifted across": lambda name, by: contour_moved(name, 0.0, by),
    "wider": hole_wider,
    "rounder": lambda name, by: corner_rounder(name, 0, by),
}
"""What can be done to a feature or an opening of this name by so many mm; turned by so many degrees."""


@dataclass(frozen=True)
class Row:
    """One kind of feature: its words in the table, part, name and move, the two figures, and why they are not 0.01.

    `slugs` are the parts that are judged together for it.
    """

    what: str
    slug: str
    name: str
    move: str
    seen: tuple[float | None, float | None]
    slugs: tuple[str, ...] = ()
    why: str = ""

    def found(self, by):
        """The codes found when the thing is moved by so much; none where that gives no shape."""
        return codes_of(self.slugs or (self.slug,), self._changes(by)) - {REFUSED}

    def is_found(self, by):
        """Whether anything of tool, size, fit or assembly is found then. Raises where that gives no shape."""
        slugs = self.slugs or (self.slug,)
        return is_found(spoilt(slugs, self._changes(by)), slugs)

    def _changes(self, by):
        return {self.slug: MOVES[self.move](self.name, by)}

    @property
    def unit(self):
        """Of its figures."""
        return "°" if self.move == "turned" else " mm"


NONE = (None, None)
FINE = (0.002, 0.002)
TURN = (0.002, 0.002)

ROWS = (
    Row("wall of a slot", "plate", "slot R, near wall", "moved", FINE, JIG),
    Row("wall of a slot", "plate", "slot R, far wall", "turned", TURN, JIG),
    Row("slot along the board", "plate", "slot R", "shifted", FINE, JIG),
    Row(
        "end of a slot",
        "plate",
        "slot R, rear end",
        "moved",
        (5.0, 0.1),
        JIG,
        "runs out in the air before and behind the board; the other way it takes of the wood beside it",
    ),
    Row(
        "corner of a slot",
        "plate",
        "slot R",
        "rounder",
        NONE,
        JIG,
        "the bush turns in the air beyond the board; 28 mm rounder, the wall ends inside it, and is seen",
    ),
    Row("stop plane", "plate", "mortise, end, right, front, right wall", "moved", FINE, JIG),
    Row("side wall of a mortise", "plate", "mortise, centre, front, left wall", "moved", FINE, JIG),
    Row("end wall of a mortise", "plate", "mortise, centre, front, front wall", "moved", FINE, JIG),
    Row("mortise along the board", "plate", "mortise, centre, front", "shifted", FINE, JIG),
    Row("mortise across the plate", "plate", "mortise, centre, front", "shifted across", FINE, JIG),
    Row("mortise of a strip", "fence-or-back-strip", "mortise, centre", "shifted", FINE, JIG),
    Row("side of a plate tenon", "bearer", "plate tenon front, front side", "moved", FINE, JIG),
    Row("side of an end bearer's tenon", "end-bearer", "plate tenon front, front side", "moved", FINE, JIG),
    Row("side of a fence tenon", "bearer", "fence tenon, upper side", "moved", FINE, JIG),
    Row(
        "end of a tenon",
        "bearer",
        "plate tenon front, end",
        "moved",
        (2.0, 5.0),
        JIG,
        "ends 1.5 mm short of the plate's face, and need only reach past the middle of it",
    ),
    Row("shoulder at the fence", "bearer", "fence tenon shoulder, upper", "moved", FINE, JIG),
    Row(
        "shoulder at the back strip",
        "bearer",
        "back strip tenon shoulder, upper",
        "moved",
        (5.0, None),
        JIG,
        "the strip has 3 mm of play, for boards of other thickness",
    ),
    Row("foot of a bearer", "bearer", "foot on the board's edge", "moved", FINE, JIG),
    Row("foot of a bearer", "bearer", "foot on the board's edge", "turned", TURN, JIG),
    Row("seat of a bearer", "bearer", "seat of the plate, middle", "moved", FINE, JIG),
    Row("seat of a bearer", "bearer", "seat of the plate, middle", "turned", TURN, JIG),
    Row("foot of an end bearer", "end-bearer", "foot on the board's edge", "moved", FINE, JIG),
    Row("seat of an end bearer", "end-bearer", "seat of the plate, front", "moved", FINE, JIG),
    Row(
        "lug of an end bearer",
        "end-bearer",
        "front lug, inner side",
        "moved",
        (1.0, 0.2),
        JIG,
        "stands 0.5 mm clear of the board; the other way it grows thin",
    ),
    Row("window of the stop", "stop", "window, sill", "moved", NONE, JIG, "stands 5 mm clear of the arris"),
    Row(
        "bolt hole, its width",
        "stop",
        "front bolt",
        "wider",
        (None, 0.3),
        JIG,
        "0.2 mm wider than the bolt, which only presses the stop on",
    ),
    Row(
        "bolt hole, its place",
        "stop",
        "front bolt",
        "shifted",
        (0.3, 0.2),
        JIG,
        "within the play of the bolt in its holes",
    ),
    Row(
        "upper edge of a strip",
        "fence-or-back-strip",
        "upper edge",
        "moved",
        (0.5, 1.0),
        JIG,
        "lies 0.3 mm under the worked edge, and only must not be proud",
    ),
    Row(
        "lower edge of a strip",
        "fence-or-back-strip",
        "lower edge",
        "moved",
        NONE,
        JIG,
        "only clamps and jaws are near",
    ),
    Row(
        "edge of a mask",
        "mask-for-slot-r",
        "edge 2",
        "moved",
        (0.5, None),
        MASKED,
        "0.3 mm clear of the slot all round",
    ),
    Row("foot of a mask", "mask-foot", "foot on the board's edge", "moved", FINE, MASKED),
    Row(
        "end of the plate (free)",
        "plate",
        "right end",
        "moved",
        NONE,
        JIG,
        "the base may reach a little over it without tipping",
    ),
    Row("arm of a bearer (free)", "bearer", "rear arm", "moved", NONE, JIG, "nothing lies near it"),
    Row("flank of a bevel plate", "bevel-plate", "flank lower right", "turned", TURN, PLATES),
    Row("reference edge of a bevel plate", "bevel-plate", "upper reference edge", "turned", TURN, PLATES),
    Row(
        "notch of a bevel plate",
        "bevel-plate",
        "right notch, lower side",
        "moved",
        NONE,
        PLATES,
        "only keeps two flanks apart",
    ),
    Row("long side of the witness corner", "bevel-plate", "witness corner, left wall", "turned", TURN, PLATES),
    Row("tip of the nose", "foot-block-nose", "nose tip", "moved", FINE, BLOCK),
    Row("side of the nose", "foot-block-nose", "nose, left side", "moved", NONE, BLOCK, "only the tip meets a leg"),
    Row("front of a layer", "foot-block-layer", "front edge", "moved", FINE, BLOCK),
    Row("dowel hole, its place", "foot-block-layer", "dowel hole 1", "shifted", FINE, BLOCK),
    Row("dowel hole, its width", "foot-block-layer", "dowel hole 1", "wider", FINE, BLOCK),
    Row("edge of a pad", "foot-pad", "far edge", "moved", FINE),
    Row("slope of the taper gauge", "taper-gauge", "slope", "turned", TURN),
    Row("slope of the taper gauge", "taper-gauge", "slope", "moved", FINE),
    Row("thin end of the taper gauge", "taper-gauge", "thin end", "moved", FINE, TAPER),
    Row("end of the taper gauge's grip", "taper-gauge", "end of the grip", "moved", FINE, TAPER),
    Row("ceiling of the projection gauge", "projection-gauge", "recess, ceiling", "moved", FINE, GAUGED),
    Row("foot of the projection gauge", "projection-gauge", "left foot", "moved", FINE, GAUGED),
    Row("go notch of the leg gauge", "leg-gauge", "go, left wall", "moved", FINE),
    Row("wall of a notch of the leg gauge", "leg-gauge", "go, left wall", "turned", TURN),
    Row("no-go notch of the leg gauge", "leg-gauge", "no-go, right wall", "moved", FINE),
    Row("bottom of a notch", "leg-gauge", "go, bottom", "moved", NONE, (), "no leg reaches it"),
    Row("tip of the depth gauge", "depth-gauge", "top face, tip", "moved", FINE),
    Row("shoulder of the depth gauge", "depth-gauge", "bottom face, high shoulder", "moved", FINE),
    Row("low side of the housing plug", "housing-plug", "low side", "moved", FINE),
    Row("high side of the housing plug", "housing-plug", "high side", "moved", FINE),
    Row("end of the brace template", "brace-template", "right end", "moved", FINE),
    Row("end of the brace template", "brace-template", "right end", "turned", TURN),
    Row("edge of the brace template", "brace-template", "top edge", "moved", FINE),
    Row("flank of the brace template", "brace-template", "flank", "turned", TURN, PLATES),
    Row("flank of a wedge of the coupon", "coupon", "A, wedge, one flank", "moved", FINE),
    Row("flank of a wedge of the coupon", "coupon", "B, wedge, one flank", "turned", TURN),
    Row("flank of a slot of the coupon", "coupon", "A, slot, one flank", "moved", FINE),
    Row("flank of a slot of the coupon", "coupon", "B, slot, other flank", "turned", TURN),
    Row("thick end of a wedge of the coupon", "coupon", "A, wedge, thick end", "moved", FINE),
    Row("thin end of a wedge of the coupon", "coupon", "A, wedge, thin end", "moved", NONE, (), "is never measured"),
    Row("wall of the coupon's gap", "coupon", "C, gap, leaning wall", "moved", FINE),
    Row("long edge of the coupon", "coupon", "left edge", "moved", FINE),
    Row("short edge of the coupon", "coupon", "right edge, upper", "moved", FINE),
    Row("hole of the coupon's square, its place", "coupon", "E, lower left", "shifted", FINE),
    Row("hole of the coupon's square, its width", "coupon", "E, lower left", "wider", FINE),
    Row("hole with a disc of the coupon", "coupon", "F, hole and disc", "wider", FINE),
    Row("jaw of the leg gauge (free)", "leg-gauge", "go, left jaw", "moved", NONE, (), "only leads a leg in"),
)


def smallest(row, sign):
    """(the smallest step found this way, its codes); (None, ()) when not even the last is."""
    if not row.found(sign * STEPS[-1]):
        return None, ()
    return next((step, sorted(codes)) for step in STEPS if (codes := row.found(sign * step)))


def table(rows):
    """Two tables: what is seen finely, a line a part; then what is not, a line a row, and why."""
    lines = ["| part | seen from 0.002 mm | seen from 0.002° |", "|---|---|---|"]
    for slug in dict.fromkeys(row.slug for row in rows):
        fine = [row for row in rows if row.slug == slug and not row.why]
        cells = [
            "; ".join(row.what for row in fine if (row.move == "turned") == is_turned) for is_turned in (False, True)
        ]
        lines += [f"| {slug} | {cells[0]} | {cells[1]} |"] if fine else []
    lines += ["| what | out of the wood, right, wider | the other way | why it does no harm |", "|---|---|---|---|"]
    for row in rows:
        figures = [f"{seen:g}{row.unit}" if seen else f"not by {STEPS[-1]:g} mm" for seen in row.seen]
        lines += [f"| {row.what} | {figures[0]} | {figures[1]} | {row.why} |"] if row.why else []
    return lines


if __name__ == "__main__":
    print("\n".join(table(ROWS)))
    for each in ROWS:
        for sign, told in zip((1, -1), each.seen, strict=True):
            step, codes = smallest(each, sign)
            if step != told:
                print(f"{each.what}, {each.move} by {sign}: told {told}, found {step} {codes}", flush=True)
