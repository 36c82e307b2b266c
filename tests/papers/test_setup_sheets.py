"""The set-up sheets: what each says, and that nothing on them can be misread."""

import re
from dataclasses import replace

import pytest
from page_words import cautions_of, document_text, table_of, text_of, words_of
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.drawing.page import Document, Page
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.job.job import Job
from jigmaker.job.practice import PRACTICE, READS_MM
from jigmaker.job.shop import KitChoices, Machine, Shop
from jigmaker.papers.bench import Bench
from jigmaker.papers.fact_table import fact_table
from jigmaker.papers.pictures.jig_bodies import plate_place, slot_corners
from jigmaker.papers.pictures.saw import saw_picture
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.papers.wording import fine_text, plus_minus
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.kit import make_kit
from jigmaker.parts.solids import assembled, board_under_jig
from jigmaker.trestle.solve import solve
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf_sheets import sheets_of as paper_of

INCH = replace(DEMO, unit="in")
INCH_SHOP = replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit="in"))
CNC = replace(DEMO_SHOP, machine=Machine("cnc", 3.0))
KITS: dict[str, tuple[Job, Shop]] = {
    "demo": (DEMO, DEMO_SHOP),
    "a": (JOB_A, DEMO_SHOP),
    "b": (JOB_B, BEARING_SHOP),
    "inch": (INCH, INCH_SHOP),
    "plumb rake": (replace(DEMO, rake_deg=90.0), DEMO_SHOP),
    "horn and trim": (replace(DEMO, leg=replace(DEMO.leg, horn_mm=5.0, trim_mm=30.0)), DEMO_SHOP),
    "cnc": (DEMO, CNC),
}


def sheets_of(job: Job, shop: Shop) -> Document:
    """The set-up sheets of a job in a shop, in words: every picture has tests of its own."""
    # Unplaced: placing takes longer than all the rest, and only the number of sheets depends on it.
    return setup_document(Bench(make_kit(solve(job), shop), ()), with_pictures=False)


@pytest.fixture(scope="module")
def documents() -> dict[str, Document]:
    """Every kit's sheets, made once."""
    return {name: sheets_of(*kit) for name, kit in KITS.items()}


@pytest.fixture(scope="module")
def demo(documents) -> dict[str, Page]:
    """The demo's pages by the name of their operation."""
    return {page.title.partition(" ")[2]: page for page in documents["demo"].pages}


@pytest.mark.parametrize("name", KITS)
def test_no_angle_stands_bare(documents, name) -> None:
    """A saw's scale and a bevel count from different lines: every angle says what it is off."""
    for words in (words for page in documents[name].pages for words in words_of(page)):
        angles = re.findall(r"[0-9.]+°.{0,5}", words)
        assert all(re.fullmatch(r"[0-9.]+° (off |from).*", angle) for angle in angles), words


@pytest.mark.parametrize("name", KITS)
def test_an_angle_and_its_complement_make_90_as_printed(documents, name) -> None:
    """Whoever sets one of the two must get the other."""
    pairs = re.findall(r"([0-9.]+)° off [^(°\n]+\(([0-9.]+)° off", document_text(documents[name]))
    assert len(pairs) >= 10
    for one, other in pairs:
        assert round(float(one) * 100) + round(float(other) * 100) == 9000


def test_an_inch_job_reads_in_inches(documents) -> None:
    """No size of the job in metric units anywhere, M6 being a bolt's name; a slant is told over 4 inches."""
    said = document_text(documents["inch"])
    assert re.findall(r"[0-9.]+ ?[cm]m", said) == []
    assert 'over 4"' in said and "3.937" not in said


@pytest.mark.parametrize("name", KITS)
def test_every_operation_has_its_head_checks_and_one_caution(documents, name) -> None:
    """Four to eight dimensions with limit, end points and tool; one danger, and no two pages the same one."""
    pages = [page for page in documents[name].pages if cautions_of(page)]
    assert len(pages) == (12 if KITS[name][0].leg.horn_mm else 11)
    for page in pages:
        assert [key for key, _ in page.head] == [
            "quantity",
            "timber as measured",
            "datum",
            "set by, checked by, date",
        ]
        rows = table_of(page, "what").rows
        assert 4 <= len(rows) <= 8, page.title
        assert all(all(row[:5]) for row in rows), page.title
    cautions = [caution for page in pages for caution in cautions_of(page)]
    assert len(set(cautions)) == len(cautions) == len(pages)


