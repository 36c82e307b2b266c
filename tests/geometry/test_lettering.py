"""The letters: inside their cells, unlike each other, the right way round, nothing drawn twice, unknown ones loud."""

from itertools import combinations, pairwise
from math import dist

import pytest
from pytest import approx
from shapely import unary_union
from shapely.geometry import LineString, MultiLineString, Point

from jigmaker.errors import OutlineError
from jigmaker.geometry.lettering import Anchor, arrow_strokes, level_bounds, text_width, unknown_characters, write_text
from jigmaker.geometry.outline import Stroke, bounds_of
from jigmaker.geometry.stroke_table import HIGHEST, LOWEST, SIGNS

# What the kit's marks are written with: capitals, digits and signs.
KIT = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789" + ".,-+()/%'\"=:°±Ø×½¼¾⅛⅜⅝⅞&#_"
COMPOSED = "ÀÁÂÃÄÅÇÈÉÊËÌÍÎÏÑÒÓÔÕÖÙÚÛÜÝŠŽČĚŘŤŸĄĘĞİŰŌ⅓⅔"
DRAWN = sorted({*KIT, *COMPOSED, *SIGNS} - {" "})

HIGH = 10.0  # one grid unit is one mm, and its tenth is 0.35 mm on a mark 3.5 mm high


def _flat(strokes: tuple[Stroke, ...]) -> MultiLineString:
    return MultiLineString([stroke.points(16) for stroke in strokes])


def _glyph(sign: str) -> MultiLineString:
    return _flat(write_text(sign, (0, 0), HIGH))


@pytest.mark.parametrize("sign", DRAWN)
def test_every_sign_stays_in_its_cell(sign: str) -> None:
    """No stroke reaches into a neighbour's cell, nor above the accents' line or below the comma's."""
    x_low, y_low, x_high, y_high = bounds_of(write_text(sign, (0, 0), HIGH))
    assert x_low >= -1e-6 and x_high <= text_width(sign, HIGH) + 1e-6
    assert y_low >= LOWEST and y_high <= HIGHEST


@pytest.mark.parametrize("sign", "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789")
def test_letters_and_digits_stand_on_the_line_and_are_full_height(sign: str) -> None:
    """A capital is as high as it is said to be."""
    _, y_low, _, y_high = bounds_of(write_text(sign, (0, 0), HIGH))
    assert (y_low, y_high) == approx((0, HIGH), abs=1e-9)


def test_signs_are_unlike_each_other() -> None:
    """Any two signs of the kit lie at least a tenth of their height apart somewhere."""
    flat = {sign: _glyph(sign).segmentize(0.5) for sign in DRAWN}
    alike = [a + b for a, b in combinations(DRAWN, 2) if flat[a].hausdorff_distance(flat[b]) < 0.95]
    assert alike == []


@pytest.mark.parametrize(
    ("sign", "ink", "none"),
    [
        # Facts of the alphabet: shares of width and height where there is ink, and where a mirrored sign had it.
        ("R", (0, 0.2), (1, 0.2)),
        ("R", (0.9, 0.1), (0.1, 0.9 - 0.2)),
        ("L", (0, 0.5), (1, 0.5)),
        ("B", (0, 0.5), (1, 0.5)),
        ("C", (0, 0.5), (1, 0.5)),
        ("D", (0, 0), (1, 0)),
        ("E", (0, 0.25), (1, 0.25)),
        ("F", (0, 0.2), (1, 0.2)),
        ("G", (1, 0.4), (1, 0.6)),
        ("J", (1, 0.5), (0, 0.5)),
        ("K", (0, 0.8), (1, 0.8)),
        ("N", (0.2, 0.8), (0.8, 0.8)),
        ("P", (0, 0.2), (1, 0.2)),
        ("Q", (1, 0), (0, 0)),
        ("S", (0, 0.75), (1, 0.67)),
        ("S", (1, 0.25), (0, 0.33)),
        ("Z", (0.8, 0.8), (0.2, 0.8)),
        ("1", (1, 0.3), (0, 0.3)),
        ("2", (0.3, 0.2), (0.75, 0.2)),
        ("3", (1, 0.27), (0, 0.5)),
        ("4", (0.73, 0.1), (0.27, 0.1)),
        ("5", (0.1, 0.8), (0.9, 0.8)),
        ("6", (0, 0.5), (1, 0.65)),
        ("7", (0.8, 0.75), (0.2, 0.75)),
        ("9", (1, 0.5), (0, 0.35)),
        ("/", (0.9, 0.9), (0.1, 0.9)),
        ("(", (0, 0.5), (1, 0.5)),
        (")", (1, 0.5), (0, 0.5)),
    ],
)
def test_signs_are_the_right_way_round(sign: str, ink: tuple[float, float], none: tuple[float, float]) -> None:
    """A mirrored R has its stem at the right."""
    glyph, width = _glyph(sign), text_width(sign, HIGH)
    assert glyph.distance(Point(ink[0] * width, ink[1] * HIGH)) < 0.5
    assert glyph.distance(Point(none[0] * width, none[1] * HIGH)) > 0.5


