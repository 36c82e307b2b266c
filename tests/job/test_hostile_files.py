"""Files no one meant to write: whatever the bytes, a reader gives a record or says in sentences why not."""

import json
import re
import subprocess
import sys

import hostile_job_files
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job


@given(st.binary(max_size=60))
def test_any_bytes(data: bytes) -> None:
    """Bytes of any kind are no job; each sentence starts with the file's name."""
    with pytest.raises(JobError, match=r"^job") as caught:
        read_job(data)
    assert all(fault.startswith("job.toml") for fault in caught.value.faults)


@pytest.mark.parametrize("depth", [10, 100, 200, 250, 300, 400, 1000, 20000])
@pytest.mark.parametrize("shape", ["{{ a = {} }}", "[ {} ]", "[{{ a = {} }}]"])
def test_nesting_of_any_depth(depth: int, shape: str) -> None:
    """Deep inline tables and lists are an unknown key, or nested too deep: never a traceback."""
    opening, closing = shape.format("|").split("|")
    data = b"extra = " + (opening * depth + "1" + closing * depth).encode() + b"\n" + demo_job_text()
    with pytest.raises(JobError, match=r"unknown|nested too deep"):
        read_job(data)


LINE = len(demo_job_text().splitlines()) + 1  # the first behind the demo's own
TOO_MUCH = {
    "dotted key": f"line {LINE}: is nested too deep",
    "dotted header": f"line {LINE}: is nested too deep",
    "blanks behind a value": "line 1: is not TOML",
    "open text": "line 9001: is not TOML: a quote or bracket is not closed",
    "open list": "line 9001: is not TOML: a quote or bracket is not closed",
    "text of escapes": f"line {LINE}: housing.x is an unknown key",
    "text of quotes": f"line {LINE}: is not TOML: a quote or bracket is not closed",
    "many keys": "is key number 10001",
    "many headers": "is key number 10001",
    "keys below a long header": "aaa",
    "many unknown keys": f"line {LINE}: housing.k0 is an unknown key",
    "deep list": f"line {LINE}: is nested too deep",
    "long number": f"line {LINE}: holds a word or a number of 400000 signs",
    "long hexadecimal number": f"line {LINE}: holds a word or a number of 400002 signs",
}


def test_files_built_to_keep_a_reader_busy_are_answered() -> None:
    """In a child that the system ends when it takes 20 s or 400 MB for all of them; each at its line."""
    done = subprocess.run([sys.executable, hostile_job_files.__file__], capture_output=True, text=True, check=False)
    said = {each["name"]: each for each in map(json.loads, done.stdout.splitlines())}
    assert done.returncode == 0, (list(said), done.stderr[-500:])
    assert said.keys() == TOO_MUCH.keys()
    for name, words in TOO_MUCH.items():
        assert said[name]["first"].startswith("job.toml") and words in said[name]["first"], said[name]


def test_a_number_at_the_end_of_all_numbers_is_one_fault_among_others() -> None:
    """Its line and the other faults are told: turned into inches it would be beyond what a float can hold."""
    text = demo_job_text().decode().replace("height = 720", "height = 1e308").replace("inset = 120", "inset = 1")
    with pytest.raises(JobError) as caught:
        read_job(text.encode())
    lines = [n for n, line in enumerate(text.splitlines(), 1) if line.startswith(("height =", "inset ="))]
    told = [f"job.toml line {n}: trestle.{key} is " for n, key in zip(lines, ("height", "inset"), strict=True)]
    assert [fault.startswith(start) for fault, start in zip(caught.value.faults, told, strict=True)] == [True, True]


@pytest.mark.parametrize("sign", ["\u202e", "\u2066"])
def test_a_name_that_turns_text_around_is_refused(sign: str) -> None:
    """It would stand on every page and part; by UAX #9 all after an override runs the other way."""
    text = re.sub('(?m)^name = "', f'name = "{sign}', demo_job_text().decode(), count=1)
    with pytest.raises(JobError, match=rf"job.name holds the sign U\+{ord(sign):04X}"):
        read_job(text.encode())
