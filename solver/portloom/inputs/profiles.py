"""Finds units' files: by their paths, by the names of the bundled ones, by the folders that they are in."""

import re
from collections.abc import Iterable
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from portloom.base.nearest import close_matches, or_list
from portloom.inputs.parsing import looked_in
from portloom.inputs.problems import not_there

JOINTS = re.compile(r"[\s_-]+")
ENDINGS = (".yaml", ".yml")
INSTALLED = "_profiles"
"""Where an installed program has them, inside the package; a checkout has them at its top level."""
A_FOLDER = "give one with units' files, *.yaml, or a bundled unit's name"


def bundled_units() -> tuple[tuple[str, Traversable], ...]:
    """Return the name and the file of each bundled profile, by name."""
    found = {Path(file.name).stem: file for file in _folder().iterdir() if file.name.endswith(ENDINGS)}
    return tuple(sorted(found.items(), key=lambda pair: pair[0]))


def find_unit(text: str) -> Path | Traversable:
    """Return the file that ``text`` names: a path, or a bundled profile's name, as ``bundled_name`` has it.

    Raise BadFile if there is neither.
    """
    if _is_file(Path(text)):
        return Path(text)
    name = bundled_name(text)
    if name is not None:
        return dict(bundled_units())[name]
    if text.endswith(ENDINGS) or "/" in text or "\\" in text:
        return Path(text)  # reading it says why it can't be opened
    bundled = [name for name, _ in bundled_units()]
    what = f"there is no such file{looked_in(Path(text))}, and no bundled unit is called '{text}'"
    right = f"give a file, or one of {or_list(tuple(dict.fromkeys((*close_matches(text, bundled), *bundled))))}"
    raise not_there(text.strip() or "--unit", what, right, "units")


def bundled_name(text: str) -> str | None:
    """Return the name of the bundled unit that ``text`` means: capitals, and how its words are joined, do not matter.

    None where no unit is called so, or a file or a folder is, to the letter. Raise BadFile where several units are.
    """
    names = [name for name, _ in bundled_units()]
    if text not in names and (_is_file(Path(text)) or _is_folder(Path(text))):
        return None
    meant = names_meant(text, names)
    if len(meant) > 1:
        raise not_there(text, f"this may be {or_list(meant)}", "write one of them as it stands here", "units")
    return meant[0] if meant else None


def names_meant(text: str, names: Iterable[str]) -> tuple[str, ...]:
    """Return the one of ``names`` that ``text`` is, or all that differ from it in capitals and joints alone."""
    known = tuple(names)
    return (text,) if text in known else tuple(name for name in known if _letters(name) == _letters(text))


def _letters(name: str) -> str:
    return JOINTS.sub("", name.casefold())


def find_units(text: str) -> tuple[Path | Traversable, ...]:
    """Return the files that ``text`` names: a folder's profiles by name, or one as ``find_unit`` does.

    Raise BadFile where there is none. Files in a folder count that end in .yaml or .yml and are not hidden.
    """
    folder = Path(text)
    if text in dict(bundled_units()) or not _is_folder(folder):
        return (find_unit(text),)
    try:
        found = sorted(path for path in folder.iterdir() if path.suffix in ENDINGS and not path.name.startswith("."))
    except OSError as error:
        raise not_there(text, "this folder can't be read", A_FOLDER) from error
    if not found:
        raise not_there(text, "there is no profile in this folder", A_FOLDER, "units")
    return tuple(found)


def _is_file(path: Path) -> bool:
    try:
        return path.exists() and not path.is_dir()
    except (OSError, ValueError):
        return False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def _folder() -> Traversable:
    package = files("portloom")
    installed = package / INSTALLED
    return installed if installed.is_dir() else Path(str(package)).parent.parent / "profiles"
