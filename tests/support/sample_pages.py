"""Pages as a workshop has them, to write and look at: a full set-up sheet, a long list, an index with links."""

from jigmaker.drawing.page import (
    BOX,
    Caution,
    Document,
    Facts,
    Figures,
    Heading,
    Link,
    Links,
    Page,
    Steps,
    Table,
    Words,
)
from jigmaker.drawing.picture import DrawnShape, Label, Picture, PictureLayer
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.geometry.outline import Circle, Outline, Stroke

STRANGE_NAME = '"Gartner\'s" <Bänke> & «Stühle» für Zoë, Łukasz, Πέτρος, Ивана, 大工 🪚 9° ½ − 3 mm'
"""Eighty characters: quotes, angle brackets, accents, Greek, Cyrillic, Chinese and a picture sign."""

ROUT_LAYERS = (
    PictureLayer("SEEN", "#000000", 0.5),
    PictureLayer("HIDDEN", "#000000", 0.25, (3.0, 1.5)),
    PictureLayer("WORDS", "#000000", 0.25),
)


def rout_picture(title: str = "Router on the jig") -> Picture:
    """A jig's plate with slot and router on a board, with hidden lines and words: 160 x 70 mm."""
    board = Outline.from_points([(5, 8), (155, 8), (155, 24), (5, 24)])
    plate = Outline.from_points([(30, 24), (130, 24), (130, 30), (30, 30)])
    slot = [Stroke.from_points([(x, 8), (x + 4, 30)]) for x in (66, 92)]
    router = Outline.from_rounded([(60, 30), (102, 30), (102, 36), (94, 60), (68, 60), (60, 36)], 2.0)
    shapes = [DrawnShape("SEEN", shape) for shape in (board, plate, router, Circle((81, 50), 4))]
    shapes += [DrawnShape("HIDDEN", shape) for shape in slot]
    shapes += [DrawnShape("WORDS", stroke) for stroke in arrow_strokes([(110, 48), (140, 48)], 3)]
    labels = (
        Label("WORDS", "FEED", (125, 51), 3.5, 0, "middle"),
        Label("WORDS", "PROJECTION 41.30", (8, 62), 3.5),
        Label("WORDS", "78.25° from top face", (56, 2), 3.5),
        Label("WORDS", "STOP", (20, 30), 3.5, 90),
    )
    return Picture(title, 160.0, 70.0, ROUT_LAYERS, tuple(shapes), labels=labels)


CAUTION = (
    "The cutter comes out below the jig: clamp board and jig together before the router touches them, both "
    "hands on the router until the cutter stands still, eye and ear protection."
)
SETTINGS = (
    ("projection", "41.30 mm"),
    ("speed", "16 000 per minute"),
    ("bush and cutter", "24 and 12 mm"),
    ("slot", "40.10 = housing 28.10 + bush 24 − cutter 12"),
)
STEPS = (
    "Clamp the jig to the off-cut, fence against the edge, stop against the end. It must not move.",
    "Rout in three passes of 8, 8 and 6.1 mm. Let the cutter stand still before it is lifted out.",
    "Measure the first-off at the places below; write the readings down before anything is changed.",
    "Rout all four housings of hand R, on every board, then turn the stop over.",
    "Rout the first-off of hand L in the off-cut, measure, and rout all four housings of hand L.",
    "Brush out the corners, and mark each housing with its leg's number.",
)


def setup_page(name: str = "Potting bench", number: int = 6) -> Page:
    """As full as a set-up sheet gets: eight facts, a caution, a picture, settings, six steps, eight checks."""
    blocks = (
        Caution(CAUTION),
        Figures(((rout_picture(), 140.0, "Feed from the stop outward, against the cutter's turn."),)),
        *(Heading("Set"), Facts(SETTINGS)),
        *(Heading("Do"), Steps(STEPS)),
        *(Heading("Check"), _checks()),
    )
    head = (
        ("job", name),
        ("batch", "4 trestles"),
        ("operation", f"{number * 10}: Rout the housings"),
        ("sheet", f"{number} of 14"),
        ("quantity", "16 housings, 8 of each hand"),
        ("timber as measured", "top 1000 × 145 × 45.2 mm"),
        ("datum", "top face and the end marked with chalk"),
        ("set by, checked by, date", BOX),
    )
    return Page(f"{number * 10} Rout the housings, R then L", blocks, head)


def _checks() -> Table:
    rows = [
        ("width", "28.10", "±0.10", "wall to wall, square to the walls", "leg gauge, GO"),
        ("depth at top face", "22.10", "±0.20", "floor to the arris", "depth gauge"),
        ("depth at bottom face", "22.10", "±0.20", "floor to the lower arris", "depth gauge"),
        ("start, top arris", "150.0", "±0.5", "end of the board to near wall", "rule"),
        ("start, bottom arris", "159.4", "±0.5", "end of the board to near wall", "rule"),
        ("wall", "78.25°", "±0.1°", "from top face, 11.75° off square", "bevel plate"),
        ("floor", "flat", "0.1", "along the housing", "straight edge, feeler"),
        ("stop to stop", "300.40", "±0.10", "outer faces of the end bearers", "caliper"),
    ]
    return Table(
        ("what", "wanted", "limit", "between", "with", "first-off", "as run"), tuple((*r, BOX, BOX) for r in rows)
    )


def setup_document(name: str = "Potting bench") -> Document:
    """Three sheets."""
    return Document(f"{name}: set-up sheets", tuple(setup_page(name, number) for number in (6, 7, 8)))


def list_page(rows: int = 90, name: str = "Potting bench") -> Page:
    """A cut list longer than a sheet."""
    table = tuple(
        (f"leg {n}", "Larch, planed, knots sound", "2 pieces", f"{700 + n}.5", "70 × 28", BOX)
        for n in range(1, rows + 1)
    )
    head = (("job", name), ("timber as measured", "as bought"), ("date", BOX))
    return Page(
        "Cut list",
        (
            Words("Legs as one piece, long point to long point. " * 6),
            Table(("piece", "timber", "count", "length", "section", "done"), table),
        ),
        head,
    )


def index_page(name: str = "Potting bench") -> Page:
    """The page that leads to all files, with two pictures of the same drawing."""
    return Page(
        name,
        (
            Figures(((rout_picture(), 90.0, "Jig"), (rout_picture("Trestle"), 80.0, "Trestle, in three views"))),
            Facts((("proof", "all 412 checks hold"), ("height", "750 mm"), ("splay", "78.25° from top face"))),
            Heading("Files"),
            Links(
                (
                    Link("papers/set-up sheets.pdf", "Set-up sheets, PDF"),
                    Link("parts/potting-bench-stop-cut-1-finished-size.dxf", "Stop, at finished size"),
                    Link("papers/50% & <more>#1?.html", "An odd name"),
                )
            ),
            Heading("Numbers"),
            Table(("angle", "degrees"), (("rake", "75.00"), ("saw mitre, off square", "11.75"))),
        ),
    )
