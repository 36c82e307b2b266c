"""Jobs and shops that people might well have, drawn from a seed: all sorts of angles, boards, machines and routers."""

import random
from dataclasses import replace

from kit_strains import STRAINS
from sample_jobs import DEMO_SHOP, a_job

from jigmaker.job.shop import Chisel, HandRouter, HandSaw, HousingWork, KitChoices, Machine

STRAINED_SHARE = 0.4


def random_kit(seed):
    """(job, shop) of this seed: such as people might want, many of them strained to a limit, or a little past it."""
    draw = random.Random(seed)
    job, shop = _job(draw), _shop(draw)
    return draw.choice(STRAINS)(draw, job, shop) if draw.random() < STRAINED_SHARE else (job, shop)


def random_hand_kit(seed):
    """(job, shop) of this seed: housings sawn and pared, mostly without a router; from steep legs to upright ones, and
    in any sheet that guides may be cut from. A third wants more than its saw, chisel, board or sheet has.
    """
    draw = random.Random(seed)
    job, shop = _job(draw, (60, 90)), _shop(draw)
    thickness, router = draw.choice((6.0, 6.35, 9.1, 12.2, 15.0, 18.0)), draw.random() < 0.3
    machine = draw.choice((shop.machine, _cnc(draw, thickness), Machine("paper", 0.0, accuracy_mm=0.5)))
    plate = round(draw.uniform(0.5, 1.1), 2)
    shop = replace(
        shop,
        sheet=replace(shop.sheet, thickness_mm=thickness, length_mm=1220, width_mm=draw.choice((400, 610))),
        machine=replace(machine, compensation="included", marking=draw.choice(("score", "short", "none"))),
        hand_router=replace(shop.hand_router, bush_length_mm=thickness - 2) if router and thickness < 10 else None,
        housing_work=HousingWork(draw.choice(("both", "saw and chisel")) if router and thickness < 10 else None),
        hand_saw=HandSaw(
            plate,
            round(plate + draw.uniform(0, 0.5), 2),
            round(draw.uniform(65, 120), 1),
            6,
            draw.choice((250, 300, 350)),
        ),
        chisel=Chisel(round(draw.uniform(110, 180), 1)),
        kit=KitChoices(also=()),
    )
    return job, shop


def _job(draw, angles=(70, 86)):
    rake, splay = draw.uniform(*angles), draw.uniform(*angles)
    if draw.random() < 0.4:
        splay = rake
    thickness = draw.uniform(30, 55)
    return a_job(
        round(draw.uniform(450, 950), 1),
        (round(draw.choice((rake, rake, rake, 90.0)), 2), round(draw.choice((splay, splay, splay, 78.0)), 2)),
        round(draw.uniform(85, 180), 1),
        (round(draw.uniform(650, 1400), 1), round(draw.uniform(105, 180), 1), round(thickness, 1)),
        (round(draw.uniform(50, 100), 1), round(draw.uniform(max(22, 0.5 * thickness), 38), 1)),
        brace=(round(draw.uniform(70, 140), 1), round(draw.uniform(12, 22), 1)),
        clearance=draw.choice((0.0, 0.1, 0.15, 0.3)),
        reveal=draw.choice((0.0, 0.0, 0.0, 2.0)),
        unit=draw.choice(("mm", "mm", "in")),
    )


CUTTERS_MM = (2.0, 3.0, 3.175, 4.0, 5.0, 6.0, 6.35, 8.0, 10.0, 12.0)
"""Cutters of CNC machines."""

BEDS_MM = ((600, 400), (700, 500), (900, 600), (1220, 610), (1500, 1000))


def _shop(draw):
    sheet = draw.choice(((6.0, 4.5), (9.1, 6.0), (12.2, 8.0), (6.35, 4.5)))
    machine = _bridged(draw, _crooked(draw, _laser(draw) if draw.random() < 0.6 else _cnc(draw, sheet[0])))
    router = draw.choice(
        (
            HandRouter(150, 17, 12, 60, bush_length_mm=sheet[1]),
            HandRouter(170, 30, 12.7, 65, bush_length_mm=sheet[1]),
            HandRouter(140, 16, 8, 55, bush_length_mm=sheet[1]),
        )
    )
    size = draw.choice(BEDS_MM)
    return replace(
        DEMO_SHOP,
        sheet=replace(DEMO_SHOP.sheet, thickness_mm=sheet[0], length_mm=size[0], width_mm=size[1]),
        machine=replace(machine, compensation="included", marking="none"),
        hand_router=router,
    )


