"""What is wrong is found, also where all of a part's files and kit.json are wrong alike: one mutation, one code."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of
from sample_jobs import DEMO, DEMO_SHOP
from spoil_read_folder import everywhere, only, part_of, shifted, turned, with_files, with_part, with_setting

from jigmaker.geometry.outline import Circle, Outline, piece
from jigmaker.job.job import HousingFit
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.codes import CODES
from jigmaker.proof.use.fit import fit_findings, prove_fit


@cache
def demo():
    return folder_of(DEMO, DEMO_SHOP, with_sheets=False)


@cache
def sound(slugs):
    """What the judge remembers when it has cut these parts as they should be."""
    before = CutBefore()
    cut_parts(only(demo(), *slugs), before)
    return before


def job_changed(**changes):
    """The folder of the demo's files beside another job.toml."""
    return replace(demo(), job=replace(DEMO, **changes))


def shop_changed(section, **changes):
    """The folder of the demo's files beside another shop.toml."""
    part = replace(getattr(DEMO_SHOP, section), **changes)
    return replace(demo(), shop=replace(DEMO_SHOP, **{section: part}))


def lines_moved(by_mm):
    """The plate's lines in its file with the kerf moved about the part: outline and openings, all by as much."""

    def change(shape, told):
        if told.compensation == "left out":
            return shape
        is_outer = shape.bounds[2] - shape.bounds[0] > 400
        out = by_mm if is_outer else -by_mm
        return Outline.from_points(list(_polygon(shape).buffer(out, join_style="mitre").exterior.coords)[:-1])

    return with_files(demo(), "plate", change)


def _polygon(shape):
    import shapely

    return shapely.Polygon(shape.points(64))


def slot_turned(angle_deg):
    return everywhere(demo(), "plate", "slot R", turned(angle_deg, (284.0, 110.0)))


def slots_swapped():
    """Slot R is told where slot L is, and the other way about."""
    told, swap = part_of(demo(), "plate"), {"slot R": "slot L", "slot L": "slot R"}
    holes = dict(told.holes)
    holes = tuple((name, holes[swap.get(name, name)]) for name, _ in told.holes)
    return with_part(demo(), replace(told, holes=holes))


def stop_moved(by_mm):
    """Both mortises of the right end bearer moved outward, everywhere; the bearer's and the stop's places with them."""
    folder = demo()
    for where in ("front", "rear"):
        folder = everywhere(folder, "plate", f"mortise, end, right, {where}", shifted(by_mm, 0))
    for slug, name in (("end-bearer", "end bearer, right"), ("stop", "stop, right: R")):
        told = part_of(folder, slug)
        places = tuple(replace(p, frame=p.frame.moved((by_mm, 0, 0))) if p.name == name else p for p in told.placements)
        folder = with_part(folder, replace(told, placements=places))
    return folder


def bearer_tilted(angle_deg):
    """Everything of the bearer that carries the plate turned about the arris, its foot left alone."""
    return everywhere(demo(), "bearer", "outer", lambda p: turned(angle_deg, (124, 47))(p) if p[1] > 47.5 else p)


def hole_wider(slug, name, by_mm):
    def change(shape, told):
        is_it = isinstance(shape, Circle)
        return replace(shape, radius=shape.radius + by_mm / 2) if is_it else shape

    told = part_of(demo(), slug)
    holes = tuple((n, replace(c, radius=c.radius + by_mm / 2) if isinstance(c, Circle) else c) for n, c in told.holes)
    return with_part(with_files(demo(), slug, change), replace(told, holes=holes))


def foot_moved(slug, by_mm):
    """The middle of a part's one file changed: a vertex off by a little in one file only."""

    def change(shape, told):
        if told.compensation == "left out" or not isinstance(shape, Outline) or len(shape.segments) < 12:
            return shape
        s = shape.segments
        at = (s[3].end[0], s[3].end[1] + by_mm)
        return Outline((*s[:3], piece(s[3].start, at), piece(at, s[4].end), *s[5:]))

    return with_files(demo(), slug, change)


def strip_lifted(by_mm):
    told = part_of(demo(), "fence-or-back-strip")
    places = tuple(replace(p, frame=p.frame.moved((0, by_mm, 0))) for p in told.placements)
    return with_part(demo(), replace(told, placements=places))


def corner_moved(slug, number, dx, dy, contour="outer"):
    """One corner of the told contour moved, everywhere."""
    told = part_of(demo(), slug)
    at = {"outer": told.outline, **dict(told.holes)}[contour].corners[number]
    return everywhere(demo(), slug, contour, shifted(dx, dy, lambda p: p == at))


JIG = (
    "plate",
    "bearer",
    "end-bearer",
    "stop",
    "fence-or-back-strip",
)
BLOCK = ("foot-block-nose", "foot-block-layer")


def number_changed(group, key, by):
    numbers = {name: dict(figures) for name, figures in demo().numbers.items()}
    numbers[group][key] += by
    return replace(demo(), numbers=numbers)


