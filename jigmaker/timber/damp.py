"""What damp does to the joint: a trestle whose job tells of its timber in, play now and later out; mm, percent.

Only the leg's width moves the play: the housing's width lies along the board's grain, which hardly swells, and leg and
housing grow alike in depth where both are of one wood.
"""

from jigmaker.errors import OutOfRange
from jigmaker.findings import Finding
from jigmaker.job.job import CLEARANCE_WINDOW_MM, Joint
from jigmaker.job.practice import BY_HAND_MM, LOOSE_MM, MALLET_MM
from jigmaker.record import dataclass
from jigmaker.timber.moisture import Movement, equilibrium_moisture, width_change
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text

BEARS_MM: dict[Joint, tuple[float, float]] = {
    "glued": (MALLET_MM, LOOSE_MM),
    "dry": (BY_HAND_MM, CLEARANCE_WINDOW_MM["dry"][1]),
}
"""The least and the most play that a joint bears: glued, as little as a mallet drives home; dry, as little as comes out
by hand. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Damp:
    """The legs' wood between bench and use. now, later: its moisture. grows: of the leg's width, below 0 where it
    shrinks. play_later: at the most that it grows or shrinks. window: the clearances, asked for at the bench, that both
    states bear; None where none does. bears: the change of moisture that the best clearance bears. wait_to: the
    moisture to wait for, with which the job's own clearance will do; None where it will do as it is, or never does.
    """

    species: str
    now: float
    later: float
    grows: Movement
    play_now_mm: float
    play_later_mm: float
    window_mm: tuple[float, float] | None
    bears: float
    wait_to: float | None

    def state(self, joint: Joint) -> str:
        """ "jams", "rattles" or "serves", in the place of use."""
        least, most = BEARS_MM[joint]
        return "jams" if self.play_later_mm < least else "rattles" if self.play_later_mm > most else "serves"


def damp_of(trestle: Trestle) -> Damp | None:
    """What the job's [timber] comes to; None without it. Raises OutOfRange, with what is not known, for no figure."""
    job, timber = trestle.job, trestle.job.timber
    if timber is None:
        return None
    now = _moisture(timber.moisture_now, timber.temperature_now_c, timber.humidity_now)
    later = _moisture(timber.moisture_later, timber.temperature_later_c, timber.humidity_later)
    width, play = job.leg.width_mm, job.housing.clearance_mm
    grows = width_change(timber.species, width, now, later)
    least, most = BEARS_MM[job.housing.joint]
    # A clearance must be enough for the swollen leg, and not too much for the shrunken one; none is under 0.
    # Now the play is p, later p - g for a leg that grows by g; both are to lie from `least` to `most`. So p lies from
    # least + g where it grows, and up to most + g (g below 0) where it shrinks. `room` is the growth that there is from
    # end to end of that, and over the growth for each percent it tells how far damp may change.
    low, high = max(0.0, least + max(0.0, grows.most_mm)), most + min(0.0, grows.most_mm)
    room = most - (least if grows.most_mm > 0 else max(0.0, least))
    per_percent = abs(grows.most_mm / (later - now)) if later != now else 0.0
    return Damp(
        timber.species,
        now,
        later,
        grows,
        play,
        play - grows.most_mm,
        (low, high) if low <= high else None,
        room / per_percent if per_percent else float("inf"),
        _wait_to(timber.species, width, (now, later), (play - most, play - least)),
    )


def _moisture(percent: float | None, temperature_c: float | None, humidity: float | None) -> float:
    if percent is not None:
        return percent
    assert temperature_c is not None and humidity is not None
    return equilibrium_moisture(temperature_c, humidity)


def _wait_to(species: str, width: float, way: tuple[float, float], bears: tuple[float, float]) -> float | None:
    """The moisture nearest to now from which the rest of the way grows the leg by no more than the play bears.

    bears: the least and the most growth that the play bears; when 0 is not among them no waiting helps. Found by
    halving, for growth is monotone in moisture.
    """
    now, later = way

    def is_borne(moisture: float) -> bool:
        return bears[0] <= width_change(species, width, moisture, later).most_mm <= bears[1]

    if is_borne(now) or not is_borne(later):
        return None
    # From now on the growth is too much, from later on there is none left: one moisture between is the first that will
    # do, found by 40 halvings to far below what any meter reads.
    bad, good = now, later
    for _ in range(40):
        middle = (bad + good) / 2
        bad, good = (bad, middle) if is_borne(middle) else (middle, good)
    return good


def damp_findings(trestle: Trestle) -> list[Finding]:
    """A caution when the clearance will not do where the trestles will stand, or when nothing can be said of it."""
    job = trestle.job
    try:
        damp = damp_of(trestle)
    except OutOfRange as error:
        do = "no figure is given; measure an off-cut now, and again after it has lain there for some weeks"
        return [Finding(412, str(error), do, key="job timber", severity="caution")]
    if damp is None or damp.state(job.housing.joint) == "serves":
        return []
    harm = {
        ("jams", "glued"): "the legs press on their housings, and boards may split there",
        ("jams", "dry"): "the legs do not come out again",
        ("rattles", "glued"): "the joints open",
        ("rattles", "dry"): "the legs rattle",
    }[damp.state(job.housing.joint), job.housing.joint]
    later = caliper_text(round(damp.play_later_mm, 2), job.unit)
    return [
        Finding(
            code=411,
            says=f"{damp_words(trestle, damp)}, and a play of {caliper_text(damp.play_now_mm, job.unit)} comes to "
            f"about {later}: {harm}",
            do=damp_advice(trestle, damp),
            key="job housing.clearance",
            value=later,
            severity="caution",
        )
    ]


def damp_words(trestle: Trestle, damp: Damp) -> str:
    """How much the legs swell or shrink, as part of a sentence."""
    job = trestle.job
    sizes = [caliper_text(abs(round(mm, 2)), job.unit) for mm in (damp.grows.most_mm, damp.grows.least_mm)]
    more = f" ({sizes[1]} where the rings stand upright)" if sizes[0] != sizes[1] else ""
    way = "grow" if damp.grows.most_mm >= 0 else "shrink"
    width = caliper_text(job.leg.width_mm, job.unit)
    return (
        f"from {damp.now:.1f} % moisture as worked to {damp.later:.1f} % in use {damp.species} legs {width} wide {way} "
        f"by about {sizes[0]}{more}"
    )


def damp_advice(trestle: Trestle, damp: Damp) -> str:
    """What to do about a clearance that does not serve both places."""
    unit, ways = trestle.job.unit, list[str]()
    if damp.wait_to is not None:
        bound = "or more" if damp.later > damp.now else "or less"
        percent = f"{damp.wait_to + (0.05 if damp.later > damp.now else -0.05):.1f} %"
        ways.append(f"wait until the wood has {percent} {bound} before it is planed and measured")
    if damp.window_mm:
        low, high = (caliper_text(round(mm, 2), unit) for mm in damp.window_mm)
        ways.append(f"make the clearance {low} to {high}")
    else:
        ways.append(
            f"no one clearance serves both, {damp.bears:.1f} % is the most that one bears: else oil or paint the wood "
            "all round, so that it swells less"
        )
    return "; or ".join(ways) if damp.window_mm else "; ".join(ways)
