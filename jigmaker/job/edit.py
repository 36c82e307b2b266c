"""A job or shop file's bytes in, the same with some numbers changed out; comments, order, blanks and line ends stay."""

import codecs
import re
from collections.abc import Mapping
from typing import Any

from jigmaker.errors import JobError
from jigmaker.job.lines import line_of
from jigmaker.job.toml import table_of, text_of

_COLUMN = 28
"""Where the comments of a new file begin."""


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
    """The text with each dotted key, "machine.kerf", set to a value written as TOML.

    A key that is there keeps its place and its comment. A new one comes below the last of its section, with its meaning
    as a comment; a section that is not there comes at the end. Raises JobError for text that is no TOML.
    """
    wanted = _changed(table_of(text.replace("\r\n", "\n"), file), values)
    edited = text
    for key, value in values.items():
        if line_of(edited, key):
            edited = _replaced(edited, key, value)
        else:
            edited = _added(edited, key, value, (meanings or {}).get(key, ""))
    if table_of(edited.replace("\r\n", "\n"), file) != wanted:
        raise JobError(f"{file}: is written in a way that cannot be edited; write {_listed(values)} into it by hand")
    return edited


def _listed(values: Mapping[str, str]) -> str:
    return ", ".join(f"{key} = {value}" for key, value in values.items())


def _changed(table: dict[str, Any], values: Mapping[str, str]) -> dict[str, Any]:
    """What the edited text must read as."""
    for key, value in values.items():
        section, _, name = key.rpartition(".")
        held = table.setdefault(section, {})
        (held[0] if isinstance(held, list) else held)[name] = table_of(f"v = {value}", key)["v"]
    return table


def _replaced(text: str, key: str, value: str) -> str:
    """The text with one value changed; the blank before its comment gives or takes what the value grew or shrank."""
    import tomlkit

    section, _, name = key.rpartition(".")
    document = tomlkit.parse(text)
    table: Any = document[section]
    table = table[0] if isinstance(table, list) else table
    old = len(table[name].as_string())
    table[name] = _item(value)
    trivia = table[name].trivia
    if trivia.comment:
        trivia.comment_ws = " " * max(1, len(trivia.comment_ws) + old - len(value))
    return tomlkit.dumps(document)


def _added(text: str, key: str, value: str, meaning: str) -> str:
    """The text with a new key below the last one of its section: above the comments that belong to the next section."""
    section, _, name = key.rpartition(".")
    lines = text.split("\n")
    after = _last_line(text, section)
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


def _last_line(text: str, section: str) -> int | None:
    """The line, from 1, of the last plain key of a section with its own header; None where there is none such."""
    header = line_of(text, section)
    if header is None:
        return None
    lines = text.split("\n")
    if not re.match(rf"\s*\[?\[\s*{re.escape(section)}\s*\]", lines[header - 1]):
        return None
    last = header
    for number in range(header, len(lines)):
        if re.match(r"\s*\[", lines[number]):
            break
        if re.match(r"\s*[A-Za-z0-9_-]+\s*=", lines[number]):
            last = number + 1
    return last


def _item(value: str) -> Any:
    """A value with its digits as they were written: 0.210 stays 0.210."""
    import tomlkit

    return tomlkit.parse(f"v = {value}")["v"]
