"""What a rule of a file is: one key, and one section of keys. Lengths in mm, angles in degrees off the level."""

from collections.abc import Iterator
from typing import Literal

from jigmaker.record import dataclass

Number = Literal["length", "angle", "skew", "ratio", "percent", "temperature", "whole number"]
Kind = Number | Literal["text", "choice", "yes or no", "colour", "layer name", "names"]
Default = float | str | bool | tuple[str, ...] | None

KIT_NUMBER = 2
"""The kit that this program makes, "jigmaker kit 2" in kit.json. Within a number keys are only added."""

LONGEST_TEXT = 80
"""Characters of the longest name or material."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One key. `low` to `high` are both included (mm, degrees or a count); `sample` is what a new file starts with.

    Kinds: an angle is off the level, a skew off square. A sample such as "# 6" stands for a key that a new file shows
    commented out: not every shop has it.

    A key that is not `required` has `default` when it is left out; None means that nothing stands in for it. `field`
    is the name of the record's field that holds the value. `was` is the default that files of kit 1 were made with,
    where it was another one; whoever changes a default puts the old one there. `each` is the key of a list of tables,
    "size.trestles": where every one of them has its own, this key is not needed.
    """

    key: str
    kind: Kind
    meaning: str
    sample: str
    low: float = 0
    high: float = 0
    choices: tuple[str, ...] = ()
    required: bool = True
    default: Default = None
    field: str = ""
    was: Default = None
    each: str = ""

    def default_in(self, kit: int) -> Default:
        """What stands in for the key when it is left out, by the rules of that kit."""
        return self.was if kit < KIT_NUMBER and self.was is not None else self.default


@dataclass(frozen=True, slots=True)
class Section:
    """One table of a file, "leg" or "layers.mark", with its rules in the order in which they are written.

    `most`: how many of it there may be, [[sheet]]. `is_optional`: a file may have none, whatever keys it needs.
    `instead`: sections that may all stand in its place; without them it must be there, where a key of it is required.
    """

    name: str
    meaning: str
    rules: tuple[Rule, ...]
    most: int = 1
    is_optional: bool = False
    instead: tuple[str, ...] = ()

    def rule(self, key: str) -> Rule:
        """The rule of a key that this section is known to have."""
        return next(rule for rule in self.rules if rule.key == key)


def section_of(sections: tuple[Section, ...], name: str) -> Section:
    """The section of a name that is known to be in the table."""
    return next(section for section in sections if section.name == name)


def top_names(sections: tuple[Section, ...]) -> Iterator[str]:
    """The names that may stand alone in brackets, each once: "sheet", "machine", ... "layers"."""
    yield from dict.fromkeys(section.name.partition(".")[0] for section in sections)
