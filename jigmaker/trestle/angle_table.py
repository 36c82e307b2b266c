"""A solved trestle in, every angle as a row of data out; degrees.

An angle is given as a set: off square, as a saw's scale reads it; from the edge, as a bevel or protractor reads it (the
two add up to 90 as printed); as a slope 1 : n; and as a rise in 100.
"""

from jigmaker.record import dataclass
from jigmaker.trestle.angles import tangent
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class AngleRow:
    """One angle as a set. `key` is its name in numbers.json; `lies_on` the face it is seen on or the way the work lies;
    `reference` the line or plane that from_edge_deg is measured from.

    off_square_deg is rounded to two decimals and from_edge_deg is 90 less that; rise_in_100 and the n of 1 : n
    (None when square) come from the exact angle.
    """

    group: str
    key: str
    name: str
    lies_on: str
    reference: str
    off_square_deg: float
    from_edge_deg: float
    slope_n: float | None
    rise_in_100: float


_LEAN, _SAW, _LEG, _BOARD, _BRACE = (
    "How a leg leans",
    "Saw for both ends of a leg",
    "Lines on the leg",
    "Housing, lines on the board",
    "Brace",
)

_WIDE, _NARROW = "leg lying on its wide face", "leg lying on narrow edge"

# group, key in numbers.json, name, what it lies on, what it is measured from
_ROWS = (
    (_LEAN, "rake", "rake", "seen from the side", "the level"),
    (_LEAN, "splay", "splay", "seen from the end", "the level"),
    (_LEAN, "true_lean", "true lean", "leg's arris, both together", "the level"),
    (_SAW, "saw_mitre", "mitre", _WIDE, "the leg's arris"),
    (_SAW, "saw_tilt", "blade tilt", _WIDE, "the table"),
    (_SAW, "saw_mitre_on_edge", "or: mitre", _NARROW, "the leg's arris"),
    (_SAW, "saw_tilt_on_edge", "or: blade tilt", _NARROW, "the table"),
    (_LEG, "leg_face", "level line", "leg's wide face", "the leg's arris"),
    (_LEG, "leg_edge", "level line", "leg's narrow edge", "the leg's arris"),
    (_BOARD, "edge_line", "wall", "board's edge", "the top arris"),
    (_BOARD, "edge_twist", "wall", "board's top and bottom", "the arris"),
    (_BOARD, "wall", "hand-sawn wall", "inside, wall to floor", "housing's floor"),
    (_BRACE, "brace_end", "end line", "brace's face", "its long edge"),
    (_BRACE, "brace_end_tilt", "end, blade tilt", "brace lying on its face", "the table"),
    (_BRACE, "brace_edge", "top edge bevel", "brace's top edge", "the brace's face"),
    (_BRACE, "brace_wedge", "wedge behind it", "leg's wide face to brace", "the brace's face"),
)

# Keys whose figure in numbers.json is already off square; all others are from the edge.
_OFF_SQUARE = {
    "leg_edge",
    "saw_mitre",
    "saw_tilt",
    "saw_mitre_on_edge",
    "saw_tilt_on_edge",
    "edge_twist",
    "brace_end_tilt",
    "brace_wedge",
}


def angle_rows(trestle: Trestle) -> tuple[AngleRow, ...]:
    """Every angle of numbers.json as a set, in the order in which they are used."""
    rows = []
    for group, key, name, lies_on, reference in _ROWS:
        figure = getattr(trestle.angles, f"{key}_deg")
        off_square = figure if key in _OFF_SQUARE else 90 - figure
        shown = round(off_square, 2) + 0.0
        rise = 100 * tangent(off_square)
        is_square = rise < 1e-9
        rows.append(
            AngleRow(
                group=group,
                key=key,
                name=name,
                lies_on=lies_on,
                reference=reference,
                off_square_deg=shown,
                from_edge_deg=round(90 - shown, 2),  # so that the two as printed make 90
                slope_n=None if is_square else 100 / rise,
                rise_in_100=0.0 if is_square else rise,
            )
        )
    return tuple(rows)


def angles_off() -> dict[str, str]:
    """What each angle of numbers.json is off, by its key there, and where it is seen or how the work lies."""
    return {
        key: f"{'square to ' if key in _OFF_SQUARE else ''}{reference}; {lies_on}"
        for _, key, _, lies_on, reference in _ROWS
    }
