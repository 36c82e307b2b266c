"""Nothing is lost: killed or refused at any call to the system, old or new stands whole under its name, nothing beside.

The cases run in one process of their own, tests/support/faults_put_in.py; here is what must have come of each.
"""

import json
import os
import subprocess
import sys

import faults_put_in
import pytest

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")

IN_THE_WAY = ("kit for a user's", "kit for another's")


@pytest.fixture(scope="module")
def rows() -> list[dict]:
    """What came of every case, on a system that exchanges names and on one that does not."""
    done = subprocess.run([sys.executable, faults_put_in.__file__], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    found = [json.loads(line) for line in done.stdout.splitlines()]
    assert len(found) == 2 * 2 * len(faults_put_in.CASES)
    return found


def test_a_kill_at_any_call_leaves_old_or_new(rows: list[dict]) -> None:
    """Under its name at once, or after the next command has put it back; of what a user had there nothing is lost."""
    for row in rows:
        before = faults_put_in.CASES[row["case"]][0]
        assert row["calls"] >= 9, row
        assert row["righted"] == sorted({"new", "old" if before else "none"}), row
        assert row["case"] not in IN_THE_WAY or row["lost"] == [], row


def test_exchanged_names_are_never_missing(rows: list[dict]) -> None:
    """Where the system can exchange two names no moment is without a kit; in two steps there is one, and it is told."""
    missing = {(row["system"], row["case"]) for row in rows if row["stopped by"] == "kill" and "none" in row["state"]}
    without = {(system, "new kit") for system in ("exchange", "two steps")}
    without |= {(system, "two new files") for system in ("exchange", "two steps")}
    assert missing == without | {("two steps", case) for case in ("kit for kit", *IN_THE_WAY)}
    put_back = {(row["system"], row["case"]) for row in rows if "/bench is put back" in " ".join(row["said"])}
    assert put_back == missing - without


def test_nothing_lies_about(rows: list[dict]) -> None:
    """After a refusal at once, after a kill when the next command has been there: only what was kept for the user."""
    for row in rows:
        kept = ["bench-kept-1"] if row["case"] in IN_THE_WAY else []
        assert row["left"] == kept, row
        if row["stopped by"] == "kill":
            assert all("an earlier run" in said for said in row["said"]), row
            assert any(said.endswith("is deleted") for said in row["said"]), row


def test_a_refusal_is_one_sentence_and_true(rows: list[dict]) -> None:
    """When it says that nothing was changed, the old state stands."""
    said = {words for row in rows if row["stopped by"] != "kill" for words in row["said"]}
    assert len(said) >= 4 * 3
    for words in said:
        state, _, sentence = words.partition(": ")
        assert state in ("old", "none") and sentence.endswith("; nothing was changed"), words
        assert "\n" not in sentence
