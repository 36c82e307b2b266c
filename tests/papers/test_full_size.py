"""Full-size paper read back from its PDF: bars, margins, tiles that join to the part's own outline, whole words."""

from collections import Counter
from dataclasses import replace

import pytest
import shapely
from drawing_layout import collisions
from full_size_pages import CASES, joined, kit_of, nominal, pages_of, printed, registered, templates_of
from trestle_on_solids import measured_brace

from jigmaker.job.shop import PAPER_MM, Paper
from jigmaker.papers.full_size.bars import BARS_MM
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.papers.full_size.full_size_set import templates as templates_of_kit
from jigmaker.papers.full_size.leaf import Leaf
from jigmaker.papers.full_size.pens import BARS
from jigmaker.papers.full_size.printer_paper import PrinterPaper

GROUPS = ("plate", "jig-parts", "bevel-plates", "foot-block", "brace", "leg-ends", "housing-strips")
PRINTS = [("demo", group) for group in GROUPS] + [("large", "plate"), ("large", "brace")]
LINE_MM = 0.7
"""Half of the widest line, and a dot of the page as it is painted."""

TILED = [
    ("demo", "plate", "plate", slice(0, 4)),
    ("demo", "jig-parts", "fence-or-back-strip", slice(0, 2)),
    ("demo", "bevel-plates", "bevel-plate", slice(0, 2)),
    ("large", "plate", "plate", slice(0, 8)),
    ("large", "brace", "brace-template", slice(0, 2)),
]
"""Case, group, part, and the pages that its tiles are on."""


@pytest.mark.parametrize(("case", "group"), PRINTS)
def test_every_page_is_the_shops_paper(case, group):
    """Upright or lying, to a thousandth of a millimetre (ISO 216; ASME Y14.1)."""
    paper = sorted(PAPER_MM[CASES[case][1].size])
    for page in printed(case, group):
        assert sorted(page.size) == pytest.approx(paper, abs=1e-3)


@pytest.mark.parametrize(("case", "group"), PRINTS)
def test_bars_measure_what_they_say(case, group):
    """On every page, both ways: 100 mm and 4 in, once the printer has stretched them; and words that ask for it."""
    for page in printed(case, group):
        for axis in (0, 1):
            bars = page.bars(axis)
            for length in (100.0, 101.6):
                assert [bar for bar in bars if bar == pytest.approx(length, abs=1e-3)]
        assert "Print at 100 %" in page.words and "measure the bars, both ways" in page.words
        paper = CASES[case][1]
        told = f"scale_x = {paper.scale_x:g}, scale_y = {paper.scale_y:g}"
        assert told in page.words
        assert ("Not corrected" in page.words) == (paper.scale_x == paper.scale_y == 1)


@pytest.mark.parametrize(("case", "group"), PRINTS)
def test_nothing_is_near_the_papers_edge(case, group):
    """8 mm from it, as drawn: lines, letters, crosses."""
    for page in printed(case, group):
        low_x, low_y, high_x, high_y = page.reach
        assert min(low_x, low_y, page.size[0] - high_x, page.size[1] - high_y) > 8 - LINE_MM


@pytest.mark.parametrize("group", ["foot-block", "brace", "leg-ends"])
def test_small_templates_print_on_the_other_family_too(group):
    """An A4 page on Letter, 17.6 mm lower, at the top, in the middle or at the foot of it: 8 mm are left everywhere."""
    for page in printed("demo", group):
        x, y, to_x, to_y = page.reach
        if page.size[0] > page.size[1]:
            x, y, to_x, to_y = y, x, to_y, to_x
        assert x > 8 - LINE_MM and to_x < 202 + LINE_MM
        assert y > 25.6 - LINE_MM and to_y < 271.4 + LINE_MM


@pytest.mark.parametrize(("case", "group", "slug", "pages"), TILED)
def test_joined_tiles_give_the_part(case, group, slug, pages):
    """Cross laid on cross: every point of the DXF's outline and holes lies on a line, within 0.01 mm; none is lost."""
    lines = joined(printed(case, group)[pages])
    low_x, low_y, _, _ = lines.bounds
    points = nominal(case, slug)
    left, low = min(x for x, _ in points), min(y for _, y in points)
    shapely.prepare(lines)
    off = shapely.distance(lines, shapely.points([(x - left + low_x, y - low + low_y) for x, y in points]))
    assert len(points) > 500
    assert off.max() < 0.01


def test_a_lost_line_is_found():
    """The check above can fail: without one tile there is a hole, and a printer that was not allowed for shows."""
    tiles = printed("demo", "plate")
    points = shapely.points(nominal("demo", "plate"))
    whole = joined(tiles)
    low = whole.bounds[:2]
    missing = shapely.MultiLineString([line for line in whole.geoms if line.bounds[0] - low[0] > 100])
    for lines in (missing, shapely.affinity.scale(whole, 1.001, 1.0, origin=(*low, 0))):
        shapely.prepare(lines)
        moved = shapely.affinity.translate(lines, -low[0], -low[1])
        assert shapely.distance(moved, shapely.points(shapely.get_coordinates(points) - _lowest(points))).max() > 0.1


