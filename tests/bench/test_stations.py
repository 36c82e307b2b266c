"""The shop's pictures, the coupon and the feet on their pages: what the commands say of the same figures."""

import re
from html import unescape

from sample_jobs import HAND_TOOLS, SAW_AND_CHISEL

from jigmaker.cli.coupon_answers import filled_form
from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.lines import lines_for
from jigmaker.coupon.machine_found import machine_found
from jigmaker.coupon.readings import read_form
from jigmaker.coupon.shop_change import shop_changes
from jigmaker.coupon.stations import stations
from jigmaker.job.read import read_job, read_shop
from jigmaker.levelling.levelling import level, scribing_heights
from jigmaker.levelling.readings import LevelledFirst, Wanted
from jigmaker.parts.coupon_size import coupon_size
from jigmaker.trestle.solve import solve
from jigmaker.units import length_text


def words(html: str) -> str:
    """A page's words without its marks."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", html))


def test_the_shop_draws_its_jig_when_somebody_rests(bench):
    """At once only what is quick; then the jig, then the sheets; the slot's sum beside them."""
    first = bench.live({"shop:hand_router.cutter": "12.5"}, "shop").json["parts"]
    assert "Checking the router&#39;s footing" in first["rail"] and "<svg" not in first["board"]
    second = bench.live({}, "shop", settled=1).json["parts"]
    assert "This jig can be made." in second["rail"] and "fence on the top face" in words(second["board"])
    third = bench.live({}, "shop", settled=2).json["parts"]["board"]
    # 70 mm of leg and 0.15 of clearance, and the bush of 17 less the cutter.
    assert "70.15 mm + 17 mm - 12.5 mm = 74.65 mm" in third
    assert "Sheet 1 of 3, as it will be cut" in third


def test_a_shop_without_a_router_draws_its_saw_guide(bench):
    """The guide stands where the jig would; nothing is said of a slot or of a router's footing."""
    text = re.sub(r"(?ms)^\[hand_router\].*?(?=^\[|\Z)", "", (bench.folder / "shop.toml").read_text("utf-8"))
    (bench.folder / "shop.toml").write_text(text + SAW_AND_CHISEL, "utf-8")
    first = bench.live({}, "shop").json["parts"]
    told = bench.live({}, "shop", settled=2).json["parts"]
    assert all("This saw guide can be made." in each["rail"] for each in (first, told))
    said = words(told["board"])
    assert "saw flat on the cheek" in said and "saw guide fence R" in said and "slot" not in said


def test_the_trestle_shows_what_the_shops_saw_can_be_set_to(bench):
    """Mitre and tilt where it tilts; else the cradle's swing and slope, or the lines that a hand saw follows."""
    text = (bench.folder / "shop.toml").read_text("utf-8")
    tilting = "Saw, leg's wide face down mitre 11.75° off square blade 12.00° off upright"
    by_hand = "End line on the leg's wide face 78.25° off the arris on its narrow edge 12.25° off square"
    says = {
        "": tilting,
        # The demo's cradle was proved on solids of another kernel: swing 11.4849, slope 12.2489.
        '[leg_saw]\nkind = "plain"\ncutting_height = 70\n': (
            "Saw, leg on the sloping cradle mitre 11.48° off square slope 12.25° off the table"
        ),
        '[leg_saw]\nkind = "plain"\ncutting_height = 40\n': by_hand,
        f'{HAND_TOOLS}[leg_saw]\nkind = "hand"\n': by_hand,
    }
    for saw, figures in says.items():
        (bench.folder / "shop.toml").write_text(f"{text}\n{saw}", "utf-8")
        said = words(unescape(bench.live({}, "trestle").json["parts"]["board"]))
        assert figures in said, saw
        assert ("off upright" in said) is (figures == tilting)


def test_a_kit_from_paper_goes_on_without_a_coupon(bench):
    """Its page says why, and its button leads on to the kit."""
    text = (bench.folder / "shop.toml").read_text("utf-8")
    text = re.sub(r"(?m)^(kerf|accuracy|compensation|bridges)\b.*\n", "", text).replace('"laser"', '"paper"')
    (bench.folder / "shop.toml").write_text(text, "utf-8")
    parts = bench.live({}, "coupon").json["parts"]
    assert "There is nothing to measure." in parts["rail"] and 'href="kit"' in parts["rail"]
    assert "no machine for a coupon" in parts["board"]


def test_a_router_that_tips_is_told_when_somebody_rests(bench):
    """The sentence of the command beside the field of its base."""
    typed = {"shop:hand_router.base": "105"}
    assert bench.live(typed, "shop").json["faults"] == {}
    told = bench.live(typed, "shop", settled=1).json
    assert "of tipping" in told["faults"]["shop:hand_router.base"]
    assert "1 figure is wrong." in told["parts"]["rail"]


