"""How a figure or a direction may stand in words, and whether words say what is known.

Every fact on papers and parts has a name, and a reading that says how finely it is given: "leg.length:rule". Lengths in
the user's unit, as a rule, a caliper or a machine reads them; angles in degrees with what they are off.
"""

import re
from collections.abc import Mapping
from fractions import Fraction
from math import floor

from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit

_LONGEST = 300  # signs of what a figure or a mark says; none of a kit has as many
_SOLVED = 2e-6  # two ways to the same figure agree to this, mm and degrees
_NEARLY_MM = 0.012  # what is worked back from readings of a hundredth of a mm is off by that much
_WORKED_BACK = {"hundredth": 0.06, "nearly": 0.06, "change": 0.06}  # and by that share, by its reading
_OFF: dict[tuple[str, Unit], float] = {
    ("given", "mm"): 0.005,
    ("given", "in"): MM_PER_INCH / 128,
    ("chain", "mm"): 0.01,
    ("chain", "in"): MM_PER_INCH / 64,
    ("rule", "mm"): 0.25,
    ("rule", "in"): MM_PER_INCH / 64,
    ("fine", "mm"): 0.05,
    ("fine", "in"): MM_PER_INCH * 0.0005,
    ("caliper", "mm"): 0.0005,
    ("caliper", "in"): MM_PER_INCH * 0.00005,
    ("limit", "mm"): 0.005,
    ("limit", "in"): MM_PER_INCH * 0.0005,
    ("hundredth", "mm"): 0.005 + _NEARLY_MM,
    ("hundredth", "in"): MM_PER_INCH / 128 + _NEARLY_MM,
}
"""How far a length may be off, by its reading: half of the last step, but for parts of a sum, which may be a whole one
off."""
_SHORT: dict[Unit, tuple[float, float]] = {"mm": (1.0, 0.005), "in": (MM_PER_INCH / 16, MM_PER_INCH * 0.0005)}
"""Lengths shorter than the first are given as finely as the second, by a rule too."""

_UNITS: dict[str, Unit] = {"mm": "mm", "in": "in"}
_LENGTH: dict[Unit, re.Pattern[str]] = {
    "mm": re.compile(r"(?P<sign>[-±]?)(?P<decimal>[0-9]+(?:[.][0-9]+)?) mm"),
    "in": re.compile(r'(?P<sign>[-±]?)(?:(?P<decimal>[0-9]+[.][0-9]+)|(?P<mixed>(?:[0-9]+ )?[0-9]+/[0-9]+|[0-9]+))"'),
}
_DECIMALS: dict[tuple[str, Unit], tuple[str, float, float]] = {
    **dict.fromkeys((("number", "mm"), ("number", "in")), (r"([0-9]+)(?: [a-z ]+)?", 1.0, 0.0)),
    **dict.fromkeys((("degrees", "mm"), ("degrees", "in")), (r"([0-9]+[.][0-9]{2})", 1.0, 0.005)),
    **dict.fromkeys((("nearly", "mm"), ("nearly", "in")), (r"([0-9]+[.][0-9]{2})", 1.0, 0.005)),
    **dict.fromkeys((("ratio", "mm"), ("ratio", "in")), (r"([0-9]+[.][0-9]{3})", 1.0, 0.0005)),
    **dict.fromkeys((("signed", "mm"), ("change", "mm")), (r"([-+]?[0-9]+[.][0-9]{2})", 1.0, 0.005 + _NEARLY_MM)),
    **dict.fromkeys(
        (("signed", "in"), ("change", "in")),
        (r"([-+]?[0-9]+[.][0-9]{3})", MM_PER_INCH, MM_PER_INCH * 0.0005 + _NEARLY_MM),
    ),
    ("plain", "mm"): (r"([0-9]+[.][0-9]{2,3})", 1.0, 0.005),
    ("plain", "in"): (r"([0-9]+[.][0-9]{2,3})", MM_PER_INCH, MM_PER_INCH * 0.0005),
    ("table", "mm"): (r"([0-9]+(?:[.][0-9]+)?)", 1.0, 0.005),
    ("table", "in"): (r"([0-9]+(?:[.][0-9]+)?)", MM_PER_INCH, MM_PER_INCH * 0.00005),
    ("run", "mm"): (r"([0-9]+[.][0-9]) m", 1000.0, 50.0 + _NEARLY_MM),
    ("run", "in"): (r"([0-9]+[.][0-9]) ft", 12 * MM_PER_INCH, 0.6 * MM_PER_INCH + _NEARLY_MM),
    ("volume", "mm"): (r"([0-9]+) cm³", 1000.0, 500.001),
    ("volume", "in"): (r"([0-9]+[.][0-9]) in³", MM_PER_INCH**3, MM_PER_INCH**3 * 0.050001),
}
"""Readings that are a decimal: how it is written, what one of it is in mm, mm³, degrees or pieces, and how far it may
be off. "number": what is counted may follow; "signed" and "change": differences without a unit; "plain" and "table":
lengths whose unit stands elsewhere."""

