"""Pictures at full size as PDF, read back with another reader: size, lines, arcs, widths and words in place."""

import math
from dataclasses import replace

import numpy as np
import pytest
from pdf_pages import contents, read_pdf, told
from sample_pictures import BOW, FOOT, HOSTILE_TITLES, LAYERS, LOOP, PIN, SLOT, sample_picture

from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.picture import DrawnShape, Label, Picture, PictureLayer
from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.writers.pdf_pictures import write_picture_pdf, write_pictures_pdf

TRUE_MM = 1e-4
LABELS = (
    Label("SCORED", "Slot 28.10 ½", (20, 82), 4.0),
    Label("SCORED", "78.25° − edge", (128, 40), 3.0, 90.0, "middle"),
    Label("SCORED", "Ź 日 right", (125, 82), 2.5, 0.0, "right"),
)


def drawn(picture, page_mm=None):
    """The picture's only page."""
    (page,) = read_pdf(write_picture_pdf(picture, page_mm))
    return page


def furthest(places, others):
    """How far the worst of some places is from the nearest of the others."""
    return max(min(math.dist(place, other) for other in others) for place in places)


@pytest.mark.parametrize("page_mm", [None, (210.0, 297.0), (215.9, 279.4), (297.0, 420.0), (841.0, 1189.0)])
def test_the_page_has_its_size(page_mm):
    """Its own, or that of the paper, to a thousandth of a millimetre."""
    assert drawn(sample_picture(), page_mm).size == pytest.approx(page_mm or (130.0, 90.0), abs=1e-3)


@pytest.mark.parametrize("shape", [FOOT, SLOT, BOW, LOOP])
def test_lines_are_where_the_picture_has_them(shape):
    """Every corner of a shape ends a piece of one path, within a ten-thousandth of a millimetre."""
    corners = [piece.end for piece in shape.segments]
    assert min(furthest(corners, path.ends) for path in drawn(sample_picture()).paths()) < TRUE_MM


@pytest.mark.parametrize("page_mm", [(420.0, 594.0), (841.0, 1189.0)])
def test_lines_are_true_on_large_paper(page_mm):
    """Corners near the far edge of the paper; the reader's own numbers have seven digits."""
    far = Outline.from_points([(0.0, 0.0), (page_mm[0] - 0.1234, 1.0), (page_mm[0] - 3.3333, page_mm[1] - 7.7777)])
    (path,) = drawn(Picture("far", *page_mm, LAYERS, (DrawnShape("OUTSIDE", far),))).paths()
    assert furthest(far.corners, path.ends) < TRUE_MM


@pytest.mark.parametrize("radius", [0.5, 3.05, 40.0, 380.0])
def test_curves_stay_on_their_circle(radius):
    """At nine places of every curve; the whole circle is there."""
    circle = Circle((400.0, 400.0), radius)
    (path,) = drawn(Picture("disc", 800, 800, LAYERS, (DrawnShape("INSIDE", circle),))).paths()
    places = [_on_curve(curve, t / 8) for curve in path.curves for t in range(9)]
    assert max(abs(math.dist(place, circle.centre) - radius) for place in places) < TRUE_MM
    assert furthest(circle.points(2), places) < radius * 0.2
    assert path.bounds[0] < 400 - radius + TRUE_MM


def test_arcs_stay_on_their_circle():
    """Both ways round: the hollow at the top and the rounded corner of the part."""
    path = next(p for p in drawn(sample_picture()).paths() if furthest([s.end for s in FOOT.segments], p.ends) < 1e-3)
    hollow, corner = FOOT.segments[5], FOOT.segments[1]
    for arc in (hollow, corner):
        places = [_on_curve(curve, 0.5) for curve in path.curves]
        near = [place for place in places if abs(math.dist(place, arc.centre) - arc.radius) < TRUE_MM]
        assert near
    assert min(place[1] for place in [_on_curve(c, 0.5) for c in path.curves] if place[1] > 50) < 70


def _on_curve(curve, t):
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return tuple(sum(w * place[axis] for w, place in zip(weights, curve, strict=True)) for axis in (0, 1))


