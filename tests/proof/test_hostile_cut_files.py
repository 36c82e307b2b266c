"""Files built to harm end in findings about the file, in a child process with bounded memory and time."""

import json
import subprocess
import sys

import hostile_reading


def test_hostile_files_end_in_findings():
    """Each at least one, all of them about the file, and no flood of words; the child is killed when it takes more than
    its share, and the names that it told of say with which file.
    """
    command = [sys.executable, "-W", "error", hostile_reading.__file__, *hostile_reading.CASES]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    said = [json.loads(line) for line in done.stdout.splitlines()]
    assert done.returncode == 0, (said[-1:], done.stderr[-2000:])
    assert [each["name"] for each in said] == list(hostile_reading.CASES)
    for each in said:
        assert each["codes"], each
        assert all(100 < code < 200 for code in each["codes"]), each
        assert each["words"] < 40_000, each
        assert each["megabytes"] < 300, each


def test_a_child_that_takes_more_than_its_share_is_noticed():
    """The check above can fail: here the readers' bound on size is lifted and the memory given is small."""
    code = "import resource; resource.setrlimit(resource.RLIMIT_AS, (10**8, 10**8)); bytearray(2 * 10**8)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, check=False).returncode != 0
