"""A DXF file taken apart into group codes and values, sections and records. No meaning yet, no unit."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jigmaker.proof.faults import CUT_FILE_BYTES, MOST_SHAPES, Faults
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices

_BINARY = b"AutoCAD Binary DXF"
_SAVE_AGAIN = "write the files again, or save it as an ASCII DXF"
_MOST_LINES, _MOST_RECORDS = 2_000_000, 5 * MOST_SHAPES  # each entity of a polyline's vertices is a record
_ESCAPED = re.compile(r"\\[Uu]\+([0-9A-Fa-f]{4})")


@dataclass(frozen=True, slots=True)
class DxfRecord:
    """What stands from one group 0 to the next: its type, its codes and values, and the line it starts on."""

    kind: str
    codes: list[int]
    values: list[str]
    line: int

    def first(self, code: int, otherwise: str) -> str:
        """The value of the first group of that code."""
        return self.values[self.codes.index(code)] if code in self.codes else otherwise


@dataclass(frozen=True, slots=True)
class Groups:
    """The comments, and every group of the file: codes as numbers, values as they stand.

    `starts` are the groups with code 0, one more for the end; `kinds` what each of them says; `sections` the numbers of
    the records of each section, its own first.
    """

    comments: tuple[str, ...]
    codes: Indices
    values: list[str]
    starts: list[int]
    kinds: list[str]
    sections: dict[str, list[int]]

    def record(self, number: int) -> DxfRecord:
        """One record by itself."""
        first, end = self.starts[number] + 1, self.starts[number + 1]
        return DxfRecord(self.kinds[number], self.codes[first:end].tolist(), self.values[first:end], 2 * first - 1)


def read_groups(data: bytes, faults: Faults) -> Groups | None:
    """The file taken apart, or None with a fault when it is no text DXF. A file that is cut short is a fault too."""
    import numpy as np

    text = _text(data, faults)
    if text is None:
        return None
    if text.count("\n") > _MOST_LINES:
        faults.add(101, f"the file has more than {_MOST_LINES} lines of text; no cut file has", _SAVE_AGAIN)
        return None
    # A DXF file is pairs of lines: a code, which says what the value is, and the value.
    lines = text.split("\n")
    written, values = lines[::2], lines[1::2]
    known = {code: bits_of(code) for code in set(written)}
    codes = np.array([known[code] for code in written[: len(values)]], dtype=np.int64)
    starts = np.flatnonzero(codes == 0).tolist()
    if not starts or values[starts[0]].strip() != "SECTION":
        faults.add(101, "this is no DXF file: it does not start with a section", _SAVE_AGAIN)
        return None
    if len(starts) > _MOST_RECORDS:
        faults.add(101, f"the file holds more than {_MOST_RECORDS} records; no cut file does", _SAVE_AGAIN)
        return None
    comments = tuple(text for i in np.flatnonzero(codes == 999).tolist() if (text := values[i].strip()))
    kinds = [values[i].strip() for i in starts]
    groups = Groups(comments, codes, values, [*starts, len(values)], kinds, {})
    # A section runs from its record to the next ENDSEC.
    inside: list[int] | None = None
    for number, kind in enumerate(groups.kinds):
        if kind == "SECTION":
            inside = groups.sections.setdefault(groups.record(number).first(2, "").strip(), [])
            inside.append(number)
        elif kind == "ENDSEC":
            inside = None
        elif inside is not None and kind != "EOF":
            inside.append(number)
    if groups.kinds[-1] != "EOF" or inside is not None:
        faults.add(101, "the file is cut short: its end is missing", "write the files again")
    return groups


def plain_text(value: str) -> str:
    r"""A value as people read it: DXF writes characters outside its code page as \U+00E4."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), value.strip()) if "\\" in value else value.strip()


def bits_of(written: str) -> int:
    """A code or a flag, a whole number of 16 bits; -1 for what is none."""
    plain = written.strip()
    return int(plain) if plain.isascii() and plain.isdecimal() and len(plain) < 6 else -1


def _text(data: bytes, faults: Faults) -> str | None:
    # What a text DXF cannot be, before it is decoded: each with its own reason, for each is mended in another way.
    says = ""
    if len(data) > CUT_FILE_BYTES:
        says = f"the file is {len(data) // 1_000_000} MB large; no cut file is larger than 8 MB"
    elif data.startswith(_BINARY):
        says = "this is a binary DXF"
    elif data.startswith((b"\xff\xfe", b"\xfe\xff")):
        says = "the file is saved as UTF-16"
    elif b"\0" in data:
        says = "the file holds null bytes, so it is no text"
    elif not data.strip():
        says = "the file is empty"
    if says:
        faults.add(101, says, _SAVE_AGAIN)
        return None
    plain = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    try:
        return plain.decode("utf-8-sig")
    except UnicodeDecodeError:
        # Before the 2007 version text is in a code page; nothing but names and comments can hold such bytes.
        return plain.decode("cp1252", errors="replace")
