"""A collector of findings about one file: faults in, Findings out, each rule once a file with the number of times."""

from collections.abc import Iterable

from jigmaker.findings import Finding, Severity

CUT_FILE_BYTES = 16_000_000
"""No cut file of a kit comes near it; larger ones are refused unread, so that time and memory stay bounded."""

LARGEST_MM = 1e6
"""A coordinate beyond a kilometre is no place on a sheet."""

_MOST_KINDS = 200
"""So many different faults of one file are told; what a hostile file adds to that nobody reads."""


class Faults:
    """Findings about one file. The same words twice become one finding, told with the first place and a count."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._found: dict[tuple[int, str], list[Finding]] = {}

    def add(
        self,
        code: int,
        says: str,
        do: str,
        at: str = "",
        value: str = "",
        limit: str = "",
        severity: Severity = "error",
    ) -> None:
        """Note a fault of the file."""
        same = self._found.get((code, says))
        if same is None and len(self._found) >= _MOST_KINDS:
            return
        one = Finding(code, says, do, part=self._file, value=value, limit=limit, severity=severity, at=at)
        if same is None:
            self._found[(code, says)] = [one]
        else:
            same.append(one)

    @property
    def findings(self) -> list[Finding]:
        """What was found, in the order found."""
        return list(_counted(self._found.values()))


def _counted(groups: Iterable[list[Finding]]) -> Iterable[Finding]:
    for group in groups:
        first, times = group[0], len(group)
        if times == 1:
            yield first
        else:
            says = f"{first.says} ({times} times)"
            yield Finding(
                first.code, says, first.do, first.key, first.part, first.value, first.limit, first.severity, first.at
            )
