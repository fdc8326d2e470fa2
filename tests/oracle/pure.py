"""Every minimal conflict of bikes in which only ports, modes, kinds, bans and sums decide.

A constraint model in CPMpy, with a Boolean variable for each fact, all of them wanted true; the
enumeration is CPMpy's own, of the MARCO method (Liffiton et al., Constraints 21, 2016).
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, product
from typing import Any, NamedTuple

import cpmpy as cp
from cpmpy.tools.explain.marco import marco
from cpmpy.tools.explain.mus import mus

from .circuits import alike, groups
from .electrics import dims
from .facts import Key, facts_of
from .guards import is_bare_coil
from .job import Job
from .kinds import Kinds, kinds_of
from .reading import on_unit, read_bike
from .things import Load, Output

MATTERING = ("load", "current", "mode", "kind", "ban", "bank", "total", "outputs")


def all_minimal_conflicts(bike_text: str, unit_text: str) -> set[frozenset[Key]]:
    """Take a pure bike's and a unit's YAML; give the keys of each minimal conflict.

    Raises ValueError where more than ports, modes, kinds, bans and sums may decide.
    """
    facts, rows = _model(bike_text, unit_text)
    keys = {fact.name: key for key, fact in facts.items()}
    found = marco(list(facts.values()), rows, return_mcs=False)
    return {frozenset(keys[fact.name] for fact in conflict) for _, conflict in found}


def a_minimal_conflict(bike_text: str, unit_text: str) -> frozenset[Key]:
    """Take a pure bike's and a unit's YAML; give the keys of one minimal conflict.

    Raises ValueError as above, and AssertionError where there is none.
    """
    facts, rows = _model(bike_text, unit_text)
    keys = {fact.name: key for key, fact in facts.items()}
    return frozenset(keys[fact.name] for fact in mus(list(facts.values()), rows))


def _model(bike_text: str, unit_text: str) -> tuple[dict[Key, Any], list[Any]]:
    """Return a variable for each fact that matters, and all constraints."""
    bike = read_bike(bike_text)
    kinds = kinds_of(unit_text, bike.named_ports)
    job = Job(bike, kinds.unit)
    _check(job)
    facts = {key: cp.boolvar(name=" | ".join(key)) for key in facts_of(bike, kinds) if key[0] in MATTERING}
    return facts, list(_Crowd(job, kinds, facts).rows())


def _check(job: Job) -> None:
    """Raise ValueError unless some main fuse is above all trips, and all that is there is judged."""
    loads, most = on_unit(job.bike), max(job.fuses_ma, default=0)
    crowds = groups(loads, lambda one, other: one.share == other.share != "")
    for crowd, output in product(crowds, job.unit.outputs):
        asked = Fraction(5 * sum(load.current_ma for load in crowd), 4)
        if next((trip for trip in output.trips_ma if trip >= asked), most) >= most:
            msg = f"{[load.name for load in crowd]}: the trip of {output.name} decides"
            raise ValueError(msg)
    one_case = len([case for case in job.cases if case.on]) == 1
    if not one_case or job.bike.places[1:] or job.bike.switches or len(loads) < len(job.bike.loads):
        msg = "one place, one case, no switches and only loads on outputs are asked for"
        raise ValueError(msg)


class _Slot(NamedTuple):
    """A port of a kind, which is called by its first port; or, spare, all that the unit has not of that kind."""

    kind: str
    output: Output
    spare: bool


class _Crowd:
    """Loads on ports; where the number of a kind is dropped, each load may have a spare one of its own."""

    def __init__(self, job: Job, kinds: Kinds, facts: dict[Key, Any]) -> None:
        self.job, self.facts, self.loads = job, facts, on_unit(job.bike)
        self.slots = [
            _Slot(ports[0].name, port, spare)
            for ports in kinds.outputs
            for port, spare in [*((port, False) for port in ports), (ports[0], True)]
        ]
        self.on = {pair: cp.boolvar() for pair in product(self.loads, self.slots)}

    def rows(self) -> Iterator[Any]:
        """Return all constraints."""
        for load in self.loads:
            yield cp.sum([self.on[load, slot] for slot in self.slots]) == self.facts["load", load.name]
        for (load, slot), on in self.on.items():
            for keys in _against(load, slot):
                yield on.implies(cp.any([~self.facts[key] for key in keys]))
        yield from self._apart()
        yield from self._sums()

    def _apart(self) -> Iterator[Any]:
        real = [slot for slot in self.slots if not slot.spare]
        for (one, other), slot in product(combinations(self.loads, 2), real):
            both = self.on[one, slot] & self.on[other, slot]
            if one.share != other.share or not one.share:
                yield ~both
            elif not alike(self.job.bike, one, other):
                yield both.implies(~self.facts["ban", one.name, other.name])

    def _sums(self) -> Iterator[Any]:
        """Keep the unit's limit and each bank's; what is not there, or draws no current, adds nothing."""
        for key, limit in {("total", "unit"): self.job.unit.limit_ma, **self._banks()}.items():
            slots = [slot for slot in self.slots if key[0] == "total" or slot.output.bank == key[1]]
            drawn = [
                load.current_ma * (self.on[load, slot] & self.facts["current", load.name])
                for load, slot in product(self.loads, slots)
            ]
            yield self.facts[key].implies(cp.sum(drawn) <= limit)

    def _banks(self) -> dict[Key, int]:
        return {("bank", name): limit for name, limit in self.job.unit.banks.items()}


def _against(load: Load, slot: _Slot) -> Iterator[tuple[Key, ...]]:
    """Return sets of facts that each keep a load off a port."""
    if slot.spare:
        yield (("outputs", slot.kind),)
    if not load.modes <= slot.output.abilities:
        yield (("mode", load.name),)
    if slot.output.refuses_coils and is_bare_coil(load):
        yield (("kind", load.name),)
    if "dim" in load.modes and not dims(load):
        yield ("mode", load.name), ("kind", load.name)
