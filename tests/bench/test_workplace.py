"""Nothing is lost: what is typed outlives the server, what is written was asked for, what others wrote stays."""

import contextlib
import json
import re
import stat
import sys
import threading

import pytest
from bench_client import Bench
from hypothesis import given
from hypothesis import strategies as st
from sample_jobs import ideal_shop_text

from jigmaker.bench.fields import JOB_SHOWN, RULES, as_written, to_toml
from jigmaker.bench.server import LOCK, listen, open_already
from jigmaker.bench.workplace import DRAFT
from jigmaker.job.demo import demo_job_text
from jigmaker.job.edit import edit_file
from jigmaker.job.read import read_job, read_shop

SHOP = {
    "shop:machine.kind": "laser",
    "shop:sheet.thickness": "9.1",
    "shop:sheet.length": "600",
    "shop:sheet.width": "400",
    "shop:machine.kerf": "0.20",
    "shop:hand_router.base": "150",
    "shop:hand_router.bush": "17",
    "shop:hand_router.cutter": "12",
}
START = {"start:for": "planting", "start:height": "720", "start:boards": "45x120, 32x70, 18x110", "start:trestles": "6"}


def asked(bench: Bench) -> str:
    """The dialog's words."""
    return bench.post("ask", {"mark": bench.place.files().mark, "then": ""}).text


def written(bench: Bench, mark: str = "") -> int:
    """The dialog's yes."""
    return bench.post("write", {"mark": mark or bench.place.files().mark}).status_code


def test_what_is_written_changes_one_number(bench):
    """The dialog shows old beside new; the file keeps every other sign."""
    before = (bench.folder / "job.toml").read_text("utf-8")
    bench.live({"job:trestle.height": "735"})
    assert (bench.folder / "job.toml").read_text("utf-8") == before
    words = re.sub(r"<[^>]*>|\s+", " ", asked(bench))
    assert "Height, floor to top face" in words and "720" in words and "735" in words
    assert written(bench) == 200
    after = (bench.folder / "job.toml").read_text("utf-8")
    changed = [(a, b) for a, b in zip(before.split("\n"), after.split("\n"), strict=True) if a != b]
    assert len(changed) == 1 and changed[0][0].replace("720", "735") == changed[0][1]
    assert bench.place.typed == {}


def test_wrong_figures_are_not_written(bench):
    """409 with the sentence; the files are as they were."""
    bench.live({"job:leg.width": "7"})
    answer = bench.post("write", {"mark": bench.place.files().mark})
    assert answer.status_code == 409 and "Leg, wide face is 7 mm" in json.dumps(answer.json)
    assert (bench.folder / "job.toml").read_bytes() == demo_job_text()


def test_a_file_changed_meanwhile_is_not_overwritten(bench):
    """Two tabs, or an editor: the second save is refused, both values are shown, and either can be kept."""
    mark = bench.place.files().mark
    bench.live({"job:trestle.height": "735", "job:trestle.inset": "125"})
    job = bench.folder / "job.toml"
    job.write_bytes(job.read_bytes().replace(b"height = 720", b"height = 701"))
    theirs = job.read_bytes()
    assert written(bench, mark) == 409
    assert job.read_bytes() == theirs
    told = bench.live({}, mark=mark).json["parts"]["notice"]
    assert [each in told for each in ("720", "701", "735", "changed outside")] == [True] * 4
    assert bench.post("drop", {"which": "outside"}).status_code == 200
    assert bench.place.typed == {"job:trestle.inset": "125"}
    assert written(bench) == 200
    assert job.read_bytes() == theirs.replace(b"inset = 120", b"inset = 125") != theirs


def test_what_was_typed_outlives_the_server(bench):
    """Kept beside job.toml; taken up by the next server, and told; a draft that is none does no harm."""
    bench.live({"job:trestle.height": "735"})
    bench.place.close()
    again = Bench(bench.folder)
    page = again.get().text
    assert 'value="735"' in page and "1 answer from last time is not written" in page
    assert again.post("drop", {"which": "all"}).status_code == 200
    again.place.close()
    assert not (bench.folder / DRAFT).exists()
    for text in ("", "[]", '{"typed": {"a": 1}, "before": {}}', "[" * 9999):
        (bench.folder / DRAFT).write_text(text)
        assert Bench(bench.folder).place.typed == {}


def test_two_tabs_are_told_of_each_other(bench):
    """The last one to type counts; the other is told."""
    assert "another tab" not in bench.live({"job:trestle.height": "735"}, tab="a").json["parts"]["notice"]
    told = bench.live({"job:trestle.height": "740"}, tab="b", serial=1).json["parts"]["notice"]
    assert "in another tab too" in told
    assert bench.place.typed["job:trestle.height"] == "740"


