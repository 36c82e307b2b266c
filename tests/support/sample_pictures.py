"""Pictures to write and read back: a handed part with every kind of piece, mm."""

from math import radians, tan

from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.geometry.lettering import arrow_strokes, write_text
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Stroke

LAYERS = (
    PictureLayer("SCORED", "#0000ff", 0.1),
    PictureLayer("INSIDE", "#ff0000", 0.13),
    PictureLayer("OUTSIDE", "#000000", 0.2),
)

QUARTER = tan(radians(90) / 4)

# No symmetry at all: a foot at the right, a rounded corner at the lower right, half a disc lost at the top left.
FOOT = Outline(
    (
        Line((10.1, 5), (110, 5)),
        Arc((110, 5), (120, 15), QUARTER),
        Line((120, 15), (120, 35.123456)),
        Line((120, 35.123456), (70, 75)),
        Line((70, 75), (40, 75)),
        Arc((40, 75), (20, 75), -1.0),
        Line((20, 75), (10.1, 75)),
        Line((10.1, 75), (10.1, 5)),
    )
)

# Run clockwise, as a hole; its last piece is an arc that ends where the outline began.
SLOT = Outline.from_rounded([(50, 20), (45, 50), (62, 50), (67, 20)], 2.5)

PIN = Circle((100, 20), 3.05)
"""The landmark: at the lower right, nothing like it anywhere else."""

LOOP = Stroke((Arc((30, 60), (36, 60), 1.0), Arc((36, 60), (30, 60), 1.0)))
BOW = Stroke((Arc((80, 40), (90, 40), -0.3),))

SHAPES = (
    *(DrawnShape("SCORED", stroke) for stroke in write_text("R 78.25°", (14, 10), 5)),
    *(DrawnShape("SCORED", stroke) for stroke in arrow_strokes([(20, 30), (20, 50), (40, 50)], 4)),
    DrawnShape("SCORED", BOW),
    DrawnShape("SCORED", LOOP),
    DrawnShape("INSIDE", SLOT),
    DrawnShape("INSIDE", PIN),
    DrawnShape("OUTSIDE", FOOT),
)

NOTES = ("Kerf 0.20 mm included.", "Measure first: square 50.00 ± 0.10")


def sample_picture(title: str = "Potting bench") -> Picture:
    """The part on a page of 130 x 90."""
    return Picture(title, 130.0, 90.0, LAYERS, SHAPES, NOTES)


HOSTILE_TITLES = (
    "",
    " ",
    "O'Brien's \"best\" bench",
    "a < b > c & d]]> <!-- --> <script>",
    "Bänkchen für Łódź, 2¾ in × 78°",
    "鋸 🪚 bench",
    "0\nSECTION\n2\nENTITIES",
    "tab\tand\rreturn",
    "control \x00\x07\x1b, lone \ud800 and \uffff",
    "W" * 300,
    "long words " * 40,
)
