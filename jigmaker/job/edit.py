"""A job or shop file's bytes in, the same with some numbers changed out; comments, order, blanks and line ends stay."""

import codecs
import re
from collections.abc import Mapping
from typing import Any

from jigmaker.errors import JobError
from jigmaker.job.lines import line_of, lines_of
from jigmaker.job.toml import table_of, text_of

# Where the comments of a new file begin.
_COLUMN = 28


def edit_file(
    data: bytes, values: Mapping[str, str], file: str = "shop.toml", meanings: Mapping[str, str] | None = None
) -> bytes:
    """What edit_text makes of a file's bytes; a byte order mark stays too. Raises JobError unless it is UTF-8 TOML."""
    text_of(data, file)
    mark = codecs.BOM_UTF8 if data.startswith(codecs.BOM_UTF8) else b""
    return mark + edit_text(data.removeprefix(mark).decode("utf-8"), values, file, meanings).encode("utf-8")


def edit_text(
    text: str, values: Mapping[str, str], file: str = "shop.toml", meanings: Mapping[str, str] | None = None
) -> str:
    """The text with each dotted key, "machine.kerf", set to a value written as TOML; "" makes its line a comment.

    A key that is there keeps its place and its comment, and its digits where the value is the same. A new one comes
    below the last of its section, with its meaning as a comment; a section that is not there comes at the end. Raises
    JobError for text that is no TOML.
    """
    # What the edited text must read as: it is edited by its lines, and read once more in the end, so that whatever way
    # of writing TOML was not thought of here is refused and never spoilt.
    wanted = table_of(text.replace("\r\n", "\n"), file)
    for key, value in values.items():
        section, _, name = key.rpartition(".")
        held = wanted.setdefault(section, {}) if value else wanted.get(section, {})
        held = held[0] if isinstance(held, list) else held
        if value:
            held[name] = table_of(f"v = {value}", key)["v"]
        else:
            held.pop(name, None)
    there = lines_of(text)
    edited = _replaced(text, {key: value for key, value in values.items() if value and key in there})
    for key, value in values.items():
        if not value and (line := line_of(edited, key)):
            lines = edited.split("\n")
            edited = "\n".join([*lines[: line - 1], f"# {lines[line - 1]}", *lines[line:]])
        elif value and key not in there:
            edited = _added(edited, key, value, (meanings or {}).get(key, ""))
    if table_of(edited.replace("\r\n", "\n"), file) != wanted:
        listed = ", ".join(f"{key} = {value}" if value else f"no {key}" for key, value in values.items())
        raise JobError(f"{file}: is written in a way that cannot be edited; write {listed} into it by hand")
    return edited


def _replaced(text: str, values: Mapping[str, str]) -> str:
    """The text with values changed; the blank before a comment gives or takes what its value grew or shrank."""
    if not values:
        return text
    import tomlkit

    document = tomlkit.parse(text)
    for key, value in values.items():
        section, _, name = key.rpartition(".")
        table: Any = document[section]
        table = table[0] if isinstance(table, list) else table
        new = _item(value)
        if name in table and type(table[name]) is type(new) and table[name] == new:
            continue  # 0.20 for 0.2: the user's digits stay
        old = len(table[name].as_string())
        table[name] = new
        trivia = table[name].trivia
        if trivia.comment:
            trivia.comment_ws = " " * max(1, len(trivia.comment_ws) + old - len(value))
    return tomlkit.dumps(document)


def _added(text: str, key: str, value: str, meaning: str) -> str:
    """The text with a new key below the last one of its section: above the comments that belong to the next section."""
    # `after`: the line, from 1, of the last plain key of the section, or of its header; None for a section that has
    # none of its own, whose place the parser finds.
    section, _, name = key.rpartition(".")
    lines, after = text.split("\n"), line_of(text, section)
    if after is not None and not re.match(rf"\s*\[?\[\s*{re.escape(section)}\s*\]", lines[after - 1]):
        after = None
    for number in range(after or len(lines), len(lines)):
        if re.match(r"\s*\[", lines[number]):
            break
        if re.match(r"\s*[A-Za-z0-9_-]+\s*=", lines[number]):
            after = number + 1
    if after is None:
        import tomlkit

        document = tomlkit.parse(text)
        table: Any = document.setdefault(section, tomlkit.table())
        table[name] = _item(value)
        return tomlkit.dumps(document)
    end = "\r" if lines[after - 1].endswith("\r") else ""
    if after == len(lines):  # the file's last line has no end
        lines[-1] += end
    written = f"{f'{name} = {value}':<{_COLUMN}}# {meaning}" if meaning else f"{name} = {value}"
    return "\n".join([*lines[:after], f"{written}{end}", *lines[after:]])


def _item(value: str) -> Any:
    """A value with its digits as they were written: 0.210 stays 0.210."""
    import tomlkit

    return tomlkit.parse(f"v = {value}")["v"]
