"""What the pages answer to what is typed: the folder's files and the typed fields in, Judged out; mm, degrees.

Nothing is refused as a whole: each fault and each caution is told at the field that it is about, the rest in a box.
"""

from __future__ import annotations

import re
from dataclasses import field
from functools import lru_cache

from jigmaker.bench.fields import ASKED, BY, MEANINGS, RULES, as_written, label_of, to_toml, tools_not_of, widths_not_of
from jigmaker.bench.workplace import Files, Workplace
from jigmaker.errors import JigmakerError, JobError, UsageError
from jigmaker.findings import Finding
from jigmaker.job.edit import edit_file
from jigmaker.job.job import Job
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import Shop
from jigmaker.job.templates import new_shop_text
from jigmaker.making.job_check import check_job
from jigmaker.record import dataclass
from jigmaker.suggest.answers import fault_of_answer, name_after, wish_of
from jigmaker.suggest.job_text import job_text
from jigmaker.suggest.shop_answers import router_from_text
from jigmaker.suggest.suggest import Suggestion, suggest
from jigmaker.units import Unit

START = ("for", "height", "measure", "boards", "trestles", "name", "units")
"""The opening questions of an empty folder; their fields are "start:for" and so on."""

CNC = {"machine.compensation": '"left out"', "machine.marking": '"short"', "machine.bridges": "3"}
"""What suits a router of three axes, in a new shop."""


@dataclass
class Judged:
    """What is typed, read and checked. faults, cautions: sentences by field; "" for those about how it all stands.
    open: fields without an answer, which nothing is assumed for.

    job, shop: None where they cannot be read. job_data, shop_data: the bytes of both files with what is typed in them,
    None where not enough is known to write one.
    """

    job: Job | None = None
    shop: Shop | None = None
    job_data: bytes | None = None
    shop_data: bytes | None = None
    suggestion: Suggestion | None = None
    open: list[str] = field(default_factory=list)
    faults: dict[str, list[str]] = field(default_factory=dict)
    cautions: dict[str, list[str]] = field(default_factory=dict)

    @property
    def wrong(self) -> list[str]:
        """Fields that cannot stay as they are, in the order in which they were judged."""
        return [name for name, told in self.faults.items() if told and name]

    def fault(self, name: str, sentence: str) -> None:
        """Note a fault, once."""
        if sentence not in (told := self.faults.setdefault(name, [])):
            told.append(sentence)

    def suggest(self, typed: dict[str, str], shop: bytes, name: str) -> None:
        """The job that follows from the opening questions, once it is told what it is for."""
        # Each answer alone first, at its own field. Only when none is wrong are they taken together, and a fault of
        # that lies between several answers: it goes to the boards where some were named, else into the box.
        said = said_of(typed, name)
        for key, words in said.items():
            if words is not None and (fault := fault_of_answer(key, words.strip(), said["units"])):
                self.fault(f"start:{'height' if key == 'body' else key}", fault[0].upper() + fault[1:])
        if self.faults.keys() & {f"start:{key}" for key in START}:
            return
        if said["for"] is None:
            self.open.insert(0, "start:for")
            return
        # A page asks this anew at every key, and most keys are typed into fields that change nothing of it.
        try:
            self.suggestion = _suggested(tuple(said.items()), shop)
        except JigmakerError as error:
            for sentence in error.faults:
                self.fault("start:boards" if said["boards"] else "", sentence)
            return
        self.job_data = job_text(self.suggestion).encode()
        self.job = read_job(self.job_data, "job.toml")

    def read_shop(self, place: Workplace, files: Files) -> None:
        """The shop; where there is no file yet, of what was asked and answered alone."""
        # A shop that is there is edited: what is typed goes over what stands there. Where none is, a new one is begun,
        # in which whatever only its owner knows stays open until it is typed: nothing of it is assumed. Widths of
        # another kind of machine are taken out of either, or its own would not be asked for.
        typed = place.typed
        changes = changes_of("shop", typed)
        data = files.shop
        if data is not None and typed.get("shop:machine.kind") == "paper":
            changes |= {name.partition(":")[2]: "" for name in widths_not_of("paper")}
        if data is None:
            kind = typed.get("shop:machine.kind")
            by = typed.get(BY) or "router"
            unit: Unit = "in" if typed.get("start:units") == "in" else "mm"
            widths, tools = widths_not_of(kind or "laser"), tools_not_of(by)
            suits = CNC if kind == "cnc" else {"machine.accuracy": ""} if kind == "paper" else {}
            changes = {**suits, **{name.partition(":")[2]: "" for name in widths}, **changes}
            asked = [name for name in ASKED if name not in (BY, *widths, *tools)]
            self.open = [name for name in asked if not typed.get(name, "").strip()]
            data = new_shop_text(unit, router_from_text("none", unit) if by == "saw and chisel" else None).encode()
            # What was typed of a tool that is no longer asked for stays out of the file.
            changes = {key: value for key, value in changes.items() if f"shop:{key}" not in (*self.open, *tools)}
        try:
            data = edit_file(data, changes, "shop.toml", MEANINGS["shop"]) if changes else data
            shop = read_shop(data, "shop.toml")
            if not self.open:
                self.shop, self.shop_data = shop, data
        except JobError as error:
            self.tell("shop", error)

    def tell(self, table: str, error: JobError) -> None:
        """Each sentence of a reader at its field, with the field's label for a subject in place of the file's line."""
        # A reader's sentence is "shop.toml line 7: machine.kerf is ...": the page has a label in place of all that.
        for i, sentence in enumerate(error.faults):
            key = error.keys[i] if i < len(error.keys) else ""
            name = f"{table}:{key}"
            said = re.sub(rf"^{table}\.toml(?: line \d+)?: {re.escape(key)} ", "", sentence) if key else sentence
            self.fault(name if name in RULES else "", f"{label_of(name)} {said}" if name in RULES else sentence)

    def tell_findings(self, found: list[Finding]) -> None:
        """Findings at the field where the user can change them; in the box those that no field decides."""
        for finding in found:
            table, _, key = finding.key.partition(" ")
            name = f"{table}:{key}" if f"{table}:{key}" in RULES else ""
            sentence = f"{finding.says[0].upper()}{finding.says[1:]}; {finding.do}."
            if finding.severity == "error":
                self.fault(name, sentence)
            else:
                self.cautions.setdefault(name, []).append(sentence)


