"""What jigmaker new says of a suggestion: every length in mm and in inches with its reason; 100 columns."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

from jigmaker.cli.speech import width
from jigmaker.units import inch_fraction, length_text, text

if TYPE_CHECKING:
    from jigmaker.suggest.suggest import Suggestion
    from jigmaker.suggest.wish import Wish

_NAME, _MM, _INCH = 18, 11, 11
_WHY = _NAME + _MM + _INCH + 2


def suggestion_text(wish: Wish, suggestion: Suggestion) -> str:
    """A row a figure: what was told, then what is suggested, then what comes of it; then further sizes."""
    from jigmaker.trestle.solve import solve_sizes

    # The lengths that decide something and stand in no row of their own.
    lines, height = list[str](), wish.height
    for name, mm in (
        (f"your {height.body.key}" if height.body else "", height.body_mm or None),
        ("laid on top", height.laid_on_mm),
        ("saw's blade", height.saw_mm),
        ("leg's piece", wish.piece_mm),
    ):
        lines += _length_row(name, mm, "as you say") if mm is not None else []
    job, why = suggestion.job, suggestion.reasons
    lines += _length_row("height", job.height_mm, why["trestle.height"])
    lines += _angle_row("rake", job.rake_deg, why["trestle.rake_deg"])
    same = "as the rake" if why["trestle.splay_deg"] == why["trestle.rake_deg"] else why["trestle.splay_deg"]
    lines += _angle_row("splay", job.splay_deg, same)
    for name, mm, key in _figures(suggestion):
        lines += _length_row(name, mm, why.get(key, ""))
    for size in solve_sizes(job)[1:]:
        lines += _length_row("another height", size.job.height_mm, "from the same jig: its angles are those above")
        lines += _length_row("foot spread along", size.foot.spread_along_mm, "")
        lines += _length_row("foot spread across", size.foot.spread_across_mm, "")
        lines += _length_row("piece for a leg", size.leg.blank_mm, "")
    for i, sentence in enumerate(suggestion.passed_over):
        lines += _row("passed over" if i == 0 else "", "", "", sentence)
    return "\n".join(lines)


def _figures(suggestion: Suggestion) -> list[tuple[str, float, str]]:
    """(name, mm, key of the reason) of the rows below the angles."""
    from jigmaker.trestle.solve import solve

    job, trestle = suggestion.job, solve(suggestion.job)
    reveal = [("reveal", job.housing.reveal_mm, "housing.reveal")] if job.housing.reveal_mm else []
    return [
        ("inset", job.inset_mm, "trestle.inset"),
        ("top, length", job.top.length_mm, "top.length"),
        ("top, width", job.top.width_mm, "top.width"),
        ("top, thickness", job.top.thickness_mm, ""),
        ("leg, width", job.leg.width_mm, "leg.width"),
        ("leg, thickness", job.leg.thickness_mm, ""),
        ("leg, trim", job.leg.trim_mm, "leg.trim"),
        ("brace, depth", job.brace.depth_mm, "brace.depth"),
        ("brace, thickness", job.brace.thickness_mm, ""),
        ("clearance", job.housing.clearance_mm, "housing.clearance"),
        *reveal,
        ("foot spread along", trestle.foot.spread_along_mm, ""),
        ("foot spread across", trestle.foot.spread_across_mm, ""),
        ("piece for a leg", trestle.leg.blank_mm, ""),
    ]


def _length_row(name: str, mm: float, why: str) -> list[str]:
    # Under a sixteenth of an inch no rule shows it; over that the nearest 64th does.
    inches = f'{inch_fraction(mm)}"' if mm >= 25.4 / 16 else length_text(mm, "in")
    return _row(name, length_text(mm, "mm"), inches, why)


def _angle_row(name: str, angle_deg: float, why: str) -> list[str]:
    return _row(name, f"{text(angle_deg, 2)}°", f"{text(90 - angle_deg, 2)}° off", why)


def _row(name: str, first: str, second: str, why: str) -> list[str]:
    # Name, mm and inches stand in columns, the reason beside them, folded to what is left.
    columns = width()
    if columns < _WHY + 30:  # reasons below, and not beside
        head = f"{name:<{_NAME}}{first:>{_MM}}{second:>{_INCH}}".rstrip()
        return [head, *(f"  {line}" for line in wrap(why, columns - 2, break_long_words=False))]
    reasons = wrap(why, columns - _WHY, break_long_words=False, break_on_hyphens=False) or [""]
    lines = [f"{name:<{_NAME}}{first:>{_MM}}{second:>{_INCH}}  {reasons[0]}".rstrip()]
    return lines + [f"{'':<{_WHY}}{rest}" for rest in reasons[1:]]
