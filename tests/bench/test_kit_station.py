"""The kit made from the page: the bytes of jigmaker make, given out only as they were made; stopped, pressed twice."""

import io
import json
import os
import signal
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_client import Bench
from sample_jobs import ideal_shop_text, small

from jigmaker.job.demo import demo_job_text

PATIENCE_S = 600.0


def waited(bench: Bench) -> dict:
    """What the page is told when the make is over."""
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        told = bench.get("progress").json
        if not told["running"]:
            return dict(told)
        time.sleep(0.1)
    raise AssertionError("still making")


def opened(folder: Path) -> Bench:
    """A bench of the demo's job in a shop that leaves out what a kit can do without."""
    (folder / "job.toml").write_bytes(demo_job_text())
    (folder / "shop.toml").write_text(small(ideal_shop_text()), "utf-8")
    return Bench(folder)


def pressed(bench: Bench) -> dict:
    """The button."""
    return dict(bench.post("make", {"mark": bench.place.files().mark}).json)


@pytest.fixture(scope="module")
def made(tmp_path_factory) -> Iterator[Bench]:
    """A bench whose kit was made."""
    bench = opened(tmp_path_factory.mktemp("made"))
    assert pressed(bench)["running"]
    bench.end = waited(bench)
    yield bench
    bench.place.close()


def test_the_zip_is_what_make_writes(made, tmp_path):
    """Name by name and byte by byte, and twice the same bytes."""
    command = [sys.executable, "-m", "jigmaker", "make", made.folder / "job.toml", "--out", tmp_path]
    subprocess.run(command, check=True, capture_output=True)
    folder = tmp_path / "potting-bench"
    wanted = {path.relative_to(tmp_path).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    packed = made.get("kit.zip").data
    with zipfile.ZipFile(io.BytesIO(packed)) as archive:
        assert {name: archive.read(name) for name in archive.namelist()} == wanted
    assert made.get("kit.zip").data == packed


def test_the_page_says_what_was_made(made):
    """The verdict, large, the files in the order of the work, each of them there."""
    assert "Proved." in made.end["kit"] and "Proof passed" in made.end["kit"]
    assert made.end["said"] == "Made from the figures shown."
    page = made.get("kit").text
    at = [page.index(words) for words in ("Set-up sheets", "The coupon", "Sheet 1 of", "kit.zip")]
    assert at == sorted(at)
    links = {each.split('"')[0] for each in page.split('href="')[1:] if each.startswith("made/")}
    assert len(links) > 20
    for link in links:
        answer = made.get(link)
        assert answer.status_code == 200
        assert answer.data == (made.folder / link).read_bytes()
    index = made.get("made/potting-bench/index.html")
    assert "script-src" not in index.headers["Content-Security-Policy"]
    assert "sandbox allow-same-origin allow-popups allow-downloads" in index.headers["Content-Security-Policy"]


def test_a_changed_figure_asks_to_make_again(made):
    """Typed or written: the kit is no longer that of the figures shown."""
    made.live({"job:trestle.height": "730"})
    assert "Write and make" in made.get("progress").json["rail"]
    made.live({"job:trestle.height": "720"})
    assert "Made from the figures shown." in made.get("progress").json["rail"]
    job = made.folder / "job.toml"
    before = job.read_bytes()
    job.write_bytes(before.replace(b"height = 720", b"height = 730"))
    try:
        told = made.get("progress").json
        assert "Make again" in told["rail"] and "other figures" in told["kit"]
    finally:
        job.write_bytes(before)


def test_links_and_changed_files_are_not_given_out(made, tmp_path):
    """A link under a new name or a listed one, a file in a folder that is a link, one that was changed: 404, in the zip
    too."""
    folder, secret = made.folder / "made/potting-bench", tmp_path / "secret.txt"
    secret.write_text("nobody's business")
    listed = folder / "papers" / "potting-bench-cut-list.csv"
    kept = listed.read_bytes()
    (folder / "new.txt").symlink_to(secret)
    assert made.get("made/potting-bench/new.txt").status_code == 404
    try:
        listed.unlink()
        listed.symlink_to(secret)
        assert made.get("made/potting-bench/papers/potting-bench-cut-list.csv").status_code == 404
        assert made.get("kit.zip").status_code == 404
        listed.unlink()
        listed.write_bytes(kept + b"x")
        assert made.get("made/potting-bench/papers/potting-bench-cut-list.csv").status_code == 404
        (folder / "papers").rename(tmp_path / "papers")
        listed_there = tmp_path / "papers" / listed.name
        listed_there.write_bytes(kept)
        (folder / "papers").symlink_to(tmp_path / "papers")
        assert made.get("made/potting-bench/papers/potting-bench-cut-list.csv").status_code == 404
    finally:
        (folder / "papers").unlink()
        (tmp_path / "papers").rename(folder / "papers")
        (folder / "new.txt").unlink()
    assert made.get("made/potting-bench/papers/potting-bench-cut-list.csv").data == kept


def test_what_stops_a_make_leaves_nothing(tmp_path):
    """Pressed twice it is one make; stopped, and killed, nothing half written is there, and the page says so."""
    bench = opened(tmp_path)
    pressed(bench)
    child = bench.place.making._child
    assert pressed(bench)["running"] and bench.place.making._child is child
    told = bench.post("stop", {}).json
    assert not told["running"] and "Stopped. Nothing was written." in told["rail"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "shop.toml"]
    pressed(bench)
    os.kill(bench.place.making._child.pid, signal.SIGKILL)
    assert "ended by itself" in waited(bench)["kit"]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["job.toml", "shop.toml"]


def test_a_folder_of_somebody_elses_is_not_replaced(tmp_path):
    """As the command refuses it, in its words."""
    bench = opened(tmp_path)
    (tmp_path / "made/potting-bench").mkdir(parents=True)
    (tmp_path / "made/potting-bench/notes.txt").write_text("mine")
    pressed(bench)
    told = waited(bench)
    assert "holds files that jigmaker did not write" in told["kit"] and "notes.txt" in told["kit"]
    assert (tmp_path / "made/potting-bench/notes.txt").read_text() == "mine"


def test_nothing_is_made_of_other_files_than_those_shown(made):
    """A mark that is not that of the disk: a sentence, and no make."""
    answer = made.post("make", {"mark": "another"})
    assert answer.status_code == 409 and "changed on the disk" in json.dumps(answer.json)
    assert not made.place.making.is_running
