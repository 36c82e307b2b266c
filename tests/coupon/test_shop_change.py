"""What the found machine changes in a shop: only what is off by more than its uncertainty."""

from dataclasses import replace
from pathlib import Path

import pytest
from sample_jobs import DEMO_SHOP

from jigmaker.coupon.machine_found import Estimate, JointFound, MachineFound, machine_found
from jigmaker.coupon.readings import read_form
from jigmaker.coupon.shop_change import shop_changes, shop_notes
from jigmaker.job.demo import demo_shop_text
from jigmaker.job.edit import edit_file
from jigmaker.job.read import read_shop
from jigmaker.job.shop import Machine

FORM = Path(__file__).parent.parent / "shops" / "potting_bench_form.toml"

RIGHT = MachineFound(
    kerf=Estimate(0.2, 0.005),
    kerf_x=Estimate(0.2, 0.006),
    kerf_y=Estimate(0.2, 0.006),
    kerf_apart=Estimate(0.0, 0.006),
    scale_x=Estimate(1.0, 0.0002),
    scale_y=Estimate(1.0, 0.0002),
    skew_deg=Estimate(0.0, 0.02),
    joint=None,
)
INCH = replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit="in"))
CNC = replace(DEMO_SHOP, machine=Machine("cnc", 3.175))


def joint(play):
    return JointFound(9.15, Estimate(9.1 + play, 0.006), Estimate(play, 0.006), None, None)


CASES = [
    ("as it was", {}, DEMO_SHOP, {}),
    ("within its uncertainty", {"kerf": Estimate(0.204, 0.005), "skew_deg": Estimate(0.015, 0.02)}, DEMO_SHOP, {}),
    ("kerf", {"kerf": Estimate(0.2342, 0.005)}, DEMO_SHOP, {"machine.kerf": "0.234"}),
    ("kerf, inch", {"kerf": Estimate(0.254, 0.005)}, INCH, {"machine.kerf": "0.01"}),
    ("cutter", {"kerf": Estimate(3.21, 0.005)}, CNC, {"machine.cutter": "3.21"}),
    (
        "kerf apart",
        {
            "kerf": Estimate(0.225, 0.005),
            "kerf_x": Estimate(0.2, 0.006),
            "kerf_y": Estimate(0.25, 0.006),
            "kerf_apart": Estimate(-0.05, 0.006),
        },
        DEMO_SHOP,
        {"machine.kerf": "0.225", "machine.kerf_x": "0.2", "machine.kerf_y": "0.25"},
    ),
    (
        "kerf apart, by less than either is known",
        {"kerf_x": Estimate(0.193, 0.011), "kerf_y": Estimate(0.207, 0.011), "kerf_apart": Estimate(-0.014, 0.006)},
        DEMO_SHOP,
        {"machine.kerf": "0.2", "machine.kerf_x": "0.193", "machine.kerf_y": "0.207"},
    ),
    (
        "one scale for both",
        {"scale_x": Estimate(1.0021, 0.0002), "scale_y": Estimate(1.0019, 0.0002)},
        DEMO_SHOP,
        {"machine.scale_x": "1.002", "machine.scale_y": "1.002"},
    ),
    (
        "two scales",
        {"scale_x": Estimate(1.002, 0.0002)},
        DEMO_SHOP,
        {"machine.scale_x": "1.002", "machine.scale_y": "1"},
    ),
    ("skew", {"skew_deg": Estimate(-0.3004, 0.02)}, DEMO_SHOP, {"machine.skew_deg": "-0.3"}),
    ("skew not measured", {"skew_deg": None}, DEMO_SHOP, {}),
    ("joints", {"joint": joint(0.06)}, DEMO_SHOP, {"sheet.joint_clearance": "0.06"}),
    ("joints as they were", {"joint": joint(0.12)}, DEMO_SHOP, {}),
    ("a sheet that cannot be so thick", {"joint": joint(-0.08)}, DEMO_SHOP, {}),
]


@pytest.mark.parametrize(("found", "shop", "changes"), [row[1:] for row in CASES], ids=[row[0] for row in CASES])
def test_what_is_written(found, shop, changes):
    """By key, as text in the shop's unit."""
    assert shop_changes(replace(RIGHT, **found), shop) == changes


def test_what_no_key_can_hold_is_told():
    """A sheet thicker than the slot it enters; a router that cuts wider along one axis."""
    assert "measure the sheet again" in " ".join(shop_notes(replace(RIGHT, joint=joint(-0.08)), DEMO_SHOP))
    crooked = replace(RIGHT, kerf_y=Estimate(0.3, 0.006), kerf_apart=Estimate(-0.1, 0.006))
    assert "play in the machine's axes" in " ".join(shop_notes(crooked, CNC))
    assert shop_notes(RIGHT, DEMO_SHOP) == []


def test_a_filled_in_form_changes_the_shop_once():
    """Readings that somebody could have taken at the demo's laser; read again, they find nothing more to change."""
    before = read_shop(demo_shop_text())
    found = machine_found(read_form(FORM.read_bytes(), FORM.name, before))
    changed = read_shop(edit_file(demo_shop_text(), shop_changes(found, before), "shop.toml", {}))
    crooked = {"kerf_x_mm": 0.19, "kerf_y_mm": 0.21, "scale_x": 1.0011, "scale_y": 1.0011, "skew_deg": 0.077}
    assert changed == replace(before, machine=replace(before.machine, **crooked))
    assert not shop_changes(found, changed)
