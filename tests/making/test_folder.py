"""Folders on the disk: all or nothing, what is replaced without asking, and what the disk may say."""

import errno
import json
import os
import stat
from hashlib import sha256
from pathlib import Path

import pytest

from jigmaker.errors import CannotWrite, FolderInUse, UsageError
from jigmaker.making import folder as folder_module
from jigmaker.making.folder import write_folder, write_new

FILES = {"numbers.json": b"{}", "cut/a.dxf": b"old a", "cut/nominal/b.svg": b"old b"}
NEWER = {"numbers.json": b"[]", "cut/c.dxf": b"new c"}


def listed(files: dict[str, bytes]) -> dict[str, bytes]:
    """The files and a kit.json that lists them."""
    hashes = {name: sha256(data).hexdigest() for name, data in files.items()}
    return {"kit.json": json.dumps({"files": hashes}).encode(), **files}


def on_disk(folder: Path) -> dict[str, bytes]:
    """Every file below the folder with its bytes."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def names_in(folder: Path) -> list[str]:
    """What lies in a folder, hidden or not."""
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """Where a job's folder goes; nothing is there yet."""
    return tmp_path / "out" / "bench"


@pytest.fixture
def kept(target: Path) -> Path:
    """The same, written once."""
    write_folder(listed(FILES), target)
    return target


def test_a_folder_is_written_with_all_above_it(target: Path) -> None:
    """Every file is there with its bytes, and nothing else lies beside the folder."""
    write_folder(listed(FILES), target)
    assert on_disk(target) == listed(FILES)
    assert names_in(target.parent) == ["bench"]


def test_an_unchanged_folder_is_replaced_without_asking(kept: Path) -> None:
    """What the old run wrote and the new one does not is gone afterwards."""
    write_folder(listed(NEWER), kept)
    assert on_disk(kept) == listed(NEWER)
    assert names_in(kept.parent) == ["bench"]


def test_an_empty_folder_is_filled(target: Path) -> None:
    """Nobody has to delete an empty folder first."""
    target.mkdir(parents=True)
    write_folder(listed(FILES), target)
    assert on_disk(target) == listed(FILES)


def add(name: str, data: bytes = b"mine"):
    """A change to a written folder: a file added or changed."""

    def change(folder: Path) -> None:
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(data)

    return change


def add_link(folder: Path) -> None:
    """A link in place of a file, with the same bytes behind it."""
    (folder / "numbers.json").rename(folder.parent / "elsewhere.json")
    (folder / "numbers.json").symlink_to(folder.parent / "elsewhere.json")


def add_folder_link(folder: Path) -> None:
    """A link to a folder of the user's."""
    (folder.parent / "photographs").mkdir()
    (folder.parent / "photographs" / "cat.jpg").write_bytes(b"cat")
    (folder / "more").symlink_to(folder.parent / "photographs")


CHANGES = [
    ("a note added", add("notes.txt"), "notes.txt"),
    ("one added below", add("cut/mine.dxf"), "cut/mine.dxf"),
    ("a file of ours changed", add("cut/a.dxf", b"edited"), "cut/a.dxf"),
    ("in a new folder", add("photographs/cat.jpg"), "photographs/cat.jpg"),
    ("hidden", add(".secret"), ".secret"),
    ("kit.json broken", add("kit.json", b"{"), "cut/a.dxf, cut/nominal/b.svg, kit.json"),
    ("kit.json of another kind", add("kit.json", b"[1]"), "cut/a.dxf"),
    ("a link", add_link, "numbers.json"),
    ("a link to a folder", add_folder_link, "more"),
]


@pytest.mark.parametrize(("change", "named"), [row[1:] for row in CHANGES], ids=[row[0] for row in CHANGES])
def test_a_stranger_in_the_folder_is_named_and_stays(kept: Path, change, named: str) -> None:
    """A file that jigmaker did not write, or not like that, stops it before anything is touched."""
    change(kept)
    before = on_disk(kept)
    with pytest.raises(FolderInUse, match=named):
        write_folder(listed(NEWER), kept)
    assert on_disk(kept) == before


@pytest.mark.parametrize("change", [row[1] for row in CHANGES], ids=[row[0] for row in CHANGES])
def test_replace_deletes_strangers_but_follows_no_link(kept: Path, change) -> None:
    """With replace the folder is the new one; what its links led to is still there."""
    change(kept)
    outside = {
        path: path.read_bytes() for path in kept.parent.rglob("*") if path.is_file() and kept not in path.parents
    }
    write_folder(listed(NEWER), kept, replace=True)
    assert on_disk(kept) == listed(NEWER)
    assert all(path.read_bytes() == data for path, data in outside.items())


