"""The two files of a call, read together, with where each thing stands in them."""

from dataclasses import dataclass
from pathlib import Path

from portloom.base.bike import Bike
from portloom.base.nearest import suggest
from portloom.base.unit import Unit
from portloom.inputs.problems import BadFile, Problem
from portloom.inputs.reading import (
    BikeAndSource,
    UnitAndSource,
    find_unit,
    read_bike_with_positions,
    read_unit_with_positions,
)
from portloom.rules.facts import At


@dataclass(frozen=True)
class Files:
    """A bike and a unit as they were read."""

    read_bike: BikeAndSource
    read_unit: UnitAndSource
    bundled_in: str = ""
    """The folder of a bundled unit, which is no concern of the user's."""

    @property
    def bike(self) -> Bike:
        """The bike."""
        return self.read_bike.bike

    @property
    def unit(self) -> Unit:
        """The unit."""
        return self.read_unit.unit

    def where(self, at: At) -> str:
        """Return the file and line of a thing, or 'default' where neither file says it."""
        if at.file == "bike":
            return self.read_bike.source.where(at.path)
        return self.read_unit.source.where(at.path).removeprefix(self.bundled_in)

    def check_place(self, place: str | None) -> None:
        """Raise BadFile where the bike has no place of that name."""
        names = [known.name for known in self.bike.places]
        if place is not None and place not in names:
            raise self.unknown(f"the bike has no place '{place}'", ("places",), suggest(place, names))

    def unknown(self, what: str, path: tuple[str | int, ...], right: str) -> BadFile:
        """Return what is told where a call names a thing that the bike does not have."""
        line, column = self.read_bike.source.at(path)
        return BadFile([Problem(self.read_bike.source.file, line, column, what, right)])


def read_files(bike: Path, unit: str) -> Files:
    """Read both files; raise BadFile with all that is wrong with either."""
    problems: list[Problem] = []
    read = profile = None
    try:
        read = read_bike_with_positions(bike)
    except BadFile as bad:
        problems += bad.problems
    try:
        profile = read_unit_with_positions(find_unit(unit))
    except BadFile as bad:
        problems += bad.problems
    if read is None or profile is None:
        raise BadFile(problems)
    return Files(read, profile, "" if Path(unit).exists() else profile.source.file.removesuffix(f"{unit}.yaml"))
