"""The front door for programs: what `from jigmaker import ...` gives, and that it does what the commands do."""

import doctest
import subprocess
import sys
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path

import pytest
from random_kits import random_kit
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, quick

import jigmaker
from jigmaker import api
from jigmaker.job import read
from jigmaker.job.demo import demo_boards_text, demo_job_text, demo_shop_text
from jigmaker.job.job import lean_for
from jigmaker.job.write import job_text, shop_text
from jigmaker.making import paper_files
from jigmaker.proof import prove as proof

ROOT = Path(__file__).parent.parent
INCHES = replace(JOB_A, unit="in", height_mm=700.123456789)
CHOSEN = replace(DEMO, rake_deg=lean_for(720)[1], splay_deg=lean_for(720)[1], angle_chosen=True)


def test_the_examples_in_docstrings_print_what_they_show(monkeypatch):
    """They name files of the repository."""
    monkeypatch.chdir(ROOT)
    assert doctest.testmod(api).failed == 0
    assert doctest.testmod(api).attempted >= 4


def test_every_name_is_there_and_none_is_loaded_unasked():
    """`jigmaker --help` imports the package too, and must not wait for what works."""
    names = sorted(set(jigmaker.__all__) - {"__version__"})
    code = f"import sys, jigmaker; print('jigmaker.api' in sys.modules); [getattr(jigmaker, name) for name in {names}]"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
    with pytest.raises(AttributeError, match="no attribute 'mak'"):
        _ = jigmaker.mak


@pytest.mark.parametrize("job", [DEMO, INCHES, CHOSEN], ids=["mm", "inches", "angles chosen"])
def test_a_jobs_text_says_the_same_job(job):
    """Whatever unit it is in, and with angles chosen where they were."""
    assert read.read_job(job_text(job)) == job


def test_texts_of_jobs_and_shops_of_every_kind_read_back_equal():
    """Sixty drawn kits, laser and CNC, crooked and not, with further sheets."""
    kits = [random_kit(seed) for seed in range(60)]
    assert {shop.machine.kind for _, shop in kits} == {"laser", "cnc"}
    wrong = [job.name for job, _ in kits if read.read_job(job_text(job)) != job]
    assert wrong + [shop for _, shop in kits if read.read_shop(shop_text(shop)) != shop] == []
    two = replace(DEMO_SHOP, further_sheets=(replace(DEMO_SHOP.sheet, thickness_mm=6.2, serves=("gauges",), count=2),))
    assert read.read_shop(shop_text(two)) == two


def test_a_job_read_keeps_its_file_and_a_changed_one_gets_another():
    """The user's comments go into the kit, but never a text that says something else than the job."""
    from jigmaker.job.write import job_with_text

    job = read.read_job(demo_job_text(), "mine.toml")
    assert job_with_text(job).read_from == job.read_from
    higher = job_with_text(replace(job, height_mm=730))
    assert higher.read_from.data != demo_job_text()
    assert read.read_job(higher.read_from.data).height_mm == 730


BY_COMMAND = """
from jigmaker.__main__ import main
from jigmaker.making import paper_files
paper_files.PAPERS = (paper_files.full_size_files, paper_files.boards_files)
main()
"""


def test_make_gives_exactly_the_commands_folder(tmp_path, monkeypatch, bench):
    """Byte for byte, papers included, though the command may make some of them in a second process; two papers stand
    for all, one of either kind. And prove takes the folder and the files for the same."""
    monkeypatch.setattr(paper_files, "PAPERS", (paper_files.full_size_files, paper_files.boards_files))
    (bench / "boards.toml").write_bytes(demo_boards_text())
    words = ["make", str(bench / "job.toml"), "--out", str(tmp_path / "made")]
    subprocess.run([sys.executable, "-c", BY_COMMAND, *words], check=True, capture_output=True)
    made = jigmaker.make(
        jigmaker.read_job(bench / "job.toml"), jigmaker.read_shop(bench / "shop.toml"), demo_boards_text()
    )
    folder = tmp_path / "made" / "potting-bench"
    written = {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    assert made.files == written
    assert made.report.passed
    monkeypatch.setattr(proof, "prove", dict)  # what it is given, not what it finds
    assert jigmaker.prove(folder) == jigmaker.prove(made.files) == written


def test_a_program_that_makes_a_kit_is_not_forked_unasked(monkeypatch):
    """It may have threads, and work of its own that must not happen twice."""
    monkeypatch.setattr(api, "make_beside", lambda *asked: asked)
    assert api.make(DEMO, DEMO_SHOP)[-1] is nullcontext


def test_a_kit_made_in_code_proves(monkeypatch):
    """No file anywhere: job and shop are records, and their texts lie in the kit."""
    monkeypatch.setattr(paper_files, "PAPERS", ())
    shop = replace(read.read_shop(quick(demo_shop_text()).encode()), read_from=None)
    made = jigmaker.make(replace(DEMO, height_mm=640), shop)
    assert made.report.passed
    assert b"height = 640" in made.files["job.toml"]


def test_faults_are_errors_with_all_sentences(tmp_path):
    """JobError for what a file says, OSError for a file that is not there, UsageError for a folder without a kit."""
    (tmp_path / "job.toml").write_text("[job]\nname = 'A'\nunits = 'mm'\n")
    with pytest.raises(jigmaker.JobError, match="lacks trestles") as caught:
        jigmaker.read_job(tmp_path / "job.toml")
    assert len(caught.value.faults) > 3
    with pytest.raises(FileNotFoundError):
        jigmaker.read_shop(tmp_path / "shop.toml")
    with pytest.raises(jigmaker.JigmakerError, match=r"holds no kit\.json"):
        jigmaker.prove(tmp_path)
