"""The fourth station: a workplace in; how far its kit is, what the proof said, its files in order of the work out."""

from __future__ import annotations

import json
import re
from dataclasses import field
from functools import lru_cache
from pathlib import Path
from typing import Any

from jigmaker.bench.kit_files import bytes_of, names_of, present_kit
from jigmaker.bench.rail import Rail
from jigmaker.bench.shop_view import DrawnSheet, kit_pictures
from jigmaker.bench.workplace import Files, Workplace
from jigmaker.errors import JigmakerError
from jigmaker.record import dataclass

STEPS = {
    "Placing the parts": ("placing",),
    "Writing the cut files": ("writing",),
    "Proving them": ("reading", "proving cuts", "proving gauges", "proving lines", "proving the jig"),
    "Writing the papers": ("papers",),
    "Into the folder": ("writing the folder",),
}
"""Lines that tick off, and what a make calls the steps of each."""


@dataclass(frozen=True, slots=True)
class PieceFile:
    """One piece or sheet to cut, its file as it is read by eye and by the machine."""

    name: str
    svg: str
    dxf: str
    picture: str = ""


@dataclass
class KitNow:
    """The kit as it lies in made/. at: the address of its folder on the page, "" where there is none.

    is_present: made from the files as they are, with nothing typed since. steps: (line, how far, is it done).
    """

    at: str = ""
    folder: str = ""
    is_present: bool = False
    is_running: bool = False
    says: str = ""
    verdict: str = ""
    passed: bool = False
    count: int = 0
    papers: list[tuple[str, str]] = field(default_factory=list)
    drawn: list[DrawnSheet] = field(default_factory=list)
    sheets: list[PieceFile] = field(default_factory=list)
    parts: list[PieceFile] = field(default_factory=list)
    steps: list[tuple[str, str, bool]] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    cautions: list[str] = field(default_factory=list)

    def fill(self, folder: Path) -> None:
        """What lies in the kit's folder, and what its proof said."""
        names = sorted(names_of(folder))
        proof = json.loads(bytes_of(folder, "proof.json") or b"{}")
        self.at, self.folder, self.count = f"made/{folder.name}", str(folder), len(names)
        self.passed = proof.get("passed") is True
        files = proof.get("files", 0)
        self.verdict = f"Proof passed when it was made: {files} files of {proof.get('parts', 0)} parts read back."
        for end, words in PAPERS:
            self.papers += [(name, words) for name in names if name.endswith(end) and "/drawings/" not in name]
        drawn, alone = _pictures(bytes_of(folder, "kit.json") or b"{}")
        self.drawn = drawn
        for where, place in (("sheets/", self.sheets), ("parts/", self.parts)):
            for name in names:
                dxf = name.removesuffix(".svg") + ".dxf"
                if name.startswith(where) and name.endswith(".svg") and dxf in names:
                    short = name.removeprefix(where).removesuffix(".svg").removeprefix(f"{folder.name}-")
                    words = re.sub(r"-(cut-\d|kerf-|cutter-)", r",-\1", short.replace("-finished-size", "")).replace(
                        "-", " "
                    )
                    # One part's slug may begin another's, as "plate" does "plate-r": the longest is meant.
                    slug = max((slug for slug in alone if short.startswith(slug)), key=len, default="")
                    place.append(PieceFile(words[:1].upper() + words[1:], name, dxf, alone.get(slug, "")))


PAPERS = (
    ("index.html", "All papers and files, first page"),
    ("-set-up-sheets.pdf", "Set-up sheets, in the order of the work"),
    ("-cut-list.pdf", "Cut list"),
    ("-boards.pdf", "Cutting plan of the boards"),
    ("-full-size.pdf", "Templates at full size"),
    ("-notes.pdf", "Notes"),
)
"""What is printed or read, by the end of the file's name."""


def kit_now(place: Workplace, files: Files) -> KitNow:
    """How the kit stands: made, out of date, being made or not made at all."""
    told, folder = place.making.told, present_kit(place)
    now = KitNow(is_running=place.making.is_running)
    if now.is_running or told.end:
        # A step is done when a later one was reached, and all are when there is a verdict.
        reached = [i for i, names in enumerate(STEPS.values()) if set(names) & set(told.steps)]
        for i, (line, names) in enumerate(STEPS.items()):
            far = next((told.steps[name] for name in reversed(list(told.steps)) if name in names), "")
            done = "verdict" in told.end or (bool(reached) and i < reached[-1])
            now.steps.append((line, "" if done else far, done))
    now.faults = [*told.end.get("faults", [])]
    if "verdict" in told.end and not told.end["passed"]:
        now.faults = [f"The kit does not prove: {told.end['verdict']} Nothing was written.", *told.end["findings"]]
    now.cautions = [*told.end.get("cautions", [])]
    now.says = told.end.get("stopped", "")
    if folder is not None:
        now.fill(folder)
        # The kit holds the files that it was made from: it is out of date when they are not those of the workplace any
        # more, byte for byte, or when something typed waits to be written.
        data = {name: (folder / name).read_bytes() for name in ("job.toml", "shop.toml") if (folder / name).is_file()}
        unwritten = [name for name in place.typed if name.startswith(("job:", "shop:"))]
        now.is_present = data == {"job.toml": files.job, "shop.toml": files.shop} and not unwritten
        if told.end.get("passed") and now.is_present:
            now.verdict = f"Proof {told.end['verdict']}"
    return now


def kit_rail(place: Workplace, now: KitNow) -> Rail:
    """Make, stop, make again, or on to the feet."""
    # The first that holds decides: what goes on now, how the last make ended, what is missing for one, and only then
    # how the kit that lies there stands.
    unwritten = [name for name in place.typed if name.startswith(("job:", "shop:", "start:"))]
    if now.is_running:
        return Rail("Making the kit ...", "", "Stop", "stop")
    if now.says:
        return Rail(now.says, "", "Make the kit", "make")
    if now.faults:
        return Rail(
            "The kit was not made.", "The box says why.", "Make again", "writemake" if unwritten else "make", True
        )
    if not place.files().job or not place.files().shop or unwritten:
        return Rail("Not all figures are written.", "", "Write and make", "writemake")
    if not now.at:
        return Rail("Nothing is made yet.", "", "Make the kit", "make")
    if not now.is_present:
        return Rail("Figures have changed since the kit was made.", "", "Make again", "make")
    return Rail("Made from the figures shown.", f"In {now.folder}.", "Next: the feet", "go:feet")


def kit_parts(place: Workplace) -> dict[str, Any]:
    """What changes on the page while a kit is made."""
    from flask import render_template

    # `said` is read aloud each time it changes: the step's line without its count, or it would be spoken at every file.
    now = kit_now(place, place.files())
    rail = kit_rail(place, now)
    at = next((f"{line}, {far}" if far else line for line, far, done in now.steps if not done), "")
    return {
        "kit": render_template("_kit.html", kit=now),
        "rail": render_template("_rail.html", rail=rail),
        "said": f"{rail.says} {at.partition(',')[0]}" if now.is_running else rail.says,
        "running": now.is_running,
    }


@lru_cache(2)
def _pictures(kit: bytes) -> tuple[list[DrawnSheet], dict[str, str]]:
    """Sheets and parts as a kit.json tells them; nothing of one that tells them otherwise."""
    try:
        return kit_pictures(json.loads(kit))
    except (ValueError, KeyError, TypeError, IndexError, JigmakerError):
        return [], {}