MUTATIONS = {
    "a vertex of the bearer off by 0.05 in one file": (lambda: foot_moved("bearer", 0.05), 331, JIG),
    "kerf missing in the plate's lines": (lambda: lines_moved(-0.1), 252, JIG),
    "kerf twice in the plate's lines": (lambda: lines_moved(0.1), 252, JIG),
    "plate's lines on the wrong side": (lambda: lines_moved(-0.2), 253, JIG),
    "slot turned by 0.1 degrees": (lambda: slot_turned(0.1), 454, JIG),
    "slot turned by 0.02 degrees": (lambda: slot_turned(0.02), 454, JIG),
    "slot shifted by 0.01 along": (lambda: everywhere(demo(), "plate", "slot R", shifted(0.01, 0)), 453, JIG),
    "slot's corner by the near wall moved by 0.05": (lambda: corner_moved("plate", 7, 0.05, 0, "slot R"), 451, JIG),
    "slot L told as R": (slots_swapped, 455, JIG),
    "stop moved by 0.3": (lambda: stop_moved(0.3), 505, JIG),
    "stop moved by 0.01": (lambda: stop_moved(0.01), 453, JIG),
    "bearer's seat tilted by 0.1 degrees": (lambda: bearer_tilted(0.1), 503, JIG),
    "bearer's foot cut 0.05 lower": (
        lambda: everywhere(demo(), "bearer", "outer", shifted(0, -0.05, lambda p: abs(p[1] - 47) < 1e-6)),
        452,
        JIG,
    ),
    "bush of 16 for a jig of 17": (lambda: shop_changed("hand_router", bush_mm=16.0), 451, JIG),
    "mortises too narrow for the sheet": (lambda: shop_changed("sheet", thickness_mm=9.25), 335, JIG),
    "one mortise narrower by 0.1": (
        lambda: everywhere(demo(), "plate", "mortise, centre, front", shifted(-0.1, 0, lambda p: p[0] > 224)),
        335,
        JIG,
    ),
    "projection told 0.5 more": (lambda: with_setting(demo(), "projection", 48.6), 459, JIG),
    "fence standing proud of the worked edge": (lambda: strip_lifted(0.5), 510, JIG),
    "another rake": (lambda: job_changed(rake_deg=79.0), 454, JIG),
    "another splay": (lambda: job_changed(splay_deg=77.0), 503, JIG),
    "a reveal asked for": (lambda: job_changed(housing=HousingFit(0.15, 1.0)), 458, JIG),
    "projection gauge's ceiling off by 0.01": (
        lambda: everywhere(demo(), "projection-gauge", "outer", shifted(0, 0.01, lambda p: abs(p[1] - 48.1) < 1e-6)),
        336,
        JIG + ("projection-gauge",),
    ),
    "leg gauge's go notch wider by 0.05": (lambda: corner_moved("leg-gauge", 12, 0.05, 0), 336, ("leg-gauge",)),
    "depth gauge's tip for the top face off by 0.01": (
        lambda: everywhere(demo(), "depth-gauge", "outer", shifted(0, 0.01, lambda p: p[1] > 90)),
        336,
        ("depth-gauge",),
    ),
    "bevel flank's corner off by 0.06": (lambda: corner_moved("bevel-plate", 2, 0.06, 0), 337, ("bevel-plate",)),
    "brace template's top longer by 0.05": (
        lambda: corner_moved("brace-template", 6, 0.05, 0),
        336,
        ("brace-template",),
    ),
    "taper steeper": (lambda: corner_moved("taper-gauge", 4, 0, 0.05), 338, ("taper-gauge",)),
    "nose shorter by 0.05": (
        lambda: everywhere(demo(), "foot-block-nose", "outer", shifted(-0.05, 0, lambda p: p[0] > 90)),
        338,
        BLOCK,
    ),
    "coupon's hole and square": (lambda: hole_wider("coupon", "F", 0.02), 333, ("coupon",)),
    "a bolt hole wider by 0.02": (lambda: hole_wider("stop", "front bolt", 0.02), 333, ("stop",)),
    "saw mitre told 0.01 more": (lambda: number_changed("angles_deg", "saw_mitre", 0.01), 339, JIG),
    "legs told 1 longer": (lambda: number_changed("leg", "length_mm", 1.0), 462, JIG),
    "no bearer": (demo, 341, tuple(slug for slug in JIG if slug != "bearer")),
    "no leg gauge": (demo, 341, JIG),
}


@pytest.mark.parametrize("name", MUTATIONS)
def test_what_is_wrong_is_found(name):
    """A finding of the code is among those that the mutation gives, with a value, a limit and what to do."""
    mutate, code, slugs = MUTATIONS[name]
    names = {part_of(demo(), slug).name for slug in slugs}
    met = []
    for finding in fit_findings(only(mutate(), *slugs), sound(slugs).copy(), []):
        met.append(finding.code)
        if finding.code == code and (code != 341 or finding.part not in names):
            assert finding.says and finding.do and finding.part
            assert (finding.value and finding.limit) or code in (253, 341, 455)
            break
    else:
        raise AssertionError(f"{code} is not among {sorted(set(met))}")
    assert set(met) <= set(CODES)


BOW = Outline.from_points([(0, 0), (100, 100), (100, 0), (0, 100)])

NONSENSE = {
    "an outline that crosses itself is told": lambda: with_part(demo(), replace(part_of(demo(), "plate"), outline=BOW)),
    "an outline that crosses itself is read": lambda: with_files(demo(), "plate", lambda shape, told: BOW),
    "no features": lambda: with_part(demo(), replace(part_of(demo(), "plate"), features=())),
    "no holes, no places": lambda: with_part(demo(), replace(part_of(demo(), "plate"), holes=(), placements=())),
    "no files": lambda: replace(demo(), files={}),
    "no figures": lambda: replace(demo(), numbers={}),
    "negative lengths": lambda: replace(
        demo(),
        numbers={
            group: {key: v if isinstance(v, str) else -v for key, v in told.items()}
            for group, told in demo().numbers.items()
        },
    ),
}


@pytest.mark.parametrize("name", NONSENSE)
def test_what_cannot_be_measured_is_a_finding_too(name):
    """Nothing that a folder holds makes the judge fall over; it says what it misses."""
    findings, _ = prove_fit(only(NONSENSE[name](), *JIG))
    assert {finding.code for finding in findings} & {334, 339, 341}
