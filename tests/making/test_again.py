"""Parts of a kit cut again, also from another sheet: what is written, what changes, how it fits the old kit."""

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from jigmaker.cli.main import jigmaker
from jigmaker.errors import JobError, UsageError
from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.again import few_files, folder_name, plan_again, what_changes, whole_files
from jigmaker.making.job_check import Source
from jigmaker.making.kit_json import kit_json
from jigmaker.making.plan import kit_plan
from jigmaker.proof.prove import prove

JOB = read_job(demo_job_text())


@pytest.fixture(scope="module")
def shop(quick_shop):
    """The quick shop, its sheet 9.1 mm thick and 0.1 mm of play in its joints."""
    return read_shop(quick_shop.encode())


@pytest.fixture(scope="module")
def source(quick_shop):
    """The two files."""
    return Source(demo_job_text(), quick_shop.encode())


def again(shop, source, *names, thickness=None):
    """The plan of these parts."""
    return plan_again(JOB, shop, source, names, thickness)


def test_a_thinner_bearer_goes_into_the_old_kit(shop, source):
    """9.2 mm mortises, 8.9 mm tenons: proved in the kit; its own files prove by themselves."""
    plan = again(shop, source, "bearer", thickness=8.9)
    assert folder_name(plan) == "potting-bench-only-bearer"
    assert plan.kit.number == plan_again(JOB, shop, source, ["plate"], None).kit.number
    (told,) = what_changes(plan, shop)
    assert "9.2 mm wide" in told and "0.3 mm of play in them, 0.1 mm before" in told
    whole, cuts = whole_files(plan, source)
    assert errors_in(list(prove(whole, plan.shop).findings)) == []
    assert 335 in {finding.code for finding in prove(whole).findings}  # no sheet of shop.toml's is so thin
    files = few_files(plan, source, shop, cuts)
    stems = {name.rpartition(".")[0] for name in files if "/" in name}
    assert stems == {
        "sheets/potting-bench-sheet-1-of-1-kerf-0.20",
        "parts/potting-bench-bearer-cut-3-finished-size",
        "papers/potting-bench-sheet-1-names",
    }
    assert b"birch plywood, 8.90 mm thick" in files["sheets/potting-bench-sheet-1-of-1-kerf-0.20.svg"]
    kit = json.loads(files["kit.json"])
    assert [(part["slug"], part["thickness_mm"]) for part in kit["parts"]] == [("bearer", 8.9)]
    assert kit["kit_number"] == plan.kit.number
    report = prove(files)
    assert report.passed and report.figures is None, report.findings


def test_a_thinner_plate_changes_the_projection(shop, source):
    """8.9 sheet + 7 standoff + 32 leg = 47.9; the housings are right with it, and wrong with the old 48.1."""
    plan = again(shop, source, "plate", thickness=8.9)
    assert "47.9 mm below the base with this plate, 48.1 mm with the old one" in what_changes(plan, shop)[0]
    whole, _ = whole_files(plan, source)
    report = prove(whole, plan.shop)
    assert errors_in(list(report.findings)) == []
    assert report.figures.projection_mm == pytest.approx(47.9, abs=1e-3)
    wrong = whole | {"kit.json": whole["kit.json"].replace(b'"value_mm": 47.9,', b'"value_mm": 48.1,')}
    assert 459 in {finding.code for finding in prove(wrong, plan.shop).findings}


def test_pieces_stay_where_their_neighbours_hold_them(shop, source):
    """Bearers in the middle of their mortises; the faces of end bearers and stop in the stop plane, 214 mm out."""
    parts = {part.slug: part for part in again(shop, source, "bearer", "end-bearer", "stop", thickness=9.0).kit.parts}

    def faces(slug):
        return [
            (round(place.assembly_from_part.origin[0], 6), round(place.assembly_from_part.origin[0] + 9.0, 6))
            for place in parts[slug].placements
        ]

    assert faces("bearer")[0] == (-4.5, 4.5)
    assert faces("end-bearer") == [(205.0, 214.0), (-214.0, -205.0)]
    assert faces("stop") == [(214.0, 223.0), (-223.0, -214.0)]


