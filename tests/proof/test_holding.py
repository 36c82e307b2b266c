"""Bridges and screws as the judge finds them: a good kit's, and each fault in the files or in what is told of them."""

import json
import re

import pytest
from kit_cache import made
from sample_jobs import ideal_shop_text, quick
from small_folder import edit_dxf, edit_kit, on_layer

from jigmaker.job.demo import demo_job_text
from jigmaker.proof.checks.holding import prove_holding
from jigmaker.proof.readers.read_folder import read_folder

CNC = 'kind = "cnc"\ncutter = 3.175\nbridges = 3\n'
BRIDGE, NOTE, OUTER = "BRIDGE", "NOTE", "OUTER"


@pytest.fixture(scope="module")
def kit():
    """The demo's kit for a router, both kinds of lines, crosses for screws; files of one sheet and part."""
    text = re.sub('kind = "laser"\nkerf.*\n', CNC, quick(ideal_shop_text()))
    text = re.sub(r'compensation = ".*"', 'compensation = "both"', text).replace("write = false", "write = true")
    text = re.sub("(?m)^(length|width) = .*$", r"\1 = 700", text, count=2)
    files = made(demo_job_text(), text.encode())
    told = json.loads(files["kit.json"])
    told["sheets"] = told["sheets"][:1]
    for part in told["parts"]:
        part["files"] = part["files"] if part["slug"] == "taper-gauge" else []
    names = [file["name"] for owner in (*told["parts"], *told["sheets"]) for file in owner["files"]]
    kept = {name: files[name] for name in ("job.toml", "shop.toml", "numbers.json", *names)}
    told["files"] = {name: told["files"][name] for name in kept}
    return {"kit.json": json.dumps(told).encode(), **kept}


def judged(files):
    folder, _ = read_folder(files)
    return prove_holding(folder)


def sheet_dxf(kit, words):
    return next(name for name in kit if name.startswith("sheets/") and words in name and name.endswith(".dxf"))


def test_a_good_kit_has_no_fault_and_tells_what_hangs_on_no_bridge(kit):
    """As many pieces as kit.json places of parts that it says have none, each with what holds it."""
    findings, loose = judged(kit)
    assert findings == []
    told = json.loads(kit["kit.json"])
    by = {part["slug"]: part["held_by"] for part in told["parts"] if not part["bridges"]}
    placed = [piece["part"] for piece in told["sheets"][0]["pieces"]]
    assert {(held.sheet, held.part, held.pieces, held.by) for held in loose} == {
        ("sheet-1", slug, placed.count(slug), by[slug]) for slug in by if slug in placed
    }
    assert loose and set(by.values()) == {"screw", "tape"}
    assert {"foot-pad", "taper-gauge"}.isdisjoint(by)


def _lengthened(mark, _):
    (x0, y0), (x1, y1) = ((p.x, p.y) for p in (mark.dxf.start, mark.dxf.end))
    mark.dxf.end = (x1 + (x1 - x0) * 0.1, y1 + (y1 - y0) * 0.1)


def _slid(mark, outlines):
    """Along its edge to where the edge ends: a corner with another edge."""
    middle = ((mark.dxf.start.x + mark.dxf.end.x) / 2, (mark.dxf.start.y + mark.dxf.end.y) / 2)
    corners = [(x, y) for outline in outlines for x, y in outline]
    near = [at for at in corners if min(abs(at[0] - middle[0]), abs(at[1] - middle[1])) < 1e-4]
    if not near:  # on a slanting edge
        return
    x, y = min(near, key=lambda at: abs(at[0] - middle[0]) + abs(at[1] - middle[1]))
    dx, dy = x - middle[0], y - middle[1]
    share = 1 - 3.0 / max(abs(dx), abs(dy))
    mark.translate(dx * share, dy * share, 0)


def _turned(mark, _):
    middle = (mark.dxf.start + mark.dxf.end) / 2
    mark.translate(-middle.x, -middle.y, 0).rotate_z(0.2).translate(middle.x, middle.y, 0)


