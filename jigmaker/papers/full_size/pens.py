"""The layers of full-size paper and the heights of its letters; mm on the print.

Lines to saw to are 0.35 mm wide: finer ones get lost on wood. Letters are a tenth of their height wide (ISO 3098).
"""

from jigmaker.drawing.draft import WORDS
from jigmaker.drawing.picture import PictureLayer
from jigmaker.papers.drawings.pens import DIMENSIONS, NUMBERS

CUT, FOLDS, LATER, MARKS = "CUT", "FOLDS", "LATER", "MARKS"
TITLES, BARS, CROSSES, TRIM, MAP, HERE = "TITLES", "BARS", "CROSSES", "TRIM", "MAP", "HERE"

CUT_LINE_MM = 0.35
NAMES_MM, TITLES_MM = 3.5, 5.0

_BLACK = "#000000"

LAYERS = (
    PictureLayer(CUT, _BLACK, CUT_LINE_MM),
    PictureLayer(FOLDS, _BLACK, 0.25, (3.0, 1.0)),
    PictureLayer(LATER, _BLACK, 0.25, (6.0, 1.0, 0.5, 1.0)),
    PictureLayer(MARKS, _BLACK, 0.35),
    PictureLayer(DIMENSIONS, _BLACK, 0.25),
    PictureLayer(WORDS, _BLACK, 0.25),
    PictureLayer(NUMBERS, _BLACK, 0.35),
    PictureLayer(TITLES, _BLACK, 0.5),
    PictureLayer(BARS, _BLACK, 0.25),
    PictureLayer(CROSSES, _BLACK, 0.18),
    PictureLayer(TRIM, _BLACK, 0.18, (1.0, 1.0)),
    PictureLayer(MAP, _BLACK, 0.18),
    PictureLayer(HERE, _BLACK, 0.5),
)
"""CUT is sawn to, FOLDS is folded, LATER is sawn after assembly; TRIM and CROSSES join tiles."""
