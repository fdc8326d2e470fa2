"""Reads a bike and a unit, or tells every mistake in them at once."""

from collections.abc import Collection, Iterator
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.inputs.checks.decided import decided_flaws
from portloom.inputs.checks.frame import leg_flaws, point_flaws
from portloom.inputs.checks.loads import input_flaws, load_flaws
from portloom.inputs.checks.names import names_of_bike, names_of_unit
from portloom.inputs.checks.ports import port_flaws
from portloom.inputs.checks.settings import event_flaws, set_aside, setting_flaws
from portloom.inputs.checks.sharing import sharing_flaws
from portloom.inputs.checks.shows import shows_flaws
from portloom.inputs.checks.wires import wire_flaws
from portloom.inputs.expanding import expand
from portloom.inputs.fields import build
from portloom.inputs.foresight import all_at_once
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.parts.filling import Filled, filled
from portloom.inputs.parts.questions import questions
from portloom.inputs.parts.resolving import with_known_modes
from portloom.inputs.problems import Flaw, about, refuse
from portloom.inputs.profiles import bundled_units, find_unit, find_units
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE, RULE_SLUGS
from portloom.inputs.tree import Keyed, Source, keyed

__all__ = [
    "BikeAndSource",
    "UnitAndSource",
    "bike_and_source",
    "bike_from_text",
    "bundled_units",
    "find_unit",
    "find_units",
    "read_bike",
    "read_bike_with_positions",
    "read_unit",
    "read_unit_with_positions",
    "unit_and_source",
    "unit_from_text",
]
"""All that reads the two files, and what finds a unit's."""
CHECKS = (
    (point_flaws, "looms"), (leg_flaws, "looms"), (load_flaws, "parts"), (input_flaws, "parts"),
    (event_flaws, "states"), (sharing_flaws, "sharing"), (wire_flaws, "looms"), (setting_flaws, "keys"),
    (shows_flaws, "parts"), (decided_flaws, "keys"),
)  # fmt: skip
"""What judges a bike's tree, and the topic of ``portloom help`` that has more on what it tells."""


class BikeAndSource(NamedTuple):
    """A bike, and where its file says each thing."""

    bike: Bike
    source: Source


def read_bike(path: Path | Traversable, own_modes: Collection[str] = ()) -> Bike:
    """Return the bike in the file at ``path``; raise BadFile with all that is wrong in it, or must be asked.

    ``own_modes`` are the modes that its units have beside the usual ones.
    """
    return read_bike_with_positions(path, own_modes).bike


def read_bike_with_positions(path: Path | Traversable, own_modes: Collection[str] = ()) -> BikeAndSource:
    """Return the bike in the file at ``path`` and where each thing stands; raise BadFile."""
    return bike_and_source(file_text(path), str(path), own_modes)


def bike_from_text(text: str, name: str, own_modes: Collection[str] = ()) -> Bike:
    """Return the bike that ``text`` describes; raise BadFile, with ``name`` as its file."""
    return bike_and_source(text, name, own_modes).bike


def bike_and_source(text: str, name: str, own_modes: Collection[str] = ()) -> BikeAndSource:
    """Return the bike that ``text`` describes and where each thing stands; raise BadFile."""
    parsed = parse(text, name, "bike")
    _is_a(parsed.root, "bike", name)
    whole, bike, flaws = _judged(parsed.root, own_modes)
    if bike is None or flaws or parsed.flaws:
        ahead = all_at_once(parsed.root, flaws, lambda root: _judged(root, own_modes).flaws)
        raise refuse(name, [*parsed.flaws, *ahead])
    return BikeAndSource(bike.having_read(whole.as_read), Source(name, parsed.root, whole.numbers))


class _Judged(NamedTuple):
    """A bike's tree with all that its parts bring, the typed bike, and what is wrong or asked."""

    whole: Filled
    bike: Bike | None
    flaws: list[Flaw]


def _judged(root: Keyed, own_modes: Collection[str]) -> _Judged:
    whole = filled(root, own_modes)
    bike, flaws = build(Bike, whole.root)
    asked = questions(whole.bike, _put_aside(root))
    told = (*about("keys", flaws), *about("parts", whole.flaws), *_checked(whole.root), *about("parts", asked))
    return _Judged(whole, bike, [*told])


OF_FILE = {"bike": ("bike", "loads", "frame", "supply"), "unit": ("unit", "outputs", "feed")}
"""The keys by which a bike's file and a unit's are known."""
OF_ANSWERS = "new"
"""The key by which answers to the questions of 'portloom new' are known."""
SAID_AS = {"bike": "a bike's file", "unit": "a unit's file", "answers": "a file of answers"}
WHERE = {
    "bike": "give it as the BIKE of the call",
    "unit": "give it after --unit",
    "answers": "give the file that was made of them; 'portloom new' makes one with --answers",
}


def _is_a(root: Keyed, wanted: str, name: str) -> None:
    """Raise BadFile where a file is plainly of the other sort, and nothing else is told of it."""
    other = next(sort for sort in OF_FILE if sort != wanted)
    keys = set(root.values)
    found = "answers" if OF_ANSWERS in keys else other
    if found == "answers" or (not keys & set(OF_FILE[wanted]) and keys & set(OF_FILE[other])):
        what = f"this is {SAID_AS[found]}, and {SAID_AS[wanted]} is wanted here"
        raise refuse(name, [Flaw(root.line, root.column, what, WHERE[found])])


def _put_aside(root: Keyed) -> tuple[str, ...]:
    """Return the rules that a bike's file sets aside."""
    rules = keyed(root, "set_aside")
    return tuple(rules.keys) if rules else ()


def _checked(root: Keyed) -> Iterator[Flaw]:
    for check, topic in CHECKS:
        yield from about(topic, check(root))
    yield from about("files", names_of_bike(root))
    yield from about("rules", set_aside(root, RULE_SLUGS, NEVER_SET_ASIDE))


class UnitAndSource(NamedTuple):
    """A unit, and where its profile says each thing."""

    unit: Unit
    source: Source


def read_unit(path: Path | Traversable) -> Unit:
    """Return the unit in the file at ``path``; raise BadFile with all that is wrong in it."""
    return read_unit_with_positions(path).unit


def read_unit_with_positions(path: Path | Traversable) -> UnitAndSource:
    """Return the unit in the file at ``path`` and where each thing stands; raise BadFile."""
    return unit_and_source(file_text(path), str(path))


def unit_from_text(text: str, name: str) -> Unit:
    """Return the unit that ``text`` describes; raise BadFile, with ``name`` as its file."""
    return unit_and_source(text, name).unit


def unit_and_source(text: str, name: str) -> UnitAndSource:
    """Return the unit that ``text`` describes and where each thing stands; raise BadFile."""
    parsed = parse(text, name, "unit")
    _is_a(parsed.root, "unit", name)
    expanded, doubled = expand(parsed.root)
    root, unknown = with_known_modes(expanded)
    unit, flaws = build(Unit, root)
    told = [*parsed.flaws, *about("keys", flaws), *about("modes", unknown)]
    told += about("units", (*doubled, *names_of_unit(root), *port_flaws(root)))
    if unit is None or told:
        raise refuse(name, told)
    return UnitAndSource(unit, Source(name, root))
