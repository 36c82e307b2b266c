"""A stop's files as desktop programs and the DXF library really saved them, kept in saved_elsewhere.zip: cautions only.

`made` is the folder of the demo cut down to its stop. In `saved` are its compensated DXF and SVG, opened and saved
without a change by LibreCAD 2.2.0 (File, Save as, DXF 2007: half circles become bulges of 1.000000000000023), Inkscape
1.2.2 (as its own and as plain SVG; once moved by its action transform-translate:10,10) and ezdxf 1.4.5 (as R2018; by
its R12 export, which tells no unit; and with polylines exploded).
"""

import zipfile
from pathlib import Path

import pytest

from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.proof.use.fit import prove_fit

KEPT = Path(__file__).parents[1] / "saved_elsewhere.zip"
STOP = "cut/potting-bench-stop-kerf-0.20"
CODES = {
    "librecad-2.2.0.dxf": {123},
    "inkscape-1.2.2.svg": {123},
    "inkscape-1.2.2-plain.svg": {123},
    "inkscape-1.2.2-moved.svg": {123, 113},
    "ezdxf-1.4.5-r2018.dxf": {123},
    "ezdxf-1.4.5-r12.dxf": {123, 104},
    "ezdxf-1.4.5-exploded.dxf": {123, 109},
}


def kept(start):
    """The files below a folder of the archive."""
    with zipfile.ZipFile(KEPT) as packed:
        return {name.removeprefix(start): packed.read(name) for name in packed.namelist() if name.startswith(start)}


def test_every_kept_file_is_asked_for():
    """None lies in the archive unread; the folder as made has no finding of files."""
    assert set(kept("saved/")) == set(CODES)
    folder, findings = read_folder(kept("made/"))
    assert findings + check_files(folder) == []


@pytest.mark.parametrize("name", CODES)
def test_what_a_program_saved_is_judged_as_what_was_made(name):
    """Cautions that it was changed, and of what; the stop is cut as it should be."""
    form = name.rpartition(".")[2]
    files = {**kept("made/"), f"{STOP}.{form}": kept("saved/")[name]}
    folder, findings = read_folder(files)
    findings += check_files(folder)
    assert {finding.severity for finding in findings} == {"caution"}
    assert {finding.code for finding in findings} == CODES[name]
    cut = [finding for finding in prove_fit(folder)[0] if finding.part.startswith("cut/")]
    assert cut == []
