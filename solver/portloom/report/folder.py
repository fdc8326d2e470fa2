"""Writes a folder of files so that it is complete or as it was, and knows which files there are ours.

All is written into a new folder beside the old one; then the two change places by renaming. What the old folder
holds beside ours is taken along. Where anything fails the new folder goes and the old one stays.
"""

import json
import os
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

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


MARK = ".portloom-"
MOST_NAMED = 4


@dataclass(frozen=True)
class FolderConflict:
    """Why a folder is not written to, and what would be right."""

    what: str
    right: str


class CannotWriteFolder(OSError):
    """The disk is full, the place can't be written to, or the like; nothing was changed."""


def folder_conflict(folder: Path, names: Sequence[str], *, force: bool) -> FolderConflict | None:
    """What keeps a folder from being written: it is a file, its parent is missing, or files there are not ours."""
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        return FolderConflict(f"{folder} is not a folder", "give a folder, or a name that does not exist yet")
    if not folder.resolve().parent.is_dir():
        return FolderConflict(f"there is no folder {folder.parent} to write to", "make it first")
    if not folder.exists() or force:
        return None
    return _not_ours(folder, names)


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
    if not changed:
        return None
    what = f"{_some(changed)} in {folder} {'was' if len(changed) == 1 else 'were'} changed or put there since"
    return FolderConflict(what, "move it away, or --force to overwrite it")


def _some(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    named = ", ".join(f"'{name}'" for name in names[:MOST_NAMED])
    return f"{named} and {more} more" if more > 0 else named


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder, with the list that tells that they are ours; those of an earlier run go.

    File names are plain names. Raise CannotWriteFolder, and leave all as it was, where it can't be done.
    """
    if any(name in ("", ".", "..", LIST) or Path(name).name != name for name in files):
        raise ValueError("a sheet's file name must be a plain name")
    target = folder.resolve()
    try:
        new = Path(mkdtemp(prefix=MARK, dir=target.parent))
    except OSError as error:
        raise _refused(folder, error) from error
    try:
        _fill(new, target, files)
        _change_places(new, target)
    except OSError as error:
        raise _refused(folder, error) from error
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _refused(folder: Path, error: OSError) -> CannotWriteFolder:
    return CannotWriteFolder(f"can't write {folder}: {error.strerror or error}")


def _fill(new: Path, old: Path, files: Mapping[str, bytes]) -> None:
    for name, content in (*files.items(), (LIST, listing(files))):
        path = new / name
        path.write_bytes(content)
        with path.open("rb") as written:
            os.fsync(written.fileno())
    if old.is_dir():
        for kept in _others(old, files):
            _take_along(kept, new / kept.name)
        shutil.copymode(old, new)
    else:
        new.chmod(0o777 & ~_umask())


def _others(old: Path, files: Mapping[str, bytes]) -> Iterator[Path]:
    """Return what a folder holds beside ours."""
    ours = {LIST, *files, *(listed_in(old) or {})}
    return (path for path in sorted(old.iterdir()) if path.name not in ours)


def _take_along(kept: Path, to: Path) -> None:
    if kept.is_dir() and not kept.is_symlink():
        shutil.copytree(kept, to, symlinks=True)
    else:
        shutil.copy2(kept, to, follow_symlinks=False)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _change_places(new: Path, target: Path) -> None:
    """Put the new folder in the place of the old one; where that fails, the old one back."""
    if not target.exists():
        new.rename(target)
        return
    aside = new.with_name(f"{new.name}-old")
    target.rename(aside)
    try:
        new.rename(target)
    except BaseException:
        with suppress(OSError):
            aside.rename(target)
        raise
    shutil.rmtree(aside, ignore_errors=True)
