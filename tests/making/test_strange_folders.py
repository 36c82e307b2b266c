"""A folder that somebody else made: nothing is written through its links, and nothing is read that is not asked for."""

import errno
import json
import os
import threading
from pathlib import Path

import pytest
from small_folder import BEARER, STRIP, small_folder

from jigmaker.errors import CannotWrite, FolderInUse, UsageError
from jigmaker.making import disk, folder_files
from jigmaker.making.folder import write_folder, write_new, write_one
from jigmaker.making.ownership import found_in
from jigmaker.proof.readers.read_folder import read_folder


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    """A file of the user's outside of every folder here."""
    path = tmp_path / "mine.txt"
    path.write_bytes(b"mine")
    return path


@pytest.fixture
def strange(tmp_path: Path) -> Path:
    """A stranger's folder."""
    path = tmp_path / "strange"
    path.mkdir()
    return path


def test_a_link_under_the_name_of_a_new_file_is_not_written_through(strange: Path, mine: Path) -> None:
    """The names that a process of this number would have taken by custom all lead to a file of the user's."""
    (strange / "proof.json").write_bytes(b"old")
    for number in range(os.getpid(), os.getpid() + 9):
        (strange / f".proof.json-new-{number}").symlink_to(mine)
    write_one(strange / "proof.json", b"new")
    assert mine.read_bytes() == b"mine"
    assert (strange / "proof.json").read_bytes() == b"new"
    assert not (strange / "proof.json").is_symlink()


@pytest.mark.parametrize("write", [write_folder, write_new])
def test_a_link_put_into_a_new_folder_meanwhile_is_not_written_through(
    tmp_path: Path, mine: Path, monkeypatch, write
) -> None:
    """Someone who may write beside it is quicker than the program: it stops, and the user's file stays."""
    real = Path.mkdir

    def planting(self: Path, *args, **kwargs) -> None:
        real(self, *args, **kwargs)
        (self / "job.toml").symlink_to(mine)

    monkeypatch.setattr(Path, "mkdir", planting)
    with pytest.raises(CannotWrite, match="nothing was changed"):
        write({"job.toml": b"new"}, tmp_path / "made")
    assert mine.read_bytes() == b"mine"


def opened_for_writing(monkeypatch, write) -> list[Path]:
    """The names under which a call makes files."""
    real, names = Path.open, []

    def noting(self: Path, mode: str = "r", *args, **kwargs):
        if mode == "xb":
            names.append(self)
        return real(self, mode, *args, **kwargs)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", noting)
        write()
    return names


def test_no_two_new_files_have_the_same_name(tmp_path: Path, monkeypatch) -> None:
    """Whoever has seen one cannot tell the next; and no new file is made by other means than "only where none is"."""
    single = [opened_for_writing(monkeypatch, lambda: write_one(tmp_path / "a.toml", b"")) for _ in range(2)]
    forms = [opened_for_writing(monkeypatch, lambda n=n: write_new({f"{n}.toml": b""}, tmp_path)) for n in range(2)]
    kits = [opened_for_writing(monkeypatch, lambda n=n: write_folder({"a": b""}, tmp_path / f"{n}")) for n in range(2)]
    ends = [path.relative_to(tmp_path).parts[0].rpartition("-")[2] for names in single + forms + kits for path in names]
    assert len(ends) == len(set(ends)) == 6
    assert all(len(end) >= 16 for end in ends)


def test_rights_that_a_stranger_set_are_not_taken_over_whole(strange: Path) -> None:
    """A proof.json that runs as its owner does not stay so when jigmaker writes it anew."""
    (strange / "proof.json").write_bytes(b"old")
    (strange / "proof.json").chmod(0o4755)
    write_one(strange / "proof.json", b"new")
    assert (strange / "proof.json").stat().st_mode & 0o7777 == 0o755


def without_links(monkeypatch) -> None:
    """A disk without links, as memory sticks are."""

    def refuse(*args: object, **kwargs: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)


def test_new_files_are_made_on_a_disk_without_links_too(tmp_path: Path, monkeypatch) -> None:
    """And none over one that has come to stand there meanwhile."""
    without_links(monkeypatch)
    write_new({"job.toml": b"new"}, tmp_path)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("job.toml", b"new")]
    monkeypatch.setattr(os.path, "lexists", lambda path: False)
    with pytest.raises(CannotWrite, match="nothing was changed"):
        write_new({"job.toml": b"newer"}, tmp_path)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("job.toml", b"new")]


@pytest.fixture
def kit(strange: Path, demo_files) -> Path:
    """A small kit on the disk."""
    for name, data in small_folder(demo_files, (STRIP, BEARER)).items():
        (strange / name).parent.mkdir(parents=True, exist_ok=True)
        (strange / name).write_bytes(data)
    return strange


