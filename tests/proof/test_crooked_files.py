"""Files for a crooked machine, written and read back: found good, and found out when they are for another machine."""

import io
import re
from dataclasses import replace
from functools import cache
from math import dist

import ezdxf
import pytest
from part_names import cut_file, finished_file
from sample_jobs import ideal_shop_text
from small_folder import edit_kit, saved

from jigmaker.findings import errors_in
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.make import planned_files
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.sheets import sheet_findings
from jigmaker.proof.contours import ReadContour, contours_of
from jigmaker.proof.prove import prove
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.trestle.solve import solve

JOB = demo_job_text()
PARTS = ("end-bearer", "stop")
CROOKED = "scale_x = 1.002\nscale_y = 0.999\nskew_deg = 0.3"
REVERSED = "scale_x = 0.998\nscale_y = 1.001\nskew_deg = -0.3"
TWICE = "scale_x = 1.004\nscale_y = 0.998\nskew_deg = 0.6"
DIRECTED = "kerf_x = 0.16\nkerf_y = 0.24"
SHOPS = {
    "crooked": CROOKED,
    "leaning far left": "skew_deg = -1",
    "one scale": "scale_x = 1.003\nscale_y = 1.003",
    "hardly crooked": "skew_deg = 0.01",
    "kerf in x and y": DIRECTED,
    "all": f"{DIRECTED}\n{CROOKED}",
    "crooked, bridges": f"{CROOKED}\nbridges = 3",
    "kerf in x and y, bridges": f"{DIRECTED}\nbridges = 3",
}


def shop_text(lines: str) -> bytes:
    """The demo's shop with more lines in [machine]."""
    return ideal_shop_text().decode().replace("[hand_router]", f"{lines}\n\n[hand_router]").encode()


@cache
def written(lines: str, told: str | None = None) -> dict[str, bytes]:
    """The files of a few parts of the demo for a machine, in a folder whose shop file tells of this or another one."""
    job, shop = read_job(JOB), read_shop(shop_text(lines))
    kit = make_kit(solve(job), shop)
    parts = tuple(part for part in kit.parts if part.slug in PARTS)
    assert len(parts) == len(PARTS)
    plan = Plan(
        job=job,
        shop=shop,
        kit=replace(kit, parts=parts),
        part_sheets=tuple(single_part_sheet(part, shop.machine.tool_mm) for part in parts),
        sheets=place(parts, shop),
        cautions=(),
    )
    return planned_files(plan, Source(JOB, shop_text(lines if told is None else told)))


def judged(files):
    """Codes and words of every error in the folder."""
    folder, findings = read_folder(files)
    assert folder is not None
    return [(finding.code, finding.says) for finding in errors_in(findings + check_files(folder))]


@pytest.mark.parametrize("lines", SHOPS.values(), ids=SHOPS)
def test_files_for_a_crooked_machine_are_good(lines: str) -> None:
    """Lines where the machine makes them hold to the nominal ones, sheets to their parts."""
    assert judged(written(lines)) == []


WRONG = {
    "missing": ("", CROOKED),
    "reversed": (REVERSED, CROOKED),
    "twice": (TWICE, CROOKED),
    "for nothing": (CROOKED, ""),
    "kerf swapped": ("kerf_x = 0.24\nkerf_y = 0.16", DIRECTED),
    "mean kerf": ("", DIRECTED),
}


@pytest.mark.parametrize(("lines", "told"), WRONG.values(), ids=WRONG)
def test_files_for_another_machine_are_found_out(lines: str, told: str) -> None:
    """They do not run half the cut's width beside the nominal lines once this machine has made them."""
    assert any(code == 118 for code, _ in judged(written(lines, told)))


NAMES = {
    CROOKED: "kerf-0.20-corrected",
    DIRECTED: "kerf-0.16x0.24",
    f"{DIRECTED}\n{CROOKED}": "kerf-0.16x0.24-corrected",
}


