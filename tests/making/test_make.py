"""What make gives: which files, what kit.json says of them, and the same bytes every time."""

import io
import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from hashlib import sha256
from itertools import pairwise

import ezdxf
import kit_cache
import pytest
from comma_locale import NONE, comma_locale
from ezdxf.path import make_path
from part_names import finished_file
from sample_jobs import ideal_shop_text

from jigmaker.errors import JobError, TooNarrow
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import Machine
from jigmaker.making.cut_files import cut_files
from jigmaker.making.job_check import Source
from jigmaker.making.kit_json import relisted
from jigmaker.making.plan import plan
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

JOB = demo_job_text()


def made(shop: str, job: bytes = JOB) -> dict[str, bytes]:
    """The files for a shop's text."""
    return kit_cache.made(job, shop.encode())


@pytest.fixture(scope="module")
def kit(demo_files) -> dict:
    """The demo's kit.json."""
    return json.loads(demo_files["kit.json"])


def test_every_part_and_sheet_has_its_files(demo_files) -> None:
    """By enumeration of the kit: two formats, with the kerf and without, and nothing else."""
    job, shop = read_job(JOB), read_shop(ideal_shop_text())
    parts = {part.slug: part.needed + part.spares for part in make_kit(solve(job), shop).parts}
    sheets = [f"sheet-{n}" for n in range(1, 1 + len(json.loads(demo_files["kit.json"])["sheets"]))]
    expected = {"numbers.json", "kit.json", "job.toml", "shop.toml"}
    for form in ("dxf", "svg"):
        for words, in_parts, in_sheets in (("kerf-0.20", "kerf-0.20/", ""), ("finished-size", "", "finished-size/")):
            expected |= {f"parts/{in_parts}potting-bench-{name}-cut-{n}-{words}.{form}" for name, n in parts.items()}
            expected |= {f"sheets/{in_sheets}potting-bench-{name}-of-3-{words}.{form}" for name in sheets}
    expected |= {f"papers/potting-bench-{name}-names.svg" for name in sheets}
    assert set(demo_files) == expected


def test_the_users_own_files_go_along(demo_files) -> None:
    """Byte for byte: what was asked can be read again, comments and all."""
    assert demo_files["job.toml"] == demo_job_text()
    assert demo_files["shop.toml"] == ideal_shop_text()


def test_every_file_says_whether_the_kerf_is_in_it(demo_files) -> None:
    """Adding it twice is the classic mistake: name and note both say it, and how far lines were moved."""
    for name, data in demo_files.items():
        if name.startswith(("parts/", "sheets/")):
            said = (
                "Finished size: no kerf in this file" if "finished" in name else "Kerf 0.20 included: lines moved 0.10"
            )
            assert said in data.decode(), name


def test_kit_json_lists_every_other_file(kit, demo_files) -> None:
    """Each with the hash of its bytes, in the list of all and beside its part or sheet."""
    assert set(kit["files"]) == set(demo_files) - {"kit.json"}
    beside = {made["name"]: made["sha256"] for owner in kit["parts"] + kit["sheets"] for made in owner["files"]}
    assert set(beside) == {name for name in kit["files"] if name.startswith(("parts/", "sheets/"))}
    for name, found in [*kit["files"].items(), *beside.items()]:
        assert sha256(demo_files[name]).hexdigest() == found


def test_kit_json_states_the_compensation_of_every_file(kit) -> None:
    """The offset is half the tool where it is included and nothing where it is left out."""
    for owner in kit["parts"] + kit["sheets"]:
        states = {(made["compensation"], made["offset_mm"], made["tool_mm"]) for made in owner["files"]}
        assert states == {("included", 0.1, 0.2), ("left out", 0, 0.2)}


def test_kit_json_holds_the_whole_question(kit) -> None:
    """Every value of the demo's two files, in mm with the unit in the key."""
    assert kit["job"]["top"] == {"length_mm": 900, "width_mm": 120, "thickness_mm": 45}
    assert kit["job"]["height_mm"] == 720
    assert kit["shop"]["machine"]["tool_mm"] == 0.2
    assert kit["shop"]["hand_router"]["bush_length_mm"] == 6
    assert list(kit["shop"]["layers"]) == ["mark", "inner", "outer", "bridge", "note"]


def test_kit_json_counts_the_pieces_on_the_sheets(kit) -> None:
    """Every piece of every part, spares too, lies on one sheet."""
    lying = [piece["part"] for sheet in kit["sheets"] for piece in sheet["pieces"]]
    assert {part["slug"]: part["needed"] + part["spares"] for part in kit["parts"]} == {
        slug: lying.count(slug) for slug in dict.fromkeys(lying)
    }


def test_kit_json_has_plain_numbers(demo_files) -> None:
    """As they stand in the file: no exponent, no "-0"; six decimals for sizes, twelve for axes and bulges."""
    written: list[str] = []
    json.loads(demo_files["kit.json"], parse_float=written.append, parse_int=written.append)
    assert len(written) > 1000
    assert all(re.fullmatch(r"-?(0|[1-9][0-9]*)(\.[0-9]{1,12})?", number) for number in written)
    assert "-0" not in written
    long_ones = {number for number in written if len(number.partition(".")[2]) > 6}
    assert all(abs(float(number)) <= 1 for number in long_ones)


def test_placements_are_right_handed_frames(kit) -> None:
    """x cross y is z, to the twelve decimals written: no part is mirrored into its place."""
    placements = [placement for part in kit["parts"] for placement in part["placements"]]
    assert {placement["state"] for placement in placements} >= {"both", "R", "L"}
    for placement in placements:
        (a, b, c), (d, e, f) = placement["x_axis"], placement["y_axis"]
        assert placement["z_axis"] == pytest.approx([b * f - c * e, c * d - a * f, a * e - b * d], abs=1e-11)