_ANGLE = re.compile(r"([0-9]+[.][0-9]{2})° ((?:off|from) [^()]+?)(?: \(([0-9]+[.][0-9]{2})° (off [^()]+)\))?")

_LEVEL = ("the level", "the fence")
_ARRIS = ("the arris", "the leg's arris")
_SQUARE = ("square", "plumb", "upright")
ANGLES_OFF: dict[str, tuple[str, ...]] = {
    "rake": (*_LEVEL, "the top arris"),
    "splay": _LEVEL,
    "true_lean": _LEVEL,
    "plate_tilt": _LEVEL,
    "board_lean": _LEVEL,
    "edge_line": ("the top arris",),
    "leg_face": _ARRIS,
    "leg_edge": _ARRIS,
    "saw_mitre": _ARRIS,
    "saw_tilt": ("the table",),
    "saw_mitre_on_edge": _ARRIS,
    "saw_tilt_on_edge": ("the table",),
    "edge_twist": ("the edge", "the arris"),
    "wall": ("housing's floor",),
    "brace_end": ("the long edge", "the top edge", "its long edge"),
    "brace_end_tilt": ("the table",),
    "brace_edge": ("the face", "the inside face", "the brace's face"),
    "brace_wedge": ("the brace's face",),
}
"""The lines and faces that each angle may be measured off; all may be measured off square, plumb or upright too."""
FROM_SQUARE = {
    *("leg_edge", "saw_mitre", "saw_tilt", "saw_mitre_on_edge", "saw_tilt_on_edge"),
    *("edge_twist", "brace_end_tilt", "brace_wedge", "board_lean"),
}
"""Angles that numbers.json gives off square; the others it gives off the line or face."""


@dataclass(frozen=True, slots=True)
class Statement:
    """A fact where it stands: its name, its reading, "" for words, and the words."""

    name: str
    how: str
    words: str

    def is_angle(self, known: float) -> bool:
        """An angle with what it is off, and its complement, which makes 90 with it as printed."""
        found, name = _ANGLE.fullmatch(self.words), self.name.partition(".")[2]
        if found is None or name not in ANGLES_OFF:
            return False
        # "13.80° off square (76.20° off the arris)": each figure is held to what it says that it is off.
        pairs = [(found[1], found[2]), *([(found[3], found[4])] if found[3] else [])]
        off_edge = 90 - known if name in FROM_SQUARE else known
        for figure, off in pairs:
            where = off.partition(" ")[2]
            wanted = 90 - off_edge if where in _SQUARE else off_edge
            if where not in (*_SQUARE, *ANGLES_OFF[name]) or abs(float(figure) - wanted) > 0.005 + _SOLVED:
                return False
        if len(pairs) == 1:
            return True
        are_square = [off.partition(" ")[2] in _SQUARE for _, off in pairs]
        return are_square[0] is not are_square[1] and round(float(found[1]) + float(found[3]), 2) == 90


def statement_of(named: str, words: str) -> Statement:
    """A fact by its full name, such as "leg.length:rule"."""
    name, _, how = named.partition(":")
    return Statement(name, how, words)


class AsCut(float):
    """A length measured on parts as they come off the machine, which may be off by AS_CUT_MM."""


AS_CUT_MM = 0.003
Value = float | str | tuple[float | str, ...]
"""What is known of a fact: a figure in mm, mm³ or degrees, or the words. Of several any will do, but for figures that
are read as "fines", one after another, or "within": between two."""


