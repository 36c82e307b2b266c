"""The kit's number: what changes it and what does not, where it stands, and that it is a number of shapes alone."""

from dataclasses import replace
from pathlib import Path

import pytest
from folders_from_records import told_part
from marks_on_parts import mark_faults
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B
from sample_variants import SHOPS, VARIANTS

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Arc, Circle, Line, Outline
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import HandRouter, HousingWork, KitChoices, LegSaw, Machine
from jigmaker.papers.bench import Bench, foot_of
from jigmaker.papers.drawings.drawing_set import drawing_set
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.parts.kit import make_kit
from jigmaker.parts.kit_number import kit_number
from jigmaker.proof.records import DeclaredKit
from jigmaker.proof.words.known_number import WRONG, kit_number_findings
from jigmaker.proof.words.known_number import kit_number as told_number
from jigmaker.trestle.solve import solve

TESTS = Path(__file__).parent.parent
POTTING = (read_job(demo_job_text()), read_shop(demo_shop_text()))
PAIR = (
    read_job((TESTS / "jobs" / "workshop_pair.toml").read_bytes()),
    read_shop((TESTS / "shops" / "workshop_pair.toml").read_bytes()),
)
MACHINE, SHEET = DEMO_SHOP.machine, DEMO_SHOP.sheet
CARRIERS = ("plate", "plate-r", "plate-l", "stop", "bevel-plate", "bevel-plate-1", "bevel-plate-2", "bevel-plate-3")
CARRIERS += ("saw-guide-fence-r", "saw-guide-fence-l", "drilling-template-plate")
SAWN = replace(HAND_SHOP, housing_work=HousingWork("saw and chisel"))


def number(job=DEMO, shop=DEMO_SHOP):
    """The number of the kit for this job and shop."""
    return make_kit(solve(job), shop).number


def machine(**changes):
    """The demo's shop with another machine."""
    return replace(DEMO_SHOP, machine=replace(MACHINE, **changes))


SAME = {
    "another name": {"job": replace(DEMO, name="Sideboard")},
    "another height": {"job": replace(DEMO, height_mm=600.0)},
    "more trestles, longer tops": {"job": replace(DEMO, trestles=12, top=replace(DEMO.top, length_mm=1400.0))},
    "horn and trim": {"job": replace(DEMO, leg=replace(DEMO.leg, horn_mm=5.0, trim_mm=20.0))},
    "another kerf, less accurate": {"shop": machine(tool_mm=0.14, accuracy_mm=0.2)},
    "a crooked machine": {"shop": machine(scale_x=1.01, skew_deg=0.5)},
    "marks": {"shop": machine(marking="short")},
    "a CNC machine, whose cutter bites into the corners": {"shop": machine(kind="cnc", tool_mm=3.175)},
    "parts left out, no spares": {"shop": replace(DEMO_SHOP, kit=replace(DEMO_SHOP.kit, leave_out=("coupon",)))},
    "a thinner sheet for plate and bearers": {
        "shop": replace(
            DEMO_SHOP, further_sheets=(replace(SHEET, thickness_mm=8.9, serves=("plate", "bearer", "bevel plate")),)
        )
    },
}
OTHER = {
    "wider legs": {"job": replace(DEMO, leg=replace(DEMO.leg, width_mm=70.2))},
    "thicker legs: another projection": {"job": replace(DEMO, leg=replace(DEMO.leg, thickness_mm=32.2))},
    "another rake": {"job": replace(DEMO, rake_deg=78.1)},
    "another inset": {"job": replace(DEMO, inset_mm=121.0)},
    "another clearance": {"job": replace(DEMO, housing=replace(DEMO.housing, clearance_mm=0.2))},
    "a thicker board": {"job": replace(DEMO, top=replace(DEMO.top, thickness_mm=46.0))},
    "another bush": {"shop": replace(DEMO_SHOP, hand_router=replace(DEMO_SHOP.hand_router, bush_mm=18.0))},
    "a thicker sheet throughout": {"shop": replace(DEMO_SHOP, sheet=replace(SHEET, thickness_mm=9.2))},
    "a cutter so wide that tenons are shorter": {"shop": machine(kind="cnc", tool_mm=6.0)},
}


