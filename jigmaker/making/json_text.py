"""Plain data in, JSON text out as UTF-8: keys in the order given, numbers as decimals, short rows on one line.

A float is written with at most six decimals and a Decimal with those it has, never with an exponent and never as "-0":
the standard writer prints 1e-06. Signs that steer a terminal are spelled, so that showing the file harms nobody.
"""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from jigmaker.signs import spelled
from jigmaker.units import text

RATIO_PLACES = 12
"""Decimals of axes and bulges: on a part 500 mm long six would be a whole file's resolution off."""

_LINE = 140  # characters of the longest record that stays on one line


def ratio(value: float) -> Decimal:
    """A number without a unit (part of an axis, a bulge) that json_text writes with twelve decimals."""
    return Decimal(text(value, RATIO_PLACES))


def json_text(data: Any) -> bytes:
    """The data as JSON, a line for each key and item but for short records in lists. Raises ValueError for nan, inf
    and keys that are no text."""
    return (_written(data, "") + "\n").encode("utf-8")


def _written(data: Any, indent: str) -> str:
    inner = indent + " "
    if isinstance(data, Mapping):
        rows = [f"{_key(key)}: {_written(value, inner)}" for key, value in data.items()]
        return _block("{}", rows, indent)
    if isinstance(data, list | tuple):
        if not any(isinstance(item, Mapping | list | tuple) for item in data):
            return f"[{', '.join(_plain(item) for item in data)}]"
        # A list of plain values stands on one line, however long; of records one that holds no record itself does,
        # where it is short enough to be read.
        rows = []
        for item in data:
            row = _written(item, inner)
            if isinstance(item, Mapping) and not any(isinstance(value, Mapping) for value in item.values()):
                joined = ", ".join(f"{_key(key)}: {_written(value, '')}" for key, value in item.items())
                row = f"{{{joined}}}" if len(joined) <= _LINE and "\n" not in joined else row
            rows.append(row)
        return _block("[]", rows, indent)
    return _plain(data)


def _key(key: Any) -> str:
    if not isinstance(key, str):
        raise ValueError(f"{key!r} is no name for a key; name it in words")
    return _plain(key)


def _block(brackets: str, rows: list[str], indent: str) -> str:
    if not rows:
        return brackets
    joined = ",\n".join(f"{indent} {row}" for row in rows)
    return f"{brackets[0]}\n{joined}\n{indent}{brackets[1]}"


def _plain(value: Any) -> str:
    if isinstance(value, float):
        if value - value != 0:  # nan and both infinities, for which the difference is nan
            raise ValueError(f"{value} has no place in a JSON file")
        return text(value)
    return f"{value:f}" if isinstance(value, Decimal) else spelled(json.dumps(value, ensure_ascii=False))
