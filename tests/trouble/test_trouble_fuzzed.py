"""Files of every kind, damaged by the hundred: each reader reads them, or says in sentences what is wrong where.

The damage is drawn by hypothesis from a fixed seed, so that every run draws the same and no clock decides anything.
JIGMAKER_FUZZ=2250 draws 20,250 in all; run so once by hand: no reader raised anything else, and no sentence was without
its place or its remedy.
"""

import json
import os
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from part_names import cut_file
from small_folder import STRIP, small_folder

from jigmaker.coupon.readings import read_form
from jigmaker.errors import JobError
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.levelling.read_readings import read_level_form
from jigmaker.order.board_file import read_boards
from jigmaker.proof.readers.read_dxf import read_dxf
from jigmaker.proof.readers.read_kit import read_kit
from jigmaker.proof.readers.read_svg import read_svg

COUNT = int(os.environ.get("JIGMAKER_FUZZ", "45"))
FORMS = Path(__file__).parents[1] / "old_files"
SHOP = read_shop(demo_shop_text())

VALUES = (
    *(
        "0",
        "-1",
        "1e308",
        "-1e308",
        "nan",
        "inf",
        "9999",
        "0.001",
        "3,5",
        "2 3/4",
        "0x7f",
        "1979-05-27",
        "true",
        "null",
    ),
    *(
        '""',
        '"x"',
        '"7 mm"',
        "[]",
        "{}",
        "'''",
        '"""',
        '"\\u202e"',
        '"\\u0000"',
        "[[[[",
        "9" * 400,
        '"' + "x" * 400 + '"',
        "[1, 2]",
        "{ a = 1 }",
    ),
)
PIECES = (
    *'"[]{}=.,#\\<>/&x1- ',
    "\n",
    "\r\n",
    "\t",
    "\xa0",
    "\u202e",
    "\ud7ff",
    "\U0001f600",
    "[leg]\n",
    "[[sheet]]\n",
)
BYTES = (b"\xff", b"\x00", b"\xfe\xff", b"\xef\xbb\xbf", b"\x1a")

REMEDY = re.compile(r"; \w|must (be|lie|have)|did you mean|, write |such as ")
"""What to do, or what a value must be: the words in which our sentences say it."""

cuts = st.lists(
    st.one_of(
        st.tuples(st.just("put"), st.floats(0, 1), st.sampled_from(PIECES)),
        st.tuples(st.just("take"), st.floats(0, 1), st.integers(1, 40)),
        st.tuples(st.just("line away"), st.floats(0, 1), st.just(0)),
        st.tuples(st.just("line twice"), st.floats(0, 1), st.floats(0, 1)),
        st.tuples(st.just("value"), st.floats(0, 1), st.sampled_from(VALUES)),
        st.tuples(st.just("byte"), st.floats(0, 1), st.sampled_from(BYTES)),
        st.tuples(st.just("end here"), st.floats(0, 1), st.just(0)),
    ),
    min_size=1,
    max_size=4,
)


def damaged(data: bytes, cuts) -> bytes:
    """The file with pieces put in and taken out, lines lost, doubled and given another value, or its end missing."""
    for kind, share, what in cuts:
        at, lines = int(share * len(data)), data.split(b"\n")
        number = int(share * (len(lines) - 1))
        if kind == "put":
            data = data[:at] + what.encode() + data[at:]
        elif kind == "byte":
            data = data[:at] + what + data[at:]
        elif kind == "take":
            data = data[:at] + data[at + what :]
        elif kind == "end here":
            data = data[:at] if share > 0.5 else data
        else:
            line = lines.pop(number)
            if kind == "line twice":
                lines.insert(int(what * len(lines)), line)
            if kind != "line away":
                key, sign, _ = line.partition(b":" if b": " in line else b"=")
                lines.insert(number, key + sign + b" " + what.encode() if kind == "value" else line)
            data = b"\n".join(lines)
    return data


def faults_of(read) -> list[str]:
    """What a reader of text says against a file, if it says anything."""
    try:
        read()
    except JobError as error:
        return list(error.faults)
    return []


TEXTS = {
    "job.toml": (demo_job_text(), lambda data: read_job(data)),
    "shop.toml": (demo_shop_text(), lambda data: read_shop(data)),
    "coupon_form.toml": (
        (FORMS / "coupon_form.toml").read_bytes(),
        lambda data: read_form(data, "coupon_form.toml", SHOP),
    ),
    "coupon_form_1.toml": (
        (FORMS / "coupon_form_1.toml").read_bytes(),
        lambda data: read_form(data, "coupon_form_1.toml", SHOP),
    ),
    "level_form.toml": (
        (FORMS / "level_form.toml").read_bytes(),
        lambda data: read_level_form(data, "level_form.toml"),
    ),
    "boards.toml": (
        b'units = "in"\nkerf = "1/8"\n\n[[board]]\nsection = "2x4"\nlength = 96\ntrim_ends = "1/2"\ncount = 2\n'
        b'unusable = [[30, "31 1/2"], [10, 12]]\n\n[[board]]\nsection = "70 mm x 32 mm"\nlength = "2440 mm"\n',
        lambda data: read_boards(data, "mm"),
    ),
}
by_seed = settings(
    max_examples=COUNT,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


@pytest.mark.parametrize("name", TEXTS)
def test_a_damaged_text_reads_or_is_refused_with_place_and_remedy(name: str) -> None:
    """Every sentence starts with the file, stands on one line and says what to do."""
    good, read = TEXTS[name]

    @by_seed
    @given(cuts)
    def damage(cuts) -> None:
        data = damaged(good, cuts)
        for fault in faults_of(lambda: read(data)):
            assert re.match(rf"{name}( line [0-9]+)?: ", fault), fault
            assert "\n" not in fault and REMEDY.search(fault), fault

    damage()


@pytest.fixture(scope="module")
def kit(demo_files) -> dict[str, bytes]:
    """A kit of one part."""
    return small_folder(demo_files, (STRIP,))


@pytest.mark.parametrize("name", ["kit.json", "dxf", "svg"])
def test_a_damaged_file_of_a_kit_reads_or_has_findings_with_place_and_remedy(kit: dict[str, bytes], name: str) -> None:
    """Each names its file and what to do; kit.json's the path of the key."""
    read = {
        "kit.json": read_kit,
        "dxf": lambda data: read_dxf("it.dxf", data),
        "svg": lambda data: read_svg("it.svg", data),
    }[name]
    good = kit[name if name == "kit.json" else cut_file(STRIP, name)]

    @by_seed
    @given(cuts)
    def damage(cuts) -> None:
        _, findings = read(damaged(good, cuts))
        for finding in findings:
            assert finding.part in (name, f"it.{name}") and finding.do and finding.says, finding
            assert "\n" not in finding.sentence()

    damage()


def test_the_damage_is_damage() -> None:
    """The check above can fail: most of what is drawn is refused, with many different sentences."""
    said: list[str] = []

    @by_seed
    @given(cuts)
    def damage(cuts) -> None:
        said.append(json.dumps(faults_of(lambda: read_job(damaged(demo_job_text(), cuts)))))

    damage()
    assert len(set(said)) > 14
    assert REMEDY.search("job.toml line 3: is not TOML: invalid value") is None
