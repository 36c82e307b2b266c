"""What a batch's timber comes to, in words: a TimberResult in, labels with sentences out, for screen and page alike.

Lengths in the job's unit; shares in whole per cents, since more would not be true.
"""

from collections.abc import Iterator, Sequence

from jigmaker.levelling.trim import trim_to_leave_mm
from jigmaker.papers.wording import counted, fine_text
from jigmaker.timber.boards import EDGES
from jigmaker.timber.damp import damp_advice, damp_words
from jigmaker.timber.forecast import Forecast
from jigmaker.timber.places import THICKEST_TAPE_MM, LegPlace, Places
from jigmaker.timber.result import TimberResult
from jigmaker.trestle.wording import at_least
from jigmaker.units import Unit, caliper_text, fixed

Told = tuple[str, tuple[str, ...]]
"""A label and the sentences beside it."""

SELDOM = "Seldom is one in 20. Spreads that were not measured are common practice, not yours."


def timber_words(result: TimberResult) -> Iterator[Told]:
    """Everything in the order in which it is used at the bench; what there is nothing to say of is left out."""
    if result.lot and result.places:
        yield "legs", tuple(_lot_words(result))
        yield "settings", tuple(_setting_words(result))
        if plane := plane_words(result.places):
            yield "plane", (plane,)
        yield "together", tuple(trestle_words(result.places))
    if result.boards:
        yield "boards", tuple(_board_words(result))
    yield from forecast_words(result)
    if result.damp:
        joint = result.trestle.job.housing.joint
        does = {"jams": "too little", "rattles": "too much", "serves": "which the joint bears"}
        later = caliper_text(round(result.damp.play_later_mm, 2), result.trestle.job.unit)
        state = result.damp.state(joint)
        told = f"{damp_words(result.trestle, result.damp)}: the play comes to about {later}, {does[state]}."
        yield (
            "damp",
            (_sentence(told), *([] if state == "serves" else [_sentence(damp_advice(result.trestle, result.damp))])),
        )
    elif result.damp_unknown:
        yield "damp", (_sentence(result.damp_unknown),)


def _lot_words(result: TimberResult) -> Iterator[str]:
    """Mean, spread, odd ones, and the width to enter before the plate is cut."""
    lot, places, unit = result.lot, result.places, result.trestle.job.unit
    assert lot and places and lot.spread_mm is not None and lot.next_mm
    least, most, mean, spread, low, high = (
        caliper_text(round(mm, 2), unit) for mm in (lot.least_mm, lot.most_mm, lot.mean_mm, lot.spread_mm, *lot.next_mm)
    )
    yield f"{least} to {most} wide, mean {mean}, one standard deviation {spread}."
    yield f"The next leg of this lot is {low} to {high} wide, 95 of 100."
    if lot.odd:
        yield f"Measure again: {_legs(lot.odd)}, far off the others."
    if (places.enter_strokes, places.enter_settings) < (places.choices[-1][1], places.choices[-1][0]):
        yield (
            f"If the plate is not cut yet: a leg.width of {caliper_text(places.enter_mm, unit)} in the job takes "
            f"{_effort(places.enter_settings, places.enter_strokes)}."
        )


def _setting_words(result: TimberResult) -> Iterator[str]:
    """The tape for each setting, widest first, with its legs; then what fewer settings would ask of the plane."""
    places, readings, unit = result.places, result.readings, result.trestle.job.unit
    assert places
    for layers in places.layers:
        narrower = f", {caliper_text(round(layers * readings.tape_mm, 3), unit)} narrower" if layers else ""
        legs = [leg for leg in places.legs if leg.layers == layers]
        of_hand = [f"{hand} {_numbers([leg.number for leg in legs if leg.hand == hand])}" for hand in "RL"]
        yield f"{tape_words(layers, readings.tape_mm)}{narrower}: legs {', '.join(h for h in of_hand if len(h) > 2)}."
    if places.aside:
        yield f"No setting takes {_legs(places.aside)}, planed or not: saw others."
    *fewer, last = places.choices
    told = [f"{_effort(*last)}, and no more settings save a stroke", *(f"{_effort(*each)}" for each in reversed(fewer))]
    yield f"{_sentence('; or '.join(told))} None of these can be had with fewer strokes."


def plane_words(places: Places) -> str:
    """Which legs want how many strokes; "" for none."""
    planed = [leg for leg in places.legs if leg.strokes]
    strokes = sorted({leg.strokes for leg in planed})
    told = [f"{counted(n, 'stroke')}: {_legs([leg.number for leg in planed if leg.strokes == n])}" for n in strokes]
    return f"Off one edge, {'; '.join(told)}." if told else ""


def trestle_words(places: Places) -> Iterator[str]:
    """A sentence a trestle: which leg stands over which foot, and which end is up."""
    # Which leg stands at which foot of which trestle; a batch may be a few legs short of whole trestles.
    by_seat: dict[tuple[int, str, str], int] = {(leg.trestle, leg.hand, leg.foot): leg.number for leg in places.legs}
    for trestle in sorted({leg.trestle for leg in places.legs}):
        hands = []
        for hand, end in (("R", "A"), ("L", "B")):
            feet = [
                f"{foot} leg {by_seat[trestle, hand, foot]}"
                for foot in ("near", "far")
                if (trestle, hand, foot) in by_seat
            ]
            hands.append(f"{hand}, end {end} up: {', '.join(feet)}")
        yield f"{trestle}: {'; '.join(hands)}."
    yield "By thickness, for the eye only: neither height nor rock depends on it."


