"""Values of a JSON file by key, each checked for its type; a fault names its place, such as parts[3].slug.

Lengths and angles come out as they stand, finite and of a size that a workshop has.
"""

import json
from collections.abc import Iterator
from math import isfinite
from typing import Any

LARGEST_BYTES = 8_000_000
"""Of one file; a kit.json has a fortieth of that."""

MOST_GROUPS, MOST_VALUES, MOST_ITEMS, LONGEST_TEXT = 100_000, 1_000_000, 1_000, 1_000
"""Groups and lists, and values, of one file; items of one list; signs of a text. No kit has a tenth of that."""

_LARGEST = 1e7
_MOST_DIGITS = 18
_SHOWN = 40


class JsonFault(Exception):
    """Something in a JSON file is missing or is not what it must be; the message starts with its path."""


class JsonValue:
    """One value of a JSON file with its path. Every getter raises JsonFault."""

    def __init__(self, value: Any, path: str = "") -> None:
        self.value = value
        self.path = path

    def has(self, key: str) -> bool:
        """True when the group has the key."""
        return isinstance(self.value, dict) and key in self.value

    def names(self) -> list[str]:
        """The group's keys, in the file's order; no more than MOST_ITEMS."""
        if len(self._group()) > MOST_ITEMS:
            raise JsonFault(f"{self.path}: has {len(self.value)} keys, must have {MOST_ITEMS} or fewer")
        return list(self._group())

    def at(self, key: str) -> "JsonValue":
        """The value behind a key."""
        group, path = self._group(), f"{self.path}.{key[:_SHOWN]}".lstrip(".")
        if key not in group:
            raise JsonFault(f"{path}: is missing")
        return JsonValue(group[key], path)

    def each(self, key: str, most: int = MOST_ITEMS) -> Iterator["JsonValue"]:
        """The items of the list behind a key; no more than `most`."""
        found = self.at(key)
        if not isinstance(found.value, list):
            raise found.fault("a list")
        if len(found.value) > most:
            raise JsonFault(f"{found.path}: is a list of {len(found.value)}, must be of {most} or fewer")
        return (JsonValue(item, f"{found.path}[{i}]") for i, item in enumerate(found.value))

    def text(self, key: str) -> str:
        """The text behind a key."""
        found = self.at(key)
        if not isinstance(found.value, str) or len(found.value) > LONGEST_TEXT:
            raise found.fault(f"text of {LONGEST_TEXT} signs or fewer")
        return found.value

    def one_of(self, key: str, *words: str) -> str:
        """The text behind a key, one of the words."""
        found = self.at(key)
        if found.value not in words:
            raise found.fault(" or ".join(f'"{word}"' for word in words))
        return str(found.value)

    def number(self, key: str) -> float:
        """The number behind a key."""
        return self.at(key).as_number()

    def whole(self, key: str) -> int:
        """The whole number behind a key, 0 or more."""
        return self.at(key).as_whole()

    def as_number(self) -> float:
        """This value as a number."""
        # True is an int to Python, and nan is above no limit: hence "not ... <=".
        value = self.value
        if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) <= _LARGEST:
            raise self.fault("a number of a workshop's size")
        return float(value)

    def as_whole(self) -> int:
        """This value as a whole number, 0 or more."""
        if isinstance(self.value, bool) or not isinstance(self.value, int) or not 0 <= self.value <= _LARGEST:
            raise self.fault("a whole number, 0 or more")
        return self.value

    def numbers(self, key: str, count: int) -> tuple[float, ...]:
        """So many numbers behind a key."""
        return self.at(key).as_numbers(count)

    def as_numbers(self, count: int) -> tuple[float, ...]:
        """This value as so many numbers."""
        if not isinstance(self.value, list) or len(self.value) != count:
            raise self.fault(f"a list of {count} numbers")
        return tuple(JsonValue(item, f"{self.path}[{i}]").as_number() for i, item in enumerate(self.value))

    def fault(self, rule: str) -> JsonFault:
        """That this value is not what the rule says."""
        shown = json.dumps(self.value, default=str)[:_SHOWN] if not isinstance(self.value, dict | list) else "a group"
        return JsonFault(f"{self.path or 'the file'}: is {shown}, must be {rule}")

    def _group(self) -> dict[str, Any]:
        if not isinstance(self.value, dict):
            raise self.fault("a group of keys")
        return self.value


def parse_json(data: bytes) -> JsonValue:
    """The whole file. Raises JsonFault when it is no JSON, holds nan, infinity or a number out of all proportion, or is
    too large, holds too much or is nested too deep: before the work where that can be known before it.
    """
    if len(data) > LARGEST_BYTES:
        raise JsonFault(
            f"the file: is {len(data) // 1_000_000} MB large, must be under {LARGEST_BYTES // 1_000_000} MB"
        )
    # Counted in the bytes, before anything is made of them: brackets and commas inside texts count too, which no kit
    # has many of. So neither time nor memory depends on what a hostile file holds.
    if data.count(b"{") + data.count(b"[") > MOST_GROUPS or data.count(b",") > MOST_VALUES:
        raise JsonFault(f"the file: holds over {MOST_GROUPS} groups or {MOST_VALUES} values; no kit does")
    try:
        return JsonValue(
            json.loads(
                data.decode("utf-8"),
                parse_constant=_figure,
                parse_float=_figure,
                # A number of many thousand digits would take time by their square; as a float it is read at once, and
                # refused by its size.
                parse_int=lambda text: int(text) if len(text) <= _MOST_DIGITS else _figure(text),
            )
        )
    except RecursionError:
        raise JsonFault("the file: is nested too deep") from None
    except UnicodeDecodeError:
        raise JsonFault("the file: is not UTF-8") from None
    except ValueError as error:
        raise JsonFault(f"the file: is no JSON: {str(error)[:100]}") from None


def _figure(text: str) -> float:
    """A number as JSON writes it, nan and infinity refused."""
    value = float(text)
    if not isfinite(value):
        raise ValueError(f"{text[:_SHOWN]} is {'too large a' if text[-1].isdigit() else 'no'} number")
    return value
