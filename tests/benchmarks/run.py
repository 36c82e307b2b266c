"""Run by hand: how much slower jigmaker is than the libraries it stands on. Prints ratios measured in one run.

Time is the processor's, of the whole process and its children: a busy machine changes it less than the clock. Commands
that answer at once are held against a bare click group with as many commands and options; those that make and read
files against a script that imports the same libraries and writes 24 DXF and 24 SVG of 30 entities each. Runs take
turns, so that a busy machine slows all alike; the least of each counts.

    python tests/benchmarks/run.py [RUNS]
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).parent
JIGMAKER = [sys.executable, "-m", "jigmaker"]

QUICK = {
    "--help": (["--help"], 1.3),
    "angles": (["angles"], 2.5),
    "new": (["new", "bench"], 2.5),
    "new --for sawing": (["new", "bench", "--for", "sawing"], 2.5),
    "level": (["level", "--hangs", "near_r", "--gap", "3 mm"], 2.5),
}
"""Against the bare group: name -> words and the most that is aimed at."""

LONG = {"make": (["make", "--out", "made"], 5.0), "prove": (["prove", "made/potting-bench"], 2.0)}
"""Against the floor."""


def main() -> None:
    """Measure all in turns; a line for each."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        bare = [sys.executable, str(HERE / "bare_group.py"), "--help"]
        report("bare group", bare, QUICK, work, runs * 4)
        floor = [sys.executable, str(HERE / "floor.py"), "floor"]
        report("floor", floor, LONG, work, runs)
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1000
        print(f"{'largest process':<18} {peak:7.0f} MB (aim 150 MB)")
    placing()


def placing() -> None:
    """Time a piece to place one, two and four kits, on the demo's sheets and on one large sheet, over one kit's."""
    from dataclasses import replace

    from jigmaker.job.demo import demo_job_text, demo_shop_text
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.parts.kit import make_kit
    from jigmaker.sheets.place import place
    from jigmaker.trestle.solve import solve

    shop = read_shop(demo_shop_text())
    parts = make_kit(solve(read_job(demo_job_text())), shop).parts
    for length, width in ((600.0, 400.0), (2440.0, 1220.0)):
        roomy = replace(shop, sheet=replace(shop.sheet, length_mm=length, width_mm=width))
        each = {}
        for kits in (1, 1, 2, 4):  # the first run loads libraries
            many = [replace(part, needed=part.needed * kits, spares=part.spares * kits) for part in parts]
            count = sum(part.pieces for part in many)
            start = time.process_time()
            place(many, roomy)
            each[count] = (time.process_time() - start) / count
        first, *_ = each.values()
        told = ", ".join(f"{count} pieces {1000 * took:.1f} ms, {took / first:.2f} x" for count, took in each.items())
        print(f"placing on {length:.0f} x {width:.0f}, a piece: {told}")


def report(what: str, bare: list[str], commands: dict[str, tuple[list[str], float]], work: Path, runs: int) -> None:
    """Processor and wall seconds of each, and the ratio of the processor's to what it is held against."""
    lines = {what: bare, **{name: [*JIGMAKER, *words] for name, (words, _) in commands.items()}}
    rounds = [{name: measured(command, work) for name, command in lines.items()} for _ in range(runs)]
    least = {name: tuple(min(each[name][i] for each in rounds) for i in (0, 1)) for name in lines}
    for name, (cpu, wall) in least.items():
        aim = f"   {cpu / least[what][0]:5.2f} x (aim {commands[name][1]} x)" if name in commands else ""
        print(f"{name:<18} {cpu * 1000:7.0f} ms of processor, {wall * 1000:7.0f} ms in all{aim}", flush=True)


def measured(command: list[str], work: Path) -> tuple[float, float]:
    """Seconds of the processor and of the clock that one run takes. Byte code is kept, as it is for any user."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    shutil.rmtree(work / "bench", ignore_errors=True)
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    subprocess.run(command, cwd=work, env=environment, check=True, stdout=subprocess.DEVNULL)
    wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, wall


if __name__ == "__main__":
    main()
