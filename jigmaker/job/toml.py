"""TOML from bytes: in comes a file as it lies on the disk, out come its text and its table, or one clear sentence."""

import codecs
import re
import tomllib
from typing import Any

from jigmaker.errors import JobError, LengthError
from jigmaker.job.lines import STRING
from jigmaker.record import dataclass
from jigmaker.units import length_mm

LARGEST_BYTES = 1_000_000
"""No job, shop or form is longer; a drawing or a disk's image named by mistake is not read to its end."""

# More than any of our files has, few enough that no reader is kept busy: a key's steps cost their square.
_DEEPEST, _MOST_STEPS, _MOST_KEYS, _LONGEST_WORD = 32, 8, 10_000, 10_000
_LONG_NUMBER = re.compile("[-+]?[0-9][0-9_]{4000}")  # Python refuses to read decimals of 4,300 digits and more

# Signs of a line that is looked at for what was meant.
_LONGEST_SHOWN = 200

_WIDE_MARKS = (codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
_PLACE = re.compile(r" \(at (?:line (\d+), column \d+|end of document)\)$")
_COMMA = re.compile(r"=\s*(\d+),(\d+)\s*(?:#.*)?$")
_COMMA_IN_LIST = re.compile(r"=\s*\[[^\"'#]*?\b(\d+),(0\d+)")  # no number begins with 0 and a digit
_UNQUOTED = re.compile(r"=\s*([0-9.][^#=]*?)\s*(?:#.*)?$")
_SEVERAL = re.compile(r"\s*\[\s*(size|sheet|board)\s*\]")
_TWICE = ("Cannot", "Duplicate")

# By words of the parser's messages; all other faults have one remedy.
_REMEDIES = {
    "alid value": "write a number, or text in quotes",
    "key part": "a key is one plain word, such as height",
    "after a statement": "write one key a line, and # before a note",
    "declaration": "write a section alone on its line, such as [leg]",
    "nescaped": "write the text between two ' and not between two \"",
    "nclosed array": "close the list with ]",
}

# All that TOML text is made of (https://toml.io/en/v1.0.0), as far as nesting, keys and statements go. Possessive, so
# that no text is looked at twice.
_TOKEN = re.compile(
    rf"(?P<text>{STRING})"
    r"|(?P<unclosed>[\"'])"
    r"|(?P<comment>\#[^\n]*+)"
    r"|(?P<sign>[\[\]{}=,.\n])"
    r"|(?P<word>[^\s\"'#\[\]{}=,.]++)",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class FileText:
    """A file as it was read: its bytes, and the name that messages call it by."""

    data: bytes
    file: str


def text_of(data: bytes, file: str) -> str:
    """The file's text with plain line ends and without a byte order mark; JobError unless it is UTF-8 and not long."""
    if len(data) > LARGEST_BYTES:
        raise JobError(f"{file}: is longer than {LARGEST_BYTES // 1000} kB; no job, shop or form is")
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
    """The table that TOML text describes; JobError with the line and one reason when it is not TOML, or too much."""
    line, fault, _ = _looked_over(text)
    if fault:
        raise JobError(f"{file} line {line}: {fault}")
    try:
        return tomllib.loads(text)
    except ValueError as error:
        message = str(error)
    found = _PLACE.search(message)
    if found is None:
        raise JobError(f"{file}: {_reason(message, '')}")
    lines = text.split("\n")
    line = int(found[1]) if found[1] else len(text.rstrip("\n").split("\n"))
    message = message[: found.start()]
    # A quote or bracket that is not closed is noticed where the line, or all the text, ends: told is where its
    # statement begins.
    is_open = found[1] is None or message.startswith(("Expected \"'", "Unterminated", "Illegal character '\\n'"))
    if is_open and not message.startswith(_TWICE):
        _, _, statement = _looked_over("\n".join(lines[:line]))
        raise JobError(f"{file} line {statement}: is not TOML: a quote or bracket is not closed; close it")
    raise JobError(f"{file} line {line}: {_reason(message, lines[line - 1][:_LONGEST_SHOWN])}")


def _looked_over(text: str) -> tuple[int, str, int]:
    """Text looked at once from its first sign, up to what no file of ours holds or to a quote that nothing closes.

    Gives the line reached, what is too much there ("" for nothing), and the line where the last statement starts.
    """
    # The parser takes time that grows with the square of a key's steps and calls itself for each bracket: both are
    # counted here first, in one pass, so that no file keeps it busy or takes its stack. A statement ends with its line,
    # outside of brackets; the table that a header names and every key count as one.
    line, statement, is_new = 1, 1, True
    depth = steps = keys = 0
    for found in _TOKEN.finditer(text):
        kind, token = found.lastgroup, found[0]
        if is_new and token != "\n" and kind != "comment":
            statement, is_new = line, False
        if kind == "unclosed":
            break
        if kind == "word" and (len(token) > _LONGEST_WORD or _LONG_NUMBER.match(token)):
            return line, f"holds a word or a number of {len(token)} signs, beyond any workshop", statement
        if kind == "sign":
            line += token == "\n"
            is_new = is_new or (token == "\n" and depth == 0)
            keys += token == "=" or (token == "[" and depth == 0)
            depth = max(0, depth + {"[": 1, "{": 1, "]": -1, "}": -1}.get(token, 0))
            steps = steps + 1 if token == "." else 0
            if depth > _DEEPEST or steps > _MOST_STEPS:
                return line, "is nested too deep for a job or a shop; write plain sections", statement
            if keys > _MOST_KEYS:
                return line, f"is key number {keys}; no job, shop or form has so many", statement
        line += token.count("\n") if kind == "text" else 0
    return line, "", statement


def _reason(message: str, line: str) -> str:
    """What to do, where the line shows it; else the parser's own words."""
    if comma := _COMMA.search(line) or _COMMA_IN_LIST.search(line):
        return f"has a decimal comma; write {comma[1]}.{comma[2]}"
    if message.startswith(_TWICE):
        if several := _SEVERAL.match(line):
            return f"gives [{several[1]}] again; where there are several, write each as [[{several[1]}]]"
        return "gives a key or a section that was given before; keep one of the two"
    if (unquoted := _UNQUOTED.search(line)) and _is_length(unquoted[1]):
        value = unquoted[1].replace('"', " in").replace("  ", " ")
        return f'is not TOML: text stands in quotes; write "{value}"'
    do = next((do for words, do in _REMEDIES.items() if words in message), "write key = value, text in quotes")
    return f"is not TOML: {message[0].lower()}{message[1:]}; {do}"


def _is_length(value: str) -> bool:
    """True for a length with its unit or fraction: what people write without the quotes that TOML wants."""
    try:
        length_mm(value, "in")
    except LengthError:
        return False
    return not re.fullmatch(r"[0-9.]*", value)
