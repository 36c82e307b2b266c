"""Shops and jobs of every kind: machine, guide, bed, sheet, angles, reveal, horn and trim, units."""

from dataclasses import replace

from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP

from jigmaker.job.shop import FileChoices, Machine


def _shop(shop=DEMO_SHOP, thickness=9.1, length=600, bush_length=6.0, **changes):
    sheet = replace(shop.sheet, thickness_mm=thickness, length_mm=length)
    router = shop.hand_router
    if not router.is_bearing_guided:
        router = replace(router, bush_length_mm=bush_length)
    return replace(shop, sheet=sheet, hand_router=router, **changes)


CNC = Machine("cnc", 3.175, marking="none")
CNC_6 = Machine("cnc", 6.0)
CNC_8 = Machine("cnc", 8.0)  # so wide that the bites of mortises lie beside their ends

SHOPS = {
    "laser, bush, two slots": DEMO_SHOP,
    "laser, bush, one hand": _shop(length=400),
    "laser, bearing, two slots": BEARING_SHOP,
    "laser, bearing, one hand": _shop(BEARING_SHOP, length=400),
    "cnc, bush, two slots": _shop(machine=CNC),
    "cnc, bush, one hand": _shop(length=400, machine=CNC),
    "cnc, bearing, two slots": _shop(BEARING_SHOP, machine=CNC),
    "cnc, bearing, one hand": _shop(BEARING_SHOP, length=400, machine=CNC),
    "cnc with a 6 mm cutter": _shop(machine=CNC_6),
    "cnc with an 8 mm cutter": _shop(machine=CNC_8),
    "sheet 6": _shop(thickness=6.0, bush_length=4.5),
    "sheet 12.2": _shop(thickness=12.2, bush_length=8.0),
    "sheet 1/4 in": _shop(thickness=6.35, bush_length=4.5),
    "sheet 1/2 in": _shop(thickness=12.7, bush_length=8.0),
    "inch files": _shop(files=FileChoices("R2000", "in")),
    "R12 files": _shop(files=FileChoices("R12", "mm")),
}


def _job(rake=78.0, splay=78.0, inset=120.0, **changes):
    return replace(DEMO, rake_deg=rake, splay_deg=splay, inset_mm=inset, **changes)


JOBS = {
    "60/60": _job(60, 60, 150),
    "90/78": _job(90, 78),
    "78/90": _job(78, 90),
    "90/90": _job(90, 90),
    "reveal 6": _job(housing=replace(DEMO.housing, reveal_mm=6.0)),
    "horn and trim": _job(leg=replace(DEMO.leg, horn_mm=5.0, trim_mm=25.0)),
    "inches": _job(unit="in"),
}

VARIANTS = {
    **{name: (DEMO, shop) for name, shop in SHOPS.items()},
    **{name: (job, DEMO_SHOP) for name, job in JOBS.items()},
    **{f"{name}, cnc": (job, SHOPS["cnc, bush, two slots"]) for name, job in JOBS.items()},
    "60/60, bearing": (JOBS["60/60"], BEARING_SHOP),
}
"""Every combination that is made, assembled and swept: name to (job, shop)."""
