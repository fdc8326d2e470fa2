"""A folder of sheets: whole or untouched, nothing overwritten that is not ours."""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from errno import ENOSPC
from pathlib import Path

import pytest

import unix
from portloom.disk import folder as write
from portloom.disk.folder import (
    LIST,
    STAGED,
    UNFINISHED,
    CannotWriteFolder,
    FolderConflict,
    folder_conflict,
    left_beside,
    mend_folder,
    write_folder,
)

SHEETS = {"list.csv": b"a,b\n", "page.html": b"<!doctype html>"}


def held(folder: Path) -> dict[str, bytes]:
    """Return all files of a folder but the list."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != LIST}


def test_a_new_folder_is_made(tmp_path: Path) -> None:
    """With just the files, the list beside them, and nothing left over."""
    write_folder(tmp_path / "out", SHEETS)
    assert held(tmp_path / "out") == SHEETS
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_ours_are_replaced_and_what_is_no_longer_written_goes(tmp_path: Path) -> None:
    """A second run needs no leave; a file of the first that the second does not write is gone."""
    out = tmp_path / "out"
    write_folder(out, {**SHEETS, "old.csv": b"1"})
    assert folder_conflict(out, list(SHEETS), force=False) is None
    write_folder(out, {"list.csv": b"new"})
    assert held(out) == {"list.csv": b"new"}


def test_what_the_user_keeps_there_stays(tmp_path: Path) -> None:
    """Notes and folders of the user's own, by name and content."""
    out = tmp_path / "out"
    write_folder(out, SHEETS)
    (out / "my notes.txt").write_text("brake hose: ask")
    (out / "photos").mkdir()
    (out / "photos" / "1.jpg").write_bytes(b"\xff")
    assert folder_conflict(out, list(SHEETS), force=False) is None
    write_folder(out, SHEETS)
    assert (out / "my notes.txt").read_text() == "brake hose: ask"
    assert (out / "photos" / "1.jpg").read_bytes() == b"\xff"


def test_a_changed_sheet_is_not_overwritten_unasked(tmp_path: Path) -> None:
    """Somebody wrote into a sheet: told with its name; --force writes over it."""
    out = tmp_path / "out"
    write_folder(out, SHEETS)
    (out / "list.csv").write_text("by hand")
    told = folder_conflict(out, list(SHEETS), force=False)
    assert told is not None
    assert "'list.csv'" in told.what
    assert folder_conflict(out, list(SHEETS), force=True) is None


def test_a_folder_that_is_not_ours_is_left_alone(tmp_path: Path) -> None:
    """A folder with anything in it and no list of ours is refused; an empty one is not."""
    out = tmp_path / "out"
    out.mkdir()
    assert folder_conflict(out, list(SHEETS), force=False) is None
    (out / "letter.txt").write_text("dear")
    told = folder_conflict(out, list(SHEETS), force=False)
    assert told is not None
    assert "'letter.txt'" in told.what
    write_folder(out, SHEETS)  # with --force
    assert held(out) == {**SHEETS, "letter.txt": b"dear"}


@unix.links
def test_what_is_no_folder_is_refused(tmp_path: Path) -> None:
    """A file, a link, a parent that is not there."""
    (tmp_path / "file").write_text("")
    (tmp_path / "link").symlink_to(tmp_path, target_is_directory=True)
    for name in ("file", "link", "no/where"):
        assert folder_conflict(tmp_path / name, list(SHEETS), force=True) is not None


@pytest.fixture
def before(tmp_path: Path) -> Path:
    """Return a folder of an earlier run, in which a user has a note and photos beside the sheets."""
    out = tmp_path / "out"
    write_folder(out, {**SHEETS, "old.csv": b"1"})
    (out / "photos").mkdir()
    (out / "photos" / "1.jpg").write_bytes(b"\xff")
    (out / "my notes.txt").write_text("brake hose: ask")
    return out


NEW = {"list.csv": b"2", "page.html": b"2", "more.csv": b"2"}