def test_the_coupon_says_what_the_command_says(bench):
    """The same readings, in fields and in a form: the same change to shop.toml, shown, taken, then written."""
    shop = read_shop((bench.folder / "shop.toml").read_bytes())
    size = coupon_size(shop, "mm")
    # What a machine that cuts 0.31 wide, and not the 0.20 of the file, makes of every place.
    readings = forecast(size, lines_for(shop.machine), Guess(0.31, 0.31, 1.0, 1.0, 0.0))
    said = {"coupon.units": "mm", "coupon.compensation": "included"}
    typed = {f"coupon:readings.{key} {i}": f"{mm:.2f}" for key, mm in readings.items() for i in (1, 2, 3)}
    told = bench.live(typed, "coupon").json
    said |= {f"readings.{key}": f"{mm:.2f} " * 3 for key, mm in readings.items()}
    everything = dict.fromkeys(("coupon.added", "coupon.caliper", "gap.marked_face", "gap.other_face"), None)
    keys = {f"readings.{each.key}": None for each in stations(size)}
    turned = dict.fromkeys((f"turn_over.{key}" for key in ("opening", "length", "leans", "lay")), None)
    form = filled_form(shop, {**everything, **keys, **turned, **said})
    wanted = shop_changes(machine_found(read_form(form, "form", shop)), shop)
    assert "machine.kerf" in wanted
    for value in wanted.values():
        assert value in told["parts"]["board"]
    assert "Take it into shop.toml" in told["parts"]["rail"]
    before = (bench.folder / "shop.toml").read_bytes()
    assert bench.post("take", {}).status_code == 200
    assert bench.place.typed["shop:machine.kerf"] == wanted["machine.kerf"]
    assert (bench.folder / "shop.toml").read_bytes() == before
    assert bench.post("write", {"mark": bench.place.files().mark}).status_code == 200
    after = bench.live({}, "coupon").json["parts"]["rail"]
    assert "The shop says what was measured." in after  # the readings are still those of the shop they were cut for


def test_a_reading_far_off_is_told_at_its_place(bench):
    """In the form's sentence; and how far three readings lie apart, as they are typed."""
    size = coupon_size(read_shop((bench.folder / "shop.toml").read_bytes()), "mm")
    good = {each.key: f"{each.drawn_mm:.2f}" for each in stations(size) if each.needed}
    typed = {f"coupon:readings.{key} {i}": mm for key, mm in good.items() for i in (1, 2, 3)}
    told = bench.live({**typed, "coupon:readings.D_long_x 2": "12"}, "coupon").json
    assert "must be" in told["faults"]["coupon:readings.D_long_x"]
    assert told["spreads"]["coupon:readings.D_long_x"].startswith("Spread so far: ")
    assert 'data-do="field:coupon:readings.D_long_x 1"' in told["parts"]["rail"]


def test_the_coupons_files_are_those_of_the_command(bench):
    """Cut files and the form to print, for the shop on the disk; no other name."""
    from jigmaker.making.coupon_files import coupon_files

    made = coupon_files(read_shop((bench.folder / "shop.toml").read_bytes(), "shop.toml"))
    assert bench.get("coupon/form.html").data == made["form.html"]
    assert bench.get("coupon/coupon.dxf").data in made.values()
    assert bench.get("coupon/form.toml").status_code == 404


def test_the_feet_say_what_the_command_says(bench):
    """The demo's trestle with its near left foot 3.5 mm short: shims, height to scribe at, losses."""
    typed = {"top": "727.4", "under_near_l": "3.5", "under_far_l": "1.2"}
    told = bench.live({f"feet:trestle_1.{key}": value for key, value in typed.items()}, "feet").json
    job = read_job((bench.folder / "job.toml").read_bytes())
    shop = read_shop((bench.folder / "shop.toml").read_bytes())
    reading = LevelledFirst(727.4, (0.0, 3.5, 0.0, 1.2))
    wanted = level(solve(job), scribing_heights(shop.sheet.thickness_mm), reading, Wanted())
    board = words(told["parts"]["board"])
    assert f"Scribe at {length_text(wanted.scribing_mm, 'mm', 1)}" in board
    for under, loss in zip(wanted.shims_mm, wanted.losses_mm, strict=True):
        assert f"{length_text(round(under, 6), 'mm', 1)} {length_text(round(loss, 6), 'mm', 1)}" in board
    assert "Next: trestle 2" in told["parts"]["rail"]


def test_feet_of_a_batch_come_to_one_height(bench):
    """Two trestles, the second lower: both to what it allows; a wrong figure is told at its field."""
    bench.live({"feet:trestle_1.top": "730"}, "feet")
    told = bench.live({"feet:which": "2", "feet:trestle_2.top": "722"}, "feet").json
    assert "All to one height" in told["parts"]["board"]
    assert "trestle 1" in told["parts"]["board"] and "trestle 2" in told["parts"]["board"]
    wrong = bench.live({"feet:trestle_2.under_far_r": "999"}, "feet").json
    assert "must be" in wrong["faults"]["feet:trestle_2.under_far_r"]
