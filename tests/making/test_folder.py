"""Folders on the disk: all or nothing, what is replaced without asking, and what the disk may say."""

import errno
import json
import os
import stat
from pathlib import Path

import pytest
from kits_on_disk import FILES, NEWER, PROOF, listed, names_in, on_disk

from jigmaker.errors import CannotWrite, FolderInUse, UsageError
from jigmaker.making import swap
from jigmaker.making.folder import write_folder, write_new
from jigmaker.making.json_text import json_text
from jigmaker.making.ownership import unsealed


@pytest.fixture
def target(tmp_path: Path) -> Path:
    """Where a job's folder goes; nothing is there yet."""
    return tmp_path / "out" / "bench"


@pytest.fixture
def kept(target: Path) -> Path:
    """The same, written once."""
    write_folder(listed(FILES) | {"proof.json": PROOF}, target)
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


def note_in(name: str, seal: bool = True):
    """A note of the user's in a JSON file of ours; in one of before there were seals with `seal` False."""

    def change(folder: Path) -> None:
        data = (folder / name).read_bytes()
        told = json.loads(data if seal else unsealed(data)) | {"note": "glued on Sunday"}
        if not seal:
            told.pop("sha256", None)
        (folder / name).write_bytes(json_text(told))

    return change


def empty_folder(folder: Path) -> None:
    """Folders of the user's, with nothing in them yet."""
    (folder / "photographs" / "2026").mkdir(parents=True)


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
    ("a note in kit.json", note_in("kit.json"), "kit.json"),
    ("a note in an older kit.json", note_in("kit.json", seal=False), "kit.json"),
    ("an own proof.json", add("proof.json", b"proved by eye"), "proof.json"),
    ("a note in proof.json", note_in("proof.json"), "proof.json"),
    ("an empty folder", empty_folder, "photographs/2026/"),
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
def test_replace_moves_aside_and_follows_no_link(kept: Path, change) -> None:
    """With replace the folder is the new one; what was there lies under a numbered name, links and all."""
    change(kept)
    before = {path.relative_to(kept.parent): path.lstat().st_ino for path in kept.parent.rglob("*")}
    told = write_folder(listed(NEWER), kept, replace=True)
    assert on_disk(kept) == listed(NEWER)
    aside = kept.with_name("bench-kept-1")
    assert told == [f"what {kept} held before lies in {aside} now"]
    moved = {Path("bench-kept-1", *name.parts[1:]) if name.parts[0] == "bench" else name for name in before}
    assert moved <= {path.relative_to(kept.parent) for path in kept.parent.rglob("*")}


def test_each_folder_that_is_moved_aside_has_a_number(kept: Path) -> None:
    """The one before is not overwritten; an untouched kit is replaced, and not kept, also with --replace."""
    for number in (1, 2):
        (kept / "notes.txt").write_bytes(b"%d" % number)
        assert write_folder(listed(NEWER), kept, replace=True)
        assert (kept.with_name(f"bench-kept-{number}") / "notes.txt").read_bytes() == b"%d" % number
    assert write_folder(listed(FILES), kept, replace=True) == []
    assert names_in(kept.parent) == ["bench", "bench-kept-1", "bench-kept-2"]


def test_a_folder_that_jigmaker_never_wrote_is_moved_aside_whole(target: Path) -> None:
    """A job called Documents in the home folder, and --replace."""
    (target / "letters").mkdir(parents=True)
    (target / "letters" / "a.txt").write_bytes(b"mine")
    with pytest.raises(FolderInUse, match=r"letters/a\.txt"):
        write_folder(listed(FILES), target, job_name="Bench")
    write_folder(listed(FILES), target, replace=True, job_name="Bench")
    assert on_disk(target.with_name("bench-kept-1")) == {"letters/a.txt": b"mine"}


def test_a_kit_of_another_job_is_left_and_named(target: Path) -> None:
    """Two names may make one name of a folder; the same job, whatever its figures, replaces its kit."""
    other = listed(FILES, "Tom's Bench")
    write_folder(other, target, job_name="Tom's Bench")
    with pytest.raises(FolderInUse, match=r'of another job, "Tom\'s Bench"; name another .* --replace'):
        write_folder(listed(NEWER), target, job_name="Bench")
    assert on_disk(target) == other
    assert write_folder(listed(NEWER, "Tom's Bench"), target, job_name="Tom's Bench") == []
    write_folder(listed(NEWER), target, replace=True, job_name="Bench")
    assert on_disk(target.with_name("bench-kept-1")) == listed(NEWER, "Tom's Bench")


def test_what_comes_into_the_folder_in_the_last_moment_is_kept(kept: Path, monkeypatch) -> None:
    """A user saves a note when all was looked at and the names are about to be exchanged."""
    real = swap._renamed

    def later(old: Path, new: Path, flag: int) -> bool:
        (kept / "notes.txt").write_bytes(b"mine")
        return real(old, new, flag)

    monkeypatch.setattr(swap, "_renamed", later)
    told = write_folder(listed(NEWER), kept)
    assert "lies in" in told[0]
    assert (kept.with_name("bench-kept-1") / "notes.txt").read_bytes() == b"mine"


def test_folders_of_ours_that_were_emptied_are_no_strangers(kept: Path) -> None:
    """Somebody threw the pictures away."""
    (kept / "cut" / "nominal" / "b.svg").unlink()
    assert write_folder(listed(NEWER), kept) == []


def test_an_older_kit_without_seals_is_replaced(target: Path) -> None:
    """It holds no key but those that jigmaker wrote then."""
    files = listed(FILES) | {"proof.json": PROOF}
    for name in ("kit.json", "proof.json"):
        files[name] = unsealed(files[name])
        assert b"sha256" not in files[name]
    write_folder(files, target)
    assert write_folder(listed(NEWER), target, job_name="Bench") == []


def test_many_strangers_are_counted(target: Path) -> None:
    """A folder full of photographs makes one sentence, not a page."""
    target.mkdir(parents=True)
    for n in range(30):
        (target / f"{n:02}.jpg").write_bytes(b"")
    with pytest.raises(FolderInUse, match=r"00\.jpg, .*07\.jpg and 22 more; move them"):
        write_folder(listed(FILES), target)


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


def test_new_files_are_both_there_or_none(tmp_path: Path, monkeypatch) -> None:
    """A second file that cannot be written takes the first and the new folder with it."""
    fail_at(monkeypatch, "open", 1, OSError(errno.ENOSPC, "x"))
    with pytest.raises(CannotWrite, match="the disk is full"):
        write_new({"job.toml": b"j", "shop.toml": b"s"}, tmp_path / "new")
    assert names_in(tmp_path) == []
