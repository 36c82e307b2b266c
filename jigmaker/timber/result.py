"""All that a batch's timber tells: trestle, shop and readings in, one record for screen, page and JSON out; mm."""

from jigmaker.errors import OutOfRange
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.timber.boards import BoardEffect, board_effect
from jigmaker.timber.damp import Damp, damp_of
from jigmaker.timber.forecast import Forecast, forecast
from jigmaker.timber.lot import Lot, lot_of
from jigmaker.timber.places import Places, place_legs
from jigmaker.timber.readings import TimberReadings, refuse_sizes
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class TimberResult:
    """lot and places: None where no legs were measured. damp: None where the job says nothing of it, or where nothing
    is known; then damp_unknown says why.
    """

    trestle: Trestle
    readings: TimberReadings
    lot: Lot | None
    places: Places | None
    boards: tuple[BoardEffect, ...]
    forecast: Forecast
    damp: Damp | None
    damp_unknown: str


def timber_result(
    trestle: Trestle, shop: Shop, readings: TimberReadings, settings: int = 0, trestles: int = 0
) -> TimberResult:
    """`settings`: of the jig, how many at most, 0 for as few as save every stroke; `trestles`: drawn for the forecast,
    0 for as many as usual. Raises JobError for a job of several sizes, whose legs are not all of one length.
    """
    refuse_sizes(trestle.job)
    places = place_legs(trestle, readings, settings) if readings.legs else None
    damp, unknown = None, ""
    try:
        damp = damp_of(trestle)
    except OutOfRange as error:
        unknown = str(error)
    return TimberResult(
        trestle,
        readings,
        lot_of(readings.legs, readings.caliper_mm) if readings.legs else None,
        places,
        tuple(board_effect(trestle, board) for board in readings.boards),
        forecast(trestle, shop, readings, places, trestles),
        damp,
        unknown,
    )
