"""A folder with a file that cannot be read is judged no further than that: no cut, no figures, a finding of 101."""

from part_names import cut_file

from jigmaker.findings import errors_in
from jigmaker.proof.prove import UNREADABLE, prove


def test_a_binary_file_ends_the_judging(demo_files):
    """One DXF turned into noise: it is named, nothing is routed."""
    name = cut_file("plate")
    report = prove({**demo_files, name: bytes(range(256)) * 40})
    assert not report.passed
    assert report.figures is None
    assert {f.part for f in errors_in(list(report.findings)) if f.code == UNREADABLE} == {name}


def test_nothing_at_all_is_no_folder():
    """Without kit.json there is nothing to judge, and that is said."""
    report = prove({})
    assert (report.passed, report.parts, report.figures) == (False, 0, None)
    assert report.findings
