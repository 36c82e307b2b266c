"""What on a part can be misread: Part in, (row, words) out; read from the strokes and words of its marks alone; mm.

The rows are eight faults that drawings of these parts once had; `tests/parts/test_misreading.py` draws each of them
again.
"""

import itertools
import re
from math import atan2, degrees, dist

import shapely
from marks_on_parts import ink, text_box

BESIDE = 0.6
"""A tick beside a figure keeps this share of the figure's height away, or it is read as a 1."""

OWN = 0.5
"""A box to write in lies at most this share as far from its own line as from any other."""

UNITS = {"MM", "IN", '"', "°"}
MOST_IN_A_BLOCK = 8


def misread(part):
    """Every fault, as (number of its row, what is wrong)."""
    texts = [mark for mark in part.marks if mark.text]
    drawn = [mark for mark in part.marks if not mark.text]
    rows = (_ticks, _boxes, _torn, _bare, _crowd, _ragged, _run_on, _brackets)
    return [(number, words) for number, row in enumerate(rows, 1) for words in row(part, texts, drawn)]


def _upright(mark):
    """(left, low, right, high) of a text or line in the text's own direction."""
    return shapely.affinity.rotate(ink(mark), -mark.turn_deg, origin=(0, 0)).bounds


def _ticks(part, texts, drawn):
    """1: a straight line beside a figure, as tall as a good part of it, and too near."""
    for text in texts:
        if not re.fullmatch(r"[\d./ ]+", text.text):
            continue
        left, low, right, high = _upright(text)
        for mark in drawn:
            for stroke in mark.strokes:
                tick = shapely.affinity.rotate(
                    shapely.LineString(stroke.points(3)), -text.turn_deg, origin=(0, 0)
                ).bounds
                shared = min(high, tick[3]) - max(low, tick[1])
                gap = max(tick[0] - right, left - tick[2])
                if tick[2] - tick[0] < 0.1 and shared > 0.2 * text.height_mm and gap < BESIDE * text.height_mm - 1e-6:
                    yield f"a tick {gap:.2f} beside {text.text!r}, {text.height_mm} high"


def _boxes(part, texts, drawn):
    """2: a box to write in that is not much nearer to one line of words than to any other."""
    for mark in drawn:
        lines = ink(mark)
        low_x, low_y, high_x, high_y = lines.bounds
        box = shapely.box(low_x, low_y, high_x, high_y)
        if len(mark.strokes) != 1 or box.area < 60 or lines.length < 0.95 * box.length:
            continue
        far = sorted(box.distance(text_box(text)) for text in texts)
        if len(far) > 1 and far[0] > OWN * far[1] + 1e-6:
            yield f"a box {far[0]:.2f} from one line and {far[1]:.2f} from another"


def _torn(part, texts, drawn):
    """3: a figure on one line, its unit alone on the next."""
    for text in texts:
        if text.text in UNITS:
            yield f"{text.text!r} stands on a line of its own"


def _bare(part, texts, drawn):
    """4: nothing scored at all, or a scale of ticks without a figure."""
    if not part.marks:
        yield "no mark"
    ticks = [mark for mark in drawn if len(mark.strokes) == 1 and ink(mark).length < 15]
    if len(ticks) > 8 and not any(re.search(r"\d", text.text) for text in texts):
        yield f"{len(ticks)} ticks and no figure"


def _blocks(texts):
    """Lines that stand under each other at one pitch, in one hand, ranged left or right."""
    blocks = []
    for text in sorted(texts, key=lambda mark: -_upright(mark)[3]):
        left, _, right, high = _upright(text)
        for block in blocks:
            last_left, _, last_right, last_high = _upright(block[-1])
            under = abs(last_high - high - 1.7 * text.height_mm) < 0.2 * text.height_mm
            ranged = abs(last_left - left) < 1.0 or abs(last_right - right) < 1.0
            if under and ranged and block[-1].height_mm == text.height_mm and block[-1].turn_deg == text.turn_deg:
                block.append(text)
                break
        else:
            blocks.append([text])
    return blocks


def _crowd(part, texts, drawn):
    """5: a bevel plate for one angle alone, or too many lines in one block."""
    squares = sum(setting.name.startswith("true square") for setting in part.settings)
    if squares > 2 and any("flank" in setting.name for setting in part.settings):
        yield f"{squares} corners of four left over"
    for block in _blocks(texts):
        if len(block) > MOST_IN_A_BLOCK:
            yield f"{len(block)} lines from {block[0].text!r} on"


def _ragged(part, texts, drawn):
    """6: the last word of a broken line alone under a line four times as long."""
    for block in _blocks(texts):
        for above, below in itertools.pairwise(block):
            widths = [_upright(mark)[2] - _upright(mark)[0] for mark in (above, below)]
            if " " not in below.text and below.text.isalpha() and widths[0] > 2.5 * widths[1] and len(above.text) > 16:
                yield f"{below.text!r} alone under {above.text!r}"


def _run_on(part, texts, drawn):
    """7: a single letter so near another line at its own height that both read as one."""
    for letter in (text for text in texts if len(text.text) == 1 and text.text.isalpha()):
        left, low, right, high = _upright(letter)
        for text in texts:
            if text is letter or text.turn_deg != letter.turn_deg or text.height_mm != letter.height_mm:
                continue
            box = _upright(text)
            gap = max(box[0] - right, left - box[2])
            if min(high, box[3]) - max(low, box[1]) > 0.6 * letter.height_mm and 0 < gap < 1.5 * letter.height_mm:
                yield f"{letter.text!r} runs into {text.text!r}"


def _brackets(part, texts, drawn):
    """8: a line with two right-angled bends and an open side, beside or under a large letter: an E at first sight."""
    large = [text for text in texts if len(text.text) == 1 and text.height_mm >= 10]
    for mark in drawn:
        for stroke in mark.strokes:
            points = stroke.points(3)
            turns = [degrees(atan2(b[1] - a[1], b[0] - a[0])) for a, b in itertools.pairwise(points)]
            bends = [round((turn - before + 180) % 360 - 180) for before, turn in itertools.pairwise(turns)]
            is_bracket = bends in ([90, 90], [-90, -90]) and dist(points[0], points[-1]) > 5
            if is_bracket and any(ink(mark).distance(text_box(text)) < text.height_mm / 2 for text in large):
                yield "a bracket beside a large letter"
