"""A CNC router's kit, the workshop's pair: what its pages, screen and files say of it, and no word of a laser's."""

import json
import re
from functools import cache
from html import unescape
from pathlib import Path

import dxf_tags
import pytest
from pdf_pages import read_pdf

from jigmaker.cli.closing import closing_text
from jigmaker.cli.reading import Asked
from jigmaker.job.naming import LONGEST
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.make import planned_files
from jigmaker.making.paper_files import with_papers
from jigmaker.making.plan import plan
from jigmaker.proof.checks.holding import prove_holding
from jigmaker.proof.prove import Report
from jigmaker.proof.readers.read_folder import read_folder

TESTS = Path(__file__).parent.parent
LASERS = re.compile(r"(?i)\b(laser\w*|kerfs?|smoke|char|charred|burn\w*)\b")


@cache
def kit():
    """The plan, every file by name, and what the screen says at the end."""
    texts = tuple((TESTS / folder / "workshop_pair.toml").read_bytes() for folder in ("jobs", "shops"))
    source, read = Source(*texts), (read_job(texts[0]), read_shop(texts[1]))
    planned = plan(*read, source)
    files = planned_files(planned, source)
    folder, _ = read_folder({name: data for name, data in files.items() if "finished-size" in name or "/" not in name})
    report = Report((), 22, 100, None, prove_holding(folder)[1])
    screen = closing_text(planned, Asked(*read, source, is_demo=False), Path("made"), tuple(files), report)
    return planned, with_papers(planned, report, files), screen


def words_of(name, data):
    """What people read in a file; of kit.json all but the keys that every shop has."""
    if name.endswith(".pdf"):
        return " ".join(page.words for page in read_pdf(data))
    return re.sub(r'"kerf_[xy]_mm": null', "", unescape(data.decode()))


# https://learn.microsoft.com/windows/win32/fileio/naming-a-file: signs and names that no file may have, no dot or blank
# at the end, capitals count for nothing; a whole path has at most 259 signs.
RESERVED = re.compile(r"(?i)(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?")
MOST = 259 - 80  # that much for the user's own folders, "C:\\Users\\..."


def illegal(names, slug):
    """Names that Windows refuses or takes for another, with the job's slug as long as any; its folder included."""
    longest = [f"{'x' * LONGEST}-unfinished-0123456789abcdef/{name.replace(slug, 'x' * LONGEST)}." for name in names]
    steps = [step for name in names for step in name.split("/")]
    found = [step for step in steps if re.search(r'[<>:"|?*\\\x00-\x1f]|[. ]$|^$', step) or RESERVED.fullmatch(step)]
    twins = [name for name in names if [other.casefold() for other in names].count(name.casefold()) > 1]
    return [*found, *twins, *(path for path in longest if len(path) > MOST)]


def test_every_name_is_legal_on_windows():
    """Of a kit with a file for each operation and every paper; and the check can fail."""
    planned, files, _ = kit()
    assert illegal(list(files), planned.job.slug) == []
    for bad in (["a/con.dxf"], ["a."], ["a "], ["a?.svg"], ["A.dxf", "a.dxf"], ["a" * 200], ["nul"], ["a//b"]):
        assert illegal(bad, planned.job.slug), bad


def test_no_word_of_a_lasers_in_any_file_or_on_the_screen():
    """Names and contents of everything that make writes for a router, and its last words."""
    _, files, screen = kit()
    told = {"the screen": screen, **{name: f"{name} {words_of(name, data)}" for name, data in files.items()}}
    assert len(told) > 80
    assert {name: found[0] for name, words in told.items() if (found := LASERS.search(words))} == {}


@cache
def cut_sheet():
    """The words of both its pages, as printed."""
    _, files, _ = kit()
    pages = read_pdf(next(data for name, data in files.items() if name.endswith("set-up-sheets.pdf")))
    return " ".join(page.words for page in pages if page.words.startswith("20 Cut the kit"))


# 0.49 in and 0.2 mm: 12.446 + 0.2 = 12.646 mm, 0.4979 in; by passes of 3.175 mm or less it takes four.
@pytest.mark.parametrize(
    "words",
    [
        'down to 0.4979", 0.0079" into the board under the sheet, in 4 passes or more',
        "marks, then inner cuts, then outlines",
        "z on its top face, anew for each cutter",
        "outlines and holes run anticlockwise from one of their corners",
        "Round holes are circles",
        "where a line of layer BRIDGE crosses an outline",
        "screws where the files have a cross on layer NOTE",
        "screw and washer bevel plate 1, bevel plate 2: through the round hole",
        "double-sided tape mask for slot R, mask for slot L, mask foot (4), brace template, coupon",
    ],
)
def test_the_cut_sheet_tells_how_the_machine_is_set_and_each_piece_held(words):
    """Cutter, passes and depth, order, zero, lines, holes, bridges, screws, tape."""
    assert words in cut_sheet()


def test_index_and_proof_tell_what_hangs_on_no_bridge():
    """The same parts as the cut sheet, and how each is held."""
    _, files, _ = kit()
    plain = re.sub(r"</?(?:span|a)[^>]*>", "", files["index.html"].decode())
    index = " ".join(unescape(re.sub(r"<[^>]+>", " ", plain)).split())
    assert "by a screw and washer through a round hole of their own: bevel plate 1, bevel plate 2" in index
    assert "by double-sided tape: mask for slot R, mask for slot L, mask foot (4), brace template, coupon" in index
    held = json.loads(files["proof.json"])["held_without_bridge"]
    counts = {each["part"]: 0 for each in held}
    for each in held:
        counts[each["part"]] += each["pieces"]
    taped = {"mask-for-slot-r": 1, "mask-for-slot-l": 1, "mask-foot": 4, "brace-template": 1, "coupon": 1}
    assert counts == taped | {"bevel-plate-1": 1, "bevel-plate-2": 1}
    assert {each["part"] for each in held if each["by"] == "tape"} == set(taped)


def test_bridges_and_screws_have_layers_in_the_files_of_outlines():
    """Finished size: closed outlines with marks; with the cutter in the lines: gaps and no marks; crosses in both."""
    _, files, _ = kit()
    for name in (name for name in files if name.startswith("sheets/") and name.endswith("-outer.dxf")):
        drawn = dxf_tags.contours(files[name])
        outlines = [one for one in drawn if one.layer == "OUTER"]
        marks = [one for one in drawn if one.layer == "BRIDGE"]
        crosses = [one for one in drawn if one.layer == "NOTE" and not one.is_closed and len(one.vertices) == 2]
        is_finished = "finished-size" in name
        assert all(one.is_closed for one in outlines) == is_finished and bool(marks) == is_finished
        assert ("BRIDGE" in dxf_tags.layers(files[name])) == is_finished
        assert len(crosses) >= 8


def test_round_holes_are_circles_and_every_hole_runs_anticlockwise():
    """In the DXF, whose circles run anticlockwise by the book; area by the shoelace over the corners."""
    _, files, _ = kit()
    for name in (name for name in files if name.startswith("sheets/") and name.endswith("-inner.dxf")):
        holes = [one for one in dxf_tags.contours(files[name]) if one.layer == "INNER"]
        rings = [[(x, y) for x, y, *_ in one.vertices] for one in holes if not one.circle]
        assert any(one.circle for one in holes) and rings
        for ring in rings:
            following = [*ring[1:], ring[0]]
            assert sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, following, strict=True)) > 0
