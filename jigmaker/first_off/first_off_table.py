"""A solved trestle and the shop in, a table out: what each setting that is off does to the five figures, and the cure.

The figure in which a setting shows most goes from -0.3 to +0.3 mm; the others follow from the exact housing.
mm, degrees.
"""

from dataclasses import fields

from jigmaker.first_off.first_off import Diagnosis, FirstOff, causes_of, diagnose
from jigmaker.first_off.housing_settings import HousingFigures, Settings, housing_reading
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle

LEADS_MM = (-0.3, -0.2, -0.1, 0.1, 0.2, 0.3)
"""The figures of the table."""


@dataclass(frozen=True, slots=True)
class DiagnosisRow:
    """One line: the five figures as read less wanted, rounded to 0.01 mm; which of them leads; what is off.

    instead: another setting that would read nearly the same, or None.
    """

    reading: HousingFigures
    lead: str
    found: Diagnosis
    instead: Diagnosis | None


def diagnosis_table(trestle: Trestle, shop: Shop) -> tuple[DiagnosisRow, ...]:
    """Rows by setting, each from the least figure to the greatest; an edge that is off shows in one as less only."""
    guide, wanted, rows = "bearing" if shop.router.is_bearing_guided else "bush", housing_reading(trestle), []
    for cause in causes_of(trestle):
        at = max(range(len(cause.answers)), key=lambda k: abs(cause.answers[k]))
        for lead in LEADS_MM:
            off = lead / cause.answers[at]
            if (1 if off > 0 else -1) not in cause.signs:
                continue
            figures = housing_reading(trestle, Settings(**{cause.field: off})).less(wanted).figures()
            reading = HousingFigures(*(round(figure, 2) + 0.0 for figure in figures))
            said = diagnose(trestle, [FirstOff("R", reading)], guide=guide)
            found = next(d for d in said if d.setting == cause.setting)
            instead = next((d for d in said if d.setting != cause.setting), None)
            rows.append(DiagnosisRow(reading, fields(HousingFigures)[at].name, found, instead))
    return tuple(rows)
