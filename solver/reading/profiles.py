"""The unit profiles that come with the program, and finding a unit by name or by file."""

from collections.abc import Iterable
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from solver.reading.problems import Flaw, refuse
from solver.words.nearest import either, several_nearest

ENDINGS = (".yaml", ".yml")
INSTALLED = "_profiles"
"""Where an installed program has them, inside the package; a checkout has them beside it."""
A_FOLDER = "give one with units' files, *.yaml, or a bundled unit's name"


def bundled_units() -> tuple[tuple[str, Traversable], ...]:
    """Return the name and the file of each bundled profile, by name."""
    found = {Path(file.name).stem: file for file in _folder().iterdir() if file.name.endswith(ENDINGS)}
    return tuple(sorted(found.items(), key=lambda pair: pair[0]))


def find_unit(text: str) -> Path | Traversable:
    """Return the file that ``text`` names: a path, or a bundled profile's name.

    Raise BadFile if there is neither.
    """
    bundled = dict(bundled_units())
    if _is_file(Path(text)):
        return Path(text)
    if text in bundled:
        return bundled[text]
    if text.endswith(ENDINGS) or "/" in text or "\\" in text:
        return Path(text)  # reading it says why it can't be opened
    what = f"there is no such file, and no bundled unit is called '{text}'"
    raise refuse(text, [Flaw(1, 1, what, f"give a file, or one of {either(_near(text, bundled))}")])


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
        raise refuse(text, [Flaw(1, 1, "this folder can't be read", A_FOLDER)]) from error
    if not found:
        raise refuse(text, [Flaw(1, 1, "there is no profile in this folder", A_FOLDER)])
    return tuple(found)


def _near(text: str, names: Iterable[str]) -> tuple[str, ...]:
    return several_nearest(text, names) or tuple(names)


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
    package = files("solver")
    installed = package / INSTALLED
    return installed if installed.is_dir() else Path(str(package)).parent / "profiles"
