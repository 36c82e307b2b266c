"""Damp against the Wood Handbook, a published fit for softwood lumber, and the play that a joint bears."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.errors import JobError, OutOfRange
from jigmaker.job.job import HousingFit, Job, Timber
from jigmaker.job.read import read_job
from jigmaker.job.write import job_text
from jigmaker.making.job_check import check_job
from jigmaker.timber.damp import damp_findings, damp_of
from jigmaker.timber.moisture import COEFFICIENTS, equilibrium_moisture, width_change
from jigmaker.trestle.solve import solve

# Wood Handbook, FPL-GTR-190, table 4-3: shrinkage from green to ovendry, radial and tangential, in percent. Every
# printed coefficient of table 13-5 is S / (30 - 20 S), the shrinkage below 30 % referred to the size at 10 %.
SHRINKAGE = {
    "white ash": (4.9, 7.8),
    "American beech": (5.5, 11.9),
    "yellow birch": (7.3, 9.5),
    "sugar maple": (4.8, 9.9),
    "coast Douglas-fir": (4.8, 7.6),
}


@pytest.mark.parametrize("species", SHRINKAGE)
def test_coefficients_agree_with_the_shrinkage_of_another_table(species: str) -> None:
    """Both tables are printed to five decimals and one: half a unit of the last decimal, and of 0.1 % of shrinkage."""
    for coefficient, percent in zip(COEFFICIENTS[species], SHRINKAGE[species], strict=True):
        assert coefficient == pytest.approx(percent / 100 / (30 - 20 * percent / 100), abs=2.5e-5)


@pytest.mark.parametrize(
    ("species", "now", "later", "most", "least"),
    [  # size x C x change, worked by hand from table 13-5 for 70 mm
        ("coast Douglas-fir", 8, 12, 0.7476, 0.462),
        ("red oak", 8, 12, 1.0332, 0.4424),
        ("American beech", 8, 12, 1.2068, 0.532),
        ("White Ash", 14, 6, -1.5344, -0.9464),
        # Softwood lumber: (100 - S2) / (100 - S1) with S = 6.031 - 0.215 M, by hand.
        ("softwood", 12, 18, 0.9353, 0.9353),
        ("softwood", 18, 12, -0.9229, -0.9229),
        ("softwood", 8, 19, 1.7303, 1.7303),
    ],
)
def test_a_leg_70_mm_wide_moves_by_the_published_figures(species, now, later, most, least) -> None:
    """To a thousandth of a millimetre."""
    change = width_change(species, 70.0, now, later)
    assert (change.most_mm, change.least_mm) == pytest.approx((most, least), abs=0.0006)


@pytest.mark.parametrize(
    ("celsius", "humidity", "percent"), [(60, 55, 8.37), (21.1, 60, 10.97), (0, 30, 6.32), (20, 90, 20.53)]
)
def test_moisture_follows_the_air_by_the_equation(celsius: float, humidity: float, percent: float) -> None:
    """Worked out by the equation outside of this program; the handbook's table says 11.0 for 21.1 C and 60 %."""
    assert equilibrium_moisture(celsius, humidity) == pytest.approx(percent, abs=0.006)


@pytest.mark.parametrize(
    ("celsius", "humidity", "printed"),
    [(21.1, 30, 6.2), (21.1, 50, 9.2), (21.1, 80, 16.0), (4.4, 65, 12.3), (32.2, 65, 11.5)],
)
def test_moisture_is_near_the_handbooks_own_table(celsius: float, humidity: float, printed: float) -> None:
    """Wood Handbook table 4-2, rows 70, 40 and 90 F, from memory; the equation is a fit to it."""
    assert equilibrium_moisture(celsius, humidity) == pytest.approx(printed, abs=0.2)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: width_change("ebony", 70, 8, 12), 'how "ebony" swells is not known here: known are softwood'),
        (lambda: width_change("red oak", 70, 8, 15), "red oak moves at 15.0 % .* goes from 6 to 14 %"),
        (lambda: width_change("softwood", 70, 7, 12), "softwood moves at 7.0 % .* goes from 8 to 19 %"),
        (lambda: equilibrium_moisture(-5, 50), "air of -5 C and 50 % humidity is not known"),
        (lambda: equilibrium_moisture(20, 97), "from 5 to 95 %"),
    ],
)
def test_beyond_what_was_measured_there_is_no_figure(call, says: str) -> None:
    """A sentence instead."""
    with pytest.raises(OutOfRange, match=says):
        call()


def damp_job(timber: Timber | None, fit: HousingFit = DEMO.housing) -> Job:
    """The demo, of that timber."""
    return replace(DEMO, timber=timber, housing=fit, leg=replace(DEMO.leg, trim_mm=4.0))