@pytest.mark.parametrize("change", SAME.values(), ids=SAME)
def test_what_is_not_the_jigs_shape_leaves_the_number(change) -> None:
    """Parts of one number go together, whoever cuts them and for how many trestles."""
    assert number(**change) == number()


def test_every_other_jig_has_a_number_of_its_own() -> None:
    """No two alike."""
    numbers = [number(), *(number(**change) for change in OTHER.values())]
    assert len(set(numbers)) == len(numbers)


def test_guides_without_a_jig_have_numbers_as_well() -> None:
    """What makes another guide makes another number, by the leg, the board or the saw; what does not, leaves it."""
    saw = replace(SAWN, hand_saw=replace(SAWN.hand_saw, kerf_mm=1.1))
    others = [number(job=change.get("job", DEMO), shop=SAWN) for change in OTHER.values() if "job" in change]
    numbers = [number(shop=SAWN), number(shop=HAND_SHOP), number(), number(shop=saw), *others]
    assert len(set(numbers)) == len(numbers)
    guides = replace(SAWN, kit=KitChoices(also=()))
    for change in SAME.values():
        if "job" in change:
            assert number(change["job"], guides) == number(shop=guides)
    # A drilling template is laid against the head as it was sawn: with a horn on it, another one.
    template = replace(guides, kit=KitChoices(also=("drilling template",)))
    of_head = {number(job, template) for job in (DEMO, replace(DEMO, leg=replace(DEMO.leg, horn_mm=5.0)))}
    assert len(of_head) == 2 and number(shop=guides) not in of_head
    # On a CNC machine its cutter's bites move the joints: those parts do not go together with a laser's.
    assert number(shop=replace(SAWN, machine=replace(MACHINE, tool_mm=0.14))) == number(shop=SAWN)


def wide(shop, cutter, sheet):
    """The shop on a CNC router with a cutter as wide as the sheet allows: whatever grows with it has grown."""
    return replace(
        shop,
        sheet=replace(shop.sheet, thickness_mm=sheet, length_mm=1220, width_mm=610),
        machine=Machine("cnc", cutter, compensation="included", marking="none"),
        hand_router=HandRouter(150, 17, 12, sheet + 44, bush_length_mm=sheet - 3) if shop.hand_router else None,
        hand_saw=replace(HAND_SHOP.hand_saw, depth_mm=110),
    )


BOXED = replace(SAWN, leg_saw=LegSaw("hand"))
KEPT = {
    "FR7-37J": POTTING,
    "FKF-CKC": PAIR,
    "FAR-H33": (JOB_A, SHOPS["laser, bearing, one hand"]),
    "HJC-3KJ": (JOB_B, SHOPS["cnc, bush, one hand"]),
    "RHC-ARF": (DEMO, wide(DEMO_SHOP, 8.9, 9.0)),
    "HKC-R7A": (DEMO, wide(DEMO_SHOP, 12.0, 19.05)),
    "CFA-CFK": (DEMO, BOXED),
    "CKF-JJA": (JOB_A, replace(BOXED, sheet=replace(SHEET, length_mm=1220, width_mm=610))),
    "CAA-7C3": (DEMO, wide(BOXED, 12.0, 15.0)),
    "HRK-7FC": (JOB_B, wide(BOXED, 6.35, 12.0)),
}
"""The two demos with the numbers they had when first made; jigs for one hand and for the widest cutters, guides for
saw and chisel with those that they have had since they stand here."""


@pytest.mark.parametrize("number_then", KEPT)
def test_numbers_stay_what_they_are(number_then) -> None:
    """A kit on the wall must be known again, whatever the program has become since."""
    job, shop = KEPT[number_then]
    assert make_kit(solve(job), shop).number == number_then


@pytest.mark.parametrize("noise", [3e-13, -3e-13])
def test_the_last_digits_of_another_platform_leave_it(noise) -> None:
    """Every coordinate and figure a little off, as another library's sines would have it."""
    for job, shop in (POTTING, PAIR):
        kit = make_kit(solve(job), shop)
        parts = [shaken(part, noise) for part in kit.parts]
        settings = [replace(each, value=each.value * (1 + noise / 100)) for each in kit.settings]
        assert kit_number(parts, settings) == kit.number