@pytest.mark.parametrize(("lines", "words"), NAMES.items(), ids=NAMES.values())
def test_names_and_notes_tell_the_correction(lines: str, words: str) -> None:
    """Whoever opens or reads the name of a file sees what was done to it; nominal files say what was not."""
    files = written(lines)
    corrected = files[cut_file("stop", "svg", words)].decode()
    nominal = files[finished_file("stop", "svg")].decode()
    is_bent = words.endswith("-corrected")
    assert ("Corrected for scale x 1.002, y 0.999, skew 0.3 deg" in corrected) == is_bent
    assert ("Not corrected for the machine" in nominal) == is_bent
    assert ("Kerf x 0.16, y 0.24 included" in corrected) == ("x0.24" in words)
    told = files["kit.json"].decode()
    assert ('"correction": ' in told) == is_bent
    assert ('"cut_width_mm": [0.16, 0.24]' in told) == ("x0.24" in words)


def spoilt(lines, folder_of_files, change):
    """The judge's errors when the contours of some compensated files, DXF and SVG alike, are changed before judging."""
    folder, _ = read_folder(written(lines))
    assert folder is not None
    files = {
        name: replace(file, lines=contours_of(change(file.contours)))
        if name.startswith(folder_of_files) and "finished-size" not in name
        else file
        for name, file in folder.files.items()
    }
    assert files != folder.files
    return {finding.code for finding in errors_in(check_files(replace(folder, files=files)))}


def moved_one(layer, number, by):
    """The contour of that number on the layer moved along x."""

    def change(contours):
        spot = [contour for contour in contours if contour.layer == layer][number]
        moved = replace(spot, shape=spot.shape.placed(PlaneFrame(by, 0)))
        return [moved if contour is spot else contour for contour in contours]

    return change


def put_beside(contours):
    """A piece more than kit.json tells, where nothing lies."""
    return [*contours, ReadContour("OUTER", Outline.from_points([(500, 350), (510, 350), (510, 360), (500, 360)]), "")]


def left_out(contours):
    """The last opening is missing, which is that of a piece at a quarter turn or not."""
    *_, last = [contour for contour in contours if contour.layer == "INNER"]
    return [contour for contour in contours if contour is not last]


SHEETS = {
    "a mark moved": moved_one("MARK", 0, 0.02),
    "the last mark moved": moved_one("MARK", -1, 0.02),
    "a piece too many": put_beside,
    "an opening left out": left_out,
    "an opening of an unturned piece moved": moved_one("INNER", 0, 0.02),
}


@pytest.mark.parametrize("change", SHEETS.values(), ids=SHEETS)
def test_sheets_cut_with_kerf_in_x_and_y_are_held_to_their_parts(change) -> None:
    """One end bearer lies unturned and one at a quarter turn, where its lines are others than in its own file."""
    folder, _ = read_folder(written(DIRECTED))
    turns = [at.turn_deg for _, at in folder.kit.sheets[0].pieces]
    assert {0, 90} <= set(turns)
    assert 121 in spoilt(DIRECTED, "sheets/", change)


@pytest.mark.parametrize("turn_deg", [0, 90])
def test_every_piece_on_such_a_sheet_is_cut_in_numbers(turn_deg: float) -> None:
    """An opening moved by 0.02 on the sheet alone is off on the piece, also at a quarter turn."""
    folder, _ = read_folder(written(DIRECTED))
    name = next(name for name in folder.files if name.startswith("sheets/") and name.endswith("0.24.dxf"))
    slug, at = next(piece for piece in folder.kit.sheets[0].pieces if piece[1].turn_deg == turn_deg)
    told = next(part for part in folder.kit.parts if part.slug == slug)
    spot = at.point(told.holes[0][1].bounds[:2])
    inner = [contour for contour in folder.files[name].contours if contour.layer == "INNER"]
    number = min(range(len(inner)), key=lambda i: dist(inner[i].shape.bounds[:2], spot))
    file = replace(folder.files[name], lines=contours_of(moved_one("INNER", number, 0.02)(folder.files[name].contours)))
    found = list(sheet_findings(replace(folder, files={**folder.files, name: file}), CutBefore()))
    assert {(finding.code, finding.part) for finding in found} == {(331, name)}


def _letters(contours):
    return [c for c in contours if c.layer == "MARK" and any(each.bulge for each in c.shape.segments)]