DANGERS = {
    "Cut the kit": "fumes",
    "Assemble the jig dry": "screw",
    "Set the router on scrap": "plug",
    "Rout the housings: R, then L": "tips",
    "Saw the legs": "thrown",
    "Saw the braces": "Short pieces",
    "Level the feet, final checks": "nobody climbs",
}


@pytest.mark.parametrize(("operation", "danger"), DANGERS.items())
def test_a_caution_names_the_danger_of_its_operation(demo, operation, danger) -> None:
    """A caution that fits every page is read on none."""
    assert danger in cautions_of(demo[operation])[0]


# Worked out by hand from the demo's sizes: bush 17, cutter 12, housing 70 + 0.15, sheet 9.1, standoff 7, leg 32.
SUMS = {
    "Set the router on scrap": (
        "75.15 mm = housing 70.15 mm + bush 17 mm - cutter 12 mm",
        "48.1 mm = sheet 9.1 mm + standoff 7 mm + housing 32 mm deep",
        "2.5 mm = (bush 17 mm - cutter 12 mm) / 2",
    ),
    # Corner positions of the same trestle built with an independent solid kernel.
    "Mark the housings, saw the waste out": ("120 mm", "111 mm", "71.5 mm", "32.5 mm", "23 mm"),
    "Rout the housings: R, then L": ("70.15 mm", "32.7 mm", "23.1 mm", "120 mm", "111 mm"),
    "Saw the legs": ("752 mm", "11.75° off square (78.25° off the arris)", "12.00° off upright (78.00°"),
    "Saw the braces": ("139 mm", "185 mm", "78.25° off the long edge (11.75° off square)"),
}


@pytest.mark.parametrize(("operation", "figures"), SUMS.items())
def test_the_figures_are_the_trestles(demo, operation, figures) -> None:
    """The sums add up and the lengths are those of the solid trestle."""
    said = text_of(demo[operation])
    assert [figure for figure in figures if figure not in said] == []


STOPS = "projection, stop "


def stops_of(page: Page) -> list[float]:
    """The projections to set, mm, in their order."""
    rows = next(block.rows for block in page.blocks if STOPS in str(block))
    told = {int(name.removeprefix(STOPS)): float(figure.removesuffix(" mm")) for name, figure in rows}
    return [told[n] for n in sorted(told)]


def test_the_stops_take_what_a_router_can_take(demo) -> None:
    """32 mm deep, a 12 mm cutter, three stops; the saw left 3 mm at each wall and above the floor. The last stop is the
    projection, the one before it 3 mm less; a side cut takes no more wood than a full cut of 3 mm, 12 x 3 mm²,
    so one stop of 29 mm will not do, nor will two of 14.5: three of 9.67 mm, four in all."""
    stops = stops_of(demo["Set the router on scrap"])
    assert stops == [25.8, 35.4, 45.1, 48.1]
    depths = [b - a for a, b in zip([48.1 - 32, *stops], stops, strict=False)]
    assert all(3.0 * deep <= 12 * 3.0 + 0.5 for deep in depths[:-1]) and depths[-1] == pytest.approx(3.0)
    assert "The turret has 3 stops" in text_of(demo["Set the router on scrap"])


def test_a_turret_with_stops_enough_is_used_as_it_is() -> None:
    """Six stops: all six are set, and nothing is said of setting by hand."""
    shop = replace(DEMO_SHOP, hand_router=replace(DEMO_SHOP.hand_router, stops=6))
    page = next(page for page in sheets_of(DEMO, shop).pages if page.title.endswith("Set the router on scrap"))
    assert len(stops_of(page)) == 6 and "Set the turret's stops" in text_of(page)


@pytest.mark.parametrize("name", ["demo", "a"])
def test_the_batch_has_a_row_for_every_trestle_and_a_column_for_every_reading(documents, name) -> None:
    """Named columns; the four feet by the names on the form of level."""
    table = table_of(next(page for page in documents[name].pages if page.title.startswith("The batch")), "trestle")
    count = KITS[name][0].trestles
    assert [row[0] for row in table.rows] == [str(number) for number in range(1, count + 1)]
    assert {f"gap {end} {hand}" for end in ("near", "far") for hand in "RL"} < set(table.head)


