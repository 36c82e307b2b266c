"""The sheet a drawing stands on: paper, frame and title block as shapes and labels. Page frame, y up; paper mm.

Frame after ISO 5457 (20 mm to the left for filing, 10 mm elsewhere, marks at the middles of the sides); a title block
180 mm wide in the lower right corner, as ISO 7200 has it, with fields of our own; the projection's sign by ISO 5456-2.
"""

from jigmaker.drawing.draft import WORDS
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Bounds, Circle, Outline, Stroke
from jigmaker.job.shop import PAPER_MM, PaperSize
from jigmaker.papers.drawings.pens import CAPTIONS, CAPTIONS_MM, DIMENSIONS, EDGES, FRAME, MIDDLES, NUMBERS
from jigmaker.papers.drawings.scaled_draft import ScaledDraft
from jigmaker.papers.wording import plus_minus
from jigmaker.record import dataclass
from jigmaker.units import Unit

FILING_MM, MARGIN_MM = 20.0, 10.0
BLOCK_MM = (180.0, 31.0)
_MARK_MM = 5.0
_PAD = 1.5
_HEIGHTS = (5.0, 3.5, 2.5, 1.8)

#     _________________________________________
#    | what is drawn                 | job     |    row 2
#    |_______________________________|_________|
#    | drawing | scale | sizes | paper | from  |    row 1
#    |_________|_______|_______|_______|_______|
#    | projection      | limits                |    row 0
#    |_________________|_______________________|
_ROWS = (0.0, 9.0, 18.0, 31.0)
_COLUMNS = {0: (0.0, 72.0, 180.0), 1: (0.0, 37.0, 55.0, 92.0, 110.0, 180.0), 2: (0.0, 112.0, 180.0)}


@dataclass(frozen=True, slots=True)
class Head:
    """The fields of the title block: title, job, "1 of 6" and which kit, the unit of the sizes, what they are measured
    from, limits.

    `limit_mm`: how far a length may be off either way; half a millimetre is what the set-up sheets ask of timber.
    """

    title: str
    job: str
    number: str
    unit: Unit
    datum: str
    limit_mm: float = 0.5


@dataclass(frozen=True, slots=True)
class DrawingPaper:
    """A sheet of paper: large ones lie on their long side, small ones stand (ISO 5457)."""

    size: PaperSize

    @property
    def page_mm(self) -> Point:
        """Width and height as the drawing is read."""
        short, long = PAPER_MM[self.size]
        return (long, short) if self.size in ("A3", "Tabloid") else (short, long)

    @property
    def frame(self) -> Bounds:
        """(x low, y low, x high, y high) of the line round the drawing."""
        width, height = self.page_mm
        return (FILING_MM, MARGIN_MM, width - MARGIN_MM, height - MARGIN_MM)

    @property
    def field(self) -> Bounds:
        """What is free for the drawing: the frame above the title block."""
        low_x, low_y, high_x, high_y = self.frame
        return (low_x, low_y + BLOCK_MM[1], high_x, high_y)


def scale_text(scale: float) -> str:
    """A scale as drawings state it: 1:5, or 2:1 (ISO 5455)."""
    return f"{round(scale)}:1" if scale > 1 else f"1:{round(1 / scale)}"


def draw_frame(draft: ScaledDraft, paper: DrawingPaper, head: Head) -> None:
    """Frame, marks and title block into the draft, page frame."""
    low_x, low_y, high_x, high_y = paper.frame
    draft.add(FRAME, Outline.from_points([(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)]))
    middle_x, middle_y = (low_x + high_x) / 2, (low_y + high_y) / 2
    for x, out in ((low_x, -_MARK_MM), (high_x, _MARK_MM)):
        draft.line([(x, middle_y), (x + out, middle_y)], FRAME)
    for y, out in ((low_y, -_MARK_MM), (high_y, _MARK_MM)):
        draft.line([(middle_x, y), (middle_x, y + out)], FRAME)
    # The title block in the lower right corner.
    x, y, (width, height) = high_x - BLOCK_MM[0], low_y, BLOCK_MM
    draft.line([(x, y), (x, y + height), (x + width, y + height)], FRAME)
    for row in _ROWS[1:-1]:
        draft.line([(x, y + row), (x + width, y + row)], DIMENSIONS)
    for row, columns in _COLUMNS.items():
        for column in columns[1:-1]:
            draft.line([(x + column, y + _ROWS[row]), (x + column, y + _ROWS[row + 1])], DIMENSIONS)
    # Rows of (name, value) from below.
    is_inch = head.unit == "in"
    rows_of_fields = (
        (
            ("projection", "third angle" if is_inch else "first angle"),
            ("limits", f"lengths {plus_minus(head.limit_mm, head.unit)}, angles ±0.1°, unless said otherwise"),
        ),
        (
            ("drawing", head.number),
            ("scale", scale_text(draft.scale)),
            ("sizes in", "inches and 64ths" if is_inch else "millimetres"),
            ("paper", paper.size),
            ("measured from", head.datum),
        ),
        (("what is drawn", head.title), ("job", head.job)),
    )
    for row, fields in enumerate(rows_of_fields):
        for i, (name, value) in enumerate(fields):
            columns = _COLUMNS[row]
            left, room = x + columns[i] + _PAD, columns[i + 1] - columns[i] - 2 * _PAD
            # The field's name small at its upper left, its value under it as large as there is room for.
            above = y + _ROWS[row + 1] - CAPTIONS_MM - 0.9
            draft.words(name, (left, above), layer=CAPTIONS, height_mm=CAPTIONS_MM)
            heights = _HEIGHTS if row == 2 else _HEIGHTS[1:]
            size = next((h for h in heights if text_width(value, h) <= room), CAPTIONS_MM)
            layer = {1.8: CAPTIONS, 2.5: WORDS}.get(size, NUMBERS)
            draft.words(shortened(value, size, room), (left, y + _ROWS[row] + 1.6), "left", size, layer)
    _draw_projection(draft, (x + 53.0, y + 4.5), head.unit)


def shortened(words: str, height_mm: float, width_mm: float) -> str:
    """The text, cut to the width with an ellipsis."""
    if text_width(words, height_mm) <= width_mm:
        return words
    kept = words
    while kept and text_width(f"{kept}...", height_mm) > width_mm:
        kept = kept[:-1]
    return f"{kept.rstrip()}..."


def _draw_projection(draft: ScaledDraft, middle: Point, unit: Unit) -> None:
    """A cut cone and the view of its small end: that view to the right of it in first angle, to the left in third."""
    #      __--|
    #     |    |   (o)       The cone lies on its side, its small end at the left. What is seen from there first angle
    #      --__|             puts at its right, third angle at its left.
    #
    (x, y), (small, large, length) = middle, (1.25, 2.5, 5.0)
    away = -5.5 if unit == "in" else 5.5
    cone_x, rings = x - away, (x + away, y)
    left, right = cone_x - length / 2, cone_x + length / 2
    cone = [(left, y - small), (right, y - large), (right, y + large), (left, y + small)]
    draft.add(EDGES, Outline.from_points(cone), Circle(rings, small), Circle(rings, large))
    for a, b in ((left - 1.5, right + 1.5), (rings[0] - large - 1.0, rings[0] + large + 1.0)):
        draft.add(MIDDLES, Stroke.from_points([(a, y), (b, y)]))
    draft.line([(rings[0], y - large - 1.0), (rings[0], y + large + 1.0)], MIDDLES)
