"""Both plans laid side by side: which unit is which, and which wire of one is which of the other."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TypeVar

from portloom.base.figures import listed, seat_phrase
from portloom.base.values import dataclass
from portloom.documents.amounts import Json
from portloom.documents.difference.canonical import canonical, natural
from portloom.documents.difference.printed import OF_UNIT, PrintedPlan

Thing = TypeVar("Thing")
Rank = tuple[object, ...]


@dataclass(frozen=True)
class Circuit:
    """What shares one wire: the loads of an output, or the switches of an input or of a multiplexer's way."""

    port: str
    """With the unit's name before it where there are two."""
    names: tuple[str, ...]
    entry: Json
    said: tuple[str, str]
    """All of it, and its legs, each as a text that is the same for what says the same."""

    @classmethod
    def of(cls, port: str, names: Sequence[str], entry: Json) -> "Circuit":
        """Return what is on a port."""
        said = canonical(entry), canonical(entry.get("legs"))
        return cls(port, tuple(sorted(names, key=natural)), entry, said)


@dataclass(frozen=True)
class UnitPart:
    """What a plan tells of one unit; ``label`` tells it from another one, and is empty where there is none."""

    document: Json
    label: str = ""

    def called(self, name: str) -> str:
        """Return what a port or another thing of this unit is called."""
        return f"{self.label} {name}" if self.label else name

    @property
    def seat(self) -> str:
        """Say where it sits and which way round."""
        return seat_phrase(str(self.document["place"]), turned=self.document["turned"] is True)

    @cached_property
    def outputs(self) -> list[Circuit]:
        """What is on its outputs."""
        return [self._circuit(entry, entry["loads"]) for entry in self.document["outputs"]]

    @cached_property
    def inputs(self) -> list[Circuit]:
        """What is on its inputs, then on the ways of its multiplexers."""
        boxes = self.document["multiplexers"]
        ways = [
            Circuit.of(str(box.get("name")), [way["input"]], way)
            for box in boxes
            for way in box["inputs"]
            if isinstance(way, dict)
        ]
        return [*(self._circuit(entry, entry["inputs"]) for entry in self.document["inputs"]), *ways]

    def _circuit(self, entry: Json, names: Sequence[str]) -> Circuit:
        return Circuit.of(self.called(entry["port"]), names, entry)


@dataclass(frozen=True)
class Couple:
    """A circuit of the old plan and what became of it; one side is None where the other has none like it."""

    old: Circuit | None
    new: Circuit | None

    @property
    def name(self) -> str:
        """Return what both are called: by their port where that is one, else by what is on them."""
        found = [circuit for circuit in (self.old, self.new) if circuit is not None]
        ports = {circuit.port for circuit in found}
        if len(ports) == 1 and "port" in found[0].entry:
            return found[0].port
        shared = set.intersection(*(set(circuit.names) for circuit in found))
        return listed(sorted(shared, key=natural)) or " / ".join(sorted(ports, key=natural))


# --- what belongs together


def coupled(
    old: Sequence[Thing], new: Sequence[Thing], rank_of: Callable[[Thing, Thing], Rank | None]
) -> Iterator[tuple[Thing | None, Thing | None]]:
    """Return things of both sides in couples, the best first, then what is left alone.

    ``rank_of`` is the least for the best couple, None where two do not go together, and the same whichever comes first.
    """
    ranked = sorted(
        (rank, at, other)
        for at, one in enumerate(old)
        for other, two in enumerate(new)
        if (rank := rank_of(one, two)) is not None
    )
    before, after = dict(enumerate(old)), dict(enumerate(new))
    for _, at, other in ranked:
        if at in before and other in after:
            yield before.pop(at), after.pop(other)
    yield from ((thing, None) for thing in before.values())
    yield from ((None, thing) for thing in after.values())


def couples(old: Sequence[Circuit], new: Sequence[Circuit]) -> list[Couple]:
    """Return the circuits of both sides in couples, in the order of their names."""
    found = [Couple(*both) for both in coupled(_ordered(old), _ordered(new), _alike)]
    return sorted(found, key=lambda couple: (natural(couple.name), _text(couple.old) + _text(couple.new)))