def test_how_far_the_machine_cuts_takes_one_line() -> None:
    """Of each sheet, with its starts; a plain job's batch has no table of its operations, which their pages tell."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    page = setup_document(Bench(kit, (), ((6096.0, 1), (12345.0, 68))), with_pictures=False).pages[-1]
    assert "sheet 1: 6.1 m, 1 start; sheet 2: 12.3 m, 68 starts" in text_of(page)
    assert "spares apart" not in text_of(page)


def test_the_largest_gap_says_how_many_sheets(demo) -> None:
    """Sheets of 9.1 mm, a slice of 2 mm to saw: one sheet serves gaps up to 7.1 mm, two up to 16.2."""
    rows = table_of(demo["batch; words"], "largest gap").rows
    assert [row[:2] for row in rows[:2]] == [("up to 7.1 mm", "1 sheet"), ("up to 16.2 mm", "2 sheets")]


def test_the_order_of_the_work(documents) -> None:
    """The waste is sawn out before a trial housing is routed; what does not happen has no page; the demo has 13 pages,
    and a horn brings one more."""
    titles = [page.title for page in documents["demo"].pages]
    assert [title.split()[0] for title in titles] == (
        ["10", "20", "30", "40", "50", "60", "60", "70", "80", "90", "100", "120", "The"]
    )
    assert titles[3].endswith("saw the waste out") and titles[4].endswith("Set the router on scrap")
    assert [page.title for page in documents["horn and trim"].pages if page.title not in titles] == [
        "110 Trim the horns"
    ]


def test_a_trestle_with_horn_and_trim_is_told_as_it_stands(documents) -> None:
    """5 mm of horn and 30 mm of trim, along the leg: 28.73 mm higher until it is levelled, wider by 2 x 28.73 x cot 78
    each way; 720 and 966 only at the end. Worked out by hand: 751.83 mm of leg are 720 mm of height."""
    pages = {page.title.partition(" ")[2]: text_of(page) for page in documents["horn and trim"].pages}
    for page in ("Dry fit, tape checks", "Glue and screw"):
        assert "978.5 mm" in pages[page] and "966 mm" not in pages[page]
    assert "748.5 mm" in pages["Dry fit, tape checks"] and "720 mm" not in pages["Dry fit, tape checks"]
    assert "standing 5 mm out of the top face" in pages["Glue and screw"]
    assert "748.5 mm high now, 720 mm finished" in pages["Level the feet, final checks"]
    assert "966 mm" in pages["Level the feet, final checks"]


def test_every_leg_is_pressed_along_its_near_wall(demo) -> None:
    """With the reason, and winding's limit with the rock that it makes. 30 mm a mm of play and 3.28 mm of rock a mm of
    winding were found by turning and bending the demo's solids."""
    for page in ("Dry fit, tape checks", "Glue and screw"):
        assert "against the near wall" in text_of(demo[page])
    assert "lets a foot travel 30 mm" in text_of(demo["Dry fit, tape checks"])
    assert "0.4 mm of winding make a trestle rock by 1.3 mm" in text_of(demo["Prepare the stock"])


def test_no_limit_is_finer_than_its_tool_reads(documents) -> None:
    """Each check's tool is known, and its limit is no finer than the least that the tool shows."""
    for name in ("demo", "a", "b", "cnc", "horn and trim"):
        for page in documents[name].pages:
            if not cautions_of(page):
                continue
            for _, _, limit, _, tool, *_ in table_of(page, "what").rows:
                reads = next((mm for start, mm in READS_MM.items() if tool.startswith(start)), None)
                plus_minus = re.fullmatch(r"±([0-9.]+) mm", limit)
                if plus_minus:
                    assert reads is not None and float(plus_minus[1]) >= reads, (page.title, tool, limit)


def test_every_limit_has_a_source() -> None:
    """A published source, a computation, or the word that there is none."""
    assert all(figure.source for figure in PRACTICE.values())