def _in_chords(contour):
    points = contour.shape.points(32)
    return replace(contour, shape=Stroke.from_points(points))


@pytest.mark.parametrize("number", [0, 5])
@pytest.mark.parametrize("form", [lambda letter: letter, _in_chords], ids=["arcs", "chords"])
def test_a_bent_letter_drawn_twice_is_seen(number: int, form) -> None:
    """A letter whose arcs another program made chords is no line like others, but a copy of it still is one."""

    def change(contours):
        spot = _letters(contours)[number]
        return [form(c) if c is spot else c for c in contours] + [form(spot)]

    assert 110 in spoilt(CROOKED, "parts/", change)


@pytest.mark.parametrize(("by", "codes"), [(0.0, set()), (0.2, {117, 121})])
def test_letters_that_another_program_made_chords_of_are_where_they_belong(by, codes):
    """On a sheet with pieces that lie turned; and one of them moved by 0.2 mm does not."""
    folder, _ = read_folder(written(CROOKED))
    name = next(name for name in folder.files if name.startswith("sheets/") and name.endswith("corrected.dxf"))
    contours = folder.files[name].contours
    letters = _letters(contours)
    moved = PlaneFrame(by, 0)
    chords = {id(each): _in_chords(each) for each in letters}
    chords[id(letters[3])] = replace(chords[id(letters[3])], shape=chords[id(letters[3])].shape.placed(moved))
    file = replace(folder.files[name], lines=contours_of([chords.get(id(each), each) for each in contours]))
    changed = replace(folder, files={**folder.files, name: file}, changed=frozenset({name}))
    found = {finding.code for finding in errors_in(check_files(changed)) if finding.part == name}
    assert found == codes


def _moved_dxf(text):
    """All of a drawing 3.25 mm to the right and 1.5 mm up."""
    document = ezdxf.read(io.StringIO(text))
    for entity in document.modelspace():
        entity.translate(3.25, 1.5, 0)
    return saved(document)


def _moved_svg(text):
    """The same by a group around all."""
    start, end = text.index("<g "), text.rindex("</svg>")
    return f'{text[:start]}<g transform="translate(3.25 -1.5)">{text[start:end]}</g></svg>'.encode()


def with_sheets_moved(lines, forms=("dxf", "svg")):
    """The folder with every sheet's drawings of these forms moved as a whole; their names."""
    files = dict(written(lines))
    names = [name for name in files if name.startswith("sheets/") and name.endswith(forms)]
    moved = {name: (_moved_dxf if name.endswith("dxf") else _moved_svg)(files[name].decode()) for name in names}
    return {**files, **moved}, names


def of_files(findings):
    """Those of the files and of the cut: a few parts make no jig."""
    return [finding for finding in findings if finding.code < 200 or finding.code in (331, 332, 333, 334)]


@pytest.mark.parametrize("lines", ["", f"{DIRECTED}\n{CROOKED}\nbridges = 3"], ids=["true", "all at once"])
def test_a_sheet_moved_in_both_forms_is_judged_where_its_pieces_belong(lines):
    """One caution for each file besides the one that it was changed; it says how far all of it was moved."""
    files, names = with_sheets_moved(lines)
    assert {name[-3:] for name in names} == {"dxf", "svg"}
    findings = of_files(prove(files).findings)
    assert errors_in(findings) == []
    said = {finding.part: finding.says for finding in findings if finding.code == 113}
    assert sorted(said) == sorted(names)
    for says in said.values():
        by = re.search(r"lies ([0-9.]+), ([0-9.]+) mm", says)
        assert [float(each) for each in by.groups()] == pytest.approx([3.25, 1.5], abs=0.002)
    assert {finding.code for finding in findings} == {113, 123}


def test_a_piece_that_lies_elsewhere_is_found_on_a_moved_sheet_too():
    """The sheets moved, and one of their pieces 0.01 mm off the place that is told."""
    files, _ = with_sheets_moved("")

    def aside(kit):
        kit["sheets"][0]["pieces"][1]["x_mm"] += 0.01

    edit_kit(files, aside)
    assert 121 in {finding.code for finding in errors_in(list(prove(files).findings))}