def shaken(part, noise):
    """The part with all its figures off by so much."""
    move = PlaneFrame(noise, -noise).point

    def moved(contour):
        if isinstance(contour, Circle):
            return Circle(move(contour.centre), contour.radius)
        pieces = [
            Line(move(s.start), move(s.end)) if isinstance(s, Line) else Arc(move(s.start), move(s.end), s.bulge)
            for s in contour.segments
        ]
        return Outline(tuple(pieces))

    holes = tuple(replace(hole, contour=moved(hole.contour)) for hole in part.holes)
    features = tuple(replace(each, value=each.value + noise) for each in part.features)
    return replace(part, outline=moved(part.outline), holes=holes, features=features)


KITS = VARIANTS | {"saw and chisel": (DEMO, SAWN), "both": (DEMO, HAND_SHOP)}


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("marking", ["score", "short"])
def test_it_stands_on_plate_stop_and_bevel_plate(name, marking) -> None:
    """Once on each, clear of every cut and every other mark, at least as high as is read; on no other part."""
    job, shop = KITS[name]
    kit = make_kit(solve(job), replace(shop, machine=replace(shop.machine, marking=marking)))
    for part in kit.parts:
        said = [mark.text for mark in part.marks if mark.fact == "kit"]
        assert said == ([f"KIT {kit.number}"] if part.slug in CARRIERS else []), part.slug
        assert [fault for fault in mark_faults(part) if "KIT" in fault] == []


def test_every_page_says_it() -> None:
    """The foot of pages to read; the title block of drawings; the head of full-size pages."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    assert foot_of(Bench(kit, ())).startswith(f"Kit {kit.number}, for 6 trestles 720 mm high.")
    pictures = [*drawing_set(kit).values(), *(p.picture for group in full_size_set(kit).values() for p in group)]
    assert len(pictures) > 20
    assert all(any(kit.number in label.text for label in picture.labels) for picture in pictures)


def declared(kit, **changes):
    """The kit as kit.json would tell it."""
    settings = tuple((each.name, each.value, each.unit) for each in kit.settings)
    told = DeclaredKit(tuple(told_part(part, ()) for part in kit.parts), (), settings, {}, kit_number=kit.number)
    return replace(told, **changes)


@pytest.mark.parametrize("name", KITS)
def test_the_judge_works_it_out_again(name) -> None:
    """From what kit.json tells of the parts."""
    job, shop = KITS[name]
    kit = make_kit(solve(job), shop)
    assert told_number(declared(kit)) == kit.number
    assert list(kit_number_findings(declared(kit))) == []


def test_the_judge_finds_a_wrong_number() -> None:
    """In kit.json, on one part, on none; a part of another kit among these; older kits have none."""
    kit, other = (make_kit(solve(replace(DEMO, inset_mm=mm)), DEMO_SHOP) for mm in (120.0, 121.0))
    told = declared(kit)
    assert {f.part for f in kit_number_findings(replace(told, kit_number="AAA-AAA"))} == {
        *("kit.json", "plate", "stop", "bevel plate")
    }
    bare = replace(told, parts=tuple(replace(part, marks=()) if part.slug == "stop" else part for part in told.parts))
    (finding,) = kit_number_findings(bare)
    assert (finding.code, finding.part) == (WRONG, "stop")
    stop = next(part for part in declared(other).parts if part.slug == "plate")
    mixed = replace(told, parts=tuple(stop if part.slug == "plate" else part for part in told.parts))
    assert {finding.part for finding in kit_number_findings(mixed)} == {"kit.json", "plate"}
    assert list(kit_number_findings(replace(bare, kit_number=""))) == []
    few = replace(told, parts=tuple(part for part in told.parts if part.slug == "plate"), is_whole=False)
    assert list(kit_number_findings(few)) == [] and told_number(few) == ""
    assert [f.part for f in kit_number_findings(replace(few, kit_number=other.number))] == ["plate"]
