"""The bikes and units of a comparison: many files, read at once, with all that is wrong in any of them."""

from collections.abc import Callable, Iterable, Sequence
from importlib.resources.abc import Traversable
from itertools import combinations_with_replacement
from pathlib import Path
from typing import Generic, TypeVar

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.cli.screen import patient
from portloom.comparing.tables import joined
from portloom.inputs.files import bike_and_source, bundled_units, find_units, unit_and_source
from portloom.inputs.parsing import file_text
from portloom.inputs.problems import BadFile, Problem

FileModel = TypeVar("FileModel", Bike, Unit)


@dataclass(frozen=True)
class ReadFile(Generic[FileModel]):
    """A bike or a unit, its file as it is told, and the text in it."""

    model: FileModel
    file: str
    text: str


@dataclass(frozen=True)
class FilesToCompare:
    """What is compared."""

    bikes: tuple[ReadFile[Bike], ...]
    units: tuple[ReadFile[Unit], ...]
    named: bool
    """False where they are the bundled units, as none was named."""


def read_files_to_compare(bikes: Sequence[Path], units: Sequence[str], *, two_units: bool = False) -> FilesToCompare:
    """Read every bike and every unit, each file once; without ``units``, the bundled ones, the smallest first.

    Raise BadFile with all that is wrong in any file, or where two units have the same name; with ``two_units`` also
    where one is called as two others are together.
    """
    problems: list[Problem] = []
    with patient(*bikes, *units):
        read_units = _all(_unit_files(units, problems), _unit, problems)
        read_bikes = _all(((path, _told(path)) for path in bikes), _bike_for(read_units), problems)
    if not units:
        read_units.sort(key=lambda read: len(read.model.outputs))
    problems += _same_names(read_units)
    if two_units:
        problems += _names_of_two(read_units)
    if problems:
        raise BadFile(problems)
    return FilesToCompare(tuple(read_bikes), tuple(read_units), bool(units))


def _told(path: Path) -> str:
    """Return a path as text; bytes in it that are no letters are told by a sign that stands for them."""
    return str(path).encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def _bike_for(units: Sequence[ReadFile[Unit]]) -> Callable[[Path | Traversable, str], ReadFile[Bike]]:
    """Return what reads a bike's file, with the modes that any of the units has as its own."""
    modes = [mode for unit in units for mode in unit.model.own_modes]

    def read(file: Path | Traversable, told: str) -> ReadFile[Bike]:
        text = file_text(file)
        return ReadFile(bike_and_source(text, str(file), modes).bike, told, text)

    return read


def _unit(file: Path | Traversable, told: str) -> ReadFile[Unit]:
    text = file_text(file)
    return ReadFile(unit_and_source(text, str(file)).unit, told, text)


def _unit_files(said: Sequence[str], problems: list[Problem]) -> list[tuple[Path | Traversable, str]]:
    """Return each unit's file, and what it is told by: bundled ones by their names."""
    bundled = bundled_units()
    if not said:
        return [(file, name) for name, file in bundled]
    names = {str(file): name for name, file in bundled}
    found: list[tuple[Path | Traversable, str]] = []
    for text in said:
        try:
            found += [(file, names.get(str(file), _told(Path(str(file))))) for file in find_units(text)]
        except BadFile as bad:
            problems += bad.problems
    return found


def _all(
    files: Iterable[tuple[Path | Traversable, str]],
    read: Callable[[Path | Traversable, str], ReadFile[FileModel]],
    problems: list[Problem],
) -> list[ReadFile[FileModel]]:
    """Read files, one that is named twice once."""
    found: dict[str, ReadFile[FileModel]] = {}
    for file, told in files:
        try:
            key = str(Path(str(file)).resolve())
            if key not in found:
                found[key] = read(file, told)
        except BadFile as bad:
            problems += bad.problems
    return list(found.values())


def _same_names(units: Sequence[ReadFile[Unit]]) -> Iterable[Problem]:
    first: dict[str, str] = {}
    for read in units:
        name = read.model.unit
        if name in first:
            what = f"the unit '{name}' of {first[name]} has the same name"
            yield Problem(read.file, 1, 1, what, "give each unit a name of its own, or leave one of them out")
        first.setdefault(name, read.file)


def _names_of_two(units: Sequence[ReadFile[Unit]]) -> Iterable[Problem]:
    files = {read.model.unit: read.file for read in units}
    taken: set[str] = set()
    for two in combinations_with_replacement(files, 2):
        name = joined(two)
        if name in files:
            what = f"the unit '{name}' has the name that {two[0]} and {two[1]} have together"
            yield Problem(files[name], 1, 1, what, "give it another name, or leave it out")
        elif name in taken:
            what = f"two pairs of units are both called '{name}'"
            yield Problem(files[two[0]], 1, 1, what, "give the unit another name, or leave it out")
        taken.add(name)