CHOICES = [
    ("included", ["sheets/potting-bench-sheet-1-of-3-kerf-0.20.dxf", finished_file("plate")], ["s/finished", "s/kerf"]),
    ("left out", ["sheets/potting-bench-sheet-1-of-3-finished-size.dxf", finished_file("plate")], ["kerf"]),
]


@pytest.mark.parametrize(("choice", "there", "missing"), CHOICES)
def test_the_shop_chooses_the_compensation(quick_shop: str, choice: str, there, missing) -> None:
    """Only the sheets asked for, so that nobody cuts the other kind; each part once, at finished size."""
    names = list(made(quick_shop.replace('"included"', f'"{choice}"')))
    assert set(there) < set(names)
    assert not [name for name in names for word in missing if word in name]


KERFS = [
    ("kerf = 0.155", 'units = "mm"', "kerf-0.155"),
    ("kerf = '0.008 in'", 'units = "in"', "kerf-0.008in"),
]


@pytest.mark.parametrize(("kerf", "units", "words"), KERFS)
def test_names_tell_one_kerf_from_another(quick_shop: str, kerf: str, units: str, words: str) -> None:
    """With as many decimals as it takes, and in the unit of the shop's files."""
    text = re.sub(r"kerf = 0\.20", kerf, quick_shop)
    if units.endswith('"in"'):
        text = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)", r"\1 = '\2 mm'", text.replace('units = "mm"', units))
    assert any(f"-sheet-1-of-3-{words}.dxf" in name for name in made(text))


def test_a_sheet_too_small_is_refused(quick_shop: str) -> None:
    """Before anything is placed, with the line of the sheet's size."""
    small = quick_shop.replace("length = 600", "length = 260").replace("width = 400", "width = 225")
    with pytest.raises(JobError, match=r"shop\.toml line 7: sheet\.width: the plate is 220"):
        made(small)


def test_a_tool_too_wide_names_every_feature(quick_shop: str) -> None:
    """Faults of all parts in one go, each once: nobody mends one to be told the next."""
    shop = read_shop(quick_shop.encode())
    planned = plan(read_job(JOB), shop, Source(JOB, quick_shop.encode()))
    routed = replace(planned, shop=replace(shop, machine=Machine("cnc", 10.0)))
    with pytest.raises(TooNarrow, match=r'plate: hole "mortise') as caught:
        cut_files(routed)
    lines = str(caught.value).splitlines()
    assert len(lines) == len(set(lines))
    assert {"plate", "fence-or-back-strip"} < {line.partition(":")[0] for line in lines}


STATEMENT = """
import hashlib, locale, sys
from pathlib import Path
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.make import make
locale.setlocale(locale.LC_ALL, sys.argv[2])
assert sys.argv[2] == "C" or locale.localeconv()["decimal_point"] == ","
job, shop = (Path(sys.argv[1], name).read_bytes() for name in ("job.toml", "shop.toml"))
for name, data in make(read_job(job), read_shop(shop), job, shop).items():
    print(hashlib.sha256(data).hexdigest(), name)
"""


def test_the_same_bytes_in_another_process(quick_shop, tmp_path) -> None:
    """Another time zone, another hash seed, a locale with a decimal comma: the same files in the same order."""
    files = made(quick_shop)
    for file in ("job.toml", "shop.toml"):
        (tmp_path / file).write_bytes(files[file])
    comma = comma_locale(tmp_path)
    elsewhere = {"TZ": "Pacific/Chatham", "PYTHONHASHSEED": "77", **(comma or {"LC_ALL": "C"})}
    command = [sys.executable, "-c", STATEMENT, str(tmp_path), elsewhere["LC_ALL"]]
    run = subprocess.run(command, env={**os.environ, **elsewhere}, capture_output=True, check=True, text=True)
    assert run.stdout.splitlines() == [f"{sha256(data).hexdigest()} {name}" for name, data in files.items()]
    if comma is None:
        pytest.skip(f"the same in another time zone, but {NONE}")


def test_a_kit_json_listed_again_is_the_same_file(demo_files) -> None:
    """Papers are listed after the proof: only the list of files may change by that, not a byte before it."""
    others = {name: data for name, data in demo_files.items() if name != "kit.json"}
    assert relisted(demo_files["kit.json"], others) == demo_files["kit.json"]
    more = json.loads(relisted(demo_files["kit.json"], {**others, "papers/x": b"1"}))
    assert more["files"].pop("papers/x") == sha256(b"1").hexdigest()
    whole = json.loads(demo_files["kit.json"])
    assert more.pop("sha256") != whole.pop("sha256")
    assert more == whole


def test_kit_json_tells_how_far_and_how_often_each_sheet_is_cut(demo_files):
    """As the DXF library measures the lines of the sheets' own files, curves in chords within 0.001 mm."""
    layers = {"INNER", "OUTER"}
    for sheet in json.loads(demo_files["kit.json"])["sheets"]:
        told = next(
            file for file in sheet["files"] if file["name"].endswith(".dxf") and file["compensation"] == "included"
        )
        document = ezdxf.read(io.StringIO(demo_files[told["name"]].decode()))
        lines = [make_path(entity) for entity in document.modelspace() if entity.dxf.layer in layers]
        points = [list(line.flattening(0.001)) for line in lines]
        way = sum(a.distance(b) for line in points for a, b in pairwise(line))
        assert sheet["pierces"] == len(lines) > 20
        assert sheet["cut_mm"] == pytest.approx(way, rel=1e-4)
