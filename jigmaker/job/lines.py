"""Where a key stands in a TOML file: in comes the text, out comes the line (from 1) of every section and key.

The standard reader keeps no places. This scanner walks over text that it has already accepted, so it only has to tell
strings, comments, tables and keys apart (https://toml.io/en/v1.0.0).
"""

import re
import tomllib
from bisect import bisect_right

_GAP = re.compile(r"(?:[ \t\n\r]++|#[^\n]*+)*+")
_BLANK = re.compile(r"[ \t]*")
_KEY = re.compile(r"""[A-Za-z0-9_-]+|"(?:[^"\\\n]|\\.)*"|'[^'\n]*'""")
STRING = (
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*+"{3,5}|"(?:[^"\\\n]|\\[^\n])*+"'
    r"|'''(?:[^']|'{1,2}(?!'))*+'{3,5}|'[^'\n]*+'"
)
"""Text in any of TOML's four kinds of quotes, for a pattern with DOTALL. Possessive, so that no sign is read twice."""

_STRING = re.compile(STRING, re.DOTALL)
_BARE_VALUE = re.compile(r"[^,\]}#\n]*")
_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+( [0-9]+)?")

# Signs of the longest dotted name that is noted; ours have 30.
_LONGEST_NAME = 300

Path = tuple[str, ...]


def lines_of(text: str) -> dict[str, int]:
    """The line of every section and key of valid TOML text, by dotted name; a section's line is its header's."""
    walk = _TomlWalk(text.replace("\r\n", "\n"))
    walk.file()
    return walk.lines


def line_of(text: str, key: str) -> int | None:
    """The line of a dotted key, "leg.width", of valid TOML text; None when it is not written there."""
    return lines_of(text).get(key)


def place_of(text: str, file: str, key: str) -> str:
    """ "job.toml line 14: leg.width" for the key of a finding, "job leg.width" or "leg.width".

    A key left to its default is placed at its section; without that the file's name alone is given.
    """
    table, _, rest = key.partition(" ")
    dotted = rest if table in ("job", "shop") else key
    lines = lines_of(text)
    line = lines.get(dotted) or lines.get(dotted.rpartition(".")[0])
    return f"{file} line {line}: {dotted}" if line else f"{file}: {dotted}"


def dotted_name(path: Path) -> str:
    """A path as it is written in a file: leg.width, or layers."my layer".name where a part needs quotes."""
    return ".".join(part if _PLAIN_KEY.fullmatch(part) else f'"{part}"' for part in path)


def numbered(name: str, number: int) -> str:
    """What further tables of one name, [[sheet]], are called: "sheet 2" the second; the first has the name alone."""
    return f"{name} {number}"


class _TomlWalk:
    """A walk over valid TOML text from its first sign to its last, noting the line of each key on the way."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[str, int] = {}
        self._counts: dict[Path, int] = {}
        # Where each line begins: the line of a sign is found by halving, and no sign is counted twice.
        self._starts = [0, *(found.end() for found in re.finditer("\n", text))]

    def file(self) -> None:
        """Walk over all statements."""
        # Between statements there are only gaps (blanks, line ends, comments); a bracket at the start of one is a
        # header, anything else a key with its value.
        table: Path = ()
        self._skip(_GAP)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip(_GAP)

    def _skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.at)
        assert found, f"no TOML at sign {self.at}"
        self.at = found.end()
        return found.group()

    def _header(self) -> Path:
        """Walk over [a.b] or [[a.b]]; its own line is noted even if a dotted key named the table before."""
        line = bisect_right(self._starts, self.at)
        is_one_of_many = self.text.startswith("[[", self.at)
        self.at += 2 if is_one_of_many else 1
        path = self._key(())
        if is_one_of_many:
            self._counts[path] = self._counts.get(path, 0) + 1
            if self._counts[path] > 1:
                path = (*path[:-1], numbered(path[-1], self._counts[path]))
        self.at += 2 if self.text.startswith("]]", self.at) else 1
        self._note(path, line, is_header=True)
        return path

    def _note(self, path: Path, line: int, is_header: bool) -> None:
        """Note where a path stands. Below a header as long as a file each key would have to be written out in full."""
        if sum(map(len, path)) <= _LONGEST_NAME:
            name = dotted_name(path)
            self.lines[name] = line if is_header else self.lines.get(name, line)

    def _key(self, table: Path) -> Path:
        """Walk over a dotted key; the line of its every step is noted, the first time only."""
        # A bare part is its own text; one in quotes may hold escapes, which the standard reader resolves.
        path = table
        while True:
            self._skip(_BLANK)
            line = bisect_right(self._starts, self.at)
            part = self._skip(_KEY)
            path += (tomllib.loads(f"k = {part}")["k"] if part[0] in "\"'" else part,)
            self._note(path, line, is_header=False)
            self._skip(_BLANK)
            if not self.text.startswith(".", self.at):
                return path
            self.at += 1

    def _pair(self, table: Path) -> None:
        path = self._key(table)
        self.at += 1  # the equals sign
        self._skip(_BLANK)
        sign = self.text[self.at]
        if sign == "{":
            self._inline_table(path)
        elif sign == "[":
            self._list()
        else:
            self._skip(_STRING if sign in "\"'" else _BARE_VALUE)

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        self._skip(_GAP)
        while self.text[self.at] != "}":
            self._pair(path)
            self._skip(_GAP)
            if self.text[self.at] == ",":
                self.at += 1
                self._skip(_GAP)
        self.at += 1

    def _list(self) -> None:
        """Walk over a list with all that is in it: no key of ours can be inside."""
        # Brackets are counted outside of quotes and comments; nested lists and tables need no more.
        depth = 0
        while True:
            self._skip(_GAP)
            sign = self.text[self.at]
            depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(sign, 0)
            if sign in "\"'":
                self._skip(_STRING)
            else:
                self.at += 1
            if depth == 0:
                return
