"""A new folder in the old one's place: what is safe when, whose rights it has, and what killed runs leave beside it."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import faults_put_in
import pytest
from kits_on_disk import FILES, NEWER, PROOF, listed, names_in, on_disk

from jigmaker.errors import CannotWrite, FolderInUse
from jigmaker.making import swap
from jigmaker.making.folder import write_folder, write_new, write_one
from jigmaker.making.swap import made_beside, put_right


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A kit, written once."""
    target = tmp_path / "out" / "bench"
    write_folder(listed(FILES) | {"proof.json": PROOF}, target)
    return target


@pytest.mark.parametrize("is_whole", [True, False], ids=["disk", "file by file"])
def test_data_reaches_the_disk_before_names_change(kept: Path, monkeypatch, is_whole: bool) -> None:
    """A power cut after the names are exchanged finds whole files behind them; the names' own folder comes last."""
    calls: list[str] = []

    def noted(name: str, real):
        def call(*asked):
            calls.append(name)
            return real(*asked)

        return call

    monkeypatch.setattr(swap, "_sync_disk", noted("disk", lambda path: is_whole))
    monkeypatch.setattr(os, "fsync", noted("file", lambda held: None))
    monkeypatch.setattr(swap, "_renamed", noted("name", swap._renamed))
    monkeypatch.setattr(Path, "replace", noted("name", Path.replace))
    write_folder(listed(NEWER), kept)
    first = calls.index("name")
    assert calls[:first] == ["disk"] + ([] if is_whole else ["file"] * (3 + 2))  # three files, two folders
    assert calls[-1] == "file"
    calls.clear()
    write_one(kept / "numbers.json", b"{}")
    write_new({"form.toml": b""}, kept)
    assert calls == ["file", "name", "file"] * 2


@pytest.mark.parametrize("is_in_one_step", [True, False])
@pytest.mark.parametrize("count", range(3))
def test_an_interrupt_after_a_move_leaves_one_whole_folder(
    kept: Path, monkeypatch, count: int, is_in_one_step: bool
) -> None:
    """The signal comes when a move is done: old or new stands there, whole, and nothing beside it."""
    before, moves = on_disk(kept), []
    exchange, rename = swap._renamed, Path.rename

    def interrupted(real):
        def move(*asked):
            done = real(*asked)
            moves.append(real)
            if len(moves) == count + 1:
                raise KeyboardInterrupt
            return done

        return move

    monkeypatch.setattr(swap, "_renamed", interrupted(exchange) if is_in_one_step else lambda *asked: False)
    monkeypatch.setattr(Path, "rename", interrupted(rename))
    with pytest.raises(KeyboardInterrupt, match=r"^$"):
        write_folder(listed(NEWER), kept)
    monkeypatch.undo()
    put_right(kept)
    assert on_disk(kept) in (before, listed(NEWER))
    assert names_in(kept.parent) == ["bench"]


def test_old_files_that_cannot_be_deleted_are_named(kept: Path, monkeypatch) -> None:
    """The new folder stands; where the old one went is told."""
    monkeypatch.setattr(swap, "delete", lambda path: None)
    with pytest.raises(CannotWrite, match=r"holds the new files, but the old ones .* lie in .*\.bench-unfinished-"):
        write_folder(listed(NEWER), kept)
    assert on_disk(kept) == listed(NEWER)


def left_by_a_killed_run(kept: Path, word: str) -> Path:
    """What a run leaves beside the folder that is killed as it writes, or as it has moved the old one aside."""
    left = kept.with_name(f".bench-{word}-0123456789abcdef")
    left.mkdir()
    (left / "half.dxf").write_bytes(b"half")
    return left


def test_leftovers_of_a_killed_run_are_deleted_and_told(kept: Path) -> None:
    """Once, by whatever command names the folder next; of another folder's leftovers nothing is touched."""
    left, other = left_by_a_killed_run(kept, "unfinished"), kept.with_name(".bench-2-unfinished-0123456789abcdef")
    other.mkdir()
    assert put_right(kept) == [f"what an earlier run that was stopped left beside {kept} is deleted"]
    assert (left.exists(), other.exists(), put_right(kept)) == (False, True, [])


