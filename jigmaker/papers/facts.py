"""Facts: figures and words with names, by which the proof finds them in a sentence again.

    {leg.length}                            752 mm, as this fact is always read
    {leg.length:caliper}                    751.826 mm, read another way: given, rule, fine, caliper or limit
    {angles.leg_face:off the arris / square}    78.25° off the arris (11.75° off square)
    {angles.leg_face:off the arris}         78.25° off the arris
    {batch.feet:foot / feet}                24 feet

An angle says each time what it is off; with a second line or face it gives both figures, which add up to 90 as printed.

What differs from size to size is given for each: "size 762 mm: 796 mm; size 650 mm: 679 mm".
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches
from typing import Literal

from jigmaker.drawing.page import Text
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.papers.wording import angle_off, counted, fine_text, plus_minus, rule_text
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, caliper_text, fixed, length_text

ReadAs = Literal[
    "given", "rule", "fine", "caliper", "limit", "volume", "angle", "degrees", "number", "words", "direction", "prose"
]

_BRACES = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure, or a word for a direction, that someone at the bench works by.

    value: mm, mm³, degrees, a number of pieces, or the words themselves. reading: how it is read unless a sentence asks
    for another way; "prose" is no fact, but a sentence that only some jobs have. proved: the figure of numbers.json
    that it is, "" for none. source: of a figure of practice. told_as: the reading of figures that come as words.
    sizes: where several sizes differ in it, what each is called and its value; a name of "" is not told.
    """

    name: str
    value: float | str
    reading: ReadAs
    proved: str = ""
    source: str = ""
    told_as: str = ""
    sizes: tuple[tuple[str, float | str], ...] = ()

    def of_size(self, index: int) -> "Fact":
        """The fact as one size has it, with a name that says which; the same where all sizes have it alike."""
        if not self.sizes:
            return self
        return replace(self, name=f"size.{index + 1}.{self.name}", value=self.sizes[index][1], sizes=())

    def named(self, how: str = "") -> str:
        """The name with the reading behind it, by which the proof finds both; "" for prose."""
        if self.reading == "prose":
            return ""
        if isinstance(self.value, str):
            return f"{self.name}:{self.told_as}" if self.told_as else self.name
        how = self.reading if self.reading in ("angle", "number") else how or self.reading
        return f"{self.name}:{how}"

    def text(self, unit: Unit, how: str = "") -> Text:
        """The fact alone, with its name; of several sizes each, those together that read alike.

        Raises ValueError when it cannot be read that way.
        """
        if not self.sizes:
            words = self.told(how, unit)
            return Text(words, ((0, len(words), self.named(how)),) if self.reading != "prose" else ())
        # Sizes that read alike are told once, with all their names: "size 762 mm, size 650 mm: 45 mm".
        alike: dict[str, list[str]] = {}
        shown: dict[str, Text] = {}
        for i, (size, _) in enumerate(self.sizes):
            words = self.of_size(i).text(unit, how)
            alike.setdefault(words, []).append(size)
            shown.setdefault(words, words)
        each = [joined(f"{', '.join(named)}: " if all(named) else "", shown[w]) for w, named in alike.items()]
        between = "; " if all(size for size, _ in self.sizes) else " / "
        return joined(each[0], *(piece for one in each[1:] for piece in (between, one)))

    def told(self, how: str, unit: Unit) -> str:
        """The fact in words. Raises ValueError when it cannot be read that way."""
        value = self.value
        if isinstance(value, str):
            if how:
                raise ValueError("is a word and has one reading only")
            if not value:
                raise ValueError("says nothing for this job: tell it only where it is so")
            return value
        if self.reading == "angle":
            off, _, other = how.removeprefix("off ").partition(" / ")
            if not how.startswith("off "):
                raise ValueError("is an angle and must say what it is off: {" + self.name + ":off the arris}")
            return angle_off(value, off, other)
        if self.reading == "degrees":
            return fixed(value, 2)
        if self.reading == "number":
            one, _, many = how.partition(" / ")
            return counted(int(value), one, many) if one else str(int(value))
        how = how or self.reading
        if how not in _LENGTHS:
            raise ValueError(f'is a length and is read as {_READINGS}, not as "{how}"')
        return _LENGTHS[how](value, unit)


