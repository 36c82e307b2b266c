"""What the readings of a first-off say is set wrong, and by how much to change it. User's unit."""

import re
from dataclasses import asdict
from math import radians, tan

from jigmaker.drawing.page import Block, Heading, Table, Text, Words
from jigmaker.first_off.first_off_table import LEADS_MM, DiagnosisRow, diagnosis_table
from jigmaker.first_off.first_off_words import SLANT_OVER_MM
from jigmaker.papers.bench import Bench
from jigmaker.papers.facts import joined, shown_as
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text

_SHOWN_MM = 0.2
"""The reading whose words stand for its sign; other readings change by their share of it."""

_LEADS = {
    "width_mm": "width",
    "depth_top_mm": "depth, top face",
    "depth_bottom_mm": "depth, bottom face",
    "start_top_mm": "start, top arris",
    "start_bottom_mm": "start, bottom arris",
}

_CHANGED = {
    "projection": "projection",
    "guide": "bush or tape in the slot",
    "stop": "stop",
    "edge": "board's edge, at one arris",
    "tilt": "plate's tilt, over {over}",
    "turn": "fence, over {over}",
}


def first_off_blocks(bench: Bench) -> tuple[Block, ...]:
    """Two tables: all five readings for each setting that is off by a readable amount; and how much to change."""
    rows = diagnosis_table(bench.kit.trestle, bench.kit.shop)
    unit = bench.unit
    # The found errors of each setting, by the reading that shows it most and how much that reads.
    errors: dict[tuple[str, str], dict[float, float]] = {}
    for row in rows:
        errors.setdefault((row.found.setting, row.lead), {})[round(_lead(row), 1)] = row.found.off
    changes = []
    for (setting, lead), off in errors.items():
        before, has_over, _ = _CHANGED[setting].partition("{over}")
        over = shown_as("first_off.over", length_text(SLANT_OVER_MM[unit], unit), "given") if has_over else ""
        amounts = [_change(setting, mm, off[mm], unit) if mm in off else "" for mm in LEADS_MM]
        changes.append((joined(before, over), _LEADS[lead], *amounts))
    shown = []
    for row in [row for row in rows if abs(abs(_lead(row)) - _SHOWN_MM) < 0.05]:
        name, cells = f"first_off.{row.found.setting}_{'more' if row.found.off > 0 else 'less'}", list[Text]()
        for figure, mm in asdict(row.reading).items():
            said = _signed(mm, unit) if abs(mm) >= 0.015 else "0"
            cells.append(shown_as(f"{name}.{figure.removesuffix('_mm')}", said, "signed"))
        # Figures in the sentence are found again by their form: an angle by its degree sign, an amount by its unit.
        sentence, spans = f"{row.found.says}: {row.found.do}", []
        for each in _AMOUNT.finditer(sentence):
            key, how = ("angle", "nearly") if each["angle"] else ("amount", "hundredth")
            spans.append((*each.span(key), f"{name}.{key}:{how}"))
        shown.append((*cells, Text(sentence, tuple(spans))))
    return (
        Heading(f"What the readings tell: as read less wanted, {'mm' if unit == 'mm' else 'inches'}"),
        Table(
            ("width", "depth top", "depth bottom", "start top", "start bottom", "what is off, and what to do"),
            tuple(shown),
        ),
        Heading("How much to change"),
        Table(("change", "when this reads off by", *(_signed(mm, unit) for mm in LEADS_MM)), tuple(changes)),
        Words(
            "Change one setting at a time, rout the off-cut anew and read again. Readings that fit no row: more than "
            "one setting is off; begin with the width, then the depths, then the starts."
        ),
    )


def _lead(row: DiagnosisRow) -> float:
    return float(getattr(row.reading, row.lead))


_AMOUNT = re.compile(r'(?P<angle>[0-9.]+)°|(?P<amount>[0-9.]+ mm|(?:[0-9]+ )?[0-9]+/[0-9]+"|[0-9.]+")')


def _change(setting: str, lead: float, off: float, unit: Unit) -> Text:
    """What to add (+) or take away (-): the setting's error with its sign turned."""
    # A board's edge that is not square always reads as less, whichever arris stands out: the name says which way.
    way = f"_{'more' if off > 0 else 'less'}" if setting == "edge" else ""
    name = f"first_off.{setting}_change{way}.{'more' if lead > 0 else 'less'}_{abs(lead):.1f}"
    if setting in ("tilt", "turn"):
        return shown_as(name, _plain(abs(tan(radians(off)) * SLANT_OVER_MM[unit]), unit), "change")
    return shown_as(name, _signed(-off, unit), "change")


def _signed(mm: float, unit: Unit) -> str:
    return f"{'+' if mm > 0 else '-'}{_plain(abs(mm), unit)}"


def _plain(mm: float, unit: Unit) -> str:
    return fixed(mm, 2) if unit == "mm" else fixed(mm / MM_PER_INCH, 3)