@pytest.mark.parametrize("sign", DRAWN)
def test_nothing_is_drawn_twice(sign: str) -> None:
    """The strokes of a sign are as long together as the line they draw: a beam burns no place twice."""
    glyph = _glyph(sign)
    assert unary_union(glyph).length == approx(glyph.length, abs=1e-6)


@pytest.mark.parametrize("sign", DRAWN)
def test_no_piece_is_tiny_and_no_stroke_is_closed(sign: str) -> None:
    """At 3.5 mm no piece is under 0.05 mm, and no letter can be taken for a contour to cut out."""
    for stroke in write_text(sign, (0, 0), 3.5):
        assert min(segment.length for segment in stroke.segments) >= 0.05
        assert stroke.segments[0].start != approx(stroke.segments[-1].end, abs=0.05)


@pytest.mark.parametrize("sign", DRAWN)
def test_strokes_of_a_sign_share_no_ends(sign: str) -> None:
    """Whatever can be drawn without lifting the tool is one stroke; an end on the middle of a line is none shared."""
    ends = [
        end for stroke in write_text(sign, (0, 0), HIGH) for end in (stroke.segments[0].start, stroke.segments[-1].end)
    ]
    assert [pair for pair in combinations(ends, 2) if dist(*pair) < 0.01] == []


@pytest.mark.parametrize(("signs", "strokes"), [("BCDGIJLMNOPRSUVWZ0123456789°", 1), ("AEFKTXYQ+=", 2), ("H%", 3)])
def test_how_many_strokes_a_sign_has(signs: str, strokes: int) -> None:
    """As few as there can be: half the number of places where an odd number of lines meet (Euler), but at least one."""
    assert {sign: len(write_text(sign, (0, 0), HIGH)) for sign in signs} == dict.fromkeys(signs, strokes)


@pytest.mark.parametrize("sign", "BCDGJOPQRSU02356890°Ø%")
def test_round_letters_are_arcs(sign: str) -> None:
    """No letter is made of facets: its curves are true arcs of at most half a turn."""
    bulges = [abs(segment.bulge) for stroke in write_text(sign, (0, 0), HIGH) for segment in stroke.segments]
    assert 0.1 < max(bulges) <= 1


@pytest.mark.parametrize("sign", "SOU80")
def test_curves_are_smooth(sign: str) -> None:
    """S, O, U, 8 and 0 have no corner anywhere."""
    for stroke in write_text(sign, (0, 0), HIGH):
        for one, following in pairwise(stroke.segments):
            assert one.end_direction == approx(following.start_direction, abs=1e-6)


def test_small_letters_show_as_capitals() -> None:
    """Job names come in any case."""
    assert write_text("Potting bench ä ß", (0, 0), 5) == write_text("POTTING BENCH Ä SS", (0, 0), 5)


@pytest.mark.parametrize(
    ("typed", "drawn"),
    [
        ("–", "-"),
        ("2’ 6”", "2' 6\""),
        ("a\u0308", "Ä"),
        ("⌀ 6", "Ø 6"),
        ("æ", "AE"),
        ("3\u00a0mm", "3 MM"),
        ("…", "..."),
    ],
)
def test_what_word_processors_put_in(typed: str, drawn: str) -> None:
    """Typographic signs, letters with loose accents and hard blanks are drawn as the plain ones."""
    assert write_text(typed, (0, 0), 5) == write_text(drawn, (0, 0), 5)
    assert unknown_characters(typed) == ()


def test_accent_sits_over_its_letter() -> None:
    """Å is an A with something above it, Ç a C with something below it; letter and accent do not touch."""
    for sign, base, above in (("Å", "A", True), ("É", "E", True), ("Ç", "C", False)):
        letter, whole = write_text(base, (0, 0), HIGH), write_text(sign, (0, 0), HIGH)
        assert whole[: len(letter)] == letter
        _, y_low, _, y_high = bounds_of(whole[len(letter) :])
        assert (y_low > HIGH) if above else (y_high <= 0)


