"""Jobs and shops strained to a limit of the tool's: a random source, Job and Shop in, (Job, Shop) out; mm, degrees.

Each strain draws its figures from just within a limit to just past it, so that some of the kits are refused for that
reason and the others are made with nothing to spare.
"""

from dataclasses import replace

from jigmaker.job.shop import HandRouter


def _job(job, **sections):
    """The job with figures of its own, or of its sections, changed."""
    changed = {k: replace(getattr(job, k), **v) if isinstance(v, dict) else v for k, v in sections.items()}
    return replace(job, **changed)


def _sheet(shop, **figures):
    return replace(shop, sheet=replace(shop.sheet, **figures))


def _router(shop, **figures):
    return replace(shop, hand_router=replace(shop.hand_router, **figures))


def _cnc(shop, cutter):
    machine = replace(shop.machine, kind="cnc", tool_mm=cutter, kerf_x_mm=None, kerf_y_mm=None)
    return replace(shop, machine=machine)


def _mm(draw, low, high):
    return round(draw.uniform(low, high), 1)


def thin_legs(draw, job, shop):
    """The housing comes near to running out at the bottom face, or does."""
    return _job(job, leg={"thickness_mm": _mm(draw, 12, 24)}, top={"thickness_mm": _mm(draw, 35, 60)}), shop


def proud_legs(draw, job, shop):
    """The reveal takes most of the leg's thickness, or all of it."""
    thickness = _mm(draw, 14, 30)
    reveal = round(min(20.0, thickness - draw.uniform(-2, 16)), 1)
    return _job(job, leg={"thickness_mm": thickness}, housing={"reveal_mm": max(reveal, 0.0)}), shop


def thick_top(draw, job, shop):
    """Much of the housing's depth goes into a thick board's slope."""
    return _job(job, top={"thickness_mm": _mm(draw, 60, 110)}), shop


def narrow_board(draw, job, shop):
    """Housings of both edges come near to each other; clamps find little to hold."""
    return _job(job, top={"width_mm": _mm(draw, 55, 110)}), shop


def small_inset(draw, job, shop):
    """Little wood to the board's end, little room for the end bearer."""
    return _job(job, inset_mm=_mm(draw, 30, 95)), shop


def tiny_inset(draw, job, shop):
    """The housing comes near to the board's very end."""
    return _job(job, inset_mm=_mm(draw, 10, 35), rake_deg=round(draw.uniform(62, 75), 2)), shop


def thick_brace(draw, job, shop):
    """The brace comes near to the board's end, or stands out beyond it."""
    return _job(job, inset_mm=_mm(draw, 50, 110), brace={"thickness_mm": _mm(draw, 30, 100)}), shop


def short_top(draw, job, shop):
    """The ends' housings come near to each other; the jig is nearly as long as the board."""
    return _job(job, top={"length_mm": _mm(draw, 220, 520)}), shop


def low_and_deep(draw, job, shop):
    """The braces come down to the floor, or nearly."""
    return _job(job, height_mm=_mm(draw, 140, 320), brace={"depth_mm": _mm(draw, 90, 240)}), shop


def far_inset(draw, job, shop):
    """The jig for both hands gets too long for the sheet, a jig for one perhaps too."""
    inset = _mm(draw, 250, 620)
    return _job(job, inset_mm=inset, top={"length_mm": round(2 * inset + draw.uniform(250, 500), 1)}), shop


def wide_board(draw, job, shop):
    """Fence and back strip get as deep as the sheet is wide."""
    sheet = _sheet(shop, length_mm=_mm(draw, 450, 620), width_mm=_mm(draw, 300, 400))
    return _job(job, top={"width_mm": _mm(draw, 300, 560)}), sheet


def small_bed(draw, job, shop):
    """The plate gets as large as the sheet."""
    return job, _sheet(shop, length_mm=_mm(draw, 200, 520), width_mm=_mm(draw, 150, 330))


def short_reach(draw, job, shop):
    """The cutter reaches to the housing's floor, or nearly."""
    deep = shop.sheet.thickness_mm + job.leg.thickness_mm
    return job, _router(shop, cutter_reach_mm=round(deep + draw.uniform(0, 8), 1))


def long_bush(draw, job, shop):
    """The bush comes near to the wood under the sheet."""
    return job, _router(shop, bush_length_mm=round(shop.sheet.thickness_mm - draw.uniform(0.5, 1.5), 2))


def short_bush(draw, job, shop):
    """The bush hardly holds on to the plate's edge."""
    return job, _router(shop, bush_length_mm=_mm(draw, 2, 4))


def tight_bush(draw, job, shop):
    """The cutter hardly passes the bush, or its bore."""
    bush = draw.choice((12.0, 16.0, 17.0, 24.0))
    bore = round(bush - draw.choice((1.5, 2.0)), 2)
    cutter = round(bore + draw.uniform(-1.5, 1.0), 1)
    return job, _router(shop, bush_mm=bush, bush_bore_mm=bore, cutter_mm=cutter)


def narrow_legs(draw, job, shop):
    """The housing is hardly wider than the cutter."""
    cutter = draw.choice((20.0, 22.0, 24.0))
    return _job(job, leg={"width_mm": _mm(draw, 20, 28)}), _router(shop, bush_mm=30.0, cutter_mm=cutter, base_mm=170)


def small_base(draw, job, shop):
    """The base is hardly wide enough for tenons beside the slot."""
    return job, _router(shop, bush_mm=draw.choice((17.0, 24.0, 30.0)), base_mm=_mm(draw, 95, 125))


def large_opening(draw, job, shop):
    """The base tips into the slot of a large bush and wide legs, or nearly."""
    router = HandRouter(
        _mm(draw, 115, 150), 30, draw.choice((8.0, 12.0)), 70, bush_length_mm=shop.hand_router.bush_length_mm
    )
    return _job(job, leg={"width_mm": _mm(draw, 85, 115)}), replace(shop, hand_router=router)


def coarse_cutter(draw, job, shop):
    """The machine's cutter is nearly as round as the bush."""
    cutter = _mm(draw, 5.5, 8)
    bush = round(cutter + draw.uniform(0.5, 1.5), 1)
    return job, _router(_cnc(_sheet(shop, thickness_mm=12.2), cutter), bush_mm=bush, cutter_mm=5.0, bush_length_mm=8.0)


def wide_cutter(draw, job, shop):
    """The machine's cutter hardly goes into the mortises."""
    cutter = min(12.0, round(shop.sheet.thickness_mm + draw.uniform(-3, 0.4), 1))
    return job, _cnc(shop, cutter)


def bearing(draw, job, shop):
    """A cutter with a bearing, its blade about as long as it must be, or not measured."""
    size = draw.choice((12.7, 16.0, 19.0))
    deep = shop.sheet.thickness_mm + 7 + job.leg.thickness_mm - job.housing.reveal_mm
    blade = draw.choice((None, *(round(deep - draw.uniform(0, 14), 1) for _ in range(4))))
    router = HandRouter(150, size, size, 75, blade_mm=blade, bearing_height_mm=draw.choice((5.0, 6.0)))
    return job, replace(shop, hand_router=router)


STRAINS = (
    thin_legs,
    proud_legs,
    thick_top,
    narrow_board,
    small_inset,
    tiny_inset,
    thick_brace,
    short_top,
    low_and_deep,
    far_inset,
    wide_board,
    small_bed,
    short_reach,
    long_bush,
    short_bush,
    tight_bush,
    narrow_legs,
    small_base,
    large_opening,
    coarse_cutter,
    wide_cutter,
    bearing,
)
