"""Run by hand: how much slower jigmaker is than the libraries it stands on, and how work grows with what is asked.

Prints ratios measured in one run; growth is told over trestles and over pieces on sheets.

Time is the processor's, of the whole process and its children: a busy machine changes it less than the clock. Commands
that answer at once are held against a bare click group with as many commands and options; those that make and read
files against a script that imports the same libraries and writes 24 DXF and 24 SVG of 30 entities each. Runs take
turns, so that a busy machine slows all alike; the least of each counts.

    python tests/benchmarks/run.py [RUNS]
    python tests/benchmarks/run.py variants [KITS]
    python tests/benchmarks/run.py page

The second makes, proves and writes so many random kits in one process, 1,000 without a number, and tells its memory.
The third changes figures on the page of jigmaker open.
"""

import os
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from contextlib import suppress
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

WAITED = {"make": 3.5}
"""By the clock against the floor's, on two free processors: a busy machine shows more."""

TRESTLES = (1, 6, 60)
"""Of the jobs whose makings are held against that of 6, the demo's."""


BOARDS = {200: 1.0, 600: 5.0}
"""Pieces of an order, and seconds in which its boards are to be planned."""


def main() -> None:
    """Measure all in turns; a line for each."""
    if sys.argv[1:2] == ["variants"]:
        variants(int(sys.argv[2]) if len(sys.argv) > 2 else 1000)
        return
    if sys.argv[1:2] == ["page"]:
        from page import first_answers

        first_answers()
        return
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with tempfile.TemporaryDirectory() as name:
        work = Path(name)
        bare = [sys.executable, str(HERE / "bare_group.py"), "--help"]
        report("bare group", bare, QUICK, work, runs * 4)
        floor = [sys.executable, str(HERE / "floor.py"), "floor"]
        report("floor", floor, LONG, work, runs)
        peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1000
        print(f"{'largest process':<18} {peak:7.0f} MB")
        print(f"{'make, all of it':<18} {held_together([*JIGMAKER, *LONG['make'][0]], work):7.0f} MB (aim 150 MB)")
        growth(work, runs)
    pieces()
    million()
    boards()


def growth(work: Path, runs: int) -> None:
    """Hold `make` of one trestle and of sixty against that of six, of which the files and the papers are as many."""
    from jigmaker.job.demo import demo_job_text, demo_shop_text

    (work / "shop.toml").write_bytes(demo_shop_text())
    commands = {}
    for trestles in TRESTLES:
        job = demo_job_text().replace(b"trestles = 6\n", b"trestles = %d\n" % trestles)
        (work / f"{trestles}.toml").write_bytes(job)
        commands[f"make of {trestles}"] = (["make", f"{trestles}.toml", "--out", "made"], 1.1)
    words, _ = commands.pop("make of 6")
    report("make of 6", [*JIGMAKER, *words], commands, work, runs)


def million() -> None:
    """Forecast a million of the demo's trestles: processor time over numpy drawing as many normal numbers."""
    import numpy as np

    from jigmaker.job.demo import demo_job_text, demo_shop_text
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.timber.built import frame_of
    from jigmaker.timber.forecast import TRESTLES, tallied
    from jigmaker.timber.readings import TimberReadings
    from jigmaker.timber.spreads import spreads_of
    from jigmaker.trestle.solve import solve

    trestle = solve(read_job(demo_job_text()))
    frame = frame_of(trestle)
    spreads = spreads_of(trestle, read_shop(demo_shop_text()), TimberReadings(), None)
    start = time.process_time()
    tallied(frame, spreads, TRESTLES)
    told = time.process_time()
    for _ in range(100):  # 25 numbers a trestle and 9 a batch of six
        np.random.default_rng(1).standard_normal(265_000, dtype=np.float32)
    floor = time.process_time() - told
    print(f"{'a million trestles':<18} {told - start:7.2f} s  {(told - start) / floor:6.1f} x drawing alone (aim 2 s)")


def pieces() -> None:
    """Place one, two and four kits, and write their sheets: processor time a piece over that of one kit.

    On the demo's sheets and on one large sheet.
    """
    from dataclasses import replace

    from jigmaker.cutting.compensate import compensate
    from jigmaker.job.demo import demo_job_text, demo_shop_text
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.making.cut_files import cut_files
    from jigmaker.making.job_check import Source
    from jigmaker.making.plan import plan
    from jigmaker.sheets.place import place

    job, shop = read_job(demo_job_text()), read_shop(demo_shop_text())
    one = plan(job, shop, Source(demo_job_text(), demo_shop_text()))
    for length, width in ((600.0, 400.0), (2440.0, 1220.0)):
        roomy = replace(shop, sheet=replace(shop.sheet, length_mm=length, width_mm=width))
        each = {}
        for kits in (1, 1, 2, 4):  # the first run loads libraries
            many = [replace(part, needed=part.needed * kits, spares=part.spares * kits) for part in one.kit.parts]
            count = sum(part.pieces for part in many)
            compensate.cache_clear()  # one kit's sheets are few enough to be remembered from the round before
            start = time.process_time()
            sheets = place(many, roomy)
            placed = time.process_time()
            cut_files(replace(one, shop=roomy, part_sheets=(), sheets=sheets))
            each[count] = (placed - start) / count, (time.process_time() - placed) / count
        for what, took in (("placing", 0), ("drawing and writing", 1)):
            first, *_ = (times[took] for times in each.values())
            told = ", ".join(
                f"{count} pieces {1000 * times[took]:.1f} ms, {times[took] / first:.2f} x"
                for count, times in each.items()
            )
            print(f"{what} on {length:.0f} x {width:.0f}, a piece: {told}")


