"""The least boards for a few pieces, by trying everything: pieces laid one after another in every order; mm.

It knows no patterns and no capacities, only who may lie beside whom: two legs share a cut; between anything else lies
the blade, from outermost point to outermost point; beside what is unusable lies nothing.
"""

from functools import cache
from itertools import combinations_with_replacement

from jigmaker.order.pieces import PieceKind

KERF = 3.2
CRUMB_MM = 0.01


def piece(name, length, gap=KERF, spread=0.0, wanted=1, spares=0, section=(70, 32)):
    """A kind of piece from mm."""
    return PieceKind(name, *section, round(length * 1000), round(gap * 1000), round(spread * 1000), wanted, spares)


def holds(pieces, board, kerf):
    """True when the board (length, trim, spans) holds these pieces, each (length, gap, spread)."""
    length, trim, spans = board
    unusable = sorted([(0.0, trim), *spans, (length - trim, length)])

    @cache
    def rest_fits(left, at, last):
        for i, piece in enumerate(left):
            if i and left[i - 1] == piece:
                continue
            size = piece[0] + piece[2]
            start, moved = first_free(_behind(at, last, piece, kerf), size, unusable)
            if moved:  # the blade runs in waste there: the piece may start right behind it
                start, _ = first_free(at, size, unusable)
            if start + size <= length - trim + CRUMB_MM and rest_fits((*left[:i], *left[i + 1 :]), start + size, piece):
                return True
        return not left

    return rest_fits(tuple(sorted(pieces)), 0.0, None)


def _behind(at, last, piece, kerf):
    """Where a piece may start behind the last one, whose outermost point lies at `at`."""
    if last is None:
        return at
    if last[2] and piece[2]:
        return at - last[2] + piece[1]
    return at + (kerf if last[2] or piece[2] else max(last[1], piece[1]))


def first_free(at, size, unusable):
    """Where a piece of that size can start, not before `at`, clear of what is unusable; did it move?"""
    start, moved = at, False
    for low, high in unusable:
        if start + size > low + CRUMB_MM and start < high - CRUMB_MM:
            start, moved = high, True
    return start, moved


def least_boards(pieces, boards, kerf, most=5):
    """The least number of boards, each of any of these kinds (length, trim, spans, count), that holds all; or None."""
    kinds = range(len(boards))
    for n in range(1, most + 1):
        for chosen in combinations_with_replacement(kinds, n):
            if any(chosen.count(k) > boards[k][3] for k in kinds):
                continue
            if _dealt(tuple(sorted(pieces, reverse=True)), tuple(() for _ in chosen), chosen, boards, kerf):
                return n
    return None


def _dealt(left, held, chosen, boards, kerf):
    if not left:
        return True
    tried = set()
    for i, inside in enumerate(held):
        state = (chosen[i], inside)
        if state in tried:
            continue
        tried.add(state)
        more = (*inside, left[0])
        if _fits(tuple(sorted(more)), boards[chosen[i]][:3], kerf) and _dealt(
            left[1:], (*held[:i], more, *held[i + 1 :]), chosen, boards, kerf
        ):
            return True
    return False


@cache
def _fits(pieces, board, kerf):
    return holds(pieces, board, kerf)
