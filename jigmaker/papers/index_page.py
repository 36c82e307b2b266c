"""The one page that a telephone opens: verdict of the proof, cautions, a link to every file, numbers. Page out."""

from jigmaker.cutting.cut_picture import reference_words
from jigmaker.drawing.page import Block, Caution, Facts, Figures, Heading, Links, Page, Table, Words
from jigmaker.papers.bench import Bench, Shown, foot_of
from jigmaker.papers.standing_blocks import standing_blocks
from jigmaker.papers.wording import NO_PLATFORM, counted, off_level, size
from jigmaker.trestle.angle_table import AngleRow, angle_rows
from jigmaker.trestle.length_table import LengthRow, length_rows
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
    trestle = bench.kit.trestle
    outcome, *mind = verdict
    blocks: list[Block] = [Words(_lead(bench)), Words(outcome), Caution(" ".join([*mind, NO_PLATFORM]))]
    for heading, *group in links:
        blocks += [Heading(heading), *group]
    blocks += [Heading("Pictures"), *(Figures((figure,)) for figure in figures)] if figures else []
    blocks.append(Heading("Numbers"))
    blocks += [*_angles(angle_rows(trestle)), *_lengths(length_rows(trestle, bench.unit))]
    blocks += [Heading("Housing jig and hand router", within=True), _settings(bench)]
    blocks += [Heading("How it stands"), *standing_blocks(bench), Words(foot_of(bench))]
    return Page(trestle.job.name, tuple(blocks))


def _lead(bench: Bench) -> str:
    job, unit = bench.kit.trestle.job, bench.unit
    top, leg = job.top, job.leg
    return (
        f"{counted(job.trestles, 'trestle')} {bench.length(job.height_mm)} high; top "
        f"{size(top.length_mm, top.width_mm, top.thickness_mm, unit=unit)}; legs "
        f"{size(leg.width_mm, leg.thickness_mm, unit=unit)}. Measure your timber and your sheet before you cut: "
        f"everything here follows from the figures in job.toml and shop.toml.{_measured_first(bench)}"
    )


def _measured_first(bench: Bench) -> str:
    what, figure = reference_words(bench.sheets, bench.kit.shop)
    return f" Before cutting, measure in the file of sheet 1: {what}, {figure}; else it was read at a wrong scale."


def _angles(rows: tuple[AngleRow, ...]) -> list[Block]:
    """A table a group: off square and from the edge or face named; the two make 90."""
    blocks: list[Block] = []
    for group in dict.fromkeys(row.group for row in rows):
        cells = tuple(
            (
                f"{row.name}, {row.lies_on}",
                f"{fixed(row.off_square_deg, 2)}° off square",
                f"{fixed(row.from_edge_deg, 2)}° from {row.reference}",
            )
            for row in rows
            if row.group == group
        )
        blocks += [
            Heading(group, within=True),
            Table(("angle, and where it is seen", "a saw's scale", "a bevel"), cells),
        ]
    return blocks


def _lengths(rows: tuple[LengthRow, ...]) -> list[Block]:
    blocks: list[Block] = []
    for group in dict.fromkeys(row.group for row in rows):
        facts = tuple((_name(row), row.shown) for row in rows if row.group == group)
        blocks += [Heading(group, within=True), Facts(facts)]
    return blocks


def _name(row: LengthRow) -> str:
    return f"{row.times} × {row.name}" if row.times > 1 else row.name


def _settings(bench: Bench) -> Facts:
    """The jig's settings; its one angle is told like every angle on paper, and the sum behind it left to the sheets."""
    rows = []
    for setting in bench.kit.settings:
        if setting.unit == "deg":
            rows.append((setting.name, f"{off_level(setting.value)}, board clamped edge up"))
        else:
            rows.append((f"{setting.name} ({setting.why})", bench.length(setting.value)))
    return Facts(tuple(rows))
