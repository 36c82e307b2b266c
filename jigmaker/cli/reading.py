"""Paths as the user gave them in, Job, Shop and their files' bytes out; what cannot be read becomes one sentence."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

from jigmaker.errors import JobError, UsageError
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.job.job import Job
    from jigmaker.job.shop import Shop
    from jigmaker.making.job_check import Source

Read = TypeVar("Read")

JOB_FILE = "job.toml"


@dataclass(frozen=True, slots=True)
class Asked:
    """What a command works on. `shop` is None only where the command can do without."""

    job: Job
    shop: Shop | None
    source: Source
    is_demo: bool

    def shop_or_refuse(self) -> Shop:
        """The shop; raises UsageError, with what to do, when there is none."""
        if self.shop is None:
            raise UsageError(
                f"{self.source.job_file} has no shop: there is no shop.toml beside it; name one with --shop FILE, or "
                "let jigmaker new DIR write one to start from"
            )
        return self.shop


def read_asked(job: Path | None, shop: Path | None, boards: Path | None = None, timber: Path | None = None) -> Asked:
    """The job at the path, or in the folder at the path, else job.toml of the folder one stands in, else the demo; with
    the shop at its path, else shop.toml beside the job, else none; the same for boards.toml and timber.toml, which are
    not read here.

    The demo has a shop of its own. Raises JobError with the faults of both files, UsageError for what cannot be read.
    """
    from jigmaker.job.demo import demo_boards_text, demo_job_text, demo_shop_text
    from jigmaker.job.read import read_job, read_shop
    from jigmaker.making.job_check import Source

    put_right_first(*(path for each in (job, shop) if each and not each.exists() for path in (each.parent, each)))
    within = Path() if job is None else job
    if within.is_dir() and (within / JOB_FILE).is_file():
        job = within / JOB_FILE
    job_file, job_text = _named_bytes(job, "job") or ("the demo's job.toml", demo_job_text())
    shop, boards = _beside(job, shop, "shop.toml"), _beside(job, boards, "boards.toml")
    of_demo_boards = ("the demo's boards.toml", demo_boards_text()) if job is None else None
    boards_file, boards_text = _named_bytes(boards, "boards") or of_demo_boards or ("boards.toml", b"")
    timber_file, timber_text = _named_bytes(_beside(job, timber, "timber.toml"), "timber") or ("timber.toml", b"")
    of_demo = ("the demo's shop.toml", demo_shop_text()) if job is None else None
    shop_named = _named_bytes(shop, "shop") or of_demo
    shop_file, shop_text = shop_named or ("shop.toml", b"")
    # A file with a shop's sections and none of a job's, whatever tools the shop has and however its headers are
    # commented: told before the reader would list every key of it as unknown.
    headed = {line.partition(b"#")[0].strip() for line in job_text.splitlines()}
    of_shop = {b"[sheet]", b"[machine]", b"[hand_router]", b"[hand_saw]", b"[chisel]", b"[leg_saw]"}
    if headed & of_shop and not headed & {b"[job]", b"[trestle]"}:
        raise UsageError(f"{job_file} is a shop file; name the job file, and the shop with --shop {job_file}")
    if {b"[job]", b"[trestle]"} <= {line.strip() for line in shop_text.splitlines()}:
        raise UsageError(f"{shop_file} is a job file; name the shop file with --shop, such as shop.toml")
    # Both files are read before anything is refused, so that one run tells the faults of both.
    faults: list[str] = []
    job_read = _read(faults, read_job, job_text, job_file)
    shop_read = _read(faults, read_shop, shop_text, shop_file) if shop_named else None
    if job_read is None or faults:
        raise JobError(faults)
    return Asked(
        job_read,
        shop_read,
        Source(job_text, shop_text, job_file, shop_file, boards_text, boards_file, timber_text, timber_file),
        is_demo=job is None,
    )


def _beside(job: Path | None, named: Path | None, file: str) -> Path | None:
    """The path that was named, else the file beside the job, where there is one."""
    return job.parent / file if job is not None and named is None and (job.parent / file).exists() else named


def _named_bytes(path: Path | None, kind: str) -> tuple[str, bytes] | None:
    """The file's name as messages call it, and its bytes; None for no path."""
    return None if path is None else (click.format_filename(path), file_bytes(path, kind))


def put_right_first(*paths: Path) -> None:
    """See to what a run that was killed left beside these folders and files, and say what was done."""
    from jigmaker.cli.speech import row, say
    from jigmaker.making.swap import put_right

    if told := [line for path in paths for sentence in put_right(path) for line in row("note", f"{sentence}.")]:
        say(told, to_stderr=True)


def file_bytes(path: Path, kind: str) -> bytes:
    """The file's bytes; raises UsageError, with what to do, for a file that is not there or cannot be one."""
    from jigmaker.job.toml import LARGEST_BYTES
    from jigmaker.making.disk import start_of

    # Read up to one byte over what any of our files may have: a drawing that was named by mistake is not read whole.
    name = click.format_filename(path)
    try:
        if path.is_dir():
            raise UsageError(f"{name} is a folder; name the {kind} file in it, such as {Path(name) / kind}.toml")
        data = start_of(path, LARGEST_BYTES)
    except FileNotFoundError:
        if kind == "timber":
            raise UsageError(f"{name} is not there; jigmaker timber --form {name} writes one to fill in") from None
        raise UsageError(
            f"{name} is not there; jigmaker new DIR writes a {kind} file to start from"
            if kind != "boards"
            else f"{name} is not there; jigmaker explain boards shows one"
        ) from None
    except OSError as error:
        raise UsageError(f"{name} cannot be read: {error.strerror}") from None
    if len(data) > LARGEST_BYTES:
        raise UsageError(f"{name} is longer than {LARGEST_BYTES // 1000} kB and no {kind} file; name another file")
    return data


def _read(faults: list[str], reader: Callable[[bytes, str], Read], data: bytes, file: str) -> Read | None:
    """What the reader makes of the bytes; None, its sentences added to the faults, when it refuses them."""
    try:
        return reader(data, file)
    except JobError as error:
        faults += error.faults
        return None