def _laser(draw):
    """Kerf from fine to the widest that a shop file takes, half of them not as wide in x as in y."""
    kerf = draw.choice((0.12, 0.2, 0.2, 0.3, round(draw.uniform(0.3, 1.0), 2)))
    if draw.random() < 0.5:
        return Machine("laser", kerf, accuracy_mm=draw.choice((0.03, 0.1)))
    more = round(draw.choice((-1, 1)) * min(draw.uniform(0.02, 0.5) * kerf, 1 - kerf), 4)
    return Machine("laser", kerf, kerf_x_mm=round(kerf - more, 4), kerf_y_mm=round(kerf + more, 4))


def _cnc(draw, thickness):
    """A cutter that goes into mortises as wide as the sheet is thick; others are a strain of their own."""
    return Machine("cnc", draw.choice([cutter for cutter in CUTTERS_MM if cutter < 0.9 * thickness]))


def _crooked(draw, machine):
    """Scales off 1 by up to 2 % and a skew of up to 1 degree, each of them now and then."""
    if draw.random() < 0.3:
        return machine
    scale_x, scale_y = (round(draw.choice((1, draw.uniform(0.98, 1.02))), 4) for _ in "xy")
    skew = round(draw.choice((0, draw.uniform(-0.1, 0.1), draw.uniform(-1, 1))), 3)
    return replace(machine, scale_x=scale_x, scale_y=scale_y, skew_deg=skew)


def _bridged(draw, machine):
    bridges, width = draw.choice((0, 0, 2, 4, 8)), draw.choice((3.0, 6.0, 10.0))
    return replace(machine, bridges=bridges, bridge_width_mm=width)


def texts_of(job, shop):
    """(job.toml, shop.toml) that say the same, lengths with their unit."""
    job_text = f"""
[job]
name = "{job.name}"
units = "{job.unit}"
trestles = {job.trestles}
[trestle]
height = "{job.height_mm} mm"
rake_deg = {job.rake_deg}
splay_deg = {job.splay_deg}
inset = "{job.inset_mm} mm"
[top]
{_lengths(length=job.top.length_mm, width=job.top.width_mm, thickness=job.top.thickness_mm)}
[leg]
{_lengths(width=job.leg.width_mm, thickness=job.leg.thickness_mm)}
[brace]
{_lengths(depth=job.brace.depth_mm, thickness=job.brace.thickness_mm)}
[housing]
{_lengths(clearance=job.housing.clearance_mm, reveal=job.housing.reveal_mm)}
"""
    return job_text.encode(), _shop_text(shop).encode()


def _shop_text(shop):
    sheet, machine, router = shop.sheet, shop.machine, shop.hand_router
    tool = {"laser": {"kerf": machine.tool_mm}, "cnc": {"cutter": machine.tool_mm}, "paper": {}}[machine.kind]
    return f"""
[sheet]
material = "{sheet.material}"
{_lengths(thickness=sheet.thickness_mm, length=sheet.length_mm, width=sheet.width_mm, margin=sheet.margin_mm)}
[machine]
kind = "{machine.kind}"
{_lengths(**tool, accuracy=machine.accuracy_mm)}
compensation = "{machine.compensation}"
marking = "{machine.marking}"
bridges = {machine.bridges}
{_lengths(bridge_width=machine.bridge_width_mm, kerf_x=machine.kerf_x_mm, kerf_y=machine.kerf_y_mm)}
scale_x = {machine.scale_x}
scale_y = {machine.scale_y}
skew_deg = {machine.skew_deg}
{_router_text(router) if router else ""}
{_hand_text(shop) if shop.hand_saw else ""}
[files]
units = "mm"
"""


def _router_text(router):
    return f"""
[hand_router]
{_lengths(base=router.base_mm, bush=router.bush_mm, bush_length=router.bush_length_mm, bush_bore=router.bush_bore_mm)}
{_lengths(cutter=router.cutter_mm, cutter_reach=router.cutter_reach_mm)}
{_lengths(blade=router.blade_mm, bearing_height=router.bearing_height_mm)}
"""


def _hand_text(shop):
    saw = shop.hand_saw
    return f"""
[housing_work]
by = "{shop.housing_work.by or "saw and chisel"}"
[hand_saw]
{_lengths(plate=saw.plate_mm, kerf=saw.kerf_mm, depth=saw.depth_mm, back=saw.back_mm, length=saw.length_mm)}
[chisel]
{_lengths(blade=shop.chisel.blade_mm)}
[kit]
also = {list(shop.kit.also or ())}
"""


def _lengths(**figures):
    return "\n".join(f'{key} = "{value} mm"' for key, value in figures.items() if value is not None)
