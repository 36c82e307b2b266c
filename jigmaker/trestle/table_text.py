"""A solved trestle in, the table of its angles and lengths as plain text out, for reading at the bench; 100 columns.

Degrees to two decimals, lengths in mm or in inches to 1/64.
"""

from dataclasses import replace
from itertools import groupby
from textwrap import wrap

from jigmaker.trestle.angle_table import AngleRow, angle_rows
from jigmaker.trestle.length_table import length_groups
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.stance import chosen_lean_words
from jigmaker.units import Unit, fixed, length_text

_COLUMNS = 98


def table_text(trestle: Trestle, unit: Unit) -> str:
    """The whole table: what was asked, every angle as a set, how to saw the legs, every length."""
    # What several sizes have alike once, the rest of each.
    names = replace(trestle.job, unit=unit).size_names
    lines = ["LENGTHS (a row marked = is the sum of the rows above it, as printed)"]
    for group, size, members in length_groups(trestle.job, unit):
        lines.append(group if size is None else f"{group}; {names[size]}")
        for row in members:
            mark = "=" if row.is_whole else f"{row.times} x" if row.times > 1 else ""
            lines.append(f"  {mark:<3} {row.name:<52} {row.shown:>14}")
    blocks = (
        _heading(trestle, unit),
        _angle_lines(angle_rows(trestle)),
        _saw_lines(trestle),
        lines,
    )
    return "\n\n".join("\n".join(lines) for lines in blocks) + "\n"


def _heading(trestle: Trestle, unit: Unit) -> list[str]:
    job = trestle.job
    sizes = replace(job, unit=unit).sizes
    each = [
        f"{size.trestles} trestle{'s' if size.trestles > 1 else ''}, {length_text(size.height_mm, unit)} high"
        for size in sizes
    ]
    lines = wrap(f"{job.name}: {'; '.join(each)}", _COLUMNS)
    if job.angle_chosen:
        lines += wrap(
            f"No angle was given. {chosen_lean_words(job)} Write rake_deg or splay_deg into the job to have another.",
            _COLUMNS,
        )
    return lines


def _angle_lines(rows: tuple[AngleRow, ...]) -> list[str]:
    lines = [
        _columns("ANGLES, degrees", "lies on, or seen from", "off", "from the edge", "slope", "rise"),
        _columns("", "", "square", "or face named", "1 : n", "in 100"),
    ]
    for group, members in groupby(rows, key=lambda row: row.group):
        lines.append(group)
        for row in members:
            slope = "square" if row.slope_n is None else f"1 : {fixed(row.slope_n, 2 if row.slope_n < 1000 else 0)}"
            from_edge = f"{fixed(row.from_edge_deg, 2)} from {row.reference}"
            off, rise = fixed(row.off_square_deg, 2), fixed(row.rise_in_100, 2)
            lines.append(_columns(f"  {row.name}", row.lies_on, off, from_edge, slope, rise))
    return lines


def _columns(name: str, lies_on: str, off: str, edge: str, slope: str, rise: str) -> str:
    return f"{name:<17}  {lies_on:<26} {off:>6}  {edge:<27}  {slope:>9}  {rise:>6}".rstrip()


def _saw_lines(trestle: Trestle) -> list[str]:
    of_size = " but for their lengths" if trestle.job.further_sizes else ""
    # Which way the cut swings and the blade leans, for the leg of the +x +y corner.
    notes = [
        "Off square is what a saw's scale shows; from the edge or face is what a sliding bevel or a protractor is set "
        "to. The two make 90.",
        f"A leg has no hand: all {4 * trestle.job.all_trestles} are one piece{of_size}. On a saw that tilts both ends "
        "of every leg are cut at one setting: slide the board along without turning it; each cut is the foot of one "
        "leg and the head of the next. Wide face down or narrow edge down make the same cut: use one of the two.",
        "Outer wide face down, head to your left: "
        + _swing(trestle.angles.saw_mitre_deg, "foot")
        + _blade(trestle.angles.saw_tilt_deg),
        "Narrow edge that looks to the board's end down, head to your left: "
        + _swing(trestle.angles.saw_mitre_on_edge_deg, "head")
        + _blade(trestle.angles.saw_tilt_on_edge_deg),
        "So the leg comes out for the board's end at your right when you face the edge with the top face toward you, "
        "the face called outer away from the board. For the other hand take the same leg, turned end for end, with its "
        "other wide face out.",
    ]
    if trestle.angles.brace_wedge_deg:
        notes.append(
            f"A wall sawn square across the board meets the housing's floor at {_degrees(trestle.angles.wall_deg)}, "
            "not at 90°: the leg's edges must then be planed to fit. A wall made square to the floor takes the leg "
            "as it was sawn."
        )
    return [
        "READING AND SAWING",
        *(line for note in notes for line in wrap(note, _COLUMNS, initial_indent="- ", subsequent_indent="  ")),
    ]


def _swing(mitre_deg: float, toward: str) -> str:
    if mitre_deg == 0:
        return "the cut runs square across, "
    return f"the far end of the cut lies {_degrees(mitre_deg)} toward the {toward}, "


def _blade(tilt_deg: float) -> str:
    return f"the blade's top leans {_degrees(tilt_deg)} toward the head." if tilt_deg else "the blade stands upright."


def _degrees(angle_deg: float) -> str:
    return f"{fixed(angle_deg, 2)}°"