def test_many_strangers_are_counted(target: Path) -> None:
    """A folder full of photographs makes one sentence, not a page."""
    target.mkdir(parents=True)
    for n in range(30):
        (target / f"{n:02}.jpg").write_bytes(b"")
    with pytest.raises(FolderInUse, match=r"00\.jpg, .*07\.jpg and 22 more; move them"):
        write_folder(listed(FILES), target)


FAILURES = [OSError(errno.ENOSPC, "x"), OSError(errno.EACCES, "x"), KeyboardInterrupt(), MemoryError()]


def fail_at(monkeypatch: pytest.MonkeyPatch, method: str, count: int, failure: BaseException) -> None:
    """The count-th call (from 0) of a method of Path fails, once. Of open only what makes a file counts."""
    real, calls = getattr(Path, method), []

    def failing(self: Path, *args, **kwargs):
        if method != "open" or args == ("xb",):
            calls.append(self)
            if len(calls) == count + 1:
                if method == "open":
                    real(self, *args).close()
                raise failure
        return real(self, *args, **kwargs)

    monkeypatch.setattr(Path, method, failing)


STEPS = [("mkdir", n) for n in range(3)] + [("open", n) for n in range(4)] + [("rename", n) for n in range(2)]


@pytest.mark.parametrize("failure", FAILURES, ids=["full disk", "missing right", "interrupt", "no memory"])
@pytest.mark.parametrize(("method", "count"), STEPS)
def test_whatever_fails_leaves_the_old_folder(kept: Path, monkeypatch, method: str, count: int, failure) -> None:
    """At every step on the way: the old folder is whole, and nothing lies beside it."""
    files = listed({**FILES, "numbers.json": b"[]"})
    fail_at(monkeypatch, method, count, failure)
    with pytest.raises((CannotWrite, KeyboardInterrupt, MemoryError), match=r"nothing was changed|^$"):
        write_folder(files, kept)
    monkeypatch.undo()
    assert on_disk(kept) == listed(FILES)
    assert names_in(kept.parent) == ["bench"]


@pytest.mark.parametrize("failure", FAILURES, ids=["full disk", "missing right", "interrupt", "no memory"])
@pytest.mark.parametrize(("method", "count"), [*STEPS[:-1], ("mkdir", 3)])
def test_whatever_fails_leaves_nothing_where_nothing_was(
    target: Path, monkeypatch, method: str, count: int, failure
) -> None:
    """The folders made on the way to the target go as well."""
    fail_at(monkeypatch, method, count, failure)
    with pytest.raises((CannotWrite, KeyboardInterrupt, MemoryError), match=r"nothing was changed|^$"):
        write_folder(listed(FILES), target)
    monkeypatch.undo()
    assert names_in(target.parent.parent) == []


@pytest.mark.parametrize("count", [0, 1])
def test_an_interrupt_after_a_move_leaves_one_whole_folder(kept: Path, monkeypatch, count: int) -> None:
    """The signal comes when the move is done: old or new stands there, whole, and nothing beside it."""
    real, calls = Path.rename, []

    def interrupted(self: Path, to: Path) -> Path:
        real(self, to)
        calls.append(self)
        if len(calls) == count + 1:
            raise KeyboardInterrupt
        return to

    monkeypatch.setattr(Path, "rename", interrupted)
    with pytest.raises(KeyboardInterrupt, match=r"^$"):
        write_folder(listed(NEWER), kept)
    assert on_disk(kept) == listed(FILES if count == 0 else NEWER)
    assert names_in(kept.parent) == ["bench"]


SENTENCES = [
    (errno.ENOSPC, "the disk is full"),
    (errno.EACCES, "the right to do so is missing"),
    (errno.EROFS, "the disk can only be read"),
    (errno.ENAMETOOLONG, "the name is too long"),
    (errno.EIO, "Input/output error"),
]


@pytest.mark.parametrize(("number", "reason"), SENTENCES)
def test_the_disk_speaks_plainly(target: Path, monkeypatch, number: int, reason: str) -> None:
    """The system's number becomes a sentence with the folder in it."""
    fail_at(monkeypatch, "open", 1, OSError(number, os.strerror(number)))
    with pytest.raises(CannotWrite, match=f"bench cannot be written: {reason}; nothing was changed"):
        write_folder(listed(FILES), target)


