"""TOML from bytes: in comes a file as it lies on the disk, out come its text and its table, or one clear sentence."""

import codecs
import re
import tomllib
from typing import Any

from jigmaker.errors import JobError, LengthError
from jigmaker.units import length_mm

_WIDE_MARKS = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_COMMA = re.compile(r"=\s*(\d+),(\d+)\s*(?:#.*)?$")
_UNQUOTED = re.compile(r"=\s*([0-9.][^#=]*?)\s*(?:#.*)?$")
_TWICE = ("Cannot", "Duplicate")

_FAR_BACK = 500
"""Lines that are looked through for the start of what was left open."""


def text_of(data: bytes, file: str) -> str:
    """The file's text with plain line ends and without a byte order mark; JobError unless it is UTF-8."""
    if data.startswith(_WIDE_MARKS) or b"\x00" in data:
        raise JobError(f"{file}: is saved as UTF-16 or UTF-32; save it again as UTF-8")
    try:
        return data.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise JobError(
            f"{file} line {line}: holds the byte 0x{data[error.start]:02x}, which is not UTF-8; save the file as UTF-8"
        ) from None


def table_of(text: str, file: str) -> dict[str, Any]:
    """The table that TOML text describes; JobError with the line and one reason when it is not TOML."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise JobError(f"{file}: is nested too deep for a job or a shop; write plain sections") from None
    except ValueError as error:  # a number of thousands of digits is a plain ValueError
        raise JobError(_sentence(str(error), text, file)) from None


def _sentence(message: str, text: str, file: str) -> str:
    found = _PLACE.search(message)
    if found is None:
        return f"{file}: is not TOML: {message}"
    lines = text.split("\n")
    line = int(found[1]) if found[1] else len(text.rstrip("\n").split("\n"))
    message = message[: found.start()]
    is_open = found[1] is None or message.startswith(("Expected \"'", "Unterminated", "Illegal character '\\n'"))
    if is_open and not message.startswith(_TWICE):
        return f"{file} line {_start_of_unclosed(lines[:line])}: is not TOML: a quote or bracket is not closed"
    return f"{file} line {line}: {_reason(message, lines[line - 1])}"


def _start_of_unclosed(lines: list[str]) -> int:
    """The line where the last statement of `lines` begins: the parser notices an open quote only at the file's end."""
    for complete in range(len(lines) - 1, max(-1, len(lines) - _FAR_BACK), -1):
        if _is_toml("\n".join(lines[:complete])):
            return next((n for n in range(complete, len(lines)) if lines[n].strip()), complete) + 1
    return len(lines)


def _reason(message: str, line: str) -> str:
    """What to do, where the line shows it; else the parser's own words."""
    if comma := _COMMA.search(line):
        return f"has a decimal comma; write {comma[1]}.{comma[2]}"
    if message.startswith(_TWICE):
        return "gives a key or a section that was given before; keep one of the two"
    if (unquoted := _UNQUOTED.search(line)) and _is_length(unquoted[1]):
        value = unquoted[1].replace('"', " in").replace("  ", " ")
        return f'is not TOML: text stands in quotes; write "{value}"'
    return f"is not TOML: {message[0].lower()}{message[1:]}"


def _is_length(value: str) -> bool:
    """True for a length with its unit or fraction: what people write without the quotes that TOML wants."""
    try:
        length_mm(value, "in")
    except LengthError:
        return False
    return not re.fullmatch(r"[0-9.]*", value)


def _is_toml(text: str) -> bool:
    """True when the text is valid TOML as it stands."""
    try:
        tomllib.loads(text)
    except ValueError:
        return False
    return True
