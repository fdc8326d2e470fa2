"""The two files of a call, read together, with where each thing stands in them."""

from pathlib import Path

from portloom.base.bike import Bike
from portloom.base.nearest import suggest
from portloom.base.unit import Unit
from portloom.base.values import dataclass
from portloom.cli.limit import clock_of
from portloom.cli.screen import patient
from portloom.inputs.checks.decided import unknown_ports
from portloom.inputs.files import (
    BikeAndSource,
    UnitAndSource,
    bike_and_source,
    find_unit,
    read_bike_with_positions,
    read_unit_with_positions,
)
from portloom.inputs.problems import BadFile, Problem
from portloom.rules.facts import At

SHORT = 50_000
"""Bytes."""


@dataclass(frozen=True)
class Files:
    """A bike and a unit as they were read, or a bike and two."""

    read_bike: BikeAndSource
    read_unit: UnitAndSource
    bundled_in: str = ""
    """The folder of a bundled unit, which is no concern of the user's."""
    second: UnitAndSource | None = None
    """The second of two units."""

    @property
    def bike(self) -> Bike:
        """The bike."""
        return self.read_bike.bike

    @property
    def unit(self) -> Unit:
        """The unit."""
        return self.read_unit.unit

    @property
    def units(self) -> tuple[Unit, ...]:
        """The unit, or both."""
        return (self.unit,) if self.second is None else (self.unit, self.second.unit)

    def where(self, at: At) -> str:
        """Return the file and line of a thing, or 'default' where neither file says it."""
        if at.file == "bike":
            return self.read_bike.source.where(at.path)
        if at.file != "unit":  # a built plan, which says itself where
            return ":".join(map(str, at.path))
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


def read_files(
    bike: Path, unit: str, second: str | None = None, *, limit: float | None = None, text: str | None = None
) -> Files:
    """Read a bike's file and a unit's, or two units'; raise BadFile with all that is wrong with any.

    ``text`` is what the bike's file holds, where that was read already.

    Raises TimeIsUp where a time limit of the call comes first, unless the bike's file is short.
    """
    with patient(bike, unit, *([second] if second else [])), clock_of(limit).held(unless=_is_short(bike)):
        return _read_files(bike, unit, second, text)


def _is_short(file: Path) -> bool:
    """Tell whether a file is read in a fraction of a second."""
    try:
        return file.stat().st_size <= SHORT
    except (OSError, ValueError):
        return True


def _read_files(bike: Path, unit: str, second: str | None, text: str | None) -> Files:
    problems: list[Problem] = []
    read = None
    profiles: list[UnitAndSource] = []
    for name in dict.fromkeys([unit, second or unit]):
        try:
            profiles.append(read_unit_with_positions(find_unit(name)))
        except BadFile as bad:
            problems += bad.problems
    try:
        modes = [mode for profile in profiles for mode in profile.unit.own_modes]
        read = read_bike_with_positions(bike, modes) if text is None else bike_and_source(text, str(bike), modes)
    except BadFile as bad:
        problems += bad.problems
    if read is not None and not problems:
        flaws = unknown_ports(read.source.root, [profile.unit for profile in profiles])
        problems += [Problem(read.source.file, *flaw[:4]) for flaw in flaws]
    if read is None or problems:
        raise BadFile(problems)
    bundled_in = "" if Path(unit).exists() else profiles[0].source.file.removesuffix(f"{unit}.yaml")
    return Files(read, profiles[0], bundled_in, None if second is None else profiles[-1])
