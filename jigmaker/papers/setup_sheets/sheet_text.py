"""The reader of set-up sheets, which are texts in this folder:

    title: Saw the braces                   the head: title, quantity, timber, datum, and "when" for an operation that
    quantity: {batch.braces:brace}          not every job has
    caution: Short pieces are drawn         caution, picture and table stand where they are wanted
      into the blade.                       two blanks carry a line on
    picture: brace | A brace.               a name of PICTURES, then the words below it; further pairs stand beside it
    # set                                   rows of name | figure; so is any heading not named here
    [horn] horn | {leg.horn}                a row only for jobs with a horn; [not horn], [laser, bridges] work too
    # do                                    steps
    # check: R, L                           rows of what | wanted | limit | between | with; boxes to write in;
                                            a row for each size where it tells what differs from size to size
    # answers                               the same without boxes
    # readings: mine, checked by            rows of what | between | with; boxes to write in
    # page: Saw the braces: on the saw      a further page

Names in braces are facts (papers/facts.py). A name that is not known is refused with file and line.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import field
from typing import TypeVar

from jigmaker.drawing.page import BOX, Block, Caution, Facts, Figures, Heading, Steps, Table, Text
from jigmaker.drawing.picture import Picture
from jigmaker.errors import SheetError
from jigmaker.papers.facts import Fact, differs, tell
from jigmaker.record import dataclass
from jigmaker.units import Unit

HEAD = ("title", "quantity", "timber", "datum")
_OWN = ("set", "do", "check", "readings", "answers")
_CHECK = ("what", "wanted", "limit", "between", "with")
_LEAST = 0.68
"""Pictures shrink to this share where that keeps an operation on one sheet: letters of 2.5 mm stay 1.7 mm high."""
_WIDEST_MM = 186.0
_IF = re.compile(r"\[([a-z, -]+)\] ")
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class SheetNames:
    """What a sheet's text may name: facts, what is so for this job, pictures (drawn when called; None where they are
    left out) and tables that are worked out. sizes: what several sizes are called.
    """

    facts: Mapping[str, Fact]
    is_so: Mapping[str, bool]
    pictures: Mapping[str, Callable[[], Picture] | None]
    tables: Mapping[str, Callable[[], tuple[Block, ...]]]
    unit: Unit
    sizes: tuple[str, ...] = ("",)


@dataclass(frozen=True, slots=True)
class OperationPage:
    """One page of an operation: its title and its blocks."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class OperationText:
    """One operation, or a page that belongs to all and has nothing in its head but a title.

    `quantity`: how many of what, for the whole batch; `timber`: its sizes as measured; `datum`: which faces everything
    is measured from; `sheets`: one page or more.
    """

    title: Text
    quantity: Text
    timber: Text
    datum: Text
    sheets: tuple[OperationPage, ...]


def read_sheet(name: str, text: str, known: SheetNames) -> OperationText | None:
    """The operation that the text describes; None when this job does not have it.

    Raises SheetError with `name` and the line for a text that cannot be read.
    """
    return _SheetReader(name, known).read(text)