def test_what_was_overtaken_while_it_waited_keeps_nothing_older(bench):
    """An older request that waits while a newer one is answered leaves what the newer one brought."""

    class Late(contextlib.nullcontext):
        def __enter__(self):
            bench.place.lock = threading.Lock()
            bench.live({"job:trestle.height": "735"}, serial=9)

    bench.place.lock = Late()
    assert bench.live({"job:trestle.height": "73"}, serial=8).status_code == 204
    assert bench.place.typed["job:trestle.height"] == "735"


def test_who_saws_housings_is_asked_for_no_router(empty_bench):
    """A new shop with saw and chisel: their figures are asked for in the router's place, whatever was typed of one."""
    bench, router = empty_bench, [name for name in SHOP if "hand_router" in name]
    tools = {"hand_saw.plate": "0.8", "hand_saw.kerf": "1", "hand_saw.depth": "75", "hand_saw.back": "6"}
    tools |= {"hand_saw.length": "300", "chisel.blade": "140"}
    typed = {f"shop:{key}": value for key, value in tools.items()}
    bench.live(START)
    said = bench.live({**SHOP, "shop:housing_work.by": "saw and chisel"}, "shop").json["parts"]["rail"]
    assert len(router) == 3 and "6 answers are still open." in said and 'data-do="field:shop:hand_saw.plate"' in said
    hidden = re.findall(r'data-name="(shop:(?:hand_|chisel)[^"]*)" hidden', bench.get("shop").get_data(as_text=True))
    assert sorted(hidden) == sorted(router)
    assert "Write the files" in bench.live(typed, "shop").json["parts"]["rail"]
    assert "New: job.toml and shop.toml" in asked(bench) and written(bench) == 200
    shop = read_shop((bench.folder / "shop.toml").read_bytes())
    assert (shop.hand_router, shop.saws_housings, shop.routs_housings) == (None, True, False)
    assert shop.hand_saw is not None and shop.hand_saw.depth_mm == 75


def test_an_empty_folder_asks_and_assumes_nothing(empty_bench):
    """Four answers give a trestle; its jig waits for the shop's own figures, of which each is asked for."""
    bench = empty_bench
    told = bench.live(START).json
    assert told["faults"] == {} and "720 mm" in told["parts"]["board"] and "Next: the shop" in told["parts"]["rail"]
    assert written(bench) == 409
    known = dict(SHOP)
    for name in SHOP:
        bench.live({name: ""}, "shop")
        typed = {key: value for key, value in known.items() if key != name}
        rail = bench.live({**typed, name: ""}, "shop").json["parts"]["rail"]
        assert "1 answer is still open." in rail and f'data-do="field:{name}"' in rail
        assert written(bench) == 409
    assert sorted(path.name for path in bench.folder.iterdir() if path.name != DRAFT) == []
    assert "Write the files" in bench.live(SHOP, "shop").json["parts"]["rail"]
    assert "New: job.toml and shop.toml" in asked(bench)
    assert written(bench) == 200
    job = read_job((bench.folder / "job.toml").read_bytes())
    shop = read_shop((bench.folder / "shop.toml").read_bytes())
    assert (job.name, job.height_mm, job.trestles, job.top.width_mm) == ("Potting bench", 720, 6, 120)
    assert (shop.sheet.thickness_mm, shop.machine.tool_mm, shop.hand_router.bush_mm) == (9.1, 0.2, 17)
    assert b"kerf = 0.20" in (bench.folder / "shop.toml").read_bytes()  # as it was typed


def test_a_router_of_three_axes_has_a_cutter(empty_bench):
    """kind = cnc in a new shop: its cutter is asked for in place of a kerf, and what suits it is proposed."""
    empty_bench.live({**START, **SHOP, "shop:machine.kind": "cnc", "shop:machine.kerf": ""}, "shop")
    assert written(empty_bench) == 409
    empty_bench.live({"shop:machine.cutter": "6"}, "shop")
    assert written(empty_bench) == 200
    machine = read_shop((empty_bench.folder / "shop.toml").read_bytes()).machine
    assert (machine.kind, machine.tool_mm, machine.compensation, machine.marking) == ("cnc", 6, "left out", "short")


def test_a_kit_from_paper_asks_for_no_width(empty_bench):
    """kind = paper in a new shop: neither kerf nor cutter is asked for, and the limits are a hand's."""
    told = empty_bench.live({**START, **SHOP, "shop:machine.kind": "paper", "shop:machine.kerf": ""}, "shop").json
    assert "shop:machine.kerf" not in told["parts"]["rail"] and "shop:machine.cutter" not in told["parts"]["rail"]
    assert written(empty_bench) == 200
    machine = read_shop((empty_bench.folder / "shop.toml").read_bytes()).machine
    assert (machine.kind, machine.tool_mm, machine.accuracy_mm) == ("paper", 0, 0.5)


