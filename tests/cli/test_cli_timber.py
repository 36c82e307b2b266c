"""jigmaker timber: a form, what its readings come to on the screen, as JSON and as a page, and in the kit."""

import json
import random
import re
from dataclasses import replace
from importlib.resources import files as package_files
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator
from pdf_pages import read_pdf

from jigmaker.cli.main import jigmaker
from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.make import beside_cuts
from jigmaker.making.paper_files import timber_files
from jigmaker.making.plan import kit_plan, timber_for
from jigmaker.papers.bench import Bench
from jigmaker.papers.pictures.leg_strip import leg_strip_picture, spread_out
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.timber import forecast
from jigmaker.timber.places import place_legs
from jigmaker.timber.readings import read_timber
from jigmaker.trestle.solve import solve
from jigmaker.writers.html import write_html

TOLD = ("legs", "settings", "plane", "together", "boards", "go in", "play", "feet", "rock", "trim", "what helps")


def said(*words: object) -> tuple[int, str]:
    """Exit code and output of the command."""
    done = CliRunner().invoke(jigmaker, ["timber", *map(str, words)])
    return done.exit_code, done.output


def test_a_job_of_several_sizes_is_told_what_to_do(tmp_path, monkeypatch):
    """Legs of one size are no legs of another; nothing is written."""
    monkeypatch.chdir(tmp_path)
    sizes = "[[size]]\nheight = 720\n[[size]]\nheight = 520\n"
    text = re.sub(r"(?m)^height = .*$", "", demo_job_text().decode()) + sizes
    Path("job.toml").write_text(text, "utf-8")
    Path("shop.toml").write_bytes(demo_shop_text())
    says = "job.toml: has several sizes, size 720 mm, size 520 mm; which leg goes where is worked out for one: keep"
    for words in ((), ("--form", "t.toml")):
        code, output = said("job.toml", *words)
        assert code == 1 and output.startswith(says)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "shop.toml"]
    with pytest.raises(JobError, match="has several sizes"):
        read_timber(b"", read_job(text.encode()))


def filled(form: str) -> str:
    """The form with plausible figures for 24 legs and 6 boards; leg 17 is half a millimetre too wide."""
    draw = random.Random(6)

    def line(found: re.Match[str]) -> str:
        number = int(found[1])
        if form.index("[boards]") < found.start():
            winding = 0.4 if number == 2 else 0
            return f"{number} = [{draw.gauss(45, 0.3):.1f}, 120, {draw.uniform(-0.2, 0.2):.2f}, 0, {winding}]"
        wide = 70.6 if number == 17 else draw.gauss(69.93, 0.1)
        return f"{number} = [{wide + draw.gauss(0, 0.04):.2f}, {wide:.2f}, {draw.gauss(32, 0.15):.2f}]"

    return re.sub(r"(?m)^(\d+) = \[\]$", line, form)


@pytest.fixture(autouse=True)
def few(monkeypatch) -> None:
    """The same forecast from fewer trestles: its figures are held elsewhere."""
    monkeypatch.setattr(forecast, "TRESTLES", 12_000)


@pytest.fixture(scope="module")
def shed(tmp_path_factory) -> Path:
    """The demo's job with its damp, its shop, and a filled-in timber.toml beside them."""
    from jigmaker.job.demo import demo_job_text, demo_shop_text

    folder = tmp_path_factory.mktemp("shed")
    damp = b'\n[timber]\nspecies = "softwood"\nmoisture_now = 12\nmoisture_later = 16\n'
    (folder / "job.toml").write_bytes(demo_job_text() + damp)
    (folder / "shop.toml").write_bytes(demo_shop_text())
    code, output = said(folder, "--form", folder / "timber.toml")
    assert code == 0 and "timber-form.html" in output
    assert (folder / "timber-form.html").read_text("utf-8").count("<td") > 24 * 3
    form = (folder / "timber.toml").read_text("utf-8")
    (folder / "timber.toml").write_text(filled(form), "utf-8")
    return folder


def test_a_form_is_not_written_over(shed: Path) -> None:
    """Nor into a folder's place, nor together with what it does not do."""
    before = (shed / "timber.toml").read_bytes()
    assert said(shed, "--form", shed / "timber.toml")[0] == 2
    assert (shed / "timber.toml").read_bytes() == before
    assert said(shed, "--form", shed)[0] == 2
    assert "leave out --page" in said(shed, "--form", shed / "other.toml", "--page", shed / "x.pdf")[1]
    assert "must end in .html or .pdf" in said(shed, "--page", shed / "x.png")[1]
    assert "timber --form" in said(shed, "--readings", shed / "none.toml")[1]
    assert not (shed / "other.toml").exists()


def test_the_screen_tells_all_and_the_page_too(shed: Path) -> None:
    """Every row, the odd leg, its strokes, the board in winding, jamming damp; then the same as a PDF."""
    code, output = said(shed, "--page", shed / "told.pdf")
    assert code == 0
    assert output.startswith("Potting bench, 6 trestles: 24 legs measured (caliper 0.03 mm)\n")
    labels = [line[:16].strip() for line in output.splitlines() if line[:1].isalpha()]
    assert [label for label in labels if label in TOLD] == list(TOLD)
    words = " ".join(output.split())
    assert "Measure again: leg 17, far off the others." in words
    assert re.search(r"strokes?: leg 17", words)
    assert "levelling cures it: board 2 (1.3 mm)" in words
    assert "grow by about 0.62 mm: the play comes to about -0.47 mm, too little. Wait until the wood has" in words
    assert max(map(len, output.splitlines())) <= 100
    told = " ".join(page.words for page in read_pdf((shed / "told.pdf").read_bytes()))
    assert "strokes off one edge" in told and "What helps, each by itself" in told and "grow by about 0.62 mm" in told


