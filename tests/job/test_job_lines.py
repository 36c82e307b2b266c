"""Where a key stands: written files whose lines are counted by hand, and a stranger that parses growing prefixes."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.lines import line_of, lines_of, place_of
from jigmaker.job.templates import new_job_text, new_shop_text

ROOT = Path(__file__).parent.parent
HARD = """\
# [leg] is only named here
first.second = 1 # first.third = 2
"quoted.key" = "[leg]"
[leg]  # width = 3
width = 70
note = \"\"\"
width = 5
[top]
\\\"\"\" [still] inside \"\"\"\"\"
thickness = { in = '2 3/4 "', mm = [1, 2, # ] }
  { width = "]" }, ['''
x]
'''] ], deep = { "a b".c = 1, d = 2 } }
[ layers . "mark" ]
name = 'a''' # not one
[brace]
depth = 1
[[list]]
entry = 1979-05-27 07:32:00
[[list]]
entry = 2
later = \"\"\"a\"b\"\"c\"\"\"
last = 0
""".replace("'a''' # not one", "'a' # '''")

WHERE = {
    "first": 2,
    "first.second": 2,
    '"quoted.key"': 3,
    "leg": 4,
    "leg.width": 5,
    "leg.note": 6,
    "leg.thickness": 10,
    "leg.thickness.in": 10,
    "leg.thickness.mm": 10,
    "leg.thickness.deep": 13,
    'leg.thickness.deep."a b".c': 13,
    "leg.thickness.deep.d": 13,
    "layers.mark": 14,
    "layers.mark.name": 15,
    "brace.depth": 17,
    "list": 18,
    "list.entry": 19,
    "list 2": 20,
    "list 2.entry": 21,
    "list 2.later": 22,
    "list 2.last": 23,
}


@pytest.mark.parametrize(("key", "line"), WHERE.items(), ids=list(WHERE))
@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["plain", "windows"])
def test_lines_counted_by_hand(key: str, line: int, ends: str) -> None:
    """Tables, dotted keys, inline tables, quoted keys and text over several lines are placed on their own line."""
    tomllib.loads(HARD)
    assert line_of(HARD.replace("\n", ends), key) == line


@pytest.mark.parametrize("key", ["third", "first.third", "top", "still", "leg.depth", "x", "list.entry.width"])
def test_a_key_in_a_comment_or_text_is_not_there(key: str) -> None:
    """What looks like a key inside a comment, a text or a list has no line."""
    assert line_of(HARD, key) is None


def paths(table: dict[str, Any], before: str = "") -> set[str]:
    """All dotted names of a parsed file whose keys need no quotes; further tables of one name are numbered from 2."""
    found = set()
    for key, value in table.items():
        several = isinstance(value, list) and all(isinstance(each, dict) for each in value)
        for i, each in enumerate(value if several else [value], 1):
            name = f"{before}{key}" + (f" {i}" if i > 1 else "")
            found |= {name} | (paths(each, f"{name}.") if isinstance(each, dict) else set())
    return found


def lines_by_prefix(text: str) -> dict[str, int]:
    """A stranger's answer for files of one line a statement: the first whole-line prefix that holds a name."""
    lines, where = text.split("\n"), {}
    for count in range(1, len(lines) + 1):
        for name in paths(tomllib.loads("\n".join(lines[:count]))):
            where.setdefault(name, count)
    return where


GOOD = {path.name: path.read_text("utf-8") for path in sorted(ROOT.glob("jobs/*.toml"))} | {
    "demo job": demo_job_text().decode(),
    "demo shop": demo_shop_text().decode(),
    "new job": new_job_text(),
    "new shop": new_shop_text(),
}


@pytest.mark.parametrize("text", GOOD.values(), ids=list(GOOD))
def test_lines_as_growing_prefixes_tell_them(text: str) -> None:
    """The scanner and the standard parser on growing prefixes name the same keys on the same lines."""
    found = lines_of(text)
    assert len(found) > 10
    assert {key: line for key, line in found.items() if key != "layers"} == {
        key: line for key, line in lines_by_prefix(text).items() if key != "layers"
    }


KEYS = st.sampled_from(["a", "b", "width", "in", "1"])
VALUES = st.recursive(
    st.sampled_from(["1", "'#'", '"]"', '"\\""', "[1, '}']", "true", "1.5", "'''{'''", '"""\\""""']),
    lambda inner: st.lists(st.tuples(KEYS, inner), max_size=3, unique_by=lambda pair: pair[0]).map(
        lambda pairs: "{ " + ", ".join(f"{key} = {value}" for key, value in pairs) + " }"
    ),
    max_leaves=6,
)
STATEMENTS = st.lists(
    st.one_of(
        st.tuples(st.lists(KEYS, min_size=1, max_size=3).map(".".join), VALUES).map(
            lambda kv: f"{kv[0]} = {kv[1]} # x=1"
        ),
        st.lists(KEYS, min_size=1, max_size=2).map(lambda keys: f"[{'.'.join(keys)}]"),
        st.just(""),
    ),
    max_size=8,
)


@given(STATEMENTS)
def test_lines_of_any_small_file(statements: list[str]) -> None:
    """For any valid small file the scanner names exactly the keys that the standard parser names, on its lines."""
    kept: list[str] = []
    for statement in statements:
        try:
            tomllib.loads("\n".join([*kept, statement]))
        except tomllib.TOMLDecodeError:
            continue
        kept.append(statement)
    text = "\n".join(kept)
    # A header wins over a dotted mention before it; the prefixes cannot see that, so headers' names are left out.
    headers = {statement[1:-1] for statement in kept if statement.startswith("[")}
    mine = {key: line for key, line in lines_of(text).items() if key not in headers}
    theirs = {key: line for key, line in lines_by_prefix(text).items() if key not in headers}
    assert mine == theirs


@pytest.mark.parametrize(
    ("key", "place"),
    [
        ("job leg.thickness", "job.toml line 2: leg.thickness"),
        ("leg.thickness", "job.toml line 2: leg.thickness"),
        ("job leg.horn", "job.toml line 1: leg.horn"),
        ("job top.width", "job.toml: top.width"),
        ("shop sheet 2.length", "job.toml line 5: sheet 2.length"),
        ("sheet 2.length", "job.toml line 5: sheet 2.length"),
        ("sheet 2.margin", "job.toml line 4: sheet 2.margin"),
    ],
)
def test_a_findings_key_gets_its_place(key: str, place: str) -> None:
    """A key is placed on its line, a key left to its default at its section, any other in the file."""
    assert place_of("[leg]\nthickness = 32\n[[sheet]]\n[[sheet]]\nlength = 3\n", "job.toml", key) == place
