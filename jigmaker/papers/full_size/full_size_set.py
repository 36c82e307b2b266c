"""All full-size paper of a job, by what it is for. mm as they come off the printer."""

from collections.abc import Iterator
from dataclasses import replace

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.geometry.frames import Point
from jigmaker.job.shop import Paper
from jigmaker.papers.full_size.housing_strips import housing_strips
from jigmaker.papers.full_size.leaf import Leaf
from jigmaker.papers.full_size.leg_ends import leg_ends
from jigmaker.papers.full_size.packing import TemplateBlock, block, fits, pack
from jigmaker.papers.full_size.pens import CUT_LINE_MM
from jigmaker.papers.full_size.printed_parts import printed_parts
from jigmaker.papers.full_size.printer_paper import PrinterPaper
from jigmaker.papers.full_size.tile_pages import TiledTemplate, join_words, tiled
from jigmaker.papers.wording import plus_minus
from jigmaker.parts.kit import Kit
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_text

SAW = "Glue the paper to the sheet, saw beside the line, plane or file to its middle: sizes are finished."
WRAP = "Glue or tape the paper round the timber; the saw takes the waste side of the line."

_GROWS: dict[Unit, str] = {"mm": "1 mm in 300 mm", "in": '3/64" in a foot'}


def from_paper(unit: Unit) -> str:
    """What is done with this paper where nothing else makes the kit; damp and saw are common practice, no source."""
    return (
        "Print at 100 %, measure the bars, glue, saw and file to the lines. Paper grows with damp by up to "
        f"{_GROWS[unit]}, a line is {length_text(CUT_LINE_MM, unit)} wide, and a saw wanders: expect "
        f"{plus_minus(0.5, unit)}, and bring the edges that guide or bear to a straight edge, a square and a caliper. "
        "Where a gauge would have to be finer, the set-up sheets say what does its work: a test leg, a slip of paper, "
        "feelers."
    )


def without_machine(unit: Unit) -> str:
    """For whom this paper is and how true it is; damp and saw are common practice, no source."""
    return (
        "Whoever has no machine for it prints these, glues the print to the sheet and saws to the line; leg ends "
        "and strips go round the timber. Paper is less true than cut parts: it grows with damp by up to "
        f"{_GROWS[unit]}, a line is {length_text(CUT_LINE_MM, unit)} wide, and a saw wanders. Expect "
        f"{plus_minus(0.5, unit)}, and bring the edges that guide or bear to a straight edge, a square and a caliper. "
        "Gauges with finer limits are not among them."
    )


@dataclass(frozen=True, slots=True)
class TemplateGroup:
    """What is printed one after the other: its title, and words on every page."""

    title: str
    words: str


GROUPS: dict[str, TemplateGroup] = {
    "bevel-plates": TemplateGroup("bevel plates", SAW),
    "plate": TemplateGroup("plate of the housing jig", SAW),
    "jig-parts": TemplateGroup("other parts of the housing jig", SAW),
    "hand-guides": TemplateGroup("saw guides and paring guide", SAW),
    "cradle": TemplateGroup("sloping cradle", SAW),
    "leg-box": TemplateGroup("leg box", SAW),
    "housing-strips": TemplateGroup(
        "strips to mark housings", "Tape the paper round the board; the lines are the housing's."
    ),
    "leg-ends": TemplateGroup("ends of the legs", WRAP),
    "brace": TemplateGroup("brace", SAW),
    "drilling-template": TemplateGroup("drilling template", SAW),
    "wedges": TemplateGroup("wedges", SAW),
    "foot-block": TemplateGroup("foot block", SAW),
}
"""In working order: the saw is set, the jig made, housings marked, legs and braces sawn, feet scribed."""


def templates(kit: Kit) -> dict[str, list[Picture]]:
    """Every template at 1:1, by group."""
    found = printed_parts(kit)
    found["leg-ends"] = leg_ends(kit.trestle)
    found["housing-strips"] = housing_strips(kit.trestle)
    return {group: found[group] for group in GROUPS if group in found}