@dataclass
class _SheetReader:
    """Reads one text line by line; rows wait until their section ends and then become a block."""

    name: str
    known: SheetNames
    line: int = 0
    section: str = ""
    is_headed: bool = False
    head: dict[str, Text] = field(default_factory=dict)
    pages: list[tuple[Text, list[Block]]] = field(default_factory=list)
    rows: list[tuple[Text, ...]] = field(default_factory=list)

    def read(self, text: str) -> OperationText | None:
        # Lines with their numbers; one that starts with two blanks goes on where the last one ended.
        lines: list[tuple[int, str]] = []
        for number, line in enumerate(text.splitlines(), 1):
            if line.startswith("  ") and lines:
                lines[-1] = (lines[-1][0], f"{lines[-1][1]} {line.strip()}")
            elif line.strip():
                lines.append((number, line.strip()))
        for self.line, words in lines:
            # "[horn, not trim] words": a line for jobs of which all of that is so.
            found = _IF.match(words)
            if found and not all(self._is_so(each) for each in found[1].split(", ")):
                continue
            words = words[found.end() :] if found else words
            key, _, value = words.partition(": ")
            if key == "when":
                if not all(self._is_so(each) for each in value.split(", ")):
                    return None
            elif words.startswith("# "):
                self._open(words[2:])
            elif key in HEAD and not self.section:
                self.head[key] = self._told(value)
            elif key in ("caution", "picture", "table"):
                self._close_rows()
                blocks = getattr(self, f"_{key}")(value)
                self._add((*self._heading(), *blocks) if blocks and key != "caution" else blocks)
            elif self.section.partition(":")[0] in ("check", "answers") and differs(words, self.known.facts):
                for i, size in enumerate(self.known.sizes):
                    what, *cells = words.split(" | ")
                    self.rows.append(tuple(self._told(cell, i) for cell in (f"{what} ({size})", *cells)))
            elif self.section:
                self.rows.append(tuple(self._told(cell) for cell in words.split(" | ")))
            else:
                raise self._wrong(f'"{key}" is no key of a sheet\'s head')
        self._close_rows()
        return self._operation()

    def _operation(self) -> OperationText:
        missing = [key for key in HEAD if key not in self.head]
        if missing and missing != [*HEAD[1:]]:
            raise self._wrong(f"the head has no {', '.join(missing)}")
        sheets = tuple(OperationPage(title, tuple(blocks)) for title, blocks in self.pages)
        return OperationText(**dict.fromkeys(HEAD, Text("")) | self.head, sheets=sheets)

    def _open(self, heading: str) -> None:
        self._close_rows()
        key, _, title = heading.partition(": ")
        if key == "page":
            self.pages.append((self._told(title), []))
        self.section, self.is_headed = ("", False) if key == "page" else (heading, False)

    def _close_rows(self) -> None:
        """What was read since the section began, as a block, under its heading unless that stands already."""
        if not self.rows:
            return
        key, _, boxes = self.section.partition(": ")
        block: Block
        if key == "do":
            block = Steps(tuple(row[0] for row in self._of_length(1)))
        elif key == "check":
            empty = tuple(boxes.split(", ")) if boxes else ("as read",)
            block = Table((*_CHECK, *empty), tuple((*row, *(BOX,) * len(empty)) for row in self._of_length(5)))
        elif key == "answers":
            block = Table(_CHECK, tuple(self._of_length(5)))
        elif key == "readings":
            empty = tuple(boxes.split(", "))
            head = tuple(name for name in _CHECK if name not in ("wanted", "limit"))
            block = Table((*head, *empty), tuple((*row, *(BOX,) * len(empty)) for row in self._of_length(3)))
        else:
            block = Facts(tuple((row[0], row[1]) for row in self._of_length(2)))
        self._add((*self._heading(), block))
        self.rows = []

    def _heading(self) -> tuple[Block, ...]:
        """The section's heading, once."""
        key = self.section.partition(": ")[0]
        told = self.section and not self.is_headed
        self.is_headed = True
        return (Heading(key.capitalize() if key in _OWN else self.section),) if told else ()

    def _of_length(self, cells: int) -> list[tuple[Text, ...]]:
        for row in self.rows:
            if len(row) != cells or not all(row):
                raise self._wrong(
                    f'a row under "{self.section}" has {cells} cells with " | " between; "{row[0]}" differs'
                )
        return self.rows

    def _add(self, blocks: tuple[Block, ...]) -> None:
        if not self.pages:
            self.pages.append((self.head.get("title", Text("")), []))
        self.pages[-1][1].extend(blocks)

    def _caution(self, words: str) -> tuple[Block, ...]:
        return (Caution(self._told(words)),)

    def _picture(self, words: str) -> tuple[Block, ...]:
        cells = words.split(" | ")
        cells += [""] * (len(cells) % 2)
        drawn = []
        for name, below in zip(cells[::2], cells[1::2], strict=True):
            caption, draw = self._told(below), self._named(name, self.known.pictures, "picture")
            if draw is not None:
                picture = draw()
                drawn.append((picture, min(picture.width_mm, _WIDEST_MM), caption))
        return (Figures(tuple(drawn), least=_LEAST),) if drawn else ()

    def _table(self, name: str) -> tuple[Block, ...]:
        return self._named(name, self.known.tables, "table")()

    def _is_so(self, condition: str) -> bool:
        plain = condition.removeprefix("not ")
        return self._named(plain, self.known.is_so, "condition") is not (plain != condition)

    def _named(self, name: str, table: Mapping[str, _T], kind: str) -> _T:
        if name not in table:
            raise self._wrong(f'"{name}" is no {kind}; there are {", ".join(sorted(table))}')
        return table[name]

    def _told(self, words: str, size: int | None = None) -> Text:
        try:
            return tell(words, self.known.facts, self.known.unit, size)
        except ValueError as error:
            raise self._wrong(str(error)) from None

    def _wrong(self, what: str) -> SheetError:
        return SheetError(f"{self.name} line {self.line}: {what}")