@pytest.mark.parametrize("name", KITS)
def test_tapes_and_saws_are_told_what_they_can_read(documents, name) -> None:
    """Lengths by rule or tape to half a millimetre, or to 1/32 inch."""
    for page in documents[name].pages:
        for row in table_of(page, "what").rows if cautions_of(page) else ():
            if row[4].startswith(("rule", "tape")) and (shown := re.match(r"([0-9.]+) mm", row[1])):
                assert (2 * float(shown[1])).is_integer(), row
            if row[4].startswith(("rule", "tape")) and (shown := re.match(r"[0-9 ]*[0-9]+/([0-9]+)\"", row[1])):
                assert int(shown[1]) <= 32, row


def test_every_page_defers_to_local_rules_and_names_its_kit(documents) -> None:
    """At the foot, on paper and on the screen."""
    for name in ("demo", "inch"):
        assert documents[name].foot.endswith("Local rules, and people licensed for the work, have the last word.")
    assert "6 trestles 720 mm high" in documents["demo"].foot
    page = write_html(documents["demo"]).decode()
    assert page.count("have the last word.") == len(documents["demo"].pages)


def test_the_sheet_of_the_jig_names_bearers_and_measurable_checks(demo) -> None:
    """Which bearer goes where, and as many checks as there are."""
    said = text_of(demo["Assemble the jig dry"])
    assert "the 3 lettered BEARER are alike" in said and "END BEARER stand under the plate's ends" in said
    assert "the checks below" in said and "slot from the stop" not in said


def test_the_text_and_the_picture_of_the_brace_say_the_same_face(demo) -> None:
    """Inside face up on both."""
    picture = saw_picture(solve(DEMO), "brace end")
    drawn = " ".join(label.text for label in picture.labels)
    assert "inside face up" in drawn and "inside face up" in text_of(demo["Saw the braces"])
    assert "face down" not in drawn + text_of(demo["Saw the braces"])


def test_the_board_leans_back_until_the_plate_is_level(demo) -> None:
    """By the plate's tilt, 90 less the splay; asked for where the plate would tilt over 20 degrees."""
    page = "Rout the housings: R, then L"
    assert "leaning back from you by 12.00° off plumb (78.00° off the level)" in text_of(demo[page])
    steep = {p.title: text_of(p) for p in sheets_of(replace(DEMO, splay_deg=66.0), DEMO_SHOP).pages}
    assert "must lean back from you by 24.00° off plumb (66.00° off the level)" in steep[f"60 {page}"]


def test_the_cutter_is_parked_and_plunged_clear_of_board_and_fence(demo) -> None:
    """A plunge router is asked for. At the slot's front end its cutter, at full depth, is clear of board and fence
    (solids); where the base would lose its support it stands in a new fence, whose notch is then sawn out first."""
    said = text_of(demo["Rout the housings: R, then L"])
    assert "a plunge router" in text_of(demo["Set the router on scrap"])
    assert "parked at the slot's front end, the cutter raised" in said
    clear = {}
    for name, job in {"demo": DEMO, "a": JOB_A, "b": JOB_B, "steep": replace(DEMO, splay_deg=66.0)}.items():
        kit = make_kit(solve(job), DEMO_SHOP)
        layout, frame = lay_out_jigs(kit.trestle, DEMO_SHOP)[0], plate_place(kit, "R")[1]
        front = sorted(slot_corners(kit, "R"), key=lambda p: p[1])[:2]
        at = ((front[0][0] + front[1][0]) / 2, front[0][1])
        reach = layout.projection - layout.sheet
        cutter = Solid.prism(Circle(at, layout.cutter_radius), [], reach, 12).moved((0.0, 0.0, -reach)).placed(frame)
        fence = next(solid for name, solid in assembled(kit, "R").items() if name.startswith("fence"))
        assert cutter.common(board_under_jig(kit, "R")).volume == pytest.approx(0.0, abs=1e-6)
        clear[name] = cutter.common(fence).volume == pytest.approx(0.0, abs=1e-6)
    assert clear == {"demo": True, "a": False, "b": True, "steep": True}
    assert "notch out" not in said
    wide = sheets_of(JOB_A, DEMO_SHOP).pages
    assert "saw that notch out" in next(text_of(page) for page in wide if page.title.startswith("60 "))


