"""What the proof found, in a few lines for the screen, up to 100 columns wide."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.cli.speech import row
from jigmaker.findings import cautions_in, errors_in

if TYPE_CHECKING:
    from jigmaker.proof.prove import Report

MOST = 20
"""So many findings of a kind are told; the rest are counted, and stand in proof.json."""


def verdict_lines(report: Report) -> list[str]:
    """One line for the verdict, then errors and cautions, the worst first."""
    from jigmaker.making.verdict_words import finding_sentence, verdict_sentence

    # The verdict comes first and what follows is short: one slip in a layout can be a finding on every part.
    errors, cautions = errors_in(list(report.findings)), cautions_in(list(report.findings))
    lines = row("proof", verdict_sentence(report))
    for name, findings in (("fault", errors), ("caution", cautions)):
        for finding in findings[:MOST]:
            lines += row(name, finding_sentence(finding))
        if len(findings) > MOST:
            lines += row(name, f"and {len(findings) - MOST} more, all in proof.json.")
    return lines
