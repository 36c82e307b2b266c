"""STEP files: refused in one sentence where the kernel is missing or fails, and read back by it where it is there."""

import re
import sys
from dataclasses import replace

import pytest
from sample_jobs import DEMO, JOB_A
from sample_variants import JOBS, SHOPS
from step_reader import needs_kernel, read_step

from jigmaker.errors import StepError
from jigmaker.geometry.flat_faces import FlatFace
from jigmaker.geometry.model import SHEET, TIMBER, FlatSided, Model, ModelBody
from jigmaker.geometry.outline import Arc, Circle
from jigmaker.parts.kit import make_kit
from jigmaker.parts.models import kit_models
from jigmaker.parts.solids import assembled
from jigmaker.trestle.solids import trestle_solids
from jigmaker.trestle.solve import solve
from jigmaker.trestle.timber import timber_models, trestle_model
from jigmaker.writers import step
from jigmaker.writers.step import write_step

KIT = make_kit(solve(DEMO), SHOPS["laser, bush, two slots"])
TRESTLES = {
    name: solve(job)
    for name, job in {"demo": DEMO, "A": JOB_A, **JOBS}.items()
    if name in ("demo", "A", "90/78", "reveal 6", "horn and trim", "inches")
}
TRIANGLE = FlatSided((FlatFace(((0.0, 0.0, 0.0), (10.0, 0.0, 0.0), (0.0, 10.0, 0.0))),))
OPEN = {"open": Model("open", (ModelBody("flake", "flake", TRIANGLE),))}


def test_without_the_kernel_it_says_what_to_install(monkeypatch):
    """One sentence with both commands, before anything is done."""
    monkeypatch.setattr(step, "find_spec", lambda name: None)
    with pytest.raises(StepError, match=r'OpenCASCADE.* pip install "jigmaker\[step\]", or in a clone: .*\.\[step\]"$'):
        write_step(OPEN)
    assert StepError.exit_code == 1


FAILURES = {
    "it crashes": ("import os, signal; os.kill(os.getpid(), signal.SIGSEGV)", 20, r"crashed \(signal 11\)"),
    "it hangs": ("import time; time.sleep(20)", 0.3, "not done after 0 s and was stopped"),
    "it refuses": (
        "raise RuntimeError('plate: its faces do not close')",
        20,
        "gave up: .*plate: its faces do not close$",
    ),
    "it goes without a word": ("raise SystemExit(3)", 20, "gave up: no word$"),
}


@pytest.mark.parametrize("case", FAILURES)
def test_a_failing_kernel_is_one_sentence(case, monkeypatch, capfd):
    """Another process stands in for it; nothing of what it prints comes through."""
    does, limit, says = FAILURES[case]
    monkeypatch.setattr(step, "find_spec", lambda name: object())
    monkeypatch.setattr(step, "_CHILD", (sys.executable, "-c", f"print('loud', flush=True)\n{does}"))
    with pytest.raises(StepError, match=says):
        write_step(OPEN, limit)
    assert capfd.readouterr().out == ""


@pytest.fixture(scope="module")
def trestle_files():
    """The trestles' files."""
    return write_step({name: trestle_model(trestle) for name, trestle in TRESTLES.items()})


@pytest.fixture(scope="module")
def files():
    """Every file of the demo's kit."""
    return write_step(kit_models(KIT))


@needs_kernel
@pytest.mark.parametrize("name", TRESTLES)
def test_the_trestle_is_as_its_solids(name, trestle_files, tmp_path):
    """Every piece by its name: volume and box to a millionth; few faces, all flat. Inches come in mm like the rest."""
    title, pieces = read_step(trestle_files[name], tmp_path)
    wanted = trestle_solids(TRESTLES[name])
    assert title == "trestle"
    assert [piece.name for piece in pieces] == list(wanted)
    assert {piece.of: dict(piece.faces) for piece in pieces} == {
        "top board": {"Plane": 22},
        "leg": {"Plane": 6},
        "brace": {"Plane": 6},
    }
    for piece in pieces:
        low, high = wanted[piece.name].bounds
        assert piece.volume == pytest.approx(wanted[piece.name].volume, rel=1e-6)
        assert (*piece.low, *piece.high) == pytest.approx((*low, *high), rel=1e-6, abs=1e-6)