def test_stray_files_are_listed_and_not_read(kit: Path, monkeypatch) -> None:
    """A film, a pipe that never ends and a link lie in the folder; of the kit's own files each is read once."""
    (kit / "film.mov").write_bytes(b"x")
    os.mkfifo(kit / "pipe")
    (kit / "link.dxf").symlink_to("/etc/passwd")
    real, asked = folder_files.start_of, []

    def noting(path: Path, *args, **kwargs) -> bytes:
        asked.append(path.relative_to(kit).as_posix())
        return real(path, *args, **kwargs)

    monkeypatch.setattr(folder_files, "start_of", noting)
    _, findings = read_folder(folder_files.folder_files(kit))
    assert [(finding.code, finding.part) for finding in findings] == [(122, "film.mov")]
    listed = json.loads((kit / "kit.json").read_bytes())["files"]
    cut = [name for name in asked if name.endswith((".dxf", ".svg"))]
    assert sorted(cut) == sorted(name for name in listed if name.endswith((".dxf", ".svg")))
    assert "film.mov" not in asked


def test_many_stray_files_are_counted(kit: Path) -> None:
    """A hundred are named, so that proof.json stays a page."""
    for number in range(150):
        (kit / f"{number:03}.jpg").write_bytes(b"")
    _, findings = read_folder(folder_files.folder_files(kit))
    assert len(findings) == 101
    assert findings[-1].says == "50 more files are not listed and are not judged"


def test_a_folder_that_is_no_kit_by_its_size_is_not_read_to_its_end(kit: Path, monkeypatch) -> None:
    """What the kit lists comes to more than any kit."""
    monkeypatch.setattr(folder_files, "LARGEST_SUM", 10_000)
    with pytest.raises(UsageError, match="and the files before it are over"):
        read_folder(folder_files.folder_files(kit))


def test_folders_in_folders_without_end_are_walked(strange: Path) -> None:
    """Deeper than Python's own walk, which calls itself, goes: 1,200 folders inside each other."""
    (strange / "kit.json").write_bytes(b"{}")
    before = Path.cwd()
    try:
        os.chdir(strange)
        for _ in range(1200):
            Path("a").mkdir()
            os.chdir("a")
        Path("deep").write_bytes(b"")
        found = [name for name in folder_files.folder_files(strange) if name.endswith("deep")]
        assert (found, len(found_in(strange).foreign)) == (["a/" * 1200 + "deep"], 2)
    finally:
        Path("deep").unlink()
        os.chdir(before)
        os.removedirs(strange / ("a/" * 1200))  # as far up as they are empty; tidying up calls itself too


def make_pipe(path: Path) -> None:
    """A pipe that nobody writes into."""
    os.mkfifo(path)


def make_device(path: Path) -> None:
    """A link to a device that gives bytes for ever."""
    path.symlink_to("/dev/zero")


def make_folder(path: Path) -> None:
    """A folder."""
    path.mkdir()


@pytest.mark.parametrize(
    ("make", "words"), [(make_pipe, "a pipe"), (make_device, "a device"), (make_folder, "a folder")]
)
def test_what_is_no_plain_file_is_not_waited_for(tmp_path: Path, make, words: str) -> None:
    """It is named at once: read in a thread of its own, so that waiting for ever is noticed."""
    make(tmp_path / "it")
    said: list[str] = []

    def read() -> None:
        try:
            disk.start_of(tmp_path / "it", 10)
        except OSError as error:
            said.append(str(error.strerror))

    thread = threading.Thread(target=read, daemon=True)
    thread.start()
    thread.join(20)
    assert said and said[0].startswith(f"it is {words} and no plain file")


def test_a_plain_file_is_read_as_far_as_asked(tmp_path: Path) -> None:
    """And one byte more, so that who asked knows that there is more; a link only when links are followed."""
    (tmp_path / "it").write_bytes(b"0123456789")
    (tmp_path / "link").symlink_to("it")
    assert disk.start_of(tmp_path / "it", 4) == b"01234"
    assert disk.start_of(tmp_path / "link", 99) == b"0123456789"
    with pytest.raises(OSError, match="a link and no plain file"):
        disk.start_of(tmp_path / "link", 99, follow=False)


def test_a_pipe_in_place_of_a_kits_list_makes_all_files_strangers(strange: Path) -> None:
    """Whether a folder may be replaced is asked of its kit.json; it is not waited for either."""
    os.mkfifo(strange / "kit.json")
    with pytest.raises(FolderInUse, match=r"kit\.json"):
        write_folder({"a": b""}, strange)
