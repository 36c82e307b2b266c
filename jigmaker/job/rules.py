"""What a rule of a file is: one key, and one section of keys. Lengths in mm, angles in degrees off the level."""

from dataclasses import dataclass
from typing import Literal

Number = Literal["length", "angle", "skew", "ratio", "percent", "temperature", "whole number"]
Kind = Number | Literal["text", "choice", "yes or no", "colour", "layer name", "names"]
Default = float | str | bool | tuple[str, ...] | None

KIT_NUMBER = 2
"""The kit that this program makes, "jigmaker kit 2" in kit.json. Within a number keys are only added."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One key. `low` to `high` are both included (mm, degrees or a count); `sample` is what a new file starts with.

    Kinds: an angle is off the level, a skew off square. A sample such as "# 6" stands for a key that a new file shows
    commented out: not every shop has it.

    A key that is not `required` has `default` when it is left out; None means that nothing stands in for it. `field`
    is the name of the record's field that holds the value. `was` is the default that files of kit 1 were made with,
    where it was another one; whoever changes a default puts the old one there.
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

    def default_in(self, kit: int) -> Default:
        """What stands in for the key when it is left out, by the rules of that kit."""
        return self.was if kit < KIT_NUMBER and self.was is not None else self.default


@dataclass(frozen=True, slots=True)
class Section:
    """One table of a file, "leg" or "layers.mark", with its rules in the order in which they are written."""

    name: str
    meaning: str
    rules: tuple[Rule, ...]

    def rule(self, key: str) -> Rule:
        """The rule of a key that this section is known to have."""
        return next(rule for rule in self.rules if rule.key == key)
