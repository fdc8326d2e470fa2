"""A folder of sheets: whole or untouched, nothing overwritten that is not ours."""

import os
from collections.abc import Callable, Iterator
from errno import ENOSPC
from pathlib import Path

import pytest

from portloom.report import folder as write
from portloom.report.folder import LIST, CannotWriteFolder, folder_conflict, write_folder

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


def test_what_is_no_folder_is_refused(tmp_path: Path) -> None:
    """A file, a link, a parent that is not there."""
    (tmp_path / "file").write_text("")
    (tmp_path / "link").symlink_to(tmp_path, target_is_directory=True)
    for name in ("file", "link", "no/where"):
        assert folder_conflict(tmp_path / name, list(SHEETS), force=True) is not None


def room_for(files: int) -> Callable[[Path, bytes], int]:
    """Return what writes files to a disk that has room for only so many."""
    write_bytes, left = Path.write_bytes, iter(range(files))

    def written(path: Path, content: bytes) -> int:
        if next(left, None) is None:
            raise OSError(ENOSPC, os.strerror(ENOSPC))
        return write_bytes(path, content)

    return written


@pytest.fixture
def before(tmp_path: Path) -> Iterator[Path]:
    """Return a folder of an earlier run, which must be as it was in the end."""
    out = tmp_path / "out"
    write_folder(out, SHEETS)
    yield out
    assert held(out) == SHEETS
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize("room", range(3))
def test_a_full_disk_leaves_the_folder_as_it_was(before: Path, monkeypatch: pytest.MonkeyPatch, room: int) -> None:
    """However many files still went on it, nothing of the new run is seen."""
    monkeypatch.setattr(Path, "write_bytes", room_for(room))
    with pytest.raises(CannotWriteFolder, match="No space left"):
        write_folder(before, {"list.csv": b"2", "page.html": b"2"})
    monkeypatch.undo()


def test_a_failure_while_the_folders_change_places_is_undone(before: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second of the two renames fails: the old folder is put back."""
    rename = Path.rename

    def failing(path: Path, target: Path) -> Path:
        if path.name.startswith(write.MARK) and not path.name.endswith("-old"):
            raise OSError(ENOSPC, os.strerror(ENOSPC))
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(CannotWriteFolder):
        write_folder(before, {"list.csv": b"2"})
    monkeypatch.undo()


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A read-only place (the tests may run as root, so the system's answer stands in)."""

    def refuse(**_: object) -> str:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(write, "mkdtemp", refuse)
    with pytest.raises(CannotWriteFolder, match="Permission denied"):
        write_folder(tmp_path / "out", SHEETS)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../out.csv", "a/b.csv", "", ".", LIST])
def test_no_file_leads_out_of_the_folder(tmp_path: Path, name: str) -> None:
    """Names with slashes are a mistake of the program, never written."""
    with pytest.raises(ValueError, match="plain name"):
        write_folder(tmp_path / "out", {name: b""})
    assert list(tmp_path.iterdir()) == []