def _ordered(circuits: Sequence[Circuit]) -> list[Circuit]:
    return sorted(circuits, key=_text)


def _text(circuit: Circuit | None) -> str:
    return "" if circuit is None else circuit.said[0]


def _alike(one: Circuit, two: Circuit) -> Rank | None:
    """Rank two circuits: most in common first, then what is alike but for that."""
    common = sum((Counter(one.names) & Counter(two.names)).values())
    apart = len(one.names) + len(two.names) - 2 * common
    legs = one.said[1] != two.said[1]
    if not common and (one.port != two.port or legs or ("port" in one.entry) != ("port" in two.entry)):
        return None
    return -common, apart, one.port != two.port, legs, *sorted((_text(one), _text(two)))


# --- units


@dataclass(frozen=True)
class Sides:
    """Both plans: what is the bike's, and its units in couples."""

    old: Json
    new: Json
    units: tuple[tuple[UnitPart | None, UnitPart | None], ...]

    @property
    def old_units(self) -> list[UnitPart]:
        """The units of the old plan."""
        return [old for old, _ in self.units if old is not None]

    @property
    def new_units(self) -> list[UnitPart]:
        """The units of the new one."""
        return [new for _, new in self.units if new is not None]


def sides(old: PrintedPlan, new: PrintedPlan) -> Sides:
    """Lay two plans side by side."""
    before, after = _parts(old.document), _parts(new.document)
    both = _whole(old.document), _whole(new.document)
    if len(before) == len(after) == 1:
        return Sides(*both, ((before[0], after[0]),))
    found = sorted([*coupled(before, after, _alike_units)], key=_unit_order)
    return Sides(*both, tuple(_labelled(found)))


def _parts(document: Json) -> list[UnitPart]:
    """Return a plan's units; what is told of a unit's wires and warnings stays with it where there are two."""
    if "units" in document:
        return [UnitPart(part) for part in document["units"]]
    return [UnitPart({key: document[key] for key in OF_UNIT})]


def _whole(document: Json) -> Json:
    """Return what is told of the bike, whatever units are on it."""
    of_units = {"units", *OF_UNIT} if "units" not in document else {"units"}
    return {key: value for key, value in document.items() if key not in of_units}


def _alike_units(one: UnitPart, two: UnitPart) -> Rank:
    names, places = ([str(part.document.get(key)) for part in (one, two)] for key in ("unit", "place"))
    loads = [{name for circuit in part.outputs for name in circuit.names} for part in (one, two)]
    texts = sorted((canonical(one.document), canonical(two.document)))
    return names[0] != names[1], places[0] != places[1], -len(loads[0] & loads[1]), *texts


def _unit_order(both: tuple[UnitPart | None, UnitPart | None]) -> list[tuple[str, str]]:
    return sorted(natural(canonical(part.document)) for part in both if part is not None)


def _labelled(
    found: Iterable[tuple[UnitPart | None, UnitPart | None]],
) -> Iterator[tuple[UnitPart | None, UnitPart | None]]:
    """Return the units of two plans by names: their own, with a number where a plan has one twice."""
    seen: Counter[str] = Counter()
    found = list(found)
    for old, new in found:
        names = {str(part.document.get("unit")) for part in (old, new) if part is not None}
        seen.update(names)
        numbers = {name: f" {seen[name]}" if _times(found, name) > 1 else "" for name in names}
        yield _named(old, numbers), _named(new, numbers)


def _times(found: Sequence[tuple[UnitPart | None, UnitPart | None]], name: str) -> int:
    return sum(name in {str(part.document.get("unit")) for part in both if part is not None} for both in found)


def _named(part: UnitPart | None, numbers: dict[str, str]) -> UnitPart | None:
    if part is None:
        return None
    name = str(part.document.get("unit"))
    return replace(part, label=f"{name}{numbers[name]}")