def test_a_laser_given_up_for_paper(bench):
    """The kerf goes with it; how near a machine cuts is no hand's figure, and is asked for again."""
    told = bench.live({"shop:machine.kind": "paper"}, "shop").json
    assert "finer than paper" in str(told)
    bench.live({"shop:machine.accuracy": "0.5"}, "shop")
    assert written(bench) == 200
    machine = read_shop((bench.folder / "shop.toml").read_bytes()).machine
    assert (machine.kind, machine.tool_mm, machine.accuracy_mm) == ("paper", 0, 0.5)


def test_a_wrong_value_keeps_the_last_good_picture(bench):
    """Pale, and said so; the picture comes back with the next good figure."""
    good = bench.live({}).json["parts"]["board"]
    svg = good[good.index("<svg") : good.rindex("</svg>")]
    told = bench.live({"job:leg.width": "7"}).json
    assert svg in told["parts"]["board"] and "last good figures" in told["parts"]["board"]
    assert "1 figure is wrong." in told["parts"]["rail"] and 'data-do="field:job:leg.width"' in told["parts"]["rail"]
    assert "last good" not in bench.live({"job:leg.width": "70"}).json["parts"]["board"]


def test_every_figure_of_the_trestle_has_its_dimension(bench):
    """The field that somebody is at draws it; names and units have none."""
    board = bench.live({}).json["parts"]["board"]
    drawn = set(re.findall(r'data-for="([^"]*)"', board))
    edited = [f"job:{section.name}.{rule.key}" for section in JOB_SHOWN for rule in section.rules]
    assert drawn == {name for name in edited if not name.startswith("job:job.")}


def test_tables_that_the_page_does_not_know_are_shown_and_kept(bench):
    """A second [[sheet]] of shop.toml is on the page, and an edit leaves it as it stands."""
    shop = bench.folder / "shop.toml"
    more = '\n[[sheet]]  # the off-cut\nmaterial = "off-cut"\nthickness = 9.1\nlength = 300\nwidth = 200\nmargin = 5\n'
    shop.write_text(shop.read_text("utf-8").replace("[sheet]", "[[sheet]]", 1) + more, "utf-8")
    assert "# the off-cut" in bench.get("shop").text
    bench.live({"shop:hand_router.base": "160"}, "shop")
    assert written(bench) == 200
    assert more in shop.read_text("utf-8") and "base = 160" in shop.read_text("utf-8")


def test_a_file_that_is_no_toml_is_told(bench):
    """Half saved by an editor: its sentence, and nothing is written over it."""
    (bench.folder / "job.toml").write_bytes(b"[job\nname = 1\n")
    page = bench.get()
    assert page.status_code == 200 and "job.toml line 1: is not TOML" in page.text
    assert bench.live({"job:trestle.height": "1"}).status_code in (200, 409)
    assert (bench.folder / "job.toml").read_bytes() == b"[job\nname = 1\n"


FILES = {"job": demo_job_text(), "shop": ideal_shop_text()}
WORDS = st.text(st.characters(codec="utf-8"), max_size=30)


@given(st.sampled_from([name for table, data in FILES.items() for name in as_written(data, table)]), WORDS)
def test_whatever_is_typed_one_value_changes(name, words):
    """Over both demo files: the edited file reads as typed there, and as before everywhere else; one line changes."""
    table, _, key = name.partition(":")
    value = to_toml(RULES[name], words)
    after = edit_file(FILES[table], {key: value}, f"{table}.toml")
    old, new = dict(as_written(FILES[table], table)), dict(as_written(after, table))
    old.pop(name)
    new.pop(name, None)
    assert old == new
    lines = [data.decode().split("\n") for data in (FILES[table], after)]
    assert sum(a != b for a, b in zip(*lines, strict=True)) <= 1


def test_a_taken_port_gives_the_next(tmp_path):
    """A socket of our own on 127.0.0.1; another on the same port is not shared."""
    first = listen(None)
    second = listen(first.port)
    try:
        assert second.other_port and second.port != first.port
        assert first.sock.getsockname()[0] == second.sock.getsockname()[0] == "127.0.0.1"
        assert len(first.token) == 32 and first.token != second.token
    finally:
        first.sock.close()
        second.sock.close()


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"port": "x", "token": 1}', '{"port": 1, "token": "a"}'])
def test_a_folder_is_open_only_where_its_server_answers(tmp_path, text):
    """What a killed server left behind does not keep the next one away."""
    (tmp_path / LOCK).write_text(text)
    assert open_already(tmp_path) is None


def test_the_lock_is_for_its_owner_alone(tmp_path):
    """It holds the token."""
    from jigmaker.bench.server import _take

    opened = listen(None)
    _take(tmp_path / LOCK, opened)
    if sys.platform != "win32":
        assert stat.S_IMODE((tmp_path / LOCK).stat().st_mode) == 0o600
    assert json.loads((tmp_path / LOCK).read_bytes())["port"] == opened.port
    opened.sock.close()