def boards() -> None:
    """Plan lists of 200 and of 600 pieces, two to six kinds each, out of one to four kinds of board: the slowest of ten
    against its aim, and how many are proved."""
    sys.path.insert(0, str(HERE.parent / "support"))
    from random_boards import random_list

    from jigmaker.order.fewest import fewest

    for count, aim in BOARDS.items():
        took, proved = [], 0
        for seed in range(10):
            kinds, stocks = random_list(seed, count)
            start = time.process_time()
            plan = fewest(kinds, [kind.wanted for kind in kinds], stocks)
            took.append(time.process_time() - start)
            proved += plan is not None and plan.is_proved
        told = f"slowest of 10 lists {max(took):.2f} s, {max(took) / aim:.2f} x of the {aim:g} s aimed at"
        print(f"boards for {count} pieces: {told}; {proved} proved", flush=True)


def variants(kits: int) -> None:
    """Make random kits through the functions that `make` calls; a line each tenth: time a kit, and memory held then."""
    sys.path.insert(0, str(HERE.parent / "support"))
    from random_kits import random_kit, texts_of

    from jigmaker.errors import JigmakerError
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.making.job_check import Source
    from jigmaker.making.make import planned_files
    from jigmaker.making.paper_files import with_papers
    from jigmaker.making.plan import plan
    from jigmaker.proof.prove import prove

    made = refused = 0
    start = time.process_time()
    for seed in range(kits):
        job, shop = texts_of(*random_kit(seed))
        try:
            planned = plan(read_job(job), read_shop(shop), Source(job, shop))
            files = planned_files(planned, Source(job, shop))
            with_papers(planned, prove(files), files)
            made += 1
        except JigmakerError:
            refused += 1
        if (seed + 1) % max(1, kits // 10) == 0:
            held = int(Path("/proc/self/statm").read_text().split()[1]) * resource.getpagesize() / 1e6
            each = (time.process_time() - start) / max(1, made)
            told = f"{made} made, {refused} refused, {each:.2f} s of processor a kit made"
            print(f"{seed + 1:5d} random kits: {told}, {held:.0f} MB held", flush=True)


def report(what: str, bare: list[str], commands: dict[str, tuple[list[str], float]], work: Path, runs: int) -> None:
    """Processor and wall seconds of each, and the ratio of the processor's to what it is held against."""
    lines = {what: bare, **{name: [*JIGMAKER, *words] for name, (words, _) in commands.items()}}
    rounds = [{name: measured(command, work) for name, command in lines.items()} for _ in range(runs)]
    least = {name: tuple(min(each[name][i] for each in rounds) for i in (0, 1)) for name in lines}
    for name, (cpu, wall) in least.items():
        aim = f"   {cpu / least[what][0]:5.2f} x (aim {commands[name][1]} x)" if name in commands else ""
        if name in WAITED and what == "floor":
            busy = os.getloadavg()[0]
            aim += f", {wall / least[what][1]:5.2f} x by the clock (aim {WAITED[name]} x; the load is {busy:.1f})"
        print(f"{name:<18} {cpu * 1000:7.0f} ms of processor, {wall * 1000:7.0f} ms in all{aim}", flush=True)


def held_together(command: list[str], work: Path) -> float:
    """The most that a command and its children hold at a time, MB; what processes share is shared out among them.

    Looked at a hundred times a second, as Linux tells it.
    """
    most = 0.0
    with subprocess.Popen(command, cwd=work, stdout=subprocess.DEVNULL) as first:
        while first.poll() is None:
            held = 0
            with suppress(OSError):  # a process may end while it is looked at
                children = Path(f"/proc/{first.pid}/task/{first.pid}/children").read_text().split()
                for number in (first.pid, *children):
                    lines = Path(f"/proc/{number}/smaps_rollup").read_text().splitlines()
                    held += sum(int(line.split()[1]) for line in lines if line.startswith("Pss:"))
            most = max(most, held / 1000)
            time.sleep(0.01)
    return most


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