CALLED = {
    "leg-gauge": "leg gauge|GO must pass",
    "housing-plug": "housing plug|by the plug|low end and",
    "depth-gauge": "depth gauge|HIGH",
    "projection-gauge": "projection gauge|gauge:|the gauge",
    "taper-gauge": "taper gauge",
    "brace-template": "brace template|the template",
}
"""What a gauge of the kit is called on the sheets."""


def test_no_step_or_check_is_done_with_a_gauge_that_is_left_out(demo) -> None:
    """Each is named while it is there; left out, only the sentence names it that says what to use instead."""
    for slug, called in CALLED.items():
        assert any(re.search(called, text_of(page)) for page in demo.values()), slug
    bare = sheets_of(DEMO, replace(DEMO_SHOP, kit=replace(DEMO_SHOP.kit, leave_out=tuple(CALLED))))
    for page in bare.pages:
        said = [line for line in text_of(page).splitlines() if "is in this kit:" not in line]
        named = [line for line in said for called in CALLED.values() if re.search(called, line)]
        assert named == [], page.title
    check = next(text_of(page) for page in bare.pages if page.title.startswith("50"))
    assert "base to the cutter's tip" in check and "caliper" in check


def test_the_sheet_tells_in_words_how_a_leg_goes_in_and_the_worst_that_may_come_of_it():
    """Demo: 0.15 asked; machine 0.1 twice, cutter 0.05, bush 0.05 either way, and twice 0.05 off centre, by hand."""
    found = fact_table(Bench(make_kit(solve(DEMO), DEMO_SHOP), ()))
    names = ("play.asked", "fit.asked", "play.as_cut_least", "fit.as_cut_least", "play.as_cut_most", "fit.as_cut_most")
    assert [found[name].told("", "mm") for name in names] == [
        "0.15 mm",
        "with a push of the hand",
        "-0.15 mm",
        "not at all",
        "0.55 mm",
        "sliding, loose",
    ]


@pytest.mark.parametrize(
    ("mm", "words"), [(0.2, '±0.008"'), (0.5, '±0.02"'), (1.0, '±1/32"'), (3.0, '±3/32"'), (5.0, '±3/16"')]
)
def test_a_limit_in_inches_is_no_finer_than_a_tape_and_never_wider_than_in_mm(mm, words):
    """A tape is read to 1/32 inch, 0.79 mm (common practice, no source); what is less is for caliper and feeler."""
    assert plus_minus(mm, "in") == words
    assert plus_minus(mm, "mm") == f"±{mm:g} mm"


@pytest.mark.parametrize(
    ("mm", "words"), [(1.1176, '0.044"'), (0.9906, '0.039"'), (19.05, '3/4"'), (19.6332, '0.773"'), (0.0, '0"')]
)
def test_what_is_set_in_inches_is_told_in_thousandths(mm, words):
    """No fourth decimal that was never worked out; an eighth of an inch is whole thousandths and stays a fraction."""
    assert fine_text(mm, "in") == words


@pytest.mark.parametrize("height_mm", [540.0, 900.0])
def test_a_routing_sheet_in_inches_is_one_sheet_of_paper(height_mm) -> None:
    """With template and wedges, as in millimetres: setting the router, and what the readings of a first-off tell."""
    also = ("drilling template", "clamping wedges", "leaning wedges")
    shop = replace(INCH_SHOP, kit=KitChoices(also=also, jaws_mm=150.0))
    document = setup_document(Bench(make_kit(solve(replace(INCH, height_mm=height_mm)), shop), ()))
    pages = {page.title: page for page in document.pages}
    taken = {title: len(paper_of(page, 246.9)) for title, page in pages.items() if "outer" in title or "off:" in title}
    assert len(taken) >= 2
    assert set(taken.values()) == {1}, taken


@pytest.mark.parametrize("job", [DEMO, INCH], ids=["mm", "in"])
def test_the_readings_of_ten_trestles_and_the_words_are_one_sheet_of_paper(job) -> None:
    """With what the machine cuts on two sheets."""
    kit = make_kit(solve(replace(job, trestles=10)), replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit=job.unit)))
    page = setup_document(Bench(kit, (), ((6096.0, 1), (12345.0, 68)))).pages[-1]
    assert page.title.startswith("The batch")
    assert len(paper_of(page, 246.9)) == 1
