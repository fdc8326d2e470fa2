"""Reads a bike and a unit, or tells every mistake in them at once; and finds units by name."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import NamedTuple

from portloom.base.bike import Bike
from portloom.base.nearest import close_matches, or_list
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
from portloom.inputs.fields import build
from portloom.inputs.foresight import all_at_once
from portloom.inputs.parsing import file_text, parse
from portloom.inputs.parts.filling import Filled, filled
from portloom.inputs.parts.questions import questions
from portloom.inputs.parts.resolving import with_known_modes
from portloom.inputs.problems import Flaw, refuse
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE, RULE_SLUGS
from portloom.inputs.tree import Broken, Keyed, Listed, Node, Source, Word, keyed, words

CHECKS = (
    point_flaws, leg_flaws, load_flaws, input_flaws, event_flaws, sharing_flaws, wire_flaws, setting_flaws,
    shows_flaws, decided_flaws,
)  # fmt: skip


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
    flaws += [*whole.flaws, *_checked(whole.root), *questions(whole.bike, _put_aside(root))]
    return _Judged(whole, bike, flaws)


OF_FILE = {"bike": ("bike", "loads", "frame", "supply"), "unit": ("unit", "outputs", "feed")}
"""The keys by which a bike's file and a unit's are known."""
SAID_AS = {"bike": "a bike's file", "unit": "a unit's file"}
WHERE = {"bike": "give it as the BIKE of the call", "unit": "give it after --unit"}


def _is_a(root: Keyed, wanted: str, name: str) -> None:
    """Raise BadFile where a file is plainly of the other sort, and nothing else is told of it."""
    found = next(sort for sort in OF_FILE if sort != wanted)
    keys = set(root.values)
    if not keys & set(OF_FILE[wanted]) and keys & set(OF_FILE[found]):
        what = f"this is {SAID_AS[found]}, and {SAID_AS[wanted]} is wanted here"
        raise refuse(name, [Flaw(root.line, root.column, what, WHERE[found])])


def _put_aside(root: Keyed) -> tuple[str, ...]:
    """Return the rules that a bike's file sets aside."""
    rules = keyed(root, "set_aside")
    return tuple(rules.keys) if rules else ()


def _checked(root: Keyed) -> Iterator[Flaw]:
    for check in CHECKS:
        yield from check(root)
    yield from names_of_bike(root)
    yield from set_aside(root, RULE_SLUGS, NEVER_SET_ASIDE)


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
    flaws += [*parsed.flaws, *doubled, *unknown, *names_of_unit(root), *port_flaws(root)]
    if unit is None or flaws:
        raise refuse(name, flaws)
    return UnitAndSource(unit, Source(name, root))


LISTS = ("outputs", "inputs")


class Expanded(NamedTuple):
    """A unit's tree with one entry for each output and input, and what was wrong with their names."""

    root: Keyed
    flaws: tuple[Flaw, ...]


def expand(root: Keyed) -> Expanded:
    """Return ``root`` with every ``names`` of its outputs and inputs written out; the order stays."""
    flaws: list[Flaw] = []
    values = dict(root.values)
    for key in LISTS:
        several = values.get(key)
        if isinstance(several, Listed):
            items = tuple(single for item in several.items for single in _singles(item, flaws))
            values[key] = Listed(items, several.line, several.column)
    return Expanded(Keyed(root.keys, values, root.line, root.column), tuple(flaws))


def _singles(item: Node, flaws: list[Flaw]) -> list[Node]:
    if not isinstance(item, Keyed) or "names" not in item.values:
        return [item]
    rest = {key: value for key, value in item.values.items() if key != "names"}
    if "name" in rest:
        flaws.append(Flaw.at(item.keys["names"], "both 'name' and 'names' are given", "keep one of the two"))
        return [_entry(item, rest, rest["name"])]
    names = _names(item, flaws)
    return [_entry(item, rest, name) for name in names]


def _names(item: Keyed, flaws: list[Flaw]) -> list[Node]:
    value = item.values["names"]
    listed = value.items if isinstance(value, Listed) else (value,)
    found = words(item, "names")
    if len(found) == len(listed) and found:
        return list(found)
    if not any(isinstance(part, Broken) for part in listed):
        flaws.append(Flaw.at(item.keys["names"], "'names' is not a list of names", "write it such as [out 1, out 2]"))
    return [*found, *(part for part in listed if isinstance(part, Broken))] or [Broken(item.line, item.column)]


def _entry(item: Keyed, rest: Mapping[str, Node], name: Node) -> Keyed:
    keys: dict[str, Word] = {key: word for key, word in item.keys.items() if key != "names"}
    keys.setdefault("name", item.keys.get("names", item.keys.get("name", Word("name", item.line, item.column))))
    return Keyed(keys, {"name": name, **rest}, item.line, item.column)


ENDINGS = (".yaml", ".yml")
INSTALLED = "_profiles"
"""Where an installed program has them, inside the package; a checkout has them at its top level."""
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
    right = f"give a file, or one of {or_list(_near(text, bundled))}"
    raise refuse(text.strip() or "--unit", [Flaw(1, 1, what, right)])


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
    return close_matches(text, names) or tuple(names)


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