def full_size_set(kit: Kit) -> dict[str, tuple[PrinterPage, ...]]:
    """Pages by group, numbered on through all of them, on the shop's paper and for its printer."""
    job, paper = kit.trestle.job, kit.shop.paper
    groups = GROUPS if kit.shop.routs_housings else GROUPS | {"jig-parts": TemplateGroup("gauges", SAW)}
    laid = {name: _laid_out(pictures, groups[name], paper, job.unit) for name, pictures in templates(kit).items()}
    first, of = 1, sum(each.count for group in laid.values() for each in group)
    pages: dict[str, tuple[PrinterPage, ...]] = {}
    for name, group in laid.items():
        for each in group:
            pages[name] = (*pages.get(name, ()), *each.pages(f"Kit {kit.number}, {job.name}", first, of))
            first += each.count
    return pages


@dataclass(frozen=True, slots=True)
class _PackedPage:
    """One page with one or more small templates."""

    title: str
    leaf: Leaf
    placed: tuple[tuple[TemplateBlock, Point], ...]

    @property
    def count(self) -> int:
        """How many pages."""
        return 1

    @property
    def area(self) -> float:
        """Of all its blocks, mm2."""
        return sum(one.width * one.height for one, _ in self.placed)

    def pages(self, job: str, first: int, of: int) -> Iterator[PrinterPage]:
        """The page; `first`: its number, `of`: of how many."""
        draft = self.leaf.start(self.title, f"{job}, page {first} of {of}")
        for one, (x, y) in self.placed:
            one.draw(draft, (self.leaf.room[0] + x, self.leaf.room[3] + y))
        yield self.leaf.finish(draft, ", ".join(one.picture.title for one, _ in self.placed))


def _laid_out(
    pictures: list[Picture], group: TemplateGroup, paper: Paper, unit: Unit
) -> list[TiledTemplate | _PackedPage]:
    """Large templates first, each on pages of its own; then the small ones, several to a page."""
    # A small template goes to the first kind of page that has room for it: one that prints on both families of paper,
    # else one of the shop's own, else one whose bars stand at the edge.
    leaves = _leaves(group, paper)
    large = [picture for picture in pictures if not any(_fits(picture, leaf) for leaf in leaves)]
    small = [picture for picture in pictures if picture not in large]
    packed: list[_PackedPage] = []
    for alike in (leaves[:2], leaves[2:4], leaves[4:]):
        packed += _packed(small, alike, group.title)
        small = [picture for picture in small if not any(_fits(picture, leaf) for leaf in alike)]
    # On one page of its own if that is enough; else upright or lying: what cuts no label, in fewer pages, and of these
    # what the other family of paper prints, for its leaves come first.
    on_own: list[TiledTemplate] = []
    for picture in large:
        words = (*picture.notes, group.words)
        alone = [tiled(picture, replace(leaf, words=words)) for leaf in leaves]
        told = (*words, join_words(picture, unit))
        joined = [tiled(picture, replace(leaf, words=told, has_map=True)) for leaf in leaves]
        which = [each for each in alone if each.count == 1] or joined
        on_own.append(min(which, key=lambda each: (len(each.adrift), each.count)))
    return [*on_own, *packed]


def _leaves(group: TemplateGroup, paper: Paper) -> list[Leaf]:
    """What both families of paper have in common, upright and lying; then all of the shop's own paper, the bars where
    both print them; then with the bars at its edge.
    """
    ways = [PrinterPaper(paper, lies) for lies in (False, True)]
    leaves = [Leaf(way, way.shared_field, (group.words,)) for way in ways]
    return leaves + [
        Leaf(way, way.field, (group.words,), bars_at_edge=at_edge) for at_edge in (False, True) for way in ways
    ]


def _fits(picture: Picture, leaf: Leaf) -> bool:
    return fits(block(picture, leaf.room_size[0]), leaf.room_size)


def _packed(pictures: list[Picture], leaves: list[Leaf], title: str) -> list[_PackedPage]:
    """All that fit one of the leaves, page by page: upright or lying, whichever then holds more of them by area."""
    # Page by page the fullest that can be made of what is left: the best of all ways to fill several would be a search.
    pages: list[_PackedPage] = []
    rest = [picture for picture in pictures if any(_fits(picture, leaf) for leaf in leaves)]
    while rest:
        first_pages = []
        for leaf in leaves:
            blocks = [block(picture, leaf.room_size[0]) for picture in rest if _fits(picture, leaf)]
            placed = pack(blocks, leaf.room_size)
            first_pages.append(_PackedPage(title, leaf, tuple(placed[0]) if placed else ()))
        fullest = max(first_pages, key=lambda page: round(page.area, 3))
        taken = [one.picture for one, _ in fullest.placed]
        rest = [picture for picture in rest if picture not in taken]
        pages.append(fullest)
    return pages