def test_unknown_signs_are_loud() -> None:
    """A box with a cross, as wide and high as a letter, and the sign is reported once."""
    assert unknown_characters("LEG ☃ 70 漢☃ mm") == ("☃", "漢")
    box = _glyph("☃")
    assert box.bounds == approx((0, 0, 6, 10))
    assert box.length == approx(2 * (6 + 10) + 2 * (36 + 100) ** 0.5)
    assert write_text("a\nb", (0, 0), 5) == write_text("a☃b", (0, 0), 5)


def test_all_signs_of_the_kit_are_known() -> None:
    """Nothing that the kit writes is replaced."""
    assert unknown_characters(KIT + KIT.lower() + COMPOSED + " ") == ()


def test_width_and_anchors() -> None:
    """Anchored right or in the middle, the text ends or is centred at the point; widths scale with the height."""
    width = text_width("HAND L", 7)
    assert width == approx(2 * text_width("HAND L", 3.5)) and text_width("", 7) == 0
    left, middle, right = (bounds_of(write_text("HAND L", (50, 9), 7, anchor=a)) for a in ("left", "middle", "right"))
    assert (left[0], left[2]) == approx((50, 50 + width))
    assert (middle[0], middle[2]) == approx((50 - width / 2, 50 + width / 2))
    assert (right[0], right[2]) == approx((50 - width, 50))
    assert (left[1], left[3]) == approx((9, 16))


@pytest.mark.parametrize("pair", ["HI", "LL", "11", "MM", "15", "Ø1", "±0", "2¾", "ÎÏ", "8°", "/L", "AV", "L'", "5%"])
def test_neighbours_keep_apart(pair: str) -> None:
    """ISO 3098 type B, from a teaching sheet: two tenths of the height between letters, pen width included."""
    second_at = text_width(pair, HIGH) - text_width(pair[1], HIGH)
    second = _flat(write_text(pair[1], (second_at, 0), HIGH))
    assert _glyph(pair[0]).distance(second) >= 2.0


def test_turned_about_its_anchor() -> None:
    """A quarter turn anticlockwise: the line runs upwards, letters stand to its left."""
    width = text_width("TOP", 5)
    assert bounds_of(write_text("TOP", (10, 20), 5, 90)) == approx((5, 20, 10, 20 + width))
    assert bounds_of(write_text("TOP", (10, 20), 5, 180)) == approx((10 - width, 15, 10, 20))


def test_blank_text_has_no_strokes() -> None:
    """Nothing to draw is nothing drawn, and has no box."""
    assert write_text("", (0, 0), 5) == write_text("  ", (0, 0), 5) == ()
    assert level_bounds("", (0, 0), 5) is level_bounds("  ", (0, 0), 5) is None


@pytest.mark.parametrize("anchor", ["left", "middle", "right"])
@pytest.mark.parametrize("text", ["SLOT R", " Ø8.1 mm", "2¾ × 15°", "Âç\u2603"])
def test_the_box_round_level_letters_is_that_of_their_strokes(text: str, anchor: Anchor) -> None:
    """Told from the boxes of the signs alone, round letters and accents included."""
    of_strokes = bounds_of(write_text(text, (31.7, -4.2), 3.5, anchor=anchor))
    assert level_bounds(text, (31.7, -4.2), 3.5, anchor) == approx(of_strokes, abs=1e-12)


@pytest.mark.parametrize("height", [0, -3.5, float("nan")])
def test_letters_have_a_height(height: float) -> None:
    """A negative height would be a mirror."""
    with pytest.raises(OutlineError, match="must be above 0"):
        write_text("A", (0, 0), height)


def test_arrow() -> None:
    """The head is open, symmetrical about the line, at the line's end, and as long as asked."""
    shaft, head = arrow_strokes([(0, 0), (0, 30), (40, 30)], 5)
    assert shaft == Stroke.from_points([(0, 0), (0, 30), (40, 30)])
    left, tip, right = head.points()
    assert tip == (40, 30) and left[0] == right[0] == 35 and left[1] - 30 == approx(30 - right[1])
    assert LineString([left, right]).length < 5


def test_arrow_needs_a_line_and_a_head() -> None:
    """One point is no line, no length is no head."""
    with pytest.raises(OutlineError, match="no pieces"):
        arrow_strokes([(0, 0)], 3)
    with pytest.raises(OutlineError, match="head is 0 mm long"):
        arrow_strokes([(0, 0), (1, 0)], 0)
