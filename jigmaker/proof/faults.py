"""A collector of findings about one file: each fault once, with the number of times; and the bounds of all files."""

from dataclasses import replace

from jigmaker.findings import Finding, Severity

CUT_FILE_BYTES = 8_000_000
"""No cut file of a kit comes near it; larger ones are refused unread, so that time and memory stay bounded."""

LARGEST_MM = 1e6
"""A coordinate beyond a kilometre is no place on a sheet."""

MOST_SHAPES = 20_000
"""Lines and arcs of one file; the largest of a kit has a ninth of that."""

_MOST_KINDS = 200
"""So many different faults of one file are reported; what a hostile file adds to that nobody reads."""


AGAIN = "write the folder again with jigmaker make"
FILES_AGAIN = "write the files again with jigmaker make"
"""What to do where only the maker can mend a kit, and where its files are enough."""


class TooMuch(Exception):
    """A file is built to harm, or is beyond any sheet; the message says how."""


class Faults:
    """Findings about one file. The same words twice become one finding, with the first place and a count."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._found: dict[tuple[int, str], Finding] = {}
        self._times: dict[tuple[int, str], int] = {}

    def add(
        self,
        code: int,
        says: str,
        do: str,
        at: str = "",
        value: str = "",
        limit: str = "",
        severity: Severity = "error",
        times: int = 1,
    ) -> None:
        """Note a fault of the file, met so many times."""
        # A fault met a thousand times is one finding with a count; so is a file made of nothing else.
        key = (code, says)
        if key not in self._found:
            if len(self._found) >= _MOST_KINDS:
                return
            self._found[key] = Finding(
                code, says, do, part=self._file, value=value, limit=limit, severity=severity, at=at
            )
        self._times[key] = self._times.get(key, 0) + times

    def met_again(self, code: int, says: str) -> bool:
        """Count a fault once more; False when it is the first of its kind, whose place and figures are to be noted."""
        # For checks that meet a fault thousands of times: the words about place and figures need not be made again.
        known = (code, says) in self._found
        if known:
            self._times[code, says] += 1
        return known

    @property
    def findings(self) -> list[Finding]:
        """What was found, in the order found."""
        return [
            replace(found, says=f"{found.says} ({self._times[key]} times)") if self._times[key] > 1 else found
            for key, found in self._found.items()
        ]
