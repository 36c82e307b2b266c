"""The cutting plan as a page: what to buy, each board as a bar in scale, order of stops, what is left; user's unit.

Bars are drawn with their left end at the left, all in one scale; equal boards are drawn once.
"""

from collections.abc import Sequence

from jigmaker.drawing.page import BOX, Block, Caution, Document, Figures, Heading, Page, Table, Words
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import text_width
from jigmaker.order.cutting_plan import BoardPlan, Placed, SectionPlan
from jigmaker.order.pieces import PARTS_A_MM, PieceKind
from jigmaker.papers.bench import Bench, foot_of
from jigmaker.papers.pictures.canvas import OUTLINE, SMALL_MM, THIN, Canvas
from jigmaker.papers.pictures.hatching import hatch
from jigmaker.papers.wording import counted, size
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text, mm_decimals, text

_WIDE_MM, _HIGH_MM = 176.0, 9.0
"""A bar: its greatest width, and its height."""

_HATCH_MM, _HATCH_DEG = 1.6, 45.0
KEPT_MM = 300.0
"""A shorter rest is counted as waste (common practice, no source)."""

BARELY_MM = 2.0
"""A board may be so much shorter than it is sold as (common practice, no source)."""


def boards_document(bench: Bench, plans: Sequence[SectionPlan]) -> Document:
    """One page: what to buy, then of each section its bars, the order of stops and what is left."""
    job = bench.kit.trestle.job
    blocks: list[Block] = [Heading("To buy"), Table(BUY_HEAD, tuple(buy_rows(plans, bench.unit)))]
    blocks += [Words(line) for line in spare_lines(plans, bench.unit)]
    scale = _WIDE_MM / max(board.kind.length_mm for plan in plans for board in plan.boards)
    for plan in plans:
        # A bar for every board that differs, order of stops, what is left.
        pictures = []
        for board, numbers in plan.alike.items():
            # The bar, its width on paper, and which boards are cut so.
            which = f"Boards {numbers[0]} to {numbers[-1]}, {len(numbers)} alike"
            which = f"Board {numbers[0]}" if len(numbers) == 1 else which
            ripped = f", ripped into {board.sticks} strips" if board.sticks > 1 else ""
            picture, long = bar_picture(board, scale, bench.unit), length_text(board.kind.length_mm, bench.unit)
            pictures.append((picture, picture.width_mm, f"{which}: {long}{ripped}"))
        blocks += [Heading(size(plan.width_mm, plan.thickness_mm, unit=bench.unit)), Figures(tuple(pictures))]
        blocks.append(Table(("in this order", "stop at", "how many", "saw"), tuple(_stops(plan, bench))))
        if any(piece.kind.spread for board in plan.boards for piece in board.pieces):
            blocks.append(Caution(_SLANTED))
        rests = sorted((end - start for board in plan.boards for start, end in board.rests), reverse=True)
        kept = [length_text(rest // PARTS_A_MM, bench.unit) for rest in rests if rest >= KEPT_MM * PARTS_A_MM]
        rest = ", ".join(f"{kept.count(long)} of {long}" for long in dict.fromkeys(kept))
        blocks.append(Words(f"Left over: {rest}." if kept else "Nothing worth keeping is left over."))
    head = (("job", job.name), ("batch", counted(job.all_trestles, "trestle")), ("bought, date", BOX))
    return Document(f"{job.name}: boards", (Page("Boards", tuple(blocks), head),), foot_of(bench))


_SLANTED = (
    "Square pieces first, then set the slant once. The first slanted cut of a run only makes the end: keep the off-cut "
    "clear of blade and stop."
)
BUY_HEAD = ("section", "boards", "length", "together", "fewest?", "waste", "least to spare")


def buy_rows(plans: Sequence[SectionPlan], unit: Unit) -> list[tuple[str, ...]]:
    """A row for each length of each section, its cells under BUY_HEAD."""
    rows: list[tuple[str, ...]] = []
    for plan in plans:
        for i, (kind, n) in enumerate(plan.to_buy):
            section = size(kind.width_mm, kind.thickness_mm, unit=unit)
            spare = min(board.to_spare for board in plan.boards if board.kind == kind) / PARTS_A_MM
            metres = long_text(plan.metres, unit)
            proof = proof_words(plan)
            waste = f"{100 * plan.waste:.0f} %"
            length = length_text(kind.length_mm, unit)
            shared = (metres, proof, waste) if i == 0 else ("", "", "")
            rows.append((section, str(n), length, *shared, length_text(int(10 * spare) / 10, unit)))
    return rows


def proof_words(plan: SectionPlan) -> str:
    """What the boards come to, in number or money, and whether that is proved to be the least."""
    if plan.is_priced:
        cost = f"{plan.cost / 100:.2f}"
        return f"{cost}, cheapest: proved" if plan.cost == plan.least else f"{cost}, not proved"
    if plan.cost == plan.least:
        return f"{plan.cost}, fewest: proved"
    return f"{plan.cost}, at least {plan.least}: not proved"


def long_text(metres: float, unit: Unit) -> str:
    """Running metres, or feet, to a tenth."""
    return f"{text(metres, 1)} m" if unit == "mm" else f"{text(metres / 0.3048, 1)} ft"


def spare_lines(plans: Sequence[SectionPlan], unit: Unit) -> list[str]:
    """What was left out because it would take a board of its own, and boards that only just hold."""
    lines = []
    for plan in plans:
        section = size(plan.width_mm, plan.thickness_mm, unit=unit)
        for kind in plan.left_out:
            lines.append(f"{section}: the spare {kind.name} is left out; it would take one more board.")
        if any(board.to_spare < BARELY_MM * PARTS_A_MM for board in plan.boards):
            lines.append(
                f"{section}: a board is full to its last {text(BARELY_MM)} mm. Measure it before you count on it."
            )
    return lines


def bar_picture(board: BoardPlan, scale: float, unit: Unit) -> Picture:
    """A board from its left end: pieces with their names and lengths, below each how far it reaches from that end."""
    canvas = Canvas()
    for stick in range(1, board.sticks + 1):
        y = -(stick - 1) * (_HIGH_MM + 3 * SMALL_MM)
        pieces = [piece for piece in board.pieces if piece.stick == stick]
        kind, length = board.kind, board.kind.length_mm * scale
        spans = [(0.0, kind.trim_mm), *kind.unusable_mm, (kind.length_mm - kind.trim_mm, kind.length_mm)]
        for low, high in spans:
            ring = [
                (x, z)
                for x, z in (
                    (low * scale, y),
                    (high * scale, y),
                    (high * scale, y + _HIGH_MM),
                    (low * scale, y + _HIGH_MM),
                )
            ]
            if high > low:
                canvas.line([*ring, ring[0]])
                for line in hatch(ring, _HATCH_MM, _HATCH_DEG):
                    canvas.line(line)
        canvas.line([(0, y), (length, y), (length, y + _HIGH_MM), (0, y + _HIGH_MM), (0, y)], OUTLINE)
        for piece in pieces:
            _piece(canvas, piece, scale, y, unit)
        # Below the bar: how far each piece reaches from the left end, where the figures do not touch.
        reached = -1e9
        for piece in pieces:
            x = piece.end * scale / PARTS_A_MM
            words = length_text(piece.end / PARTS_A_MM, unit, 0).removesuffix(" mm")
            wide = text_width(words, SMALL_MM)
            if x - wide / 2 > reached + 1.0:
                canvas.line([(x, y), (x, y - 1.2)], THIN)
                canvas.words(words, (x, y - 1.8 - SMALL_MM), "middle")
                reached = x + wide / 2
    return canvas.picture("Board")


def _piece(canvas: Canvas, piece: Placed, scale: float, y: float, unit: Unit) -> None:
    """Its four lines, slanted for a leg, and as much of its name and length as there is room for."""
    # A leg is sawn slanting, so its lower arris lies `slant` farther on than its upper one:
    #
    #      ____________
    #      \           \
    #       \___________\
    #
    start, slant, length = (part * scale / PARTS_A_MM for part in (piece.start, piece.kind.spread, piece.kind.length))
    ring: list[Point] = [
        (start + slant, y),
        (start, y + _HIGH_MM),
        (start + length, y + _HIGH_MM),
        (start + slant + length, y),
    ]
    canvas.line([*ring, ring[0]], OUTLINE)
    what = piece.kind.name.partition(" for size")[0]  # of several sizes the length tells which
    for words in (f"{what} {length_text(piece.kind.stop_mm, unit, 1)}", what, what[:1].upper()):
        if text_width(words, SMALL_MM) < length - slant - 1.0:
            middle = start + (slant + length) / 2
            canvas.words(words, (middle, y + (_HIGH_MM - SMALL_MM) / 2), "middle")
            return


def _stops(plan: SectionPlan, bench: Bench) -> list[tuple[str, ...]]:
    """One stop for each kind, never back again: square pieces, longest first, then the slanted ones."""
    counts: dict[str, int] = {}
    kinds: dict[str, PieceKind] = {}
    for board in plan.boards:
        for piece in board.pieces:
            kinds[piece.kind.name] = piece.kind
            counts[piece.kind.name] = counts.get(piece.kind.name, 0) + 1
    angles = bench.kit.trestle.angles
    rows: list[tuple[str, ...]] = []
    for kind in sorted(kinds.values(), key=lambda kind: (bool(kind.spread), -kind.length)):
        saw = "square"
        along = ""
        if kind.spread and bench.kit.shop.leg_saw.kind == "hand":
            saw, along = "in the leg box, wide face down", ", along an arris"
        elif kind.spread:
            saw = (
                f"wide face down: mitre {fixed(angles.saw_mitre_deg, 2)}° off square, "
                f"blade {fixed(angles.saw_tilt_deg, 2)}° off upright"
            )
            along = ", along an arris"
        elif kind.name.startswith("leg"):
            saw = "square: a blank, its ends as its set-up page says"
        elif kind.name == "brace":
            saw = "its ends, as its set-up page says"
            along = ", long point to long point"
        rows.append((kind.name, length_text(kind.stop_mm, bench.unit, 1) + along, str(counts[kind.name]), saw))
    return rows


def board_rows(plans: Sequence[SectionPlan], unit: Unit) -> list[tuple[str, ...]]:
    """Head and rows for a spreadsheet: every piece with its board; plain decimals in the user's unit."""
    head = ("board", "section", "board length", "strip", "piece", "from", "to", "stop")
    lengths = ("board length", "from", "to", "stop")
    rows = [tuple(f"{name}, {unit}" if name in lengths else name for name in head)]
    for plan in plans:
        section = size(plan.width_mm, plan.thickness_mm, unit=unit)
        for number, board in enumerate(plan.boards, plan.before + 1):
            for piece in board.pieces:
                sizes = (piece.start / PARTS_A_MM, piece.end / PARTS_A_MM, piece.kind.stop_mm)
                lengths_mm = (board.kind.length_mm, *sizes)
                plain = [text(mm, mm_decimals(mm)) if unit == "mm" else text(mm / MM_PER_INCH, 4) for mm in lengths_mm]
                rows.append((str(number), section, plain[0], str(piece.stick), piece.kind.name, *plain[1:]))
    return rows