def test_a_circle_is_a_circle():
    """Closed, its centre and radius those of the picture."""
    right = (PIN.centre[0] + PIN.radius, PIN.centre[1])
    path = next(path for path in drawn(sample_picture()).paths() if math.dist(path.ends[0], right) < TRUE_MM)
    assert math.dist(path.ends[-1], right) < TRUE_MM
    assert [math.dist(end, PIN.centre) for end in path.ends] == pytest.approx(
        [PIN.radius] * len(path.ends), abs=TRUE_MM
    )


def test_widths_colours_and_dashes():
    """As the layer says; a line too thin to print is 0.1 mm wide."""
    layers = (
        PictureLayer("A", "#000000", 0.5),
        PictureLayer("B", "#ff0000", 0.02),
        PictureLayer("C", "#000000", 0.25, (3.0, 1.0, 0.5, 1.0)),
    )
    lines = tuple(
        DrawnShape(name, Stroke.from_points([(5, y), (95, y)])) for name, y in (("A", 5), ("B", 10), ("C", 15))
    )
    page = drawn(Picture("lines", 100, 20, layers, lines))
    assert [round(path.width, 5) for path in page.paths()] == [0.5, 0.1, 0.25]
    assert [path.dashes for path in page.paths()] == [(), (), (3.0, 1.0, 0.5, 1.0)]
    rows = page.pixels(10)
    assert tuple(rows[-int(10 / 25.4 * 720), 1400]) == pytest.approx((255, 0, 0), abs=120)


def test_words_of_labels_can_be_searched_where_they_stand():
    """Level, upright and right-aligned: each word lies over its strokes; signs without a glyph are read too."""
    page = drawn(replace(sample_picture(), labels=LABELS))
    for label in LABELS:
        assert label.text in page.words
        boxes = [box for sign, box in page.boxes()]
        low_x, low_y, high_x, high_y = _bounds(label.strokes)
        inside = [b for b in boxes if low_x - 2 < b[0] and b[2] < high_x + 2 and low_y - 2 < b[1] and b[3] < high_y + 2]
        assert len(inside) >= len(label.text.replace(" ", "")) - 1


def _bounds(strokes):
    boxes = [stroke.bounds for stroke in strokes]
    return (*(min(b[i] for b in boxes) for i in (0, 1)), *(max(b[i] for b in boxes) for i in (2, 3)))


def test_words_of_labels_are_not_painted():
    """The page looks as if only their strokes were there: but for the last 0.004 mm, which change a tone by 25 at most.

    Painted letters would change it by 255.
    """
    labelled = replace(sample_picture(), labels=LABELS)
    strokes = tuple(DrawnShape(label.layer, stroke) for label in LABELS for stroke in label.strokes)
    alone = replace(sample_picture(), shapes=(*sample_picture().shapes, *strokes))
    assert np.abs(drawn(labelled).pixels().astype(int) - drawn(alone).pixels()).max() < 64


def test_numbers_of_dimensions_can_be_searched():
    """As they are shown."""
    dimension = LinearDimension("SCORED", "SCORED", (20, 20), (95.4, 20), (20, 30))
    assert "75.4" in drawn(replace(sample_picture(), dimensions=(dimension,))).words


def test_a_page_for_each_picture():
    """In order, each as large as its own picture; their titles are the reader's list of contents."""
    small = replace(sample_picture("Leg"), width_mm=121.0, height_mm=80.0)
    written = write_pictures_pdf((sample_picture(), small), "Templates")
    assert [page.size for page in read_pdf(written)] == [pytest.approx(s, abs=1e-3) for s in ((130, 90), (121, 80))]
    assert contents(written) == [("Potting bench", 0), ("Leg", 1)]
    assert told(written)["Title"] == "Templates"


@pytest.mark.parametrize("title", HOSTILE_TITLES)
def test_any_title(title):
    """The file can be read, and its lines are the same."""
    written = write_picture_pdf(sample_picture(title))
    assert len(read_pdf(written)[0].paths()) == len(sample_picture().shapes)


def test_what_cannot_be_written():
    """No picture, a picture larger than its paper, a shape on no layer: each is said."""
    with pytest.raises(OutOfRange, match="no pages"):
        write_pictures_pdf((), "none")
    with pytest.raises(OutOfRange, match="larger than its page of 129 x 90 mm"):
        write_picture_pdf(sample_picture(), (129, 90))
    with pytest.raises(OutOfRange, match='layer "NOWHERE"'):
        write_picture_pdf(replace(sample_picture(), shapes=(DrawnShape("NOWHERE", PIN),)))