def test_json_holds_to_its_schema(shed: Path) -> None:
    """Published schema; nothing missing, nothing that it does not name; every leg of the batch has its place."""
    code, output = said(shed, "--json", "--settings", 2)
    told = json.loads(output)
    schema = json.loads((package_files("jigmaker") / "schemas" / "timber.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    assert code == 0 and [fault.message for fault in Draft202012Validator(schema).iter_errors(told)] == []
    for name, part in schema["properties"].items():
        of = next((each for each in part.get("anyOf", [part]) if "properties" in each), None)
        assert of is None or set(told[name]) == set(of["properties"])
    assert sorted(leg["number"] for leg in told["places"]["legs"]) == list(range(1, 25))
    assert len(told["places"]["layers"]) <= 2
    assert told["legs"]["odd"][0] == 17 and told["damp"]["state"] == "jams"
    assert told["forecast"]["rock_mm"][0] < told["forecast"]["rock_mm"][1]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (r"(?m)^7 = \[\d+\.(\d)", r"7 = [6.9\1", r"timber.toml line \d+: leg 7, width at end A is 6.9"),
        (r"(?m)^7 = .*$", "", r"leg 7 is missing, though others have; measure all 24"),
        (r"(?m)^7 = ", "8 = ", r"timber.toml line \d+: gives a key or a section that was given before"),
    ],
)
def test_a_slip_is_named_with_its_line_and_nothing_is_told(shed: Path, tmp_path: Path, old, new, says) -> None:
    """Exit code 1, one sentence, no figure."""
    slip = tmp_path / "timber.toml"
    slip.write_text(re.sub(old, new, (shed / "timber.toml").read_text("utf-8")), "utf-8")
    code, output = said(shed, "--readings", slip)
    assert code == 1 and re.search(says, output)
    assert "by hand" not in output.lower()


def test_the_kit_takes_the_legs_into_its_papers(shed: Path) -> None:
    """The page of the batch names every leg over its foot with its tape and strokes; without readings it does not."""
    data = {name: (shed / f"{name}.toml").read_bytes() for name in ("job", "shop", "timber")}
    made = kit_plan(read_job(data["job"]), read_shop(data["shop"]), Source(data["job"], data["shop"]))
    source = Source(data["job"], data["shop"], timber_text=data["timber"])
    told = replace(made, timber=timber_for(made.kit, source))
    batch, bare = (
        write_html(setup_document(Bench(each.kit, (), timber=each.timber), with_pictures=False)).decode()
        for each in (told, made)
    )
    assert "near R, A up" in batch and re.search(r">leg 17[^<]* S\d", batch)
    cells = re.findall(r">leg (\d+)(?: T\d)?(?: S\d+)?<", batch)
    assert sorted(map(int, cells)) == list(range(1, 25))
    assert sorted(name.rpartition("-")[2] for name in timber_files(told)) == ["timber.html", "timber.pdf"]
    assert (timber_files(made), timber_for(made.kit, Source(b"", b""))) == ({}, None)
    assert "near R, A up" not in bare
    files = beside_cuts(told, source, ())
    assert files["timber.toml"] == data["timber"] and "timber.toml" not in beside_cuts(made, Source(b"", b""), ())


def test_the_strip_shows_every_leg_at_its_width(shed: Path) -> None:
    """A number for each leg, in the order of their widths within a setting, and an arrow for each that is planed."""
    job = read_job((shed / "job.toml").read_bytes())
    readings = read_timber((shed / "timber.toml").read_bytes(), job)
    places = place_legs(solve(job), readings)
    picture = leg_strip_picture(solve(job), readings, places)
    numbers = [label.text for label in picture.labels if label.text.isdecimal() and label.at[1] > 15]
    read = {leg.number: (leg.end_a_mm, leg.end_b_mm) for leg in readings.legs}
    wanted = [
        str(leg.number)
        for layers in places.layers
        for leg in sorted(
            (leg for leg in places.legs if leg.layers == layers),
            key=lambda leg: read[leg.number]["RL".index(leg.hand)],
        )
    ]
    assert numbers == wanted


def test_labels_keep_apart_and_near() -> None:
    """Far ones stay where they are; two alike move half the distance each; the sum of squares is least by trial."""
    assert spread_out([0.0, 10.0], 4.0) == [0.0, 10.0]
    assert spread_out([5.0, 5.0], 4.0) == [3.0, 7.0]
    draw = random.Random(1)
    for _ in range(50):
        wanted = sorted(draw.uniform(0, 20) for _ in range(6))
        put = spread_out(wanted, 4.0)
        assert all(b - a >= 4.0 - 1e-9 for a, b in pairwise(put))
        cost = sum((a - b) ** 2 for a, b in zip(put, wanted, strict=True))
        for _ in range(200):
            moved = [at + draw.gauss(0, 0.3) for at in put]
            if all(b - a >= 4.0 for a, b in pairwise(moved)):
                assert sum((a - b) ** 2 for a, b in zip(moved, wanted, strict=True)) >= cost - 1e-9
