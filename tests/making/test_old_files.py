"""Files as an older jigmaker wrote them (tests/old_files, by the last version that made kit 1): still read and made."""

import io
import zipfile

import pytest
from click.testing import CliRunner

from jigmaker.cli.main import jigmaker
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.plan import plan
from jigmaker.proof.prove import prove

PAIRS = [("demo", "demo"), ("new_mm", "new_mm"), ("new_in", "new_in"), ("pair", "pair")]


@pytest.fixture(scope="module")
def kit_1(old_file):
    """A folder of kit 1: the demo in R12, without marks, notes and papers."""
    with zipfile.ZipFile(io.BytesIO(old_file("kit_1.zip"))) as packed:
        return {name: packed.read(name) for name in packed.namelist()}


@pytest.mark.parametrize(("job", "shop"), PAIRS)
def test_old_jobs_and_shops_still_go(job, shop, old_file):
    """Read, judged and planned without a fault."""
    texts = old_file(f"{job}_job.toml"), old_file(f"{shop}_shop.toml")
    made = plan(read_job(texts[0]), read_shop(texts[1]), Source(*texts))
    assert len(made.kit.parts) > 20


def test_old_forms_still_read(old_file, tmp_path):
    """Both forms of the coupon, and the form for the feet, through the commands that read them."""
    for name in ("demo_job.toml", "demo_shop.toml", "pair_shop.toml", "coupon_form.toml", "coupon_form_in.toml"):
        (tmp_path / name).write_bytes(old_file(name))
    (tmp_path / "level_form.toml").write_bytes(old_file("level_form.toml"))
    for words, said in (
        ("coupon --read {}/coupon_form.toml --shop {}/demo_shop.toml", "nothing to change"),
        ("coupon --read {}/coupon_form_in.toml --shop {}/pair_shop.toml", "nothing to change"),
        ("level {}/demo_job.toml --shop {}/demo_shop.toml --readings {}/level_form.toml", "717.2 mm"),
    ):
        done = CliRunner().invoke(jigmaker, [word.format(tmp_path) for word in words.split()])
        assert done.exit_code == 0, done.output
        assert said in done.output


def test_a_kit_of_old_is_proved(kit_1):
    """It passed when it was made; now it passes too, and its age is told."""
    report = prove(kit_1)
    assert report.passed, [finding.sentence() for finding in report.findings]
    assert [finding.code for finding in report.findings] == [126]


def test_an_old_kit_is_still_judged(kit_1):
    """A file missing, and another job, are faults at any age."""
    name = next(name for name in kit_1 if name.endswith(".dxf"))
    spoilt = {key: data for key, data in kit_1.items() if key != name}
    spoilt["job.toml"] = kit_1["job.toml"].replace(b"height = 720", b"height = 721")
    report = prove(spoilt)
    assert not report.passed
    assert {122, 124} <= {finding.code for finding in report.findings if finding.severity == "error"}


def test_what_no_old_kit_could_know_is_a_caution(kit_1, monkeypatch):
    """A check that came later tells, and fails nobody for his age."""
    name = next(name for name in kit_1 if name.endswith(".dxf"))
    spoilt = {key: data for key, data in kit_1.items() if key != name}
    monkeypatch.setattr("jigmaker.proof.prove.SINCE_KIT_2", frozenset({122, 341}))
    assert {finding.code for finding in prove(spoilt).findings if finding.severity == "caution"} >= {122, 126}


def test_a_kit_of_later_is_refused_with_its_reason(kit_1):
    """In words that name the number."""
    later = kit_1 | {"kit.json": kit_1["kit.json"].replace(b"jigmaker kit 1", b"jigmaker kit 3")}
    report = prove(later)
    assert not report.passed
    assert any('must be "jigmaker kit 2" or older' in finding.says for finding in report.findings)


def test_made_over_an_old_folder_the_new_colours_are_told_once(kit_1, tmp_path, monkeypatch):
    """A folder of kit 1 is replaced like any; the second time nothing is said of it."""
    for name, data in kit_1.items():
        path = tmp_path / "out" / "potting-bench" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    (tmp_path / "job.toml").write_bytes(kit_1["job.toml"])
    (tmp_path / "shop.toml").write_bytes(kit_1["shop.toml"])
    monkeypatch.setattr("jigmaker.making.paper_files.PAPERS", ())
    told = []
    for _ in range(2):
        done = CliRunner().invoke(jigmaker, ["make", f"{tmp_path}/job.toml", "--out", f"{tmp_path}/out"])
        assert done.exit_code == 0, done.output
        told.append(done.output.count("when this folder was last made"))
    assert told == [4, 0]