def agrees(stated: Statement, known: Value, unit: Unit) -> bool:
    """Whether the words say what is known, in the unit, to the reading's own step."""
    words, how = stated.words, stated.how
    if len(words) > _LONGEST:
        return words == known  # names of parts, one after another
    if isinstance(known, tuple):
        if how == "fines":
            each = words.split(", ") if words else []
            pairs = zip(each, known, strict=False)
            return len(each) == len(known) and all(agrees(Statement(stated.name, "fine", a), b, unit) for a, b in pairs)
        if how == "within":
            read = _read(words, unit)
            return read is not None and float(known[0]) <= read <= float(known[1])
        return any(agrees(stated, one, unit) for one in known)
    if isinstance(known, str):
        return not how and words == known
    if how == "angle":
        return stated.is_angle(known)
    if how == "file":  # a decimal in the files' unit, which is not always the job's
        number, _, word = words.partition(" ")
        return word in _UNITS and agrees(Statement(stated.name, "table", number), known, _UNITS[word])
    if how == "bare":
        words, how = words + (" mm" if unit == "mm" else '"'), "given"
    if how in ("signed", "change") and words == "0":  # nothing can be read
        return abs(known) < 0.02
    if (how, unit) in _DECIMALS:
        pattern, size, off = _DECIMALS[how, unit]
        found = re.fullmatch(pattern, words)
        read = float(found[1]) * size if found else None
    elif (how, unit) in _OFF:
        # A rule reads short lengths too coarsely to be of use: those are given as finely as a caliper reads.
        under, fine = _SHORT[unit]
        off = _OFF[how, unit]
        off = min(off, fine) if how in ("rule", "given") and abs(known) < under else off
        if how == "limit" and unit == "in" and known >= MM_PER_INCH / 32:
            known = floor(32 * known / MM_PER_INCH + 1e-9) * MM_PER_INCH / 32  # as a tape reads it, never wider
        read = _read(words, unit, how == "limit")
    else:
        return False
    # A difference worked back from readings is off by a share of itself; what was measured on cut parts by AS_CUT_MM.
    off += _SOLVED + _WORKED_BACK.get(how, 0.0) * abs(known) + (AS_CUT_MM if isinstance(known, AsCut) else 0.0)
    return read is not None and abs(read - known) <= off


def _read(words: str, unit: Unit, is_limit: bool = False) -> float | None:
    """A length in words, mm; None for one in another unit or form."""
    found = _LENGTH[unit].fullmatch(words)
    if found is None or (found["sign"] == "±") is not is_limit:
        return None
    # "27 3/4", "3/4" or "27": what stands before the last blank is whole, the rest a fraction, over 1 where it has no
    # bar.
    sign, size = (-1 if found["sign"] == "-" else 1), MM_PER_INCH if unit == "in" else 1.0
    if found["decimal"]:
        return sign * float(found["decimal"]) * size
    whole, _, part = found["mixed"].rpartition(" ")
    top, _, bottom = part.partition("/")
    if bottom == "0":
        return None
    return sign * float(Fraction(int(whole or 0)) + Fraction(int(top), int(bottom or 1))) * size


def parts_of(template: str, words: str) -> list[Statement] | None:
    """The words that stand for a template's braces, each with name and reading; None when the rest is not the same.

    A brace holds a fact's full name: "PROJECTION {jig.projection:caliper}".
    """
    if len(words) > _LONGEST:
        return None
    # Between the braces words stand as they are; each brace takes as few signs as let the rest fit.
    names = re.findall(r"\{([^{}]*)\}", template)
    pattern = "(.+?)".join(re.escape(part) for part in re.split(r"\{[^{}]*\}", template))
    found = re.fullmatch(pattern, words)
    return [statement_of(name, part) for name, part in zip(names, found.groups(), strict=True)] if found else None


def wrong_parts(parts: list[Statement], known: Mapping[str, Value], unit: Unit) -> list[Statement]:
    """Those that do not say what is known; a name that is not known is wrong too."""
    return [part for part in parts if part.name not in known or not agrees(part, known[part.name], unit)]
