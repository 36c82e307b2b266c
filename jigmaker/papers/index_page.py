"""The index, which opens on a telephone: verdict of the proof, cautions, a link to every file, numbers."""

import re

from jigmaker.cutting.cut_picture import reference_words
from jigmaker.drawing.page import Block, Caution, Facts, Figures, Heading, Links, Page, Table, Words
from jigmaker.papers.bench import Bench, Shown, foot_of, size_facts
from jigmaker.papers.facts import Fact, joined, shown_as, tell, told
from jigmaker.papers.named_words import with_names
from jigmaker.papers.standing_blocks import standing_blocks
from jigmaker.papers.wording import NO_PLATFORM, off_level
from jigmaker.trestle.angle_table import angle_rows
from jigmaker.trestle.length_table import length_groups
from jigmaker.units import fixed

FileGroup = tuple[str, *tuple[Words | Links, ...]]
"""A heading, and below it files and what is said about them."""


def index_page(
    bench: Bench, figures: tuple[Shown, ...], verdict: tuple[str, ...], links: tuple[FileGroup, ...]
) -> Page:
    """The index. `verdict`: the proof in sentences, its outcome first, then what to mind; `links`: groups of files,
    each with its heading.

    Same order for every job: what it is, proof and cautions, papers and files, pictures, numbers, how it stands.
    """
    (outcome, *mind), job, unit = verdict, bench.kit.trestle.job, bench.unit
    # The proof's outcome, its counts named.
    if found := re.fullmatch("(.*?)([0-9]+)( files? of )([0-9]+)( parts?.*)", outcome):
        files, parts = shown_as("proof.files", found[2], "number"), shown_as("proof.parts", found[4], "number")
        outcome = joined(found[1], files, found[3], parts, found[5])
    # What it is, and what is measured first: bars on paper, a known length in a cut file.
    facts = size_facts(bench) | {"batch.trestles": Fact("batch.trestles", job.all_trestles, "number")}
    for name, mm in (
        ("top.width", job.top.width_mm),
        ("top.thickness", job.top.thickness_mm),
        ("leg.width", job.leg.width_mm),
        ("leg.thickness", job.leg.thickness_mm),
    ):
        facts[name] = Fact(name, mm, "given")
    if not bench.kit.shop.machine.is_paper:
        what, figure = reference_words(bench.sheets, bench.kit.shop)
        facts["files.reference"] = Fact("files.reference", what, "words")
        facts["files.reference_size"] = Fact("files.reference_size", figure, "words", told_as="file")
    lead = tell(_LEAD + (_MEASURE_BARS if bench.kit.shop.machine.is_paper else _MEASURE_FILE), facts, unit)
    blocks: list[Block] = [Words(lead), Words(outcome), Caution(" ".join([*mind, NO_PLATFORM]))]
    for heading, *group in links:
        blocks += [Heading(heading), *group]
    blocks += [Heading("Pictures"), *(Figures((figure,)) for figure in figures)] if figures else []
    blocks += [Heading("Numbers"), *_numbers(bench)]
    blocks += [Heading("How it stands"), *standing_blocks(bench), Words(foot_of(bench))]
    return with_names(Page(job.name, tuple(blocks)))


_LEAD = (
    "{batch.trestles:trestle} {trestle.height} high; top {top.length} × {top.width} × {top.thickness}; "
    "legs {leg.width} × {leg.thickness}. Measure your timber and your sheet before you cut: everything here follows "
    "from the figures in job.toml and shop.toml. "
)
_MEASURE_FILE = (
    "Before cutting, measure in the file of the first sheet: {files.reference}, {files.reference_size}; else it was "
    "read at a wrong scale."
)
_MEASURE_BARS = (
    "Before anything is glued, measure the bars on every page of the paper at full size, both ways; where they are "
    "off, it was printed at a wrong scale."
)


