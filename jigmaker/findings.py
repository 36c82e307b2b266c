"""What a checker found: a stable code, where, the value, the limit and what to do. Checkers return lists of these."""

from typing import Literal

from jigmaker.record import dataclass

Severity = Literal["error", "caution"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault or caution, for people and for programs.

    `key` is where the user can change it: "job leg.thickness" or "shop hand_router.base" (file, then dotted key), or
    "" when no one key decides. `says` is the rule broken, with the value in it; `do` is what to do about it.
    `part` is the part's name or the file's, `at` the place on it. `value` and `limit` are the two figures compared, as
    text with their unit. Codes are stable once published: 1xx file, 2xx tool, 3xx size, 4xx fit, 5xx assembly.
    """

    code: int
    says: str
    do: str
    key: str = ""
    part: str = ""
    value: str = ""
    limit: str = ""
    severity: Severity = "error"
    at: str = ""

    def sentence(self, place: str = "") -> str:
        """The finding as one sentence; `place` ("job.toml line 14: leg.thickness") goes in front when known."""
        where = place or self.key or self.part
        return f"{where}: {self.says}; {self.do}" if where else f"{self.says}; {self.do}"


def errors_in(findings: list[Finding]) -> list[Finding]:
    """Only the findings that forbid the job."""
    return [finding for finding in findings if finding.severity == "error"]


def cautions_in(findings: list[Finding]) -> list[Finding]:
    """Only the findings that the user should read and may go on with."""
    return [finding for finding in findings if finding.severity == "caution"]
