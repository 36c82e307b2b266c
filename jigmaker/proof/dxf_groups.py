"""A DXF file's bytes in, its group codes and values out, cut into sections and records. No meaning yet, no unit."""

import re
from dataclasses import dataclass
from itertools import pairwise

from jigmaker.proof.faults import CUT_FILE_BYTES, MOST_SHAPES, Faults

_BINARY = b"AutoCAD Binary DXF"
_SAVE_AGAIN = "write the files again, or save it as an ASCII DXF"
_MOST_LINES, _MOST_RECORDS = 2_000_000, 5 * MOST_SHAPES  # each entity of a polyline's vertices is a record
_ESCAPED = re.compile(r"\\[Uu]\+([0-9A-Fa-f]{4})")


@dataclass(frozen=True, slots=True)
class Record:
    """What stands from one group 0 to the next: its type, its codes and values, and the line it starts on."""

    kind: str
    codes: list[str]
    values: list[str]
    line: int

    def first(self, code: str, otherwise: str) -> str:
        """The value of the first group of that code."""
        return self.values[self.codes.index(code)] if code in self.codes else otherwise


@dataclass(frozen=True, slots=True)
class Groups:
    """The comments before and between, and every section's records by the section's name."""

    comments: tuple[str, ...]
    sections: dict[str, list[Record]]


def read_groups(data: bytes, faults: Faults) -> Groups | None:
    """The file taken apart, or None with a fault when it is no text DXF. A file that is cut short is a fault too."""
    text = _text(data, faults)
    if text is None:
        return None
    if text.count("\n") > _MOST_LINES:
        faults.add(101, f"the file has more than {_MOST_LINES} lines of text; no cut file has", _SAVE_AGAIN)
        return None
    lines = text.split("\n")
    codes, values = list(map(str.strip, lines[::2])), lines[1::2]
    comments = tuple(
        value.strip() for code, value in zip(codes, values, strict=False) if code == "999" and value.strip()
    )
    starts = [i for i, code in enumerate(codes[: len(values)]) if code == "0"]
    if not starts or values[starts[0]].strip() != "SECTION":
        faults.add(101, "this is no DXF file: it does not start with a section", _SAVE_AGAIN)
        return None
    if len(starts) > _MOST_RECORDS:
        faults.add(101, f"the file holds more than {_MOST_RECORDS} records; no cut file does", _SAVE_AGAIN)
        return None
    starts.append(len(values))
    records = [Record(values[a].strip(), codes[a + 1 : b], values[a + 1 : b], 2 * a + 1) for a, b in pairwise(starts)]
    return Groups(comments, _sections(records, faults))


def plain_text(value: str) -> str:
    r"""A value as people read it: DXF writes characters outside its code page as \U+00E4."""
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), value.strip()) if "\\" in value else value.strip()


def _text(data: bytes, faults: Faults) -> str | None:
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


def _sections(records: list[Record], faults: Faults) -> dict[str, list[Record]]:
    sections: dict[str, list[Record]] = {}
    inside: list[Record] | None = None
    for record in records:
        if record.kind == "SECTION":
            inside = sections.setdefault(record.first("2", "").strip(), [])
            if record.first("2", "").strip() == "HEADER":
                inside.append(record)
        elif record.kind == "ENDSEC":
            inside = None
        elif inside is not None and record.kind != "EOF":
            inside.append(record)
    if records[-1].kind != "EOF" or inside is not None:
        faults.add(101, "the file is cut short: its end is missing", "write the files again")
    return sections