def _numbers(bench: Bench) -> list[Block]:
    """Angles, lengths and the jig's settings, a table a group."""
    blocks, angles = list[Block](), angle_rows(bench.kit.trestle)
    # Each angle off square and from the edge or face named; the two make 90.
    for group in dict.fromkeys(row.group for row in angles):
        cells = tuple(
            (
                f"{row.name}, {row.lies_on}",
                shown_as(f"angles.{row.key}", f"{fixed(row.off_square_deg, 2)}° off square", "angle"),
                shown_as(f"angles.{row.key}", f"{fixed(row.from_edge_deg, 2)}° from {row.reference}", "angle"),
            )
            for row in angles
            if row.group == group
        )
        blocks += [
            Heading(group, within=True),
            Table(("angle, and where it is seen", "a saw's scale", "a bevel"), cells),
        ]
    # What differs from size to size is told of each.
    for group, size, rows in length_groups(bench.kit.trestle.job, bench.unit):
        told_as = [(row, _FACTS[group.partition(",")[0], row.name]) for row in rows]
        if "square to" in group:
            told_as = [(row, "housing.depth_square" if row.name == "depth" else name) for row, name in told_as]
        elif "bottom" in group:
            told_as = [(row, _BELOW.get(name, name)) for row, name in told_as]
        elif group.endswith("across the board"):
            told_as = [(row, _ACROSS.get(name, name)) for row, name in told_as]
        own = "" if size is None else f"size.{size + 1}."
        facts: list[tuple[str, str]] = []
        for row, name in told_as:
            times = f"{row.times} × " if row.times > 1 else ""
            facts.append((times + row.name, shown_as(f"{own}{name}", row.shown, "chain")))
        heading = group if size is None else f"{group}; {bench.size_names[size]}"
        blocks += [Heading(heading, within=True), Facts(tuple(facts))]
    # The jig's settings; its one angle reads like every angle on paper, and the sum behind it left to the sheets.
    settings: list[tuple[str, str]] = []
    for setting in bench.kit.settings:
        if setting.unit == "deg":
            tilt = shown_as("angles.plate_tilt", off_level(setting.value), "angle")
            settings.append((setting.name, joined(tilt, ", board clamped edge up")))
        else:
            name = f"jig.{setting.name.replace(' ', '_')}"
            settings.append((f"{setting.name} ({setting.why})", told(name, setting.value, "given", bench.unit)))
    blocks += [Heading("Housing jig and hand router", within=True), Facts(tuple(settings))] if settings else []
    return blocks


_FACTS: dict[tuple[str, str], str] = {
    ("Leg", "finished, along any of its arrises"): "leg.length",
    ("Leg", "horn left on the head, sawn off after assembly"): "leg.horn",
    ("Leg", "trim left on the foot, sawn off after assembly"): "leg.trim",
    ("Leg", "slope of the two end cuts"): "leg.slope",
    ("Leg", "shortest board for one leg"): "leg.blank",
    ("Leg", "board for every further leg, without the saw's cut"): "leg.along_per_leg",
    ("Leg", "width along a level line of the wide face"): "leg.level_width",
    ("Housing", "board's end to the near wall"): "housing.start_top",
    ("Housing", "near wall to far wall"): "housing.width_on_arris",
    ("Housing", "between the housings of the two ends"): "housing.between_ends",
    ("Housing", "length of the board"): "top.length",
    ("Housing", "the same if the walls are sawn square across"): "housing.hand_sawn",
    ("Housing", "depth"): "housing.depth_top",
    ("Housing", "between two opposite housings"): "housing.between_top",
    ("Housing", "width of the board"): "top.width",
    ("Housing", "width"): "housing.width",
    ("Brace", "along the top edge, under the board"): "brace.top",
    ("Brace", "longer at each end below by"): "brace.each_end",
    ("Brace", "along the bottom edge"): "brace.bottom",
    ("Brace in place", "depth"): "brace.depth",
    ("Brace in place", "its outer face, back from the board's end"): "brace.stand_back",
    ("Brace in place", "gap at a leg's inner arris, brace left flat"): "brace.gap",
    ("Feet on the floor", "over the outer corners"): "foot.spread_along",
    ("Feet on the floor", "beyond the board's end, each"): "foot.beyond_end",
    ("Feet on the floor", "inside the board's end, each"): "foot.beyond_end",
    ("Feet on the floor", "beyond the board's edge, each"): "foot.beyond_edge",
    ("Feet on the floor", "inside the board's edge, each"): "foot.beyond_edge",
}
"""The fact that each row of lengths is, by its group, up to a comma, and its name."""
_BELOW = {
    "housing.start_top": "housing.start_bottom",
    "housing.depth_top": "housing.depth_bottom",
    "housing.between_top": "housing.between_bottom",
}
_ACROSS = {"foot.spread_along": "foot.spread_across"}
