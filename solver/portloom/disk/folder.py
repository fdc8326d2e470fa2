"""Writes a folder of files, each of which is there whole at every moment, old or new; knows which of them are ours.

All are written into a hidden folder within it first. Once they are complete, that gets a name that can be seen, and
they are renamed into their places one by one; its list comes last. Nothing else that is in the folder is touched. What
a killed command left is mended by the next: what was not complete goes, what was complete is put in place to the end.
"""

import json
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from errno import EISDIR
from hashlib import sha256
from pathlib import Path
from typing import Any

from portloom.disk.unbroken import writing_into
from portloom.disk.whole_file import write_down

LIST = "portloom-sheets.json"
"""The file that lists what a run wrote, each with the fingerprint of its bytes."""
WRITTEN_BY = "portloom sheets"


def fingerprint(content: bytes) -> str:
    """Return the SHA-256 of a file's bytes."""
    return sha256(content).hexdigest()


def listing(files: Mapping[str, bytes]) -> bytes:
    """Write the list of a run's files."""
    document = {"written_by": WRITTEN_BY, "files": {name: fingerprint(files[name]) for name in sorted(files)}}
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()


def listed_in(folder: Path) -> dict[str, str] | None:
    """Return the files that a folder's list names with their fingerprints; None where it has no list of ours."""
    try:
        document: Any = json.loads((folder / LIST).read_bytes())
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(document, dict) or document.get("written_by") != WRITTEN_BY:
        return None
    files = document.get("files")
    return {str(name): str(print_) for name, print_ in files.items()} if isinstance(files, dict) else None


def is_untouched(path: Path, known: str | None) -> bool:
    """Tell whether a file still has the bytes that its list says."""
    try:
        return known is not None and fingerprint(path.read_bytes()) == known
    except OSError:
        return False


STAGED = ".portloom-sheets"
"""The folder within in which sheets are written; nothing of it has come into its place yet."""
UNFINISHED = "portloom-unfinished"
"""What it is called from when it is complete until all is in its place."""
NOTE = "READ-ME.txt"
TOLD = b"""portloom was stopped while it put new sheets into the folder that this one is in. Those that are
still here are not in their places yet: beside this folder some sheets are new, and some may be of an older
plan. Do not work by them. Call 'portloom sheets' with that folder again: it puts the rest in place, and
takes this folder away.
"""
MOST_NAMED = 4


@dataclass(frozen=True)
class FolderConflict:
    """Why a folder is not written to, and what would be right."""

    what: str
    right: str


class CannotWriteFolder(OSError):
    """The disk is full, the place can't be written to, or the like; each file there is whole."""


def folder_conflict(folder: Path, names: Sequence[str], *, force: bool) -> FolderConflict | None:
    """What keeps a folder from being written: it is a file, its parent is missing, or files there are not ours."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        return FolderConflict(f"{folder} is not a folder", "give a folder, or a name that does not exist yet")
    if not folder.resolve().parent.is_dir():
        return FolderConflict(f"there is no folder {folder.parent} to write to", "make it first")
    if not folder.exists():
        return None
    for name in (STAGED, UNFINISHED):
        if os.path.lexists(folder / name):
            return FolderConflict(f"{folder / name} is in the way", "move it away")
    return None if force else _not_ours(folder, names)


def _not_ours(folder: Path, names: Sequence[str]) -> FolderConflict | None:
    known = listed_in(folder)
    here = sorted(path.name for path in folder.iterdir())
    if known is None:
        if not here:
            return None
        what = f"{folder} holds {_some(here)} and no list from portloom"
        return FolderConflict(what, "give an empty folder or a new name, or --force to write there anyway")
    ours = {*names, *known}
    changed = [name for name in here if name in ours and not is_untouched(folder / name, known.get(name))]
    return _changed(folder, changed) if changed else None


def _changed(folder: Path, names: Sequence[str]) -> FolderConflict:
    what = f"{_some(names)} in {folder} {'was' if len(names) == 1 else 'were'} changed or put there since"
    return FolderConflict(what, "move it away, or --force to overwrite it")


def _some(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    named = ", ".join(f"'{name}'" for name in names[:MOST_NAMED])
    return f"{named} and {more} more" if more > 0 else named


# --- writing


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder, with the list that tells that they are ours; those of an earlier run go.

    File names are plain names. Raise CannotWriteFolder where it can't be done: then all is as it was, or, where only
    putting in place failed, the next call finishes it, and the error says so.
    """
    if any(name in ("", ".", "..", LIST, NOTE) or Path(name).name != name for name in files):
        raise ValueError("a sheet's file name must be a plain name")
    target = folder.resolve()
    try:
        with _there(target), writing_into(target):
            _stage(target, files)
            _put_in_place(target)
    except OSError as error:
        half = listed_in(target / UNFINISHED) is not None
        then = f"; what is in {folder / UNFINISHED} is put in place by the next call" if half else ""
        raise CannotWriteFolder(f"can't write {folder}: {error.strerror or error}{then}") from error


