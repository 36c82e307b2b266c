"""Files no one meant to write: whatever the bytes, a reader gives a record or says in sentences why not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import Shop

PIECES = [
    b"\n",
    b"[",
    b"]",
    b"{",
    b"}",
    b'"',
    b"'",
    b'"""',
    b"=",
    b".",
    b",",
    b"#",
    b"\\",
    b"\xff",
    b"\r",
    b" 1",
    b"[leg]\n",
    b"a.b = 1\n",
]


@given(st.binary(max_size=60))
def test_any_bytes(data: bytes) -> None:
    """Bytes of any kind are no job; each sentence starts with the file's name."""
    with pytest.raises(JobError, match=r"^job") as caught:
        read_job(data)
    assert all(fault.startswith("job.toml") for fault in caught.value.faults)


@given(st.lists(st.tuples(st.integers(0, 1100), st.integers(0, 12), st.sampled_from(PIECES)), min_size=1, max_size=4))
def test_the_demo_shop_with_pieces_cut_out_and_put_in(cuts: list[tuple[int, int, bytes]]) -> None:
    """The demo's shop file, damaged anywhere, still reads or is refused in sentences; nothing else is raised."""
    data = demo_shop_text()
    for start, length, piece in cuts:
        data = data[:start] + piece + data[start + length :]
    try:
        assert isinstance(read_shop(data), Shop)
    except JobError as error:
        assert all(fault.startswith("shop.toml") and "\n" not in fault for fault in error.faults)


@pytest.mark.parametrize("depth", [10, 100, 200, 250, 300, 400, 1000, 20000])
@pytest.mark.parametrize("shape", ["{{ a = {} }}", "[ {} ]", "[{{ a = {} }}]"])
def test_nesting_of_any_depth(depth: int, shape: str) -> None:
    """Deep inline tables and lists are an unknown key, or nested too deep: never a traceback."""
    opening, closing = shape.format("|").split("|")
    data = b"extra = " + (opening * depth + "1" + closing * depth).encode() + b"\n" + demo_job_text()
    with pytest.raises(JobError, match=r"unknown|nested too deep"):
        read_job(data)