def test_old_files_that_cannot_be_deleted_are_named(kept: Path, monkeypatch) -> None:
    """The new folder stands; where the old one went is told."""
    monkeypatch.setattr(folder_module.shutil, "rmtree", lambda *args, **kwargs: None)
    with pytest.raises(CannotWrite, match=r"holds the new files, but the old ones .* lie in .*\.bench-old-"):
        write_folder(listed(NEWER), kept)
    assert on_disk(kept) == listed(NEWER)


def test_leftovers_of_a_killed_run_are_no_hindrance(kept: Path) -> None:
    """A folder left by a process that was killed, of the same number, is neither used nor deleted."""
    leftover = kept.with_name(f".bench-new-{os.getpid()}")
    leftover.mkdir()
    write_folder(listed(NEWER), kept)
    assert on_disk(kept) == listed(NEWER)
    assert leftover.is_dir()


def test_the_folder_may_be_read_by_others(target: Path) -> None:
    """New folders have the rights that the user's other new folders have."""
    target.parent.mkdir()
    write_folder(listed(FILES), target)
    assert stat.S_IMODE(target.stat().st_mode) == stat.S_IMODE(target.parent.stat().st_mode)


def test_a_link_as_target_is_followed_and_stays(kept: Path) -> None:
    """Someone's link to a folder on another disk keeps its place."""
    link = kept.parent / "link"
    link.symlink_to(kept)
    write_folder(listed(NEWER), link)
    assert link.is_symlink()
    assert on_disk(kept) == listed(NEWER)


def make_file(path: Path) -> None:
    """A file where the folder should be."""
    path.write_bytes(b"")


def make_dangling(path: Path) -> None:
    """A link to nowhere."""
    path.symlink_to(path.with_name("nowhere"))


def make_ring(path: Path) -> None:
    """A link to itself."""
    path.symlink_to(path)


@pytest.mark.parametrize(
    ("prepare", "words"),
    [(make_file, "bench is a file"), (make_dangling, "bench is a link that leads nowhere"), (make_ring, "bench")],
)
@pytest.mark.parametrize("write", [write_folder, write_new])
def test_a_target_that_is_no_folder_is_refused(target: Path, prepare, words: str, write) -> None:
    """Nothing is written through a file or a link to nowhere."""
    target.parent.mkdir()
    prepare(target)
    with pytest.raises(UsageError, match=words):
        write(listed(FILES), target)
    assert names_in(target.parent) == ["bench"]


def test_a_file_on_the_way_is_told(tmp_path: Path) -> None:
    """An --out that is a file."""
    (tmp_path / "out").write_bytes(b"")
    with pytest.raises(CannotWrite, match="a file stands where a folder should be"):
        write_folder(listed(FILES), tmp_path / "out" / "bench")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_without_right_is_told(tmp_path: Path) -> None:
    """A disk of somebody else's."""
    tmp_path.chmod(0o500)
    with pytest.raises(CannotWrite, match="the right to do so is missing"):
        write_folder(listed(FILES), tmp_path / "bench")


def test_new_files_go_beside_others(tmp_path: Path) -> None:
    """write_new leaves what is there."""
    (tmp_path / "notes.txt").write_bytes(b"mine")
    write_new({"job.toml": b"j", "shop.toml": b"s"}, tmp_path)
    assert on_disk(tmp_path) == {"notes.txt": b"mine", "job.toml": b"j", "shop.toml": b"s"}


@pytest.mark.parametrize("name", ["job.toml", "shop.toml"])
def test_new_files_overwrite_none(tmp_path: Path, name: str) -> None:
    """One of two is there: neither is written."""
    (tmp_path / name).write_bytes(b"mine")
    with pytest.raises(FolderInUse, match=f"{name} is there already and is left as it is"):
        write_new({"job.toml": b"j", "shop.toml": b"s"}, tmp_path)
    assert on_disk(tmp_path) == {name: b"mine"}


def test_new_files_are_both_there_or_none(tmp_path: Path) -> None:
    """A second file that cannot be written takes the first and the new folder with it."""
    with pytest.raises(CannotWrite, match="cannot be written"):
        write_new({"job.toml": b"j", "no/such/folder": b"s"}, tmp_path / "new")
    assert names_in(tmp_path) == []
