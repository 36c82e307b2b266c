"""Readings of the coupon: a filled-in form's bytes and the shop in, Readings out, or all faults with lines; mm."""

from dataclasses import replace
from statistics import median
from typing import Any

from jigmaker.coupon.first_coupon import STEP_MM, FirstCoupon, first_coupon
from jigmaker.coupon.form_rules import COMB, COUPON, GAP, LINES, TURN_OVER, readings_section
from jigmaker.coupon.form_survey import FormSurvey
from jigmaker.coupon.lines import Allowance
from jigmaker.job.shop import Shop
from jigmaker.parts.coupon_size import CouponSize, coupon_size, figure
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_text

WIDEST_KERF_MM = 1.0
STOPS_APART_MM = 12.0
"""Farther apart one offcut does not stop in the gap: that would be 0.12 mm of its thickness."""


@dataclass(frozen=True, slots=True)
class TurnOver:
    """The turn-over test of a bevel plate: readings of the opening and the lines' length, mm.

    leans: +1 when the line drawn with the marks in sight leans to the right, else -1. turned: the plate lay on the bed
    with a quarter turn, which changes the sign of what it shows.
    """

    openings: tuple[float, ...]
    length_mm: float
    leans: int
    turned: bool

    @property
    def sign(self) -> int:
        """+1 when an opening means a positive skew of the machine."""
        return -self.leans if self.turned else self.leans


@dataclass(frozen=True, slots=True)
class Readings:
    """All that was measured. `taken`: readings by the key of their station, mm; a station left out is not in it.

    `joints`: for each face that an offcut was tried from, "marked_face" and "other_face", three readings: how far from
    the gap's narrow end it stopped, or on a first coupon the width, as drawn, of the narrowest slot it entered.
    """

    unit: Unit
    size: CouponSize | FirstCoupon
    lines: Allowance
    thickness_mm: float
    caliper_mm: float
    taken: dict[str, tuple[float, ...]]
    joints: dict[str, tuple[float, ...]]
    turn_over: TurnOver | None = None


def read_form(data: bytes, file: str, shop: Shop) -> Readings:
    """The readings in a form of this shop's coupon. Raises JobError with all faults, each with line, key and rule."""
    survey = FormSurvey.of(data, file)
    drawn = survey.values(COUPON)
    before = survey.values(LINES)
    # The form must be that of the shop's machine.
    kind, width = drawn["machine"], drawn["made_for"]
    if kind and kind != shop.machine.kind:
        survey.add("coupon.machine", f'is "{kind}", but the shop has a {shop.machine.kind}; name the right shop')
        survey.refuse_faults()
    if width and kind == "laser" and width > WIDEST_KERF_MM:
        survey.add("coupon.made_for", f"must be {length_text(WIDEST_KERF_MM, survey.unit or 'mm')} or less for a laser")
        drawn["made_for"] = None
    if survey.unit is None or None in [drawn[key] for key in ("form", "drawn_in", "machine", "made_for", "thickness")]:
        survey.refuse_faults()  # without these nobody knows what the coupon looks like
    # The coupon as it was drawn then: the shop may have changed since.
    machine = replace(shop.machine, tool_mm=drawn["made_for"], kerf_x_mm=None, kerf_y_mm=None)
    then = replace(shop, machine=machine, sheet=replace(shop.sheet, thickness_mm=drawn["thickness"]))
    size, lines = (coupon_size if drawn["form"] == 2 else first_coupon)(then, drawn["drawn_in"]), _lines(drawn, before)
    readings = readings_section(size, lines, drawn["made_for"])
    tried = COMB if isinstance(size, FirstCoupon) else GAP
    survey.look_for_unknown_keys((COUPON, LINES, readings, tried, TURN_OVER))
    taken = {rule.key: survey.lengths(readings, rule) for rule in readings.rules}
    if isinstance(size, FirstCoupon):
        joints = {rule.key: _slots(survey, rule.key, size, drawn["drawn_in"]) for rule in COMB.rules}
    else:
        joints = {rule.key: _stops(survey, rule.key, size) for rule in GAP.rules}
    if bool(taken["E_rising"]) != bool(taken["E_falling"]):
        survey.add("readings.E_rising", "and E_falling go together; measure both diagonals or neither")
    turn_over = _turn_over(survey)
    survey.refuse_faults()
    return Readings(
        unit=drawn["units"],
        size=size,
        lines=lines,
        thickness_mm=drawn["thickness"],
        caliper_mm=drawn["caliper"],
        taken={key: values for key, values in taken.items() if values},
        joints={key: values for key, values in joints.items() if values},
        turn_over=turn_over,
    )


def _lines(drawn: dict[str, Any], before: dict[str, Any]) -> Allowance:
    """What was in the lines that were cut: by the file, and by the machine's own program."""
    # A file at finished size allows for nothing and is corrected for nothing; whatever the machine's program adds, it
    # adds on both.
    x, y = before["kerf_x"] or drawn["made_for"], before["kerf_y"] or drawn["made_for"]
    added = drawn["added"] or 0.0
    if drawn["compensation"] == "left out":
        return Allowance(added, added)
    kept = {key: before[key] for key in ("scale_x", "scale_y", "skew_deg") if before[key] is not None}
    return Allowance(x + added, y + added, **kept)


def _stops(survey: FormSurvey, key: str, size: CouponSize) -> tuple[float, ...]:
    """How far from the gap's narrow end an offcut stopped: somewhere in the gap."""
    if size.gap is None:
        return ()
    stops = survey.lengths(GAP, replace(GAP.rule(key), low=0.5, high=size.gap[1]))
    if stops and max(stops) - min(stops) > STOPS_APART_MM:
        survey.add(f"gap.{key}", "holds readings too far apart; try the same offcut again, pushed as gently each time")
    return stops


def _slots(survey: FormSurvey, key: str, size: FirstCoupon, unit: Unit) -> tuple[float, ...]:
    """The slots that were named by the figures over them, which are in the coupon's unit and shorter than the size."""
    if not size.slots:
        return ()
    rule = replace(COMB.rule(key), low=size.slots[0] - STEP_MM / 2, high=size.slots[-1] + STEP_MM / 2)
    scored = replace(survey, unit=unit)  # the same list of faults
    nearest = [min(size.slots, key=lambda slot: abs(slot - said)) for said in scored.lengths(COMB, rule)]
    if nearest and max(abs(slot - median(nearest)) for slot in nearest) > 2.5 * STEP_MM:
        words = ", ".join(figure(slot, unit) for slot in nearest)
        survey.add(f"comb.{key}", f"is {words}, which is more than two slots apart; try the same offcut again")
    return tuple(nearest)


def _turn_over(survey: FormSurvey) -> TurnOver | None:
    """The test, when its opening is filled in; the rest of its section then must be too."""
    openings = survey.lengths(TURN_OVER, replace(TURN_OVER.rule("opening"), required=False))
    if not openings:
        return None
    length, leans, lay = (survey.value(TURN_OVER, TURN_OVER.rule(key)) for key in ("length", "leans", "lay"))
    if length is None or leans is None or lay is None:
        return None
    return TurnOver(openings, length, 1 if leans == "right" else -1, lay == "quarter turn")
