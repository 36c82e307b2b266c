"""The records' decorator does what the standard library's does: each case is a class made with both."""

import copy
import dataclasses
import inspect
import pickle
from collections.abc import Callable
from dataclasses import FrozenInstanceError, asdict, astuple, field, fields, replace
from math import nan
from typing import Any

import pytest

from jigmaker import record
from jigmaker.geometry.frames import Frame
from jigmaker.record import dataclass


def made_with(decorator: Any, settings: dict[str, bool]) -> list[type]:
    """A record with values preset and checked, one that builds on it, and one of a single value."""

    @decorator(**settings)
    class Board:
        """A board."""

        name: str
        width_mm: float = 90.0
        notes: list[str] = field(default_factory=list)
        read_from: str | None = field(default=None, compare=False, repr=False)

        def __post_init__(self) -> None:
            if self.width_mm <= 0:
                raise ValueError("no width")

    @decorator(**settings)
    class Plank(Board):
        """A board with a length."""

        length_mm: float = 2400.0

    @decorator(**settings)
    class Mark:
        """One value."""

        text: object

    return [Board, Plank, Mark]


KINDS = [
    {},
    {"slots": True},
    {"frozen": True},
    {"frozen": True, "slots": True},
    {"frozen": True, "slots": True, "eq": False},
    {"kw_only": True},
]

ASKED: dict[str, Callable[..., object]] = {
    "names": lambda board, plank, mark: [[name.name for name in fields(each)] for each in (board, plank, mark)],
    "parameters": lambda *each: [
        [(told.name, told.kind, told.annotation) for told in inspect.signature(one).parameters.values()] for one in each
    ],
    "patterns": lambda *each: [one.__match_args__ for one in each],
    "written": lambda board, plank, mark: [repr(plank(name="p", length_mm=1.5)), repr(mark(text=("m",)))],
    "preset": lambda board, plank, mark: astuple(plank(name="p")),
    "a list of its own": lambda board, plank, mark: board(name="a").notes is board(name="b").notes,
    "in order": lambda board, plank, mark: astuple(plank("p", 1.0, ["n"], None, 2.0)),
    "missing": lambda board, plank, mark: board(),
    "unknown": lambda board, plank, mark: board(name="a", colour="red"),
    "checked": lambda board, plank, mark: plank(name="a", width_mm=0.0),
    "alike": lambda board, plank, mark: board(name="a") == board(name="a", read_from="x"),
    "not alike": lambda board, plank, mark: board(name="a") == board(name="b"),
    "of another class": lambda board, plank, mark: plank(name="a") == board(name="a"),
    "a NaN is itself": lambda board, plank, mark: mark(text=nan) == mark(text=nan),
    "in a set": lambda board, plank, mark: len({mark(text="a"), mark(text="a"), mark(text="b")}),
    "a list in a set": lambda board, plank, mark: isinstance(hash(board(name="a")), int),
    "set": lambda board, plank, mark: [setattr(each := mark(text="a"), "text", "b"), each.text],
    "deleted": lambda board, plank, mark: delattr(mark(text="a"), "text"),
    "replaced": lambda board, plank, mark: astuple(replace(plank(name="p"), width_mm=3.0)),
    "replaced by a wrong one": lambda board, plank, mark: replace(plank(name="p"), width_mm=-3.0),
    "as a table": lambda board, plank, mark: asdict(mark(text=plank(name="p"))),
    "copied": lambda board, plank, mark: [astuple(copy.deepcopy(plank(name="p"))), astuple(copy.copy(mark(text="a")))],
}
"""What is asked of the three classes, by what it is about."""


def answer(asked: Callable[..., object], classes: list[type]) -> object:
    """What comes of it, or the kind of its error with the name that it is about."""
    try:
        return asked(*classes)
    except (TypeError, ValueError, AttributeError) as error:
        return type(error), str(error) if isinstance(error, TypeError | FrozenInstanceError) else ""


@pytest.mark.parametrize("asked", ASKED)
@pytest.mark.parametrize("settings", KINDS, ids=str)
def test_it_answers_like_the_librarys(settings: dict[str, bool], asked: str) -> None:
    """Words of errors too, where they name a field or a parameter."""
    expected = answer(ASKED[asked], made_with(dataclasses.dataclass, settings))
    assert answer(ASKED[asked], made_with(dataclass, settings)) == expected


def test_its_own_methods_stay() -> None:
    """A class that compares in its own way goes on doing so."""

    @dataclass(frozen=True)
    class Loose:
        """Alike whatever it holds."""

        text: str

        def __eq__(self, other: object) -> bool:
            return isinstance(other, Loose)

        def __hash__(self) -> int:
            return 7

        def __repr__(self) -> str:
            return "loose"

    assert Loose("a") == Loose("b") and hash(Loose("a")) == 7 and repr(Loose("a")) == "loose"


def test_a_record_can_be_sent_to_another_process() -> None:
    """Frozen, with slots: what is read back is alike, and frozen too."""
    frame = Frame()
    back = pickle.loads(pickle.dumps(frame))
    assert back == frame
    with pytest.raises(FrozenInstanceError):
        setattr(back, fields(back)[0].name, 1)


def test_one_function_is_compiled_a_class(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library compiles six: that is why there is a decorator of our own."""
    counts = {}
    for decorator, module in ((dataclasses.dataclass, dataclasses), (dataclass, record)):
        compiled: list[object] = []

        def counted(*words: Any, into: list[object] = compiled) -> None:
            into.append(words)
            exec(*words)

        monkeypatch.setattr(module, "exec", counted, raising=False)
        made_with(decorator, {"frozen": True, "slots": True})
        counts[module.__name__] = len(compiled) / 3
        monkeypatch.undo()
    assert counts["jigmaker.record"] == 1 < counts["dataclasses"]
