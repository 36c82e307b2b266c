"""The proof's Report in sentences: what was read, whether it passed, and each finding with its figures and remedy."""

from jigmaker.findings import Finding, cautions_in, errors_in
from jigmaker.proof.prove import Report


def verdict_sentence(report: Report) -> str:
    """The outcome in one sentence, without a name before it: "passed: ..." or "FAILED, 3 faults: ..."."""
    errors = errors_in(list(report.findings))
    done = f"cut, put together and {report.figures.work} in numbers" if report.figures else "cut in numbers"
    counted = f"{report.files} files of {report.parts} parts read back, {done}"
    if report.papers:
        counted += f"; the words of {report.papers} papers judged, PDFs and drawings cannot be"
    faults = "1 fault" if len(errors) == 1 else f"{len(errors)} faults"
    return f"passed: {counted}." if report.passed else f"FAILED, {faults}: do not cut this kit."


def verdict_cautions(report: Report) -> list[str]:
    """Cautions although the kit passed."""
    return [finding_sentence(finding) for finding in cautions_in(list(report.findings))]


def finding_sentence(finding: Finding) -> str:
    """Code, part, place, value against limit, and what to do."""
    where = ", ".join(word for word in (finding.part, finding.at) if word)
    figures = f" ({finding.value}; limit {finding.limit})" if finding.value and finding.limit else ""
    return f"{finding.code} {where + ': ' if where else ''}{finding.says}{figures}; {finding.do}"