def _lowest(points):
    return shapely.get_coordinates(points).min(axis=0)


@pytest.mark.parametrize(("case", "group", "slug", "pages"), TILED)
def test_crosses_of_neighbours_meet(case, group, slug, pages):
    """Every cross lies on two tiles or more, and all that meet are within a thousandth of each other."""
    tiles = printed(case, group)[pages]
    placed = [
        (x + dx, y + dy) for tile, (dx, dy) in zip(tiles, registered(tiles), strict=True) for x, y in tile.crosses()
    ]
    found = shapely.MultiPoint(placed)
    for x, y in placed:
        near = [p for p in found.geoms if p.distance(shapely.Point(x, y)) < 0.5]
        assert len(near) >= 2
        assert max(p.distance(shapely.Point(x, y)) for p in near) < 2e-3


@pytest.mark.parametrize("case", list(CASES))
def test_every_label_is_whole_somewhere(case):
    """Each word of each template is on some page as often as in the template, or oftener, where tiles overlap."""
    for group, pictures in templates_of(case).items():
        shown = Counter(
            (label.text, label.height_mm) for page in pages_of(case)[group] for label in page.picture.labels
        )
        wanted = Counter((label.text, label.height_mm) for picture in pictures for label in picture.labels)
        assert [label for label in wanted if shown[label] < wanted[label]] == []


def test_words_can_be_read_by_another_reader():
    """What a template says is text in the PDF, its sentences too, however they are broken into lines."""
    for group, pictures in templates_of("demo").items():
        words = " ".join(page.words for page in printed("demo", group)).split()
        for picture in pictures:
            told = [label.text for label in picture.labels] + [*picture.notes, picture.title]
            assert {word for text in told for word in text.split()} <= set(words) | {
                word.removesuffix(",") for word in words
            }


@pytest.mark.parametrize("case", list(CASES))
def test_words_touch_nothing(case):
    """No word lies on a line or on other words, on any page."""
    for pages in pages_of(case).values():
        for page in pages:
            assert (page.picture.title, collisions(page.picture)) == (page.picture.title, [])


@pytest.mark.parametrize("case", list(CASES))
def test_letters_can_be_read(case):
    """2.5 mm high or more, on lines of their own alphabet's width (ISO 3098), black only."""
    for pages in pages_of(case).values():
        for page in pages:
            assert min(label.height_mm for label in page.picture.labels) >= 2.5
            assert {layer.colour for layer in page.picture.layers} == {"#000000"}


def test_tiles_tell_where_they_belong():
    """Name, page of how many in the whole PDF, and the name of the neighbour at each side that has one."""
    told, groups = [page.words for page in printed("demo", "plate")], pages_of("demo")
    before = sum(len(groups[group]) for group in list(groups)[: list(groups).index("plate")])
    of = sum(len(pages) for pages in groups.values())
    for number, (name, beside) in enumerate([("A1", "B1 A2"), ("B1", "A1 B2"), ("A2", "B2 A1"), ("B2", "A2 B1")]):
        assert f"plate, tile {name}" in told[number] and f"page {before + number + 1} of {of}," in told[number]
        assert sorted(beside.split()) == sorted(words.split()[-1] for words in told[number].split(" joins here")[:-1])


def test_paper_is_told_which_face_and_which_hand():
    """Every template says how it lies; a handed one says its hand in its words."""
    pictures = [picture for group in templates_of("demo").values() for picture in group]
    for picture in pictures:
        said = " ".join(picture.notes).lower()
        assert any(word in said for word in ("face", "this side up", "arris", "reference edge")), picture.title
    handed = {picture.title: " ".join(picture.notes) for picture in pictures if picture.title[-2:] in (" R", " L")}
    assert sorted(handed) == ["housing strip L", "housing strip R", "mask for slot L", "mask for slot R"]
    assert all(f"Hand: {name[-1]}" in said or f"Hand {name[-1]}:" in said for name, said in handed.items())


def test_a_brace_is_whole_though_the_bed_is_small():
    """Both lengths of the brace's solid, on a bed that has room for half of it and on one that has room for none."""
    kit, brace = kit_of("demo"), measured_brace(CASES["demo"][0])
    for length, width in ((120.0, 120.0), (100.0, 100.0)):
        sheet = replace(kit.shop.sheet, length_mm=length, width_mm=width)
        (whole,) = templates_of_kit(replace(kit, shop=replace(kit.shop, sheet=sheet), parts=()))["brace"]
        outline = next(drawn.shape for drawn in whole.shapes)
        ends = [[x for x, at in outline.corners if abs(at - y) < 1e-9] for y in (outline.bounds[3], outline.bounds[1])]
        level = [max(xs) - min(xs) for xs in ends]  # over a notch in the bottom edge
        assert level == pytest.approx([brace["top_mm"], brace["bottom_mm"]], abs=1e-6)


def test_the_same_job_gives_the_same_pages():
    """Made again."""
    kit = kit_of("demo")
    assert full_size_set(replace(kit)) == pages_of("demo")