def test_nothing_of_the_users_moves(before: Path) -> None:
    """Folder, note and photos are the very same on the disk afterwards, so that a shell or a viewer may stay in it."""
    kept = (before, before / "photos", before / "photos" / "1.jpg", before / "my notes.txt")
    there = [path.stat().st_ino for path in kept]
    write_folder(before, NEW)
    assert [path.stat().st_ino for path in kept] == there
    assert {name: held_of(before)[name] for name in NEW} == NEW
    assert "old.csv" not in held_of(before)


def test_into_the_folder_that_one_is_in(before: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As ``--out .`` asks: the folder is still the one that the shell is in."""
    monkeypatch.chdir(before)
    write_folder(Path(), NEW)
    assert Path("list.csv").read_bytes() == b"2"


def held_of(folder: Path) -> dict[str, bytes]:
    """Return every file in a folder and below, but the list."""
    files = (path for path in folder.rglob("*") if path.is_file() and path.name != LIST)
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


class Killed(BaseException):
    """Stands in for the end of the process: nothing is cleared up after it."""


STEPS = ("mkdir", "open", "rename", "replace", "unlink", "rmdir")
"""What ``Path`` changes a disk by."""


def killed_at(monkeypatch: pytest.MonkeyPatch, step: int) -> None:
    """Let the process end just before the step of that number; whatever is tried after it does nothing."""
    left = iter(range(step))

    def ending(plain: Callable[..., object]) -> Callable[..., object]:
        def done(path: Path, *words: object, **more: object) -> object:
            if "rb" not in (*words, *more.values()) and next(left, None) is None:
                raise Killed
            return plain(path, *words, **more)

        return done

    for name in STEPS:
        monkeypatch.setattr(Path, name, ending(getattr(Path, name)))


def test_killed_at_any_step_the_next_run_mends_and_says_so(before: Path, tmp_path: Path) -> None:
    """Every sheet is whole, old or new; the user's files are untouched; then all sheets are old, or all new."""
    old, users = held_of(before), {"my notes.txt", "photos/1.jpg"}
    told = set()
    for step in range(100):
        out = tmp_path / str(step)
        shutil.copytree(before, out)
        with pytest.MonkeyPatch.context() as patch:
            killed_at(patch, step)
            try:
                write_folder(out, NEW)
            except Killed:
                pass
            else:
                break
        seen = held_of(out)
        assert all(
            seen[name] in {old.get(name), NEW.get(name)} for name in seen if "/" not in name and name not in users
        )
        assert {name: seen[name] for name in users} == {name: old[name] for name in users}
        assert set(SHEETS) <= set(seen)
        mended = mend_folder(out, force=False)
        whole = held_of(out)
        assert whole in (old, {**NEW, **{name: old[name] for name in users}})
        assert mended is not None or seen == whole
        assert not isinstance(mended, FolderConflict)
        told.add(mended and mended.removeprefix(str(out)))
        assert not any((out / name).exists() for name in (STAGED, UNFINISHED))
        assert folder_conflict(out, list(NEW), force=False) is None
        assert mend_folder(out, force=False) is None
    assert step > 15
    assert len(told) == 4  # nothing left, taken away under either name, put in place


def test_what_is_half_way_says_so_where_it_is_seen(before: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beside sheets of two plans lies a folder that can't be overlooked, with a note that says not to work by them."""
    with monkeypatch.context() as patch:
        killed_at(patch, 9)
        with pytest.raises(Killed):
            write_folder(before, NEW)
    assert {(before / name).read_bytes() == b"2" for name in SHEETS} == {True, False}
    assert "Do not work by them" in (before / "portloom-unfinished" / "READ-ME.txt").read_text()


def test_what_was_changed_since_is_not_mended_over(before: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Written on after the kill: named and left, unless --force is given."""
    with monkeypatch.context() as patch:
        killed_at(patch, 9)
        with pytest.raises(Killed):
            write_folder(before, NEW)
    (before / "page.html").write_text("by hand")
    told = mend_folder(before, force=False)
    assert isinstance(told, FolderConflict)
    assert "'page.html'" in told.what
    assert (before / "page.html").read_text() == "by hand"
    assert isinstance(mend_folder(before, force=True), str)
    assert (before / "page.html").read_bytes() == b"2"


def test_what_a_user_put_into_our_folders_stays(before: Path) -> None:
    """A folder under a name of ours with anything else in it is not taken away, and is told."""
    (before / UNFINISHED).mkdir()
    (before / UNFINISHED / "mine.txt").write_text("mine")
    assert mend_folder(before, force=True) is None
    told = folder_conflict(before, list(NEW), force=True)
    assert told is not None
    assert "portloom-unfinished is in the way" in told.what
    assert (before / UNFINISHED / "mine.txt").read_text() == "mine"


@pytest.mark.parametrize("room", range(5))
def test_a_full_disk_leaves_the_folder_as_it_was(before: Path, monkeypatch: pytest.MonkeyPatch, room: int) -> None:
    """However many files still went on it, nothing of the new run is seen; a folder that was not there is not."""
    old = held_of(before)
    with monkeypatch.context() as patch:
        left = iter(range(room))

        def full(path: Path, content: bytes) -> None:
            if next(left, None) is None:
                raise OSError(ENOSPC, os.strerror(ENOSPC))
            path.write_bytes(content)

        patch.setattr(write, "write_down", full)
        with pytest.raises(CannotWriteFolder, match="No space left"):
            write_folder(before, NEW)
        left = iter(range(room))
        with pytest.raises(CannotWriteFolder, match="No space left"):
            write_folder(before.with_name("not there yet"), NEW)
    assert held_of(before) == old
    assert [path.name for path in before.parent.iterdir()] == ["out"]
    assert mend_folder(before, force=False) is None


def test_a_folder_under_a_sheets_name_is_never_overwritten(before: Path) -> None:
    """Not with --force either: what a user keeps in it can't be known."""
    (before / "more.csv").mkdir()
    (before / "more.csv" / "mine.txt").write_text("mine")
    with pytest.raises(CannotWriteFolder, match=r"'more\.csv' there is a folder"):
        write_folder(before, NEW)
    assert (before / "more.csv" / "mine.txt").read_text() == "mine"


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A read-only place (the tests may run as root, so the system's answer stands in)."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(CannotWriteFolder, match="Permission denied"):
        write_folder(tmp_path / "out", SHEETS)
    assert list(tmp_path.iterdir()) == []


def test_two_at_once_come_one_after_the_other(tmp_path: Path) -> None:
    """Commands that write into one folder at the same time leave the sheets of one of them, not of both."""
    code = (
        "import sys; from pathlib import Path; from portloom.disk.folder import mend_folder, write_folder\n"
        "for _ in range(20):\n"
        "    mend_folder(Path(sys.argv[1]), force=False)\n"
        "    write_folder(Path(sys.argv[1]), {f'{n}.csv': sys.argv[2].encode() for n in range(9)})"
    )
    both = [subprocess.Popen([sys.executable, "-c", code, str(tmp_path / "out"), name]) for name in "ab"]
    assert [process.wait(60) for process in both] == [0, 0]
    assert len(set(held(tmp_path / "out").values())) == 1
    assert mend_folder(tmp_path / "out", force=False) is None


def test_what_the_first_version_moved_aside_is_found(tmp_path: Path) -> None:
    """It could leave a folder with a user's photos under a hidden name; a folder that is not ours is not told of."""
    aside = tmp_path / ".portloom-k2j3h4g5-old"
    write_folder(aside, SHEETS)
    (tmp_path / ".portloom-other-old").mkdir()
    assert left_beside(tmp_path / "out") == (aside,)


@pytest.mark.parametrize("name", ["../out.csv", "a/b.csv", "", ".", LIST])
def test_no_file_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    """Names with slashes are a mistake of the program, never written."""
    with pytest.raises(ValueError, match="plain name"):
        write_folder(tmp_path / "out", {name: b""})
    assert list(tmp_path.iterdir()) == []