def test_what_a_killed_run_moved_aside_is_put_back_and_told(kept: Path) -> None:
    """Nothing stands under the name; afterwards the old kit does."""
    before = on_disk(kept)
    kept.rename(kept.with_name(".bench-whole-0123456789abcdef"))
    assert put_right(kept) == [f"{kept} is put back: an earlier run was stopped as it replaced it"]
    assert on_disk(kept) == before


def test_what_another_run_is_at_work_on_stays(kept: Path) -> None:
    """Its lock tells; so do locks of a process that lives on."""
    with made_beside(kept, Path.mkdir) as fresh:
        assert put_right(kept) == []
        assert fresh.is_dir()
    assert names_in(kept.parent) == ["bench"]


def test_without_locks_nothing_is_deleted_that_may_be_at_work(kept: Path, monkeypatch) -> None:
    """As on Windows, and on some network disks: it is named; what is missing is put back all the same."""
    monkeypatch.setattr(swap, "_lock", lambda path: None)
    left = left_by_a_killed_run(kept, "unfinished")
    assert put_right(kept) == [
        f"{left} was left by a run that was stopped, or belongs to one still at work; else delete it"
    ]
    kept.rename(kept.with_name(".bench-whole-0123456789abcdef"))
    assert f"{kept} is put back: an earlier run was stopped as it replaced it" in put_right(kept)


def test_links_and_what_may_not_be_read_are_left(kept: Path) -> None:
    """A stranger's link under such a name is neither followed nor deleted; a name that cannot be has nothing beside."""
    (kept.with_name(".bench-unfinished-0123456789abcdef")).symlink_to(kept)
    (kept.with_name(".bench-whole-0123456789abcdef")).symlink_to(kept)
    assert put_right(kept) == put_right(Path("a\0b")) == put_right(kept / "no" / "such") == []
    assert len(names_in(kept.parent)) == 3


def test_several_at_once_end_in_one_whole_kit(tmp_path: Path) -> None:
    """Two processes that write the same folder over and over: each time one of them is there, whole; none fails."""
    target = tmp_path / "bench"
    code = (
        "import sys; from pathlib import Path; from faults_put_in import kit; from jigmaker.making import swap, folder;"
        "swap._sync_disk = lambda path: True;"
        "[folder.write_folder(kit('Bench', sys.argv[2].encode()), Path(sys.argv[1]), job_name='Bench')"
        " for _ in range(25)]"
    )
    env = {**os.environ, "PYTHONPATH": str(Path(faults_put_in.__file__).parent)}
    both = [
        subprocess.Popen([sys.executable, "-c", code, str(target), word], env=env, stderr=subprocess.PIPE)
        for word in ("one", "two")
    ]
    said = [each.communicate()[1] for each in both]
    assert [each.returncode for each in both] == [0, 0], said
    assert on_disk(target) in (faults_put_in.kit("Bench", b"one"), faults_put_in.kit("Bench", b"two"))
    assert names_in(target.parent) == ["bench"]


def test_rights_and_owner_stay(kept: Path) -> None:
    """Of the folder and of all in it that has the same name; for what is new in it, the folder's owner."""
    for path, mode in ((kept, 0o700), (kept / "numbers.json", 0o640), (kept / "cut", 0o750)):
        path.chmod(mode)
        if os.geteuid() == 0:
            os.chown(path, 12345, 23456)
    write_folder(listed(NEWER), kept)
    assert [stat.S_IMODE(path.stat().st_mode) for path in (kept, kept / "numbers.json", kept / "cut")] == [
        0o700,
        0o640,
        0o750,
    ]
    if os.geteuid() == 0:
        owned = [(path.stat().st_uid, path.stat().st_gid) for path in (kept, kept / "numbers.json", kept / "cut/c.dxf")]
        assert owned == [(12345, 23456)] * 3


def test_what_is_marked_as_read_only_is_left(kept: Path) -> None:
    """Somebody wants this kit, or this shop file, to stay as it is; root too is told, who could write it."""
    shop = kept.parent / "shop.toml"
    shop.write_bytes(b"mine")
    shop.chmod(0o444)
    with pytest.raises(CannotWrite, match=r"shop\.toml is marked as read-only"):
        write_one(shop, b"new")
    kept.chmod(0o555)
    with pytest.raises(FolderInUse, match="bench is marked as read-only"):
        write_folder(listed(NEWER), kept, replace=True)
    kept.chmod(0o755)
    assert (shop.read_bytes(), on_disk(kept)) == (b"mine", listed(FILES) | {"proof.json": PROOF})