@contextmanager
def _there(target: Path) -> Iterator[None]:
    """Make the folder if it is not there; where nothing comes of it, it goes again."""
    new = not target.exists()
    target.mkdir(exist_ok=True)
    try:
        yield
    finally:
        if new:
            with suppress(OSError):  # there is something in it, as there should be
                target.rmdir()


def _stage(target: Path, files: Mapping[str, bytes]) -> None:
    """Write all files, the list of them first, where nobody looks yet; where that fails, take them away again."""
    if folders := [name for name in (LIST, *files) if (target / name).is_dir()]:
        raise OSError(EISDIR, f"{_some(folders)} there is a folder")
    staged = target / STAGED
    staged.mkdir()
    try:
        for name, content in {LIST: listing(files), NOTE: TOLD, **files}.items():
            write_down(staged / name, content)
        staged.rename(target / UNFINISHED)
    except BaseException:
        with suppress(OSError):
            _clear(staged)
        raise


def _put_in_place(target: Path) -> None:
    """Put into their places what is complete, and is not there yet; then let go what is no longer written."""
    unfinished = target / UNFINISHED
    new, old = listed_in(unfinished) or {}, listed_in(target) or {}
    for name in new:
        with suppress(FileNotFoundError):  # it is in its place
            (unfinished / name).replace(target / name)
    for name, print_ in old.items():
        if name not in new and is_untouched(target / name, print_):
            (target / name).unlink()
    (unfinished / LIST).replace(target / LIST)
    _clear(unfinished)


def _clear(ours: Path) -> None:
    """Take away a folder that we made within; what somebody else put into it stays, and the folder with it."""
    for name in (*(listed_in(ours) or {}), NOTE, LIST):
        (ours / name).unlink(missing_ok=True)
    ours.rmdir()


# --- mending


def mend_folder(folder: Path, *, force: bool) -> str | FolderConflict | None:
    """Mend what a killed command left of writing a folder; return what was done, what is in the way, or None.

    Raise CannotWriteFolder where it can't be mended.
    """
    target = folder.resolve()
    if not any(os.path.lexists(target / name) for name in (STAGED, UNFINISHED)):
        return None
    try:
        with writing_into(target):  # a command that is still at it has ended then
            return _mended(target, folder, force=force)
    except OSError as error:
        raise CannotWriteFolder(f"can't mend {folder}: {error.strerror or error}") from error


def _mended(target: Path, folder: Path, *, force: bool) -> str | FolderConflict | None:
    if listed_in(target / UNFINISHED) is not None:
        changed = [] if force else list(_changed_since(target))
        if changed:
            return _changed(folder, changed)
        _put_in_place(target)
        return f"{folder} was half-way to new sheets when an earlier run was stopped: they are all in place now"
    done = None
    for left in (STAGED, UNFINISHED):
        with suppress(OSError):  # it is none of ours, or holds what is not
            _clear(target / left)
            done = f"{folder / left} is taken away: an earlier run was stopped there"
    return done


def _changed_since(target: Path) -> Iterator[str]:
    """Return what would be overwritten, and is neither as the old list says nor as the new one."""
    new, old = listed_in(target / UNFINISHED) or {}, listed_in(target) or {}
    for name, print_ in new.items():
        place = target / name
        waits = os.path.lexists(target / UNFINISHED / name) and os.path.lexists(place)
        if waits and not is_untouched(place, old.get(name)) and not is_untouched(place, print_):
            yield name


def left_beside(folder: Path) -> tuple[Path, ...]:
    """Return folders that an earlier version moved aside and, when it was killed, left under a hidden name."""
    return tuple(sorted(path for path in folder.absolute().parent.glob(".portloom-*-old") if (path / LIST).is_file()))
