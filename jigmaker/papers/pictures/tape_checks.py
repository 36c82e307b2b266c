"""Where the tapes of the five checks run: in the plan from above, and over the whole from one end. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, DrawnBody, project
from jigmaker.drawing.view import TOP, View
from jigmaker.first_off.tape_checks import TapeCheck, tape_checks
from jigmaker.papers.pictures.canvas import OUTLINE, SMALL_MM, THIN, Canvas, Spot, bounds_of_bodies
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.parts.kit import Kit
from jigmaker.trestle.solids import trestle_solids

_FROM_END = View.from_angles(-52.0, 24.0)
_PLAN_MM, _END_MM, _HIGH_MM, _GAP_MM, _COLUMN_MM = 60.0, 44.0, 52.0, 8.0, 26.0
_BELOW_MM = 6.0  # a line this near the plan's foot has the feet's names beside it
_IN_PLAN = ("diagonals", "along", "across")
_POINT_AT = {"diagonals": 0.36, "along": 0.3, "across": 0.5, "height": 0.3, "through": 0.25}
"""Where along a check's line its leader ends: off the places where lines cross."""


def tape_checks_picture(kit: Kit) -> Picture:
    """Each line of each check, and its name; feet by their names in the plan."""
    canvas, names = Canvas(), list[NameLabel]()
    bodies = [Body(name, solid) for name, solid in trestle_solids(kit.trestle).items()]
    checks = tape_checks(kit.trestle, kit.shop)
    numbered = [(f"{i} {check.name}", check) for i, check in enumerate(checks, 1)]
    in_plan = [one for one in numbered if one[1].key in _IN_PLAN]
    seen = project(bodies, TOP)
    plan = _laid(seen, _PLAN_MM, 0.0)
    names += _draw(canvas, seen, TOP, plan, in_plan, "left")
    # Each foot's name outside its corner of the plan.
    lines = [line for _, check in in_plan for line in check.lines]
    ends = [(line.start_name, line.start) for line in lines] + [(line.end_name, line.end) for line in lines]
    for name, (x, y, _) in dict(end for end in ends if end[0].startswith("foot ")).items():
        at = plan.point((x, y))
        up = 1.8 if y > 0 else -1.8 - SMALL_MM
        canvas.words(name.removeprefix("foot "), (at[0], at[1] + up), "right" if x > 0 else "left")
    # The name of a line at the plan's foot is written below it, between the feet's names, and not in the column. Drawn
    # so far is the plan alone, so its lowest line is that of the feet nearer to the reader.
    low = canvas.bounds[1]
    for label in [label for label in names if label.at[1] <= low + _BELOW_MM]:
        words, foot = (_PLAN_MM / 2, canvas.bounds[1] - SMALL_MM - 2.0), (_PLAN_MM / 2, label.at[1])
        canvas.words(label.text, words, "middle")
        canvas.line([(foot[0], words[1] + SMALL_MM + 0.8), foot])
        canvas.dot(foot)
        names.remove(label)
    seen = project(bodies, _FROM_END)
    end = _laid(seen, _END_MM, _PLAN_MM + _GAP_MM)
    names += _draw(canvas, seen, _FROM_END, end, [one for one in numbered if one not in in_plan], "right")
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The five checks with a tape")


def _laid(seen: list[DrawnBody], wide_mm: float, x: float) -> Spot:
    """The spot of a view from x on, its middle at y = 0."""
    low_x, low_y, high_x, high_y = bounds_of_bodies(seen)
    size = min(wide_mm / (high_x - low_x), _HIGH_MM / (high_y - low_y))
    return Spot(size, x - size * low_x, -size * (low_y + high_y) / 2)


def _draw(
    canvas: Canvas, seen: list[DrawnBody], view: View, spot: Spot, checks: list[tuple[str, TapeCheck]], side: Side
) -> list[NameLabel]:
    """The trestle in thin lines, the tapes over it in heavy ones; a name for each check."""
    canvas.bodies(seen, spot, (THIN, THIN))
    names = []
    for words, check in checks:
        ends = [tuple(spot.point(view.point(p)) for p in (line.start, line.end)) for line in check.lines]
        for a, b in ends:
            canvas.line([a, b], OUTLINE)
        left, right = sorted(min(ends) if side == "left" else max(ends))
        (x, y), (far_x, far_y) = (left, right) if side == "left" else (right, left)
        share = _POINT_AT[check.key]
        names.append(NameLabel(words, (x + share * (far_x - x), y + share * (far_y - y)), side))
    return names