def test_a_shop_dry_leg_jams_outdoors_and_is_told_what_helps() -> None:
    """12 to 18 %: 0.94 mm on 70; (0.30 + 0.10) mm of room over 0.156 mm for 1 % bear 2.6 %, worked by hand."""
    job = damp_job(Timber("softwood", moisture_now=12, moisture_later=18))
    damp = damp_of(solve(job))
    assert damp and damp.play_later_mm == pytest.approx(0.15 - 0.9353, abs=0.001)
    assert damp.window_mm is None
    assert damp.bears == pytest.approx(2.57, abs=0.01)
    # The rest of the way may take 0.25 mm: 0.25 / 0.156 = 1.6 % before 18 %.
    assert damp.wait_to == pytest.approx(16.4, abs=0.02)
    (finding,) = damp_findings(solve(job))
    assert (
        "from 12.0 % moisture as worked to 18.0 % in use softwood legs 70 mm wide grow by about 0.94 mm" in finding.says
    )
    assert "wait until the wood has 16.4 % or more" in finding.do and "no one clearance serves both" in finding.do


def test_waiting_and_the_window_are_enough_and_not_too_much() -> None:
    """At either end of the window, and after waiting, the joint is at its limit and no further."""
    for now, later in ((9.0, 11.0), (11.0, 9.8)):
        for joint, (least, most) in {"glued": (-0.1, 0.3), "dry": (0.03, 1.0)}.items():
            job = damp_job(Timber("white ash", moisture_now=now, moisture_later=later), HousingFit(0.15, joint=joint))
            damp = damp_of(solve(job))
            assert damp and damp.window_mm
            grown = damp.grows.most_mm
            plays = [play for c in damp.window_mm for play in (c, c - grown)]
            assert min(plays) >= least - 1e-9 and max(plays) <= most + 1e-9
            assert min(plays) == pytest.approx(least if later > now else max(0.0, least))
            assert max(plays) == pytest.approx(most)
            if damp.wait_to is not None:
                left = width_change("white ash", 70, damp.wait_to, later).most_mm
                assert 0.15 - left == pytest.approx(least if later > now else most, abs=1e-6)


def test_shrinking_opens_a_joint() -> None:
    """Wood from the yard at 18 % in a shed at 12 %: the play of 0.15 comes to 1.07."""
    (finding,) = damp_findings(solve(damp_job(Timber("softwood", moisture_now=18, moisture_later=12))))
    assert "shrink by about 0.92 mm" in finding.says and finding.says.endswith("1.07 mm: the joints open")
    assert "or less before it is planed" in finding.do


def test_a_caution_of_make_and_nothing_without_timber() -> None:
    """Told among the cautions of the job; a joint that bears it, and a job that says nothing, are left in peace."""
    codes = {
        name: [finding.code for finding in check_job(damp_job(timber), DEMO_SHOP) if finding.code in (411, 412)]
        for name, timber in {
            "damp": Timber("softwood", moisture_now=10, temperature_later_c=15, humidity_later=80),
            "same": Timber("softwood", moisture_now=12, moisture_later=12.5),
            "unknown": Timber("ebony", moisture_now=8, moisture_later=12),
            "nothing": None,
        }.items()
    }
    assert codes == {"damp": [411], "same": [], "unknown": [412], "nothing": []}


GOOD = 'species = "softwood"\nmoisture_now = 12\nhumidity_later = 75\ntemperature_later = "59 F"\n'


def job_with(timber: str) -> bytes:
    """The demo's file with a [timber] table."""
    return job_text(damp_job(None)) + f"\n[timber]\n{timber}".encode()


def test_the_table_reads_and_is_written_again() -> None:
    """Fahrenheit is read as Celsius; an empty table says nothing; a job without it is written without it."""
    job = read_job(job_with(GOOD))
    assert job.timber == Timber("softwood", moisture_now=12, temperature_later_c=15.0, humidity_later=75)
    assert read_job(job_text(job)) == job
    assert read_job(job_with("")).timber is None
    assert b"timber" not in job_text(damp_job(None))


@pytest.mark.parametrize(
    ("timber", "says"),
    [
        ("moisture_now = 12\nmoisture_later = 14\n", "line 26: timber lacks species"),
        ('species = "softwood"\nmoisture_now = 12\n', "timber.moisture_later is missing, and without it nothing"),
        (GOOD + "moisture_later = 15\n", "moisture_later and humidity_later and temperature_later say it twice"),
        (GOOD.replace("humidity_later = 75\n", ""), "temperature_later needs humidity_later beside it"),
        (GOOD.replace('"59 F"', "59"), 'is 59, must be a temperature with its scale: write "20 C" or "68 F"'),
        (GOOD.replace("59 F", "590 C"), 'is "590 C", must be -30 to 50 C, that is -22 to 122 F'),
        (GOOD.replace("75", "0.75"), "humidity_later is 0.75, must be 5 to 98 %"),
        (GOOD.replace("= 12", "= 120"), "moisture_now is 120, must be 4 to 30 %"),
        (GOOD.replace("species", "wood"), "timber.wood is an unknown key"),
    ],
)
def test_a_faulty_table_is_named_with_its_line(timber: str, says: str) -> None:
    """One sentence, and nothing is guessed."""
    with pytest.raises(JobError, match=says):
        read_job(job_with(timber))


def test_a_record_is_held_to_the_same_rules() -> None:
    """No job made in code says what no file may say."""
    with pytest.raises(OutOfRange, match="moisture_later is missing"):
        Timber("softwood", moisture_now=12)
    with pytest.raises(OutOfRange, match="humidity_later is 100, must be 5 to 98 %"):
        Timber("softwood", moisture_now=12, temperature_later_c=15, humidity_later=100)