@pytest.mark.parametrize(("case", "group"), PRINTS)
def test_a_page_names_its_paper_and_what_the_other_would_lose(case, group):
    """A4 is 297 mm high, Letter 279.4 (ISO 216; ASME Y14.1): 17.6 mm less. Standing, the bars are on both."""
    size = CASES[case][1].size
    other = {"A4": "Letter", "Letter": "A4", "A3": "Tabloid", "Tabloid": "A3"}[size]
    short = {"A4": "17.6", "Letter": "5.9", "A3": "17.6", "Tabloid": "11.8"}[size]
    for page in printed(case, group):
        lies = page.size[0] > page.size[1]
        assert f"on {size}, {'landscape' if lies else 'portrait'} (" in page.words
        assert f"({short} mm too {'wide' if size in ('A4', 'A3') and lies else 'high'} for {other})" in page.words or (
            f"({other} prints it whole)" in page.words
        )


def test_joined_tiles_have_a_length_to_measure():
    """Over all its outer lines the plate of the demo is 452 by 229.49 mm, as its part says."""
    pages = printed("demo", "plate")
    assert all("joined 452 mm by 229.5 mm overall" in page.words for page in pages[:4])


@pytest.mark.parametrize("lies", [False, True], ids=["standing", "lying"])
@pytest.mark.parametrize("size", PAPER_MM)
def test_the_bars_of_a_page_are_on_both_papers(size, lies):
    """Where the other paper is shorter or narrower, wherever it puts the page, both bars can be measured both ways."""
    sheet = PrinterPaper(Paper(size), lies=lies)
    leaf = Leaf(sheet, sheet.field, ("words",))
    drawn = leaf.start("title", "subtitle").shapes
    assert len([each for each in drawn if each.layer == BARS]) == 36 and bars_inside(drawn, sheet)
    # What is printed begins beside them, all the same.
    assert leaf.room[0] >= sheet.shared_field[0] + BARS_MM[1]


def bars_inside(shapes, sheet):
    """Whether the like paper of the other family prints all of the bars."""
    low_x, low_y, high_x, high_y = sheet.shared_field
    boxes = [drawn.shape.bounds for drawn in shapes if drawn.layer == BARS]
    return all(b[0] >= low_x and b[1] >= low_y and b[2] <= high_x and b[3] <= high_y for b in boxes)


@pytest.mark.parametrize("size", PAPER_MM)
def test_most_pages_have_their_bars_on_both_papers(size):
    """The demo's, on every paper: bars at the edge stay where they save a page."""
    kit = kit_of("demo")
    pages = full_size_set(replace(kit, shop=replace(kit.shop, paper=Paper(size))))
    told = [
        bars_inside(page.picture.shapes, PrinterPaper(Paper(size), page.page_mm[0] > page.page_mm[1]))
        for group in pages.values()
        for page in group
    ]
    assert sum(told) >= 0.8 * len(told)


@pytest.mark.parametrize(("case", "group"), [("demo", "bevel-plates"), ("large", "brace"), ("inches", "foot-block")])
def test_ticks_stand_at_every_centimetre_and_every_inch(case, group):
    """As printed, from one end of a bar to the other, on one side of it; those at its ends are the longest."""
    for page in printed(case, group):
        fine = [(a, b) for a, b, width in page.lines if width == 0.25]
        for axis in (0, 1):
            for length, step in ((100.0, 10.0), (101.6, 25.4)):
                (bar,) = [ends for ends in fine if abs(abs(ends[1][axis] - ends[0][axis]) - length) < 1e-3]
                low, level = min(end[axis] for end in bar), bar[0][1 - axis]
                ticks = [
                    (a[axis] - low, b[1 - axis] - level)
                    for a, b in fine
                    if abs(a[1 - axis] - level) < 1e-3 and abs(a[axis] - b[axis]) < 1e-3
                ]
                places, heights = zip(*sorted(ticks), strict=True)
                assert places == pytest.approx([i * step for i in range(round(length / step) + 1)], abs=1e-3)
                assert len({height > 0 for height in heights}) == 1
                tall = [abs(height) for height in heights]
                assert min(tall[0], tall[-1]) > 1.5 * max(tall[1:-1])


@pytest.mark.parametrize("lies", [False, True], ids=["standing", "lying"])
def test_each_bar_names_the_key_that_corrects_it(lies):
    """scale_x is across an upright page; on a page that lies it is what runs up and down."""
    labels = Leaf(PrinterPaper(Paper("A4"), lies), (8.0, 8.0, 180.0, 180.0), ()).start("title", "").labels
    across, up = ("scale_y", "scale_x") if lies else ("scale_x", "scale_y")
    bars = {(label.text, label.turn_deg) for label in labels if ", scale_" in label.text and len(label.text) < 20}
    named = {(name, key, turn) for name in ("100 mm", "4 in") for key, turn in ((across, 0.0), (up, 90.0))}
    assert bars == {(f"{name}, {key}", turn) for name, key, turn in named}
