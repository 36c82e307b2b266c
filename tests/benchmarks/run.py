"""Run by hand: how much slower jigmaker is than the libraries it stands on. Prints ratios measured in one run.

Help is held against a bare click group with as many commands and options; make against a script that imports the same
libraries and writes the same files with the same entities. Runs take turns, so that a busy machine slows both alike;
the fastest of each counts.

    python tests/benchmarks/run.py [RUNS]
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from made_files import entities_of

HERE = Path(__file__).parent


def main() -> None:
    """Measure both and print a line for each."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        jigmaker = [sys.executable, "-m", "jigmaker"]
        bare_help = [sys.executable, str(HERE / "bare_group.py"), "--help"]
        report("--help", *fastest([[*jigmaker, "--help"], bare_help], work, runs * 4), aim=1.3)

        timed([*jigmaker, "make", "--out", "made"], work)
        entities_of(work / "made", work / "entities.bin")
        bare_make = [sys.executable, str(HERE / "bare_make.py"), "entities.bin", "bare"]
        report("make", *fastest([[*jigmaker, "make", "--out", "made"], bare_make], work, runs), aim=1.5)


def fastest(commands: list[list[str]], work: Path, runs: int) -> list[float]:
    """Seconds of the fastest run of each command; they take turns."""
    times = [[timed(command, work) for command in commands] for _ in range(runs)]
    return [min(column) for column in zip(*times, strict=True)]


def timed(command: list[str], work: Path) -> float:
    """Seconds one run takes; it must succeed. Byte code is kept, as it is for any user."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    start = time.perf_counter()
    subprocess.run(command, cwd=work, env=environment, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def report(what: str, ours: float, bare: float, aim: float) -> None:
    """One line: both times, their ratio and what it should be."""
    print(f"{what:<8} jigmaker {ours * 1000:7.0f} ms   bare {bare * 1000:7.0f} ms   {ours / bare:.2f} x (aim {aim} x)")


if __name__ == "__main__":
    main()