def test_from_the_kits_own_sheet_nothing_changes(shop, source):
    """Several parts on one sheet, by their names or slugs, in the order of the kit."""
    plan = again(shop, source, "Mask foot", "stop")
    assert folder_name(plan) == "potting-bench-only-stop-mask-foot"
    assert what_changes(plan, shop) == []
    assert sorted(placed.part.slug for placed in plan.sheets[0].placed) == [*["mask-foot"] * 4, "stop"]


REFUSED = [
    (("bearer",), 9.3, JobError, r"mortises of the kit, which are 9\.2 mm wide.*take one of 9\.2 mm or less"),
    (("fence-or-back-strip",), 8.9, JobError, "bearers stand against its face"),
    (("foot-block-nose",), 8.9, UsageError, "name both with --only"),
    (("beerer",), None, UsageError, "no part beerer; its parts: plate, bearer, "),
]


@pytest.mark.parametrize(("names", "thickness", "error", "words"), REFUSED)
def test_what_cannot_be_is_refused_with_its_reason(names, thickness, error, words, shop, source):
    """And what to do instead."""
    with pytest.raises(error, match=words):
        again(shop, source, *names, thickness=thickness)


def test_the_command_writes_beside_the_kit(bench, monkeypatch):
    """Into a folder of its own, which is replaced when nobody changed it; wrong use is told."""
    words = ["make", f"{bench}/job.toml", "--out", f"{bench}/made", "--only", "taper-scale", "--sheet-thickness", "4"]
    for _ in range(2):
        done = CliRunner().invoke(jigmaker, words)
        assert done.exit_code == 0, done.output
    assert [path.name for path in (bench / "made").iterdir()] == ["potting-bench-only-taper-scale"]
    assert "1 taper scale; sheet 4 mm thick" in done.output and "Nothing else of the kit changes" in done.output
    assert "kit number" not in done.output
    for wrong, said in (
        (["--sheet-thickness", "9"], "only together with --only"),
        (["--only", "stop", "--sheet-thickness", "900"], "must be 2 to 30 mm"),
    ):
        done = CliRunner().invoke(jigmaker, ["make", f"{bench}/job.toml", *wrong])
        assert done.exit_code == 2 and said in done.output


@pytest.fixture(scope="module")
def kits(shop, source):
    """kit.json of the kit, and of one for wider legs."""
    told = []
    for job in (JOB, replace(JOB, leg=replace(JOB.leg, width_mm=71.0))):
        plan = kit_plan(job, shop, source)
        told.append(kit_json(plan, (), {}))
    return told


@pytest.mark.parametrize(
    ("place", "is_numbered"),
    [("", True), ("made/potting-bench", False)],
    ids=["beside the job", "where the kit goes, without a number"],
)
def test_a_part_of_another_kit_than_the_one_that_lies_there_is_told(kits, bench, place, is_numbered):
    """In one sentence with both numbers; of a kit that was made before there were numbers too, by its parts. Nothing is
    said for the same kit, nor of a gauge, nor where no kit can be read."""
    number = json.loads(kits[0])["kit_number"]

    def said(*words):
        args = ["make", str(bench / "job.toml"), "--out", str(bench / "made"), *words]
        done = CliRunner().invoke(jigmaker, args)
        assert done.exit_code == 0, done.output
        return " ".join(done.output.split())

    folder = bench / place
    folder.mkdir(parents=True, exist_ok=True)
    for kit in kits:
        told = json.loads(kit)
        own = told["kit_number"] if is_numbered else told.pop("kit_number")
        (folder / "kit.json").write_text(json.dumps(told), "utf-8")
        sentence = f"kit number {number}; the kit in {folder} is {own}: its jig was made from other figures"
        assert (sentence in said("--only", "stop")) is (own != number)
        assert "kit number" not in said("--only", "taper-scale")
    (folder / "kit.json").write_text("{}", "utf-8")
    assert "kit number" not in said("--only", "stop")
