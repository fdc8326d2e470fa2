"""Names: no two things of a kind have the same one."""

from collections.abc import Iterable, Iterator

from portloom.inputs.problems import Flaw
from portloom.inputs.tree import Keyed, Listed, Word, entries, size_of, word

BIKE_LISTS = (
    (("loads", "later"), "load"),
    (("inputs",), "input"),
    (("places",), "place"),
    (("alongside",), "wire or pipe alongside"),
    (("multiplexers",), "multiplexer"),
)
UNIT_LISTS = ((("outputs",), "output"), (("inputs",), "input"))
PORTS = ((("outputs", "inputs"), "port"),)


def names_of_bike(bike: Keyed) -> Iterator[Flaw]:
    """Tell the names of a bike that stand twice, reels that do, and a load called as a relay will be."""
    yield from _twice(bike, BIKE_LISTS)
    yield from _relays(bike)
    yield from _reels(bike)


def names_of_unit(unit: Keyed) -> Iterator[Flaw]:
    """Tell the names of a unit's outputs and inputs that stand twice, among themselves or of one of each."""
    told = list(_twice(unit, UNIT_LISTS))
    yield from told or _twice(unit, PORTS)


def _twice(root: Keyed, lists: Iterable[tuple[tuple[str, ...], str]]) -> Iterator[Flaw]:
    for keys, kind in lists:
        seen: dict[str, Word] = {}
        for entry in entries(root, *keys):
            name = word(entry, "name")
            first = seen.setdefault(name.text, name) if name else None
            if name and first and first is not name:
                what = f"the {kind} in line {first.line} is called '{name.text}' too"
                yield Flaw.at(name, what, f"give each {kind} a name of its own")


def _relays(bike: Keyed) -> Iterator[Flaw]:
    loads = entries(bike, "loads")
    fed = [name.text for load in loads if (name := word(load, "name")) and _takes_a_coil(load)]
    for load in entries(bike, "loads", "later"):
        name = word(load, "name")
        if name and any(name.text == f"{other} relay" for other in fed):
            what = f"'{name.text}' is the name of the coil of the relay of '{name.text.removesuffix(' relay')}'"
            yield Flaw.at(name, what, "give this load another name")


def _takes_a_coil(load: Keyed) -> bool:
    fed = word(load, "fed")
    return fed is not None and fed.text == "relay" and "own_switch" not in load.values


def _reels(bike: Keyed) -> Iterator[Flaw]:
    reels = bike.values.get("reels")
    seen: dict[str, int] = {}
    for reel in reels.items if isinstance(reels, Listed) else ():
        size = size_of(reel.values.get("size") if isinstance(reel, Keyed) else reel)
        if size and seen.setdefault(size.label, id(reel)) != id(reel):
            yield Flaw.at(reel, f"the size {size.label} is on another reel already", "write each size once")
