"""A filled-in form's bytes in, readings of every trestle and what is wanted out, or all faults with their lines; mm."""

import re
from collections.abc import Iterator
from dataclasses import field, replace
from typing import cast

from jigmaker.errors import JobError
from jigmaker.job.job import Job
from jigmaker.job.survey import Survey
from jigmaker.job.toml import table_of, text_of
from jigmaker.levelling.feet import FEET, Four
from jigmaker.levelling.level_rules import LEVEL, trestle_section
from jigmaker.levelling.readings import ByBattens, LevelledFirst, Reading, RockOnly, Wanted
from jigmaker.record import dataclass
from jigmaker.units import length_text

_EMPTY = re.compile(r'(?m)^[ \t]*\w+[ \t]*=[ \t]*""[ \t]*(?:#.*)?$')
_TRESTLE = re.compile(r"trestle_[0-9]+")

_MOST_NAMES = 1000  # as many as a job may ask for

WAYS = "top with the four under_*, or the four over_*, or hangs with gap"


@dataclass(frozen=True, slots=True)
class LevelForm:
    """What the form says: what is wanted, and the readings by name of trestle, in order.

    sizes: the size of those that tell it, by their height, mm. lines: where each stands in the file.
    """

    wanted: Wanted
    readings: dict[str, Reading]
    sizes: dict[str, float] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)

    def of_sizes(self, job: Job, file: str) -> list[tuple[int, "LevelForm"]]:
        """(place of a size in the job's sizes, the form of its trestles alone) for every size that was measured.

        Raises JobError, each with its line, for a trestle whose size is not told or is none of the job's.
        """
        heights = [size.height_mm for size in job.sizes]
        known = ", ".join(dict.fromkeys(length_text(mm, job.unit) for mm in heights))
        found: dict[int, dict[str, Reading]] = {}
        faults: list[str] = []
        for name, reading in self.readings.items():
            told = self.sizes.get(name, None if job.further_sizes else heights[0])
            nearest = min(range(len(heights)), key=lambda i: abs(heights[i] - (told or 0.0)))
            if told is not None and abs(heights[nearest] - told) < _SAME_SIZE_MM:
                found.setdefault(nearest, {})[name] = reading
            elif told is None:
                faults.append(f"{file} line {self.lines[name]}: {name}.size is missing; say which of {known} it is")
            else:
                given = length_text(told, job.unit)
                faults.append(f"{file} line {self.lines[name]}: {name}.size is {given}, must be one of {known}")
        if len(found) > 1 and self.wanted.height_mm is not None:
            faults.append(f"{file}: level.height is one height for trestles of several sizes; take it out")
        if faults:
            raise JobError(faults)
        return [(i, replace(self, readings=found[i])) for i in sorted(found)]


def read_level_form(data: bytes, file: str) -> LevelForm:
    """The form. A key left empty ("") is taken as not there, and a trestle without figures as not measured.

    Raises JobError with all faults, each with line, key and rule.
    """
    words = _EMPTY.sub("#", text_of(data, file))
    names = [name for name in table_of(words, file) if _TRESTLE.fullmatch(name)]
    if len(names) > _MOST_NAMES:
        raise JobError(f"{file}: holds {len(names)} trestles, must be {_MOST_NAMES} or fewer")
    sections = (LEVEL, *map(trestle_section, names or ["trestle_1"]))
    survey = Survey.of(words.encode(), file, sections, unit_key="level.units")
    survey.refuse_faults()
    # A trestle counts as measured once one figure of it is there; then all that its way of reading needs must be.
    measured = [rule.key for rule in trestle_section("trestle_1").rules if rule.key != "size"]
    filled = {name: keys for name in names if (keys := [k for k in measured if survey.is_there(f"{name}.{k}")])}
    for name, keys in filled.items():
        survey.add({f"{name}{'.' + key if key else ''}": fault for key, fault in _faults(keys)})
    if not filled:
        survey.add({names[0] if names else "level": f"has no readings; give {WAYS}, in a section such as [trestle_1]"})
    survey.refuse_faults()
    fields = survey.fields("level")
    return LevelForm(
        Wanted(fields["height_mm"], fields["sheets"], fields["soles"]),
        {name: _reading(survey, name) for name in filled},
        {name: mm for name in filled if (mm := cast(float | None, survey.value(f"{name}.size"))) is not None},
        survey.lines,
    )


# A height in inches may be told to the nearest sixteenth.
_SAME_SIZE_MM = 1.0


def trestle_title(name: str) -> str:
    """trestle_1 as it is read: trestle 1."""
    return name.replace("_", " ")


def _all(kind: str) -> list[str]:
    return [f"{kind}_{foot.key}" for foot in FEET]


def _faults(keys: list[str]) -> Iterator[tuple[str, str]]:
    """What the keys of one trestle lack, or have too much: key ("" is the section) and the end of a sentence."""
    given = set(keys)
    over, under, rock = given & set(_all("over")), given & set(_all("under")), given & {"hangs", "gap"}
    ways = [word for word, is_given in (("top", "top" in given), ("over_*", over), ("gap", rock)) if is_given]
    if len(ways) > 1:
        yield "", f"gives {' and '.join(ways)}: a trestle is read in one way; keep one of {WAYS}"
        return
    if not ways:
        yield "", f"gives {_listed(keys)} only; give {WAYS}"
        return
    if rock and under:
        yield (
            "",
            "gives hangs or gap with what is under the feet: a gap is read with nothing under them; keep one",
        )
    wanted = {"top": _all("under"), "over_*": _all("over"), "gap": ["hangs", "gap"]}[ways[0]]
    if over and under:
        wanted = wanted + _all("under")
    if missing := [key for key in wanted if key not in given]:
        do = "write 0 where nothing is under a foot" if missing[0].startswith("under") else "measure, and fill in"
        yield "", f"lacks {_listed(missing)}; {do}"


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def _reading(survey: Survey, name: str) -> Reading:
    fields = survey.fields(name)
    if fields["gap"] is not None:
        return RockOnly(fields["hangs"], fields["gap"])
    under = cast(Four, tuple(fields[key] or 0.0 for key in _all("under")))
    if fields["top"] is not None:
        return LevelledFirst(fields["top"], under)
    return ByBattens(cast(Four, tuple(fields[key] for key in _all("over"))), under)


def measured_or_refuse(form: LevelForm, file: str) -> None:
    """Raise JobError when a batch holds a rocking gap: it tells no height."""
    rocking = [trestle_title(name) for name, reading in form.readings.items() if isinstance(reading, RockOnly)]
    if rocking and len(form.readings) > 1:
        raise JobError(
            f"{file}: {_listed(rocking)} {'gives' if len(rocking) == 1 else 'give'} a rocking gap only, which tells no "
            "height; measure heights, or level by pads alone, one trestle at a time"
        )
