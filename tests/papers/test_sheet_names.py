"""The picture that names the pieces: every piece once, letters that touch nothing, all of it on the sheet."""

from collections import Counter
from dataclasses import replace

import pytest
import shapely
import svg_paths
from plain_parts import box, hole_box, plain_part
from sample_variants import VARIANTS

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.papers.labels import place_labels
from jigmaker.papers.sheet_names import draw_sheet_names, piece_name
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.trestle.solve import solve
from jigmaker.writers.svg import write_svg

KITS = ["laser, bush, two slots", "cnc, bearing, one hand", "60/60, cnc", "sheet 1/2 in"]


def lines_of(placed):
    """The drawn contours of a piece as rings."""
    contours = [placed.part.outline, *(hole.contour for hole in placed.part.holes)]
    return [shapely.LinearRing(contour.placed(placed.sheet_from_part).points()) for contour in contours]


def letters(label):
    """A label's strokes as one geometry, its leader left out."""
    return shapely.union_all([shapely.LineString(stroke.points(16)) for stroke in label.strokes])


def labels_on(sheet):
    """The labels as the picture has them."""
    named = [
        (
            piece_name(placed),
            [c.placed(placed.sheet_from_part) for c in (placed.part.outline, *(h.contour for h in placed.part.holes))],
        )
        for placed in sheet.placed
    ]
    return place_labels(named, sheet.length_mm, sheet.width_mm)


def check_sheet(sheet):
    """Every label on the sheet, clear of each other and of every line, in its own piece or led to it; gives them."""
    labels = labels_on(sheet)
    rings = [ring for placed in sheet.placed for ring in lines_of(placed)]
    bed = shapely.box(0, 0, sheet.length_mm, sheet.width_mm)
    written = [letters(label) for label in labels]
    for i, (label, placed) in enumerate(zip(labels, sheet.placed, strict=True)):
        assert label.name == piece_name(placed)
        assert bed.contains(written[i])
        assert shapely.box(*label.box).contains(written[i])
        assert min(written[i].distance(ring) for ring in rings) >= 0.9, label.name
        assert all(written[i].distance(other) >= 1.5 for other in written[:i]), label.name
        outer, *holes = lines_of(placed)
        piece = shapely.Polygon(outer, holes)
        led = shapely.Point(label.leader[-1]) if label.leader else written[i]
        assert piece.contains(led), label.name
        if label.leader:
            others = [ring for other in sheet.placed if other is not placed for ring in lines_of(other)]
            assert not shapely.LineString(label.leader).intersects(shapely.union_all(others + written[:i])), label.name
    return labels


@pytest.mark.parametrize("name", KITS)
def test_every_piece_has_its_name(name):
    """On every sheet of the kit, spares too."""
    job, shop = VARIANTS[name]
    parts = make_kit(solve(job), shop).parts
    sheets = place(parts, shop)
    found = Counter(label.name for sheet in sheets for label in check_sheet(sheet))
    assert sum(found.values()) == sum(part.pieces for part in parts)
    assert len(found) == len(parts)


def test_hands_are_told_apart():
    """Parts of both hands have names that differ, and the hand is named once."""
    job, shop = VARIANTS["cnc, bush, one hand"]
    names = [piece_name(PlacedPart(part, PlaneFrame())) for part in make_kit(solve(job), shop).parts]
    assert {"plate R", "plate L"} <= set(names)
    assert not [name for name in names if name.endswith((" R R", " L L"))]
    part = replace(plain_part("wedge", box(50, 30)), hand="L")
    assert piece_name(PlacedPart(part, PlaneFrame())) == "wedge L"


def test_a_name_too_long_for_its_piece_is_led_to_it():
    """Small pieces, and one that is all holes: each label in free sheet, its leader ending in the piece."""
    small = plain_part("very-small-long-named-spacer", box(6, 6))
    sieve = plain_part(
        "sieve-with-holes", box(40, 40), tuple(hole_box(f"hole {i}", 36, 8, (2, 2 + 10 * i)) for i in range(4))
    )
    placed = [PlacedPart(small, PlaneFrame(20 + 8 * i, 20)) for i in range(4)] + [PlacedPart(sieve, PlaneFrame(80, 20))]
    labels = check_sheet(Sheet("sheet-1", 200, 100, tuple(placed)))
    assert all(label.leader for label in labels)


def test_a_full_sheet_still_names_its_piece():
    """Without any free sheet the letters lie across the piece, and are there."""
    full = plain_part("grid", box(60, 8), tuple(hole_box(f"hole {i}", 8, 6, (1 + 10 * i, 1)) for i in range(6)))
    (label,) = labels_on(Sheet("sheet-1", 60, 8, (PlacedPart(full, PlaneFrame()),)))
    assert label.strokes


def test_the_picture_warns_and_shows_the_finished_size():
    """NOT FOR CUTTING in the title, every outline where it lies, names on a layer that is no operation."""
    job, shop = VARIANTS["laser, bush, two slots"]
    (sheet, *_) = place(make_kit(solve(job), shop).parts, shop)
    picture = draw_sheet_names(sheet, "Potting bench: names")
    assert picture.title == "NOT FOR CUTTING: Potting bench: names"
    written = write_svg(picture)
    shapes = svg_paths.shapes(written)
    assert {shape.layer for shape in shapes} == {"sheet", "parts", "names"}
    closed = sorted(abs(shape.area) for shape in shapes if shape.layer == "parts" and not shape.circle)
    contours = [c for p in sheet.placed for c in (p.part.outline, *(h.contour for h in p.part.holes))]
    assert closed == pytest.approx(sorted(abs(c.area) for c in contours if not hasattr(c, "radius")), abs=1e-2)
    low_x, low_y, high_x, high_y = picture.bounds
    assert low_x >= 0 and low_y >= 0 and high_x < picture.width_mm and high_y < picture.height_mm