def _volume(mm3: float, unit: Unit) -> str:
    return f"{mm3 / 1000:.0f} cm³" if unit == "mm" else f"{mm3 / MM_PER_INCH**3:.1f} in³"


_LENGTHS: dict[str, Callable[[float, Unit], str]] = {
    "given": length_text,
    "rule": rule_text,
    "fine": fine_text,
    "caliper": caliper_text,
    "limit": plus_minus,
    "volume": _volume,
}
"""How a length, mm, or a volume, mm³, is written, by its reading."""
_READINGS = '"given", "rule", "fine", "caliper" or "limit"'


def told(name: str, value: float | str, reading: ReadAs, unit: Unit, how: str = "") -> Text:
    """A fact that no sentence names in braces, such as a cell of a table."""
    return Fact(name, value, reading).text(unit, how)


def shown_as(name: str, words: str, reading: str) -> Text:
    """Words that were put together elsewhere, as the fact that they are."""
    return Text(words, ((0, len(words), f"{name}:{reading}" if reading else name),) if words else ())


def joined(*pieces: str) -> Text:
    """Pieces of a sentence one after another, each with the facts in it."""
    at, spans = 0, []
    for piece in pieces:
        spans += [(at + start, at + end, name) for start, end, name in getattr(piece, "facts", ())]
        at += len(piece)
    return Text("".join(pieces), tuple(spans))


def tell(sentence: str, facts: Mapping[str, Fact], unit: Unit, size: int | None = None) -> Text:
    """The sentence with every brace filled in; `size` tells the figures of that size alone.

    Raises ValueError that names a brace which cannot be filled.
    """
    # Words between braces as they stand, each brace as its fact's Text: `joined` moves the facts to where they come to
    # lie.
    pieces: list[str] = []
    at = 0
    for brace in _BRACES.finditer(sentence):
        name, _, how = brace[1].partition(":")
        if name not in facts:
            near = get_close_matches(name, facts, 1)
            raise ValueError(f"{{{name}}} is no fact" + (f"; did you mean {{{near[0]}}}?" if near else ""))
        fact = facts[name] if size is None else facts[name].of_size(size)
        try:
            pieces += [sentence[at : brace.start()], fact.text(unit, how)]
        except ValueError as error:
            raise ValueError(f"{{{brace[1]}}} {error}") from None
        at = brace.end()
    # What is left of braces when all pairs are taken away is one without its other half.
    if re.search("[{}]", _BRACES.sub("", sentence)):
        raise ValueError("a brace is opened or closed alone")
    return joined(*pieces, sentence[at:])


def differs(sentence: str, facts: Mapping[str, Fact]) -> bool:
    """Whether the sentence tells anything that differs from size to size."""
    return any(
        facts[name].sizes for brace in _BRACES.finditer(sentence) if (name := brace[1].partition(":")[0]) in facts
    )


def of_all_sizes(names: Sequence[str], each: Sequence[Mapping[str, Fact]]) -> dict[str, Fact]:
    """The facts of several sizes in one table: of each size where they differ. names: what the sizes are called."""
    found: dict[str, Fact] = {}
    for name, fact in each[0].items():
        values = [facts[name].value for facts in each]
        numbers = [value for value in values if not isinstance(value, str)]
        # Words must be the same; numbers may differ in their last decimals.
        is_same = set(values) == {fact.value}
        if len(numbers) == len(values):
            is_same = max(numbers) - min(numbers) < TOUCH_MM
        found[name] = fact if is_same else replace(fact, sizes=tuple(zip(names, values, strict=True)))
    return found