def judge(place: Workplace, files: Files, is_quick: bool = True) -> Judged:
    """Read what is in the files and in the fields, and check it; `is_quick` leaves out the router's tipping."""
    # The trestle does not wait for its shop: as long as that is open, a sample stands in for it, and what is found
    # about the sample itself is left out.
    judged = Judged()
    judged.read_shop(place, files)
    sample = judged.shop_data or new_shop_text("mm").encode()
    if files.job is None:
        judged.suggest(place.typed, sample, name_after(place.folder))
    else:
        try:
            changes = changes_of("job", place.typed)
            data = edit_file(files.job, changes, "job.toml", MEANINGS["job"]) if changes else files.job
            judged.job = read_job(data, "job.toml")
            judged.job_data = data
        except JobError as error:
            judged.tell("job", error)
    if judged.job is not None and not judged.suggestion:
        found = check_job(judged.job, judged.shop or read_shop(sample), is_quick)
        judged.tell_findings(found if judged.shop else [each for each in found if not each.key.startswith("shop ")])
    elif judged.suggestion is not None:
        judged.tell_findings(list(judged.suggestion.findings))
    return judged


def changes_of(table: str, typed: dict[str, str]) -> dict[str, str]:
    """What was typed into the fields of a file, as TOML by dotted key."""
    return {
        name.partition(":")[2]: to_toml(RULES[name], words)
        for name, words in typed.items()
        if name in RULES and name.startswith(f"{table}:")
    }


def said_of(typed: dict[str, str], name: str) -> dict[str, str | None]:
    """The opening questions as jigmaker new is told them."""
    said = {key: typed.get(f"start:{key}", "").strip() or None for key in START}
    measure, height = said.pop("measure"), said["height"]
    if measure and height:
        said |= {"height": None, "body": f"{measure}={height}"}
    return {**said, "name": said["name"] or name, "units": said["units"] or "mm"}


@lru_cache(32)
def _suggested(said: tuple[tuple[str, str | None], ...], shop: bytes) -> Suggestion:
    return suggest(wish_of(dict(said)), read_shop(shop))


def refuse_unfinished(judged: Judged) -> None:
    """Raise UsageError with all that is wrong or still open, if there is anything."""
    told = [sentence for each in judged.faults.values() for sentence in each]
    told += [f"{label_of(name)}: is still open." for name in judged.open]
    if told:
        raise UsageError(told)


def changed_outside(place: Workplace, files: Files) -> list[tuple[str, str, str, str]]:
    """Typed fields that the disk has changed under: label, what stood there, what stands there now, what is typed."""
    now = {**as_written(files.job, "job"), **as_written(files.shop, "shop")}
    return [
        (label_of(name), place.before.get(name, ""), now.get(name, ""), words)
        for name, words in place.typed.items()
        if name in RULES and place.before.get(name, "") != now.get(name, "")
    ]


def what_changes(place: Workplace, files: Files, judged: Judged) -> list[tuple[str, str, str, str]]:
    """What a press on "write" would write: file, label, what stands there, what comes."""
    # Both sides are read from bytes, as they lie there and as they would be written: what is shown is what a file will
    # say, whatever was typed to get there.
    told = []
    for table, data in (("job", judged.job_data), ("shop", judged.shop_data)):
        if data is None or data == files.of(table):
            continue
        old, new = as_written(files.of(table), table), as_written(data, table)
        rows = [name for name in {**old, **new} if old.get(name) != new.get(name)]
        told += [(f"{table}.toml", label_of(name), old.get(name, ""), new.get(name, "")) for name in rows]
    return told
