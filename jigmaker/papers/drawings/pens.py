"""The layers of a drawing: names and line widths for edges, hidden edges, dimensions and letters; paper mm.

Widths are those of ISO 128 for lines of 0.5 and 0.25; letters are a tenth of their height wide (ISO 3098, type B).
"""

from jigmaker.drawing.draft import WORDS
from jigmaker.drawing.picture import PictureLayer

FRAME, EDGES, HIDDEN, MIDDLES = "FRAME", "EDGES", "HIDDEN", "MIDDLES"
DIMENSIONS, NUMBERS, CAPTIONS = "DIMENSIONS", "NUMBERS", "CAPTIONS"

CAPTIONS_MM = 1.8
"""Height of the names of a title block's fields."""

_BLACK = "#000000"

LAYERS = (
    PictureLayer(FRAME, _BLACK, 0.7),
    PictureLayer(EDGES, _BLACK, 0.5),
    PictureLayer(HIDDEN, _BLACK, 0.25, (3.0, 0.75)),
    PictureLayer(MIDDLES, _BLACK, 0.25, (6.0, 0.75, 0.2, 0.75)),
    PictureLayer(DIMENSIONS, _BLACK, 0.25),
    PictureLayer(NUMBERS, _BLACK, 0.35),
    PictureLayer(WORDS, _BLACK, 0.25),
    PictureLayer(CAPTIONS, _BLACK, 0.18),
)
