"""JSON text: numbers as plain decimals, strings as they are, and what the standard reader makes of it."""

import json
import math

import pytest

from jigmaker.making.json_text import json_text, ratio

NUMBERS = [
    (1e-6, "0.000001"),
    (-1e-9, "0"),
    (-0.0, "0"),
    (1e22, "10000000000000000000000"),
    (0.1 + 0.2, "0.3"),
    (78.0, "78"),
    (ratio(1 / 3), "0.333333333333"),
    (ratio(1e-12), "0.000000000001"),
    (ratio(-1e-15), "0"),
    (7, "7"),
    (True, "true"),
    (None, "null"),
    ('½ \\ "', '"½ \\\\ \\""'),
]


@pytest.mark.parametrize(("value", "written"), NUMBERS, ids=[row[1] for row in NUMBERS])
def test_values_are_written_plainly(value: object, written: str) -> None:
    """No exponent, no -0, no more than six decimals, but for ratios twelve."""
    assert json_text({"a": value}).decode() == f'{{\n "a": {written}\n}}\n'


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_refused(value: float) -> None:
    """JSON has no nan and no inf; a file with them opens nowhere."""
    with pytest.raises(ValueError, match="has no place in a JSON file"):
        json_text([value])


@pytest.mark.parametrize("key", [("near", "floor"), 1, None])
def test_a_key_that_is_no_word_is_refused(key: object) -> None:
    """Else it would stand in the file as Python shows it."""
    with pytest.raises(ValueError, match="is no name for a key"):
        json_text({key: 1})


DATA = [
    {"b": 1, "a": {"x": [], "y": {}}, "rows": [[1, 2.5], [3, 4]]},
    [{"a": 1}, {"a": [1, 2], "b": "\n"}, {"a": {"b": "c"}}, {}],
    [{"long": "w" * 200, "more": [1]}, [], [[]], [[1], {"a": [[2]]}]],
    [],
    {},
    "text",
]


@pytest.mark.parametrize("data", DATA, ids=str)
def test_the_standard_reader_reads_it_back(data: object) -> None:
    """Nothing is lost and keys keep their order."""
    written = json_text(data)
    assert json.loads(written) == data
    assert json.dumps(json.loads(written)) == json.dumps(data)
    assert written.endswith(b"\n")
