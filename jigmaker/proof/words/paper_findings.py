"""Papers against what was proved: words and figures in pages of HTML and in the cut list for spreadsheets (6xx).

Pages carry each figure and each direction with its name; a cut list names them by its columns. Of a page only what
bears a name is read; its pictures are lines, which nobody can read back. PDFs and drawings cannot be read so: what they
say is lines and glyphs.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from html import unescape
from io import StringIO

from jigmaker.findings import Finding
from jigmaker.job.job import Job
from jigmaker.job.practice import PRACTICE
from jigmaker.proof.records import DeclaredKit
from jigmaker.proof.words.figures import Statement, Value, agrees, statement_of
from jigmaker.proof.words.known_facts import KnownFacts
from jigmaker.proof.words.known_number import WRONG as WRONG_NUMBER
from jigmaker.proof.words.mark_findings import NAMELESS, is_words, shown
from jigmaker.units import Unit

LARGEST_BYTES = 8_000_000
"""A page of papers has a tenth of that."""

_FACT = re.compile('<span data-fact="([^"<>]*)">([^<>]*)</span>')
_MOST_FACTS, _MOST_ROWS = 20_000, 2_000
_DIRECTION, _FIGURE, _PRACTICE, _UNREAD = 601, 602, 603, 606
_DO = "make the folder again, and work by nothing that this paper says until then"
_MOST = 20  # of one paper; who reads more will make it again anyway
_SAID = "said."
SAID = re.compile(
    "(?:[Tt]op|[Bb]ottom|[Ii]nside|[Oo]utside|[Oo]uter|[Ii]nner|[Ww]ide) faces?|[Nn]arrow edges?"
    "|(?:[Nn]ear|[Ff]ar) (?:wall|end|edge|line|[RL])s?|(?:[Dd]atum|[Oo]ther) end"
    "|(?:[Tt]op|[Bb]ottom|[Ii]nner|[Oo]uter) arris(?:es)?|(?:low|high) end|right of all|above all|[RL]"
)
"""Words of hands, faces, ends and walls that stand in sentences alike for every job, named "said." and the words."""

_COLUMNS = "kind,what,for one trestle,for the batch,spare,total,width,thickness,length,length of board for all,note"
_LENGTHS = ("width", "thickness", "length", "length of board for all")
_TIMBER: dict[str, tuple[str, ...]] = {
    "leg": ("leg.width", "leg.thickness", "leg.blank", "cut.leg.board"),
    "top board": ("top.width", "top.thickness", "top.length", "cut.top.board"),
    "brace": ("brace.depth", "brace.thickness", "brace.bottom", "cut.brace.board"),
}
_COUNTS = ("one", "batch", "spare", "total")


_JUDGED = ("set-up-sheets.html", "notes.html", "cut-list.html", "cut-list.csv")


class Unread(Exception):
    """A paper that cannot be read; the message says why."""


def facts_of_page(data: bytes) -> list[Statement]:
    """Every fact of a page, in order: an element that bears its name and holds words alone. Raises Unread."""
    # Counted in the whole page: a fact in a form that the pattern does not know, another quotation mark or an element
    # inside it, would go unjudged.
    text = _text(data)
    count = text.count("data-fact")
    if count > _MOST_FACTS:
        raise Unread("holds more facts than any page of papers")
    found = [statement_of(unescape(name), unescape(words)) for name, words in _FACT.findall(text)]
    if len(found) != count:
        raise Unread(f"holds {count - len(found)} facts in a form that cannot be read")
    return found


def rows_of_list(data: bytes) -> list[list[str]]:
    """The rows of a cut list, its head first. Raises Unread."""
    try:
        rows = list(csv.reader(StringIO(_text(data).removeprefix("\ufeff"), newline=""), strict=True))
    except csv.Error as error:
        raise Unread(f"is no list of rows: {error}") from None
    if len(rows) > _MOST_ROWS:
        raise Unread("has more rows than any cut list")
    return rows


def _text(data: bytes) -> str:
    if len(data) > LARGEST_BYTES:
        raise Unread(f"is over {LARGEST_BYTES // 1_000_000} MB large; no paper is")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise Unread("is not UTF-8") from None


def named_papers(files: Mapping[str, bytes], job: Job, kit: DeclaredKit) -> list[str]:
    """The names of the papers in the folder whose words are checked, of those that kit.json lists."""
    names = ("index.html", *(f"papers/{job.slug}-{each}" for each in _JUDGED))
    return [name for name in kit.hashes if name in names and name in files]


def paper_findings(
    files: Mapping[str, bytes], names: Iterable[str], job: Job, kit: DeclaredKit, known: KnownFacts
) -> Iterator[Finding]:
    """Some papers by name; each fault of a paper once."""
    for name in names:
        try:
            if name.endswith(".csv"):
                found = _list_findings(name, rows_of_list(files[name]), job, kit, known)
            else:
                found = _page_findings(name, facts_of_page(files[name]), known, job.unit)
            yield from list(dict.fromkeys(found))[:_MOST]
        except Unread as error:
            yield Finding(_UNREAD, f"{error}", _DO, part=name)


def _page_findings(name: str, facts: Iterable[Statement], known: KnownFacts, unit: Unit) -> Iterator[Finding]:
    """Every fact of a page, by its name: words alike for every job, a name that is known, and what it must say."""
    if not facts:
        yield Finding(_UNREAD, "holds no fact: its figures have no names, and cannot be judged", _DO, part=name)
    for stated in facts:
        # "said.near wall" must read "near wall": so that nobody exchanges a word that every job's sentences have.
        said = stated.name.removeprefix(_SAID)
        if stated.name.startswith(_SAID) and SAID.fullmatch(said):
            if said != stated.words:
                yield Finding(
                    _DIRECTION, f'"{stated.words}" stands where "{said}" must', _DO, part=name, at=stated.name
                )
        elif stated.name not in known:
            says = f'"{stated.words[:60]}" has the name "{stated.name[:60]}", which nobody knows'
            yield Finding(NAMELESS, says, _DO, part=name, at=stated.name[:60])
        elif not agrees(stated, known[stated.name], unit):
            yield _wrong(name, stated, known[stated.name])


_UNITS = {"number": "", "ratio": "", "angle": "°", "degrees": "°", "nearly": "°", "volume": " mm³"}
"""Of figures by their reading; all others are in mm."""


def _wrong(name: str, stated: Statement, value: Value, row: str = "") -> Finding:
    code = _DIRECTION if is_words(value) else _PRACTICE if stated.name in PRACTICE else _FIGURE
    code = WRONG_NUMBER if stated.name == "kit.number" else code
    unit = "" if is_words(value) else _UNITS.get(stated.how, " mm")
    says = f'"{stated.words[:60]}" is told of {stated.name}, must be {shown(value)}{unit}'
    return Finding(code, says, _DO, part=name, at=row or stated.name)


def _list_findings(
    name: str, rows: list[list[str]], job: Job, kit: DeclaredKit, known: KnownFacts
) -> Iterator[Finding]:
    """The cut list for spreadsheets: what each cell is, its row and column say."""
    head = [f"{each}, {job.unit}" if each in _LENGTHS else each for each in _COLUMNS.split(",")]
    if not rows or rows[0] != head or any(len(row) != len(head) for row in rows):
        yield Finding(_UNREAD, f"its head is not {', '.join(head)}, or a row has another length", _DO, part=name)
        return
    parts, timber = {part.name: part.slug for part in kit.parts}, _timber_rows(job)
    missing = set(timber) | set(parts)
    # What a row is, its first two cells say; each cell is then held to the fact that its column names for such a row.
    for number, row in enumerate(rows[1:], 2):
        missing.discard(row[1])
        named = _cells(row, parts, timber)
        if named is None:
            says = f'row {number} is "{row[0][:40]}, {row[1][:40]}", which no cut list of this kit has'
            yield Finding(_UNREAD, says, _DO, part=name, at=f"row {number}")
            continue
        for stated in named:
            if stated.name not in known or not agrees(stated, known[stated.name], job.unit):
                yield _wrong(name, stated, known.get(stated.name, ()), f"row {number}")
    if missing:
        yield Finding(_UNREAD, f"it has no row for {', '.join(sorted(missing))}", _DO, part=name)


def _timber_rows(job: Job) -> dict[str, tuple[str, tuple[str, ...]]]:
    """What a list calls each kind of board: what its counts begin with, and the names of its four lengths.

    Of several sizes the legs have a row each, and top boards where their lengths differ.
    """
    rows: dict[str, tuple[str, tuple[str, ...]]] = {}
    for what, lengths in _TIMBER.items():
        key = f"cut.{what.split()[0]}"
        is_shared = what == "brace" or (what == "top board" and len({size.top_length_mm for size in job.sizes}) == 1)
        if is_shared or not job.further_sizes:
            rows[what] = key, lengths
            continue
        for i, size in enumerate(job.size_names, 1):
            own = [
                f"size.{i}.{name}" if name.startswith(("cut.", "leg.blank", "top.length")) else name for name in lengths
            ]
            rows[f"{what} for {size}"] = f"size.{i}.{key}", tuple(own)
    return rows


def _cells(
    row: list[str], parts: Mapping[str, str], timber: Mapping[str, tuple[str, tuple[str, ...]]]
) -> list[Statement] | None:
    """The facts of a row; None for a row of no kind."""
    # By columns: kind, what, counts for one, batch, spare and together, then width, thickness, length, and all in one.
    kind, what, counts, lengths = row[0], row[1], row[2:6], row[6:10]
    if kind == "timber" and what in timber:
        key, names = timber[what]
        stated = [Statement(f"{key}.{name}", "number", cell) for name, cell in zip(_COUNTS, counts, strict=True)]
        return stated + [Statement(name, "table", cell) for name, cell in zip(names, lengths, strict=True)]
    if kind == "sheet part" and what in parts:
        key, names = f"part.{parts[what]}", ("needed", "spares", "pieces")
        stated = [Statement(f"{key}.{name}", "number", cell) for name, cell in zip(names, counts[1:], strict=True)]
        sides = zip(("width", "thickness", "length"), lengths, strict=False)
        return [*stated, *(Statement(f"{key}.{name}", "table", cell) for name, cell in sides)]
    if kind in ("screws", "glue"):
        key = "screw" if kind == "screws" else "glue"
        stated = [Statement(f"{key}.name", "", what)]
        stated += [Statement(f"{key}.{name}", "number", cell) for name, cell in zip(_COUNTS, counts[:3], strict=False)]
        # Screws come in several patterns, of which any will do for one trestle: the sum is held to its own parts.
        are_counts = all(re.fullmatch("[0-9]{1,9}", cell) for cell in counts)
        is_sum = are_counts and int(counts[3]) == int(counts[1]) + int(counts[2])
        return stated if is_sum else None
    return None