def tape_words(layers: int, tape_mm: float) -> str:
    """Where tape is stuck; on the far wall first, for the near wall gives the leg its direction."""
    # As many layers as may lie on one wall; what is more goes on the other.
    a_wall = int(THICKEST_TAPE_MM / tape_mm + 1e-9)
    if not layers:
        return "No tape"
    far = f"{counted(min(layers, a_wall), 'layer')} of tape on the far wall"
    return far if layers <= a_wall else f"{far} and {layers - a_wall} on the near wall"


def _board_words(result: TimberResult) -> Iterator[str]:
    """Depths that are off by more than the dry fit allows, and boards to level first."""
    unit = result.trestle.job.unit
    for board in result.boards:
        if board.is_uneven:
            # An edge's housings in both faces of the board.
            edges = []
            for edge, top, bottom in zip(EDGES, board.depth_top_mm, board.depth_bottom_mm, strict=True):
                off = [
                    f"{fine_text(abs(mm), unit)} {'deeper' if mm > 0 else 'less deep'} in the {face} face"
                    for face, mm in (("top", top), ("bottom", bottom))
                    if abs(mm) >= 0.05
                ]
                if off:
                    edges.append(f"housings of the {edge} edge {' and '.join(off)}")
            yield f"Board {board.number}: {'; '.join(edges)}."
    rocking = sorted((board for board in result.boards if board.rocks), key=lambda board: -board.rock_mm)
    if rocking:
        told = ", ".join(f"{board.number} ({fine_text(board.rock_mm, unit)})" for board in rocking)
        yield f"Winding alone makes these rock, and levelling cures it: board {told}."
    if not rocking and not any(board.is_uneven for board in result.boards):
        yield "All boards keep the depths and the rock within the limits of the set-up sheets."


def forecast_words(result: TimberResult) -> Iterator[Told]:
    """Legs, feet, trim, remedies and first-offs."""
    told, job = result.forecast, result.trestle.job
    unit, shares = job.unit, told.legs
    yield (
        "go in",
        (
            f"By hand: {percent(shares.by_hand)}; with a mallet: {percent(shares.mallet)}; not at all: "
            f"{percent(shares.not_in)}; loose: {percent(shares.loose)}.",
            f"Every leg goes in: in {percent(shares.whole_trestles)} of trestles, {percent(shares.whole_batches)} of "
            "batches.",
        ),
    )
    low, middle, high = (caliper_text(round(mm, 2), unit) for mm in told.gap_mm)
    yield "play", (f"{middle}; 95 of 100 from {low} to {high}.",)
    apart, rock = ([fine_text(mm, unit) for mm in pair] for pair in (told.apart_mm, told.rock_mm))
    yield "feet", (f"The four of a trestle are {apart[0]} apart before levelling, seldom over {apart[1]}.",)
    yield "rock", (f"{rock[0]} before levelling, seldom over {rock[1]}.",)
    leave, has = trim_to_leave_mm(told.trim, unit), job.leg.trim_mm
    enough = "which the job does" if abs(has - leave) < 1e-6 else f"the job leaves {caliper_text(has, unit)}"
    yield (
        "trim",
        (
            f"Leave {caliper_text(leave, unit)} on every foot, along the leg, and 19 of 20 batches keep their height "
            f"({enough}); with every error at its limit it takes {at_least(told.trim.worst_mm, unit)}.",
        ),
    )
    if told.remedies:
        yield "what helps", tuple(remedy_words(told, unit))
    if first := told.first_offs:
        yield (
            "first-off",
            (
                f"The first housing of a hand is right in {percent(first.right)}: count on {fixed(first.expected, 1)} "
                "trial housings for each hand.",
            ),
        )


def remedy_words(told: Forecast, unit: Unit) -> Iterator[str]:
    """What each remedy changes by itself, in the order of what it does to rock."""
    for number, remedy in enumerate(told.remedies, 1):
        gains = []
        for name, pair in (("rock", remedy.rock_mm), ("shortest leg short by", remedy.too_short_mm)):
            before, after = (fine_text(mm, unit) for mm in pair)
            if before != after and pair[1] < pair[0]:
                gains.append(f"{name} {before} to {after}")
        if round(100 * remedy.by_hand[1]) > round(100 * remedy.by_hand[0]):
            gains.append(f"by hand {percent(remedy.by_hand[0])} to {percent(remedy.by_hand[1])}")
        yield f"{number}. {remedy.do[0].upper()}{remedy.do[1:]}: {', '.join(gains)}."


def place_rows(places: Places, result: TimberResult) -> Iterator[tuple[str, ...]]:
    """A row a leg, in the order of their numbers."""
    unit = result.trestle.job.unit
    for leg in places.legs:
        yield (
            f"{leg.number}",
            f"{leg.trestle}",
            seat(leg),
            leg.end,
            tape_words(leg.layers, result.readings.tape_mm),
            f"{leg.strokes}" if leg.strokes else "",
            caliper_text(leg.play_mm, unit),
        )


def seat(leg: LegPlace) -> str:
    """The foot that a leg stands over: near R."""
    return f"{leg.foot} {leg.hand}"


def percent(share: float) -> str:
    """In whole per cents; what is not quite none or all says so."""
    whole = round(100 * share)
    if 0 < share < 1 and whole in (0, 100):
        return "under 1 %" if whole == 0 else "over 99 %"
    return f"{whole} %"


def _effort(settings: int, strokes: int) -> str:
    return f"{counted(settings, 'setting')} and {counted(strokes, 'stroke') if strokes else 'no stroke'} of the plane"


def _legs(numbers: Sequence[int]) -> str:
    return f"leg{'s' if len(numbers) > 1 else ''} {_numbers(numbers)}"


def _numbers(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers))


def _sentence(words: str) -> str:
    plain = words.rstrip(".")
    return f"{plain[0].upper()}{plain[1:]}."
