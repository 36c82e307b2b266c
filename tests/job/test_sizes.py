"""Several sizes in one job: a job file with [[size]] tables in; sizes, and what is wrong with them, out."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO

from jigmaker.errors import JobError, OutOfRange
from jigmaker.job.job import Size, lean_for
from jigmaker.job.read import read_job
from jigmaker.job.templates import Filled, new_job_text
from jigmaker.job.write import job_text

CLASS = """\
[job]
name = "Class"
units = "mm"
trestles = 2
[trestle]
rake_deg = 78
inset = 120
[top]
length = 900
width = 120
thickness = 45
[leg]
width = 70
thickness = 32
[brace]
depth = 90
thickness = 18
[[size]]
height = 762
[[size]]
height = 650
trestles = 3
[[size]]
height = 520
trestles = 1
top_length = 800
"""


def test_what_a_size_leaves_out_is_as_in_the_single_keys() -> None:
    """Trestles and length of the top fall back to [job] and [top]; the first size is the job's own."""
    job = read_job(CLASS.encode())
    assert job.sizes == (Size(2, 762.0, 900.0), Size(3, 650.0, 900.0), Size(1, 520.0, 800.0))
    assert (job.trestles, job.height_mm, job.top.length_mm) == (2, 762.0, 900.0)
    assert (job.all_trestles, job.highest_mm, job.shortest_top_mm) == (6, 762.0, 800.0)
    assert job.size_names == ("size 762 mm", "size 650 mm", "size 520 mm")


def test_a_size_alone_is_the_plain_job_of_its_height() -> None:
    """The job of one size equals what a file without sizes says."""
    plain = (
        CLASS[: CLASS.index("[[size]]")]
        .replace("rake_deg", "height = 650\nrake_deg")
        .replace("trestles = 2", "trestles = 3")
    )
    assert read_job(CLASS.encode()).of_size(1) == read_job(plain.encode())
    assert read_job(plain.encode()).sizes == (Size(3, 650.0, 900.0),)


def test_one_size_is_a_plain_job() -> None:
    """A single [[size]], or [size], says what the single keys say."""
    one = CLASS[: CLASS.index("[[size]]\nheight = 650")]
    job = read_job(one.encode())
    assert job.further_sizes == ()
    assert read_job(one.replace("[[size]]", "[size]").encode()) == job


def test_keys_that_every_size_has_are_not_needed() -> None:
    """With trestles and top_length in every size, [job] and [top] need none."""
    full = CLASS.replace("\ntrestles = 2", "", 1).replace("length = 900\n", "", 1)
    full = full.replace("height = 762", "height = 762\ntrestles = 2\ntop_length = 900")
    full = full.replace("height = 650", "height = 650\ntop_length = 900")
    assert read_job(full.encode()) == read_job(CLASS.encode())


def test_two_sizes_of_one_height_are_told_apart_by_their_tops() -> None:
    """Their names then tell the length of the top."""
    job = read_job(CLASS.replace("height = 650", "height = 762\ntop_length = 1200").encode())
    assert job.size_names == ("size 762 mm, top 900 mm", "size 762 mm, top 1200 mm", "size 520 mm")


def test_the_lean_is_chosen_from_the_highest() -> None:
    """Without angles the highest size decides, wherever it stands: its foot stands out farthest."""
    text = CLASS.replace("rake_deg = 78\n", "").replace("height = 650", "height = 1000")
    assert read_job(text.encode()).rake_deg == lean_for(1000.0)[1] != lean_for(520.0)[1]


WRONG = {
    "both heights": (
        ("rake_deg = 78", "height = 700"),
        "line 6: trestle.height is 700 mm beside a [[size]], which has a height of its own; take one of the two out",
    ),
    "no height": (
        ("height = 650\n", ""),
        "line 20: size 2 lacks height: the finished height of this size; add a line height = ...",
    ),
    "out of range": (
        ("height = 650", "height = 50"),
        'line 21: size 2.height is 50 mm, must be 100 to 3000 mm; write "50 in" if that is meant',
    ),
    "alike": (
        ("height = 650", "height = 762"),
        "line 21: size 2.height is 762 mm with a top of 900 mm, like the [[size]] in line 18; count its trestles there",
    ),
    "too many": (
        ("trestles = 3", "trestles = 999"),
        "line 18: size.trestles and those of the other sizes come to 1002, must be 1000 or fewer together",
    ),
    "no trestles": (("trestles = 2\n", ""), "line 1: job lacks trestles: how many trestles; add a line trestles = ..."),
    "no top": (("length = 900\n", ""), "line 8: top lacks length: the size along the board; add a line length = ..."),
    "an angle of its own": (
        ("trestles = 3", "rake_deg = 75"),
        "line 22: size 2.rake_deg is an unknown key; known here: height, trestles, top_length; "
        "rake_deg belongs in [trestle]",
    ),
}


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_size_is_one_sentence_at_its_line(name: str) -> None:
    """Where, the value, the rule and what to do; nothing else is called wrong for it."""
    (old, new), says = WRONG[name]
    with pytest.raises(JobError) as caught:
        read_job(CLASS.replace(old, new, 1).encode())
    assert caught.value.faults == (f"job.toml {says}",)


def test_more_sizes_than_a_page_has_columns_are_refused() -> None:
    """Thirteen are one too many."""
    many = "".join(f"[[size]]\nheight = {500 + 10 * i}\n" for i in range(13))
    with pytest.raises(JobError, match="size stands 13 times, must be 12 times or fewer"):
        read_job((CLASS[: CLASS.index("[[size]]")] + many).encode())


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_job_made_in_code_is_written_with_its_sizes(unit: str) -> None:
    """What is written reads back as the same job."""
    job = replace(DEMO, unit=unit, further_sizes=(Size(3, 650.0, 900.0), Size(1, 520.25, 812.8)))
    assert read_job(job_text(job)) == job


def test_a_size_refuses_what_its_rules_refuse() -> None:
    """A size made in code too."""
    with pytest.raises(OutOfRange, match=r"size\.height_mm is 20, must be 100 to 3000 mm"):
        Size(1, 20.0, 900.0)


def test_a_new_file_may_be_filled_with_sizes() -> None:
    """The height then stands in the sizes alone."""
    text = new_job_text({"size.height": Filled("762"), "size 2.height": Filled("500"), "size 2.trestles": Filled("4")})
    assert read_job(text.encode()).sizes == (Size(2, 762.0, 900.0), Size(4, 500.0, 900.0))
    assert "\nheight = 750" not in text