def _of(document, layer):
    """The straight marks of the layer as LINE entities, for a library that moves them."""
    found = []
    for entity in on_layer(document, layer):
        if entity.dxftype() == "LWPOLYLINE" and len(entity) == 2:
            (start, end), space = [(p[0], p[1]) for p in entity.get_points()], document.modelspace()
            entity.destroy()
            found.append(space.add_line(start, end, dxfattribs={"layer": layer}))
        elif entity.dxftype() == "LINE":
            found.append(entity)
    return found


@pytest.mark.parametrize("spoil", [_lengthened, _turned])
def test_a_mark_that_is_no_bridge_is_found(kit, spoil):
    """Too long, or askew: in the one file that was changed."""
    files, name = dict(kit), sheet_dxf(kit, "finished-size")
    edit_dxf(files, name, lambda document: spoil(_of(document, BRIDGE)[0], []))
    findings, _ = judged(files)
    assert {(each.code, each.part) for each in findings} == {(258, name)}


def test_a_bridge_near_what_works_is_found(kit):
    """Slid along its edge to within a few mm of a corner where an edge that works begins."""
    files, name = dict(kit), sheet_dxf(kit, "finished-size")

    def change(document):
        outlines = [[(p[0], p[1]) for p in each.get_points()] for each in on_layer(document, OUTER)]
        for mark in _of(document, BRIDGE):
            _slid(mark, outlines)

    edit_dxf(files, name, change)
    says = " ".join(each.says for each in judged(files)[0])
    assert "comes within 5 mm of something that works" in says


def test_a_missing_bridge_is_found(kit):
    """The piece has one less than is told."""
    files, name = dict(kit), sheet_dxf(kit, "finished-size")
    edit_dxf(files, name, lambda document: on_layer(document, BRIDGE)[0].destroy())
    (finding,) = judged(files)[0]
    assert (finding.code, finding.part) == (258, name) and "kit.json tells 3" in finding.says


def test_an_edge_that_works_carries_no_bridge(kit):
    """With no edge of the taper gauge free any more, its bridge is a fault: as a mark and as a gap in the lines."""
    files = dict(kit)

    def change(told):
        gauge = next(part for part in told["parts"] if part["slug"] == "taper-gauge")
        for feature in gauge["features"]:
            feature["kind"] = "edge" if feature["kind"] == "free" else feature["kind"]

    edit_kit(files, change)
    findings, _ = judged(files)
    assert all("stands on an edge that something depends on" in each.says for each in findings)
    kinds = {("finished-size" in each.part, each.part.startswith("parts/")) for each in findings}
    assert kinds >= {(True, True)} and len(kinds) == (3 if _is_on_first_sheet(kit) else 1)


def _is_on_first_sheet(kit):
    return any(piece["part"] == "taper-gauge" for piece in json.loads(kit["kit.json"])["sheets"][0]["pieces"])


def test_a_screw_within_the_cutters_reach_is_found(kit):
    """A cross moved to the middle of a board's edge; and one that is not told any more."""
    files, name = dict(kit), sheet_dxf(kit, "cutter")

    def change(document):
        x, y = next((p[0], p[1]) for p in on_layer(document, OUTER)[0].get_points())
        first, second = _of(document, NOTE)[:2]
        middle = (first.dxf.start + first.dxf.end) / 2
        for arm in (first, second):
            arm.translate(x - middle.x, y - middle.y, 0)

    edit_dxf(files, name, change)
    findings, _ = judged(files)
    assert {(each.code, each.part) for each in findings} == {(259, name)}
    assert any("within the cutter's reach" in each.says and each.limit == "13.175 mm" for each in findings)
    assert any("there is no cross for the screw" in each.says for each in findings)


def test_kits_that_tell_nothing_of_it_are_not_judged(kit):
    """As kits were before."""
    files = dict(kit)

    def change(told):
        for part in told["parts"]:
            part.pop("bridges"), part.pop("held_by")

    edit_kit(files, change)
    assert judged(files) == ([], ())
