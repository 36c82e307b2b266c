"""What the judge found, for the screen: a Report in, a few lines out; 100 columns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.cli.speech import row
from jigmaker.findings import Finding, cautions_in, errors_in

if TYPE_CHECKING:
    from jigmaker.proof.prove import Report

MOST = 20
"""So many findings of a kind are told; the rest are counted, and stand in proof.json."""


def verdict_lines(report: Report) -> list[str]:
    """One line for the verdict, then errors and cautions, the worst first."""
    errors, cautions = errors_in(list(report.findings)), cautions_in(list(report.findings))
    counted = f"{report.files} files of {report.parts} parts read back, cut, put together and routed in numbers"
    verdict = f"passed: {counted}." if report.passed else f"FAILED, {_count(errors, 'fault')}: do not cut this kit."
    lines = row("proof", verdict)
    for name, findings in (("fault", errors), ("mind", cautions)):
        for finding in findings[:MOST]:
            lines += row(name, _sentence(finding))
        if len(findings) > MOST:
            lines += row(name, f"and {len(findings) - MOST} more, all in proof.json.")
    return lines


def _count(findings: list[Finding], word: str) -> str:
    return f"1 {word}" if len(findings) == 1 else f"{len(findings)} {word}s"


def _sentence(finding: Finding) -> str:
    """Code, part, place, value against limit, and what to do."""
    where = ", ".join(word for word in (finding.part, finding.at) if word)
    figures = f" ({finding.value}; limit {finding.limit})" if finding.value and finding.limit else ""
    return f"{finding.code} {where + ': ' if where else ''}{finding.says}{figures}; {finding.do}"