@needs_kernel
@pytest.mark.parametrize("part", KIT.parts, ids=lambda part: part.slug)
def test_a_part_is_as_its_outline(part, files, tmp_path):
    """Area by closed formula times thickness; the outline's box; a cylinder for every arc and circle, no chords."""
    title, (piece,) = read_step(files[f"parts/{part.slug}"], tmp_path)
    contours = [part.outline, *(hole.contour for hole in part.holes)]
    area = part.outline.area - sum(abs(contour.area) for contour in contours[1:])
    round_ones = sum(isinstance(contour, Circle) for contour in contours)
    round_ones += sum(isinstance(piece, Arc) for each in contours for piece in getattr(each, "segments", ()))
    assert title == part.name
    assert piece.volume == pytest.approx(area * part.thickness_mm, rel=1e-9)
    x0, y0, x1, y1 = part.outline.bounds
    assert (*piece.low, *piece.high) == pytest.approx((x0, y0, 0, x1, y1, part.thickness_mm), abs=1e-6)
    assert (piece.faces["Cylinder"], set(piece.faces) - {"Plane", "Cylinder"}) == (round_ones, set())


@needs_kernel
@pytest.mark.parametrize("hand", ["R", "L"])
def test_the_jig_is_as_its_solids(hand, files, tmp_path):
    """Every piece where its placement says: boxes as of solids with 64 chords a quarter turn."""
    title, pieces = read_step(files[f"housing-jig-{hand.lower()}"], tmp_path)
    wanted = assembled(KIT, hand, 64)
    assert title == f"Potting bench: housing jig, set for {hand}"
    assert [piece.name for piece in pieces] == list(wanted)
    for piece in pieces:
        low, high = wanted[piece.name].bounds
        assert (*piece.low, *piece.high) == pytest.approx((*low, *high), abs=2e-3), piece.name
        assert piece.volume == pytest.approx(wanted[piece.name].volume, rel=1e-4)


@needs_kernel
@pytest.mark.parametrize(("name", "colour"), [("trestle", TIMBER), ("housing-jig-r", SHEET), ("parts/plate", SHEET)])
def test_each_material_has_its_colour(name, colour, files):
    """ISO 10303-46, COLOUR_RGB: shares of red, green and blue, here as on a screen; each shape is styled once."""
    told = {tuple(map(float, found)) for found in re.findall(rb"COLOUR_RGB\('',([^,]*),([^,]*),([^)]*)\)", files[name])}
    assert list(told) == [pytest.approx([int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)], abs=1e-6)]
    shapes = len({body.of for body in kit_models(KIT)[name].bodies})
    assert len(re.findall(rb"= STYLED_ITEM\(", files[name])) == shapes


@needs_kernel
def test_the_same_bytes_each_time(files):
    """In another process, and with other models before it; the head states no time."""
    some = {name: model for name, model in kit_models(KIT).items() if name in ("parts/plate", "housing-jig-l")}
    assert write_step(some) == {name: files[name] for name in some}
    assert {data.count(b"1970-01-01T00:00:00") for data in files.values()} == {1}
    assert {data.isascii() for data in files.values()} == {True}


@needs_kernel
def test_a_body_that_is_open_is_refused():
    """One triangle is no solid; the sentence names the piece."""
    with pytest.raises(StepError, match=r"gave up: .*flake"):
        write_step(OPEN)


@needs_kernel
def test_names_with_odd_signs_come_back(tmp_path):
    """Quotes and strokes that STEP writes its own strings with; other signs are spelled in ASCII as in DXF."""
    (body,) = timber_models(TRESTLES["demo"])["leg"].bodies
    written = write_step({"": Model("Bob's \\X\\ ½ bench, Größe 3; #1", (replace(body, of='leg\'s "half"'),))})[""]
    title, _ = read_step(written, tmp_path)
    assert title == 'leg\'s "half"'
    assert b"'Bob''s \\\\X\\\\  1/2 bench, Grosse 3; #1'" in written.replace(b"\n", b"")
