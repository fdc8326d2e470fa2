"""Every choice of changes to a bike, tried one after another: written into its text, and judged by another program.

Which changes there are is what the project proposes. Whether one makes the bike fit is told by ``oracle``, which
shares no code with the project.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from typing import TypeVar

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching

from oracle.circuits import circuit, may_join, may_share
from oracle.electrics import input_fits, trip_ma
from oracle.highs import optimum
from oracle.job import Job as Judged
from oracle.kept import some_plan
from oracle.profiles import read_unit
from oracle.reading import on_unit, read_bike
from oracle.sites import every_site
from oracle.things import Load, Output
from oracle.things import Unit as ReadUnit
from portloom.base.bike import Bike
from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.edits import edits_of
from portloom.explaining.fixes.fix import made
from portloom.explaining.fixes.space import all_changes, excluded, implied
from portloom.inputs.editing.editing import edited
from portloom.inputs.files import BikeAndSource, unit_from_text
from portloom.job.job import Job
from portloom.rules.book import rules_of
from unasked import bike_and_source

Thing = TypeVar("Thing")
Port = TypeVar("Port")
Choice = tuple[int, ...]
"""Changes by their numbers, in order."""


@dataclass(frozen=True)
class Trial:
    """A bike, the unit that it is to have, and the units that may take its place, all as text."""

    bike_text: str
    unit_text: str
    known_texts: tuple[str, ...] = ()

    @cached_property
    def _read(self) -> BikeAndSource:
        return bike_and_source(self.bike_text, "bike", self.unit.own_modes)

    @property
    def bike(self) -> Bike:
        return self._read.bike

    @cached_property
    def unit(self) -> Unit:
        return unit_from_text(self.unit_text, "unit")

    @cached_property
    def known(self) -> tuple[Unit, ...]:
        return tuple(unit_from_text(text, "unit") for text in self.known_texts)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """Every change that the project proposes."""
        job = Job(self.bike, self.unit)
        return all_changes(Instance(job, rules_of(job)), self.known)

    def effort(self, choice: Choice) -> int:
        """Return the efforts of some changes, summed."""
        return sum(self.changes[number].effort for number in choice)

    def choices(self, most: int | None = None) -> list[Choice]:
        """Return every choice of changes whose efforts add up to ``most`` at most, least effort first.

        Each makes one change at least, and no two that exclude one another.
        """
        every: list[Choice] = [()]
        for number in range(len(self.changes)):
            joined = ((*choice, number) for choice in every if not any((n, number) in self._apart for n in choice))
            every += [choice for choice in joined if most is None or self.effort(choice) <= most]
        made = [choice for choice in every if choice and self._in_order(choice)]
        return sorted(made, key=lambda choice: (self.effort(choice), choice))

    @cached_property
    def _apart(self) -> frozenset[Choice]:
        """Each two changes of which one is made at most."""
        return frozenset(pair for some in excluded(self.changes) for pair in combinations(sorted(some), 2))

    def _in_order(self, choice: Choice) -> bool:
        """What a change needs is made with it, and each has something to change."""
        needed = (set(some) for some, (number,) in implied(self.changes) if number in choice)
        return all(not some.isdisjoint(choice) for some in needed) and self.target(choice) is not None

    def target(self, choice: Choice) -> Target | None:
        """Return the bike and its unit with these changes; None where one has nothing to change."""
        return made((self.bike, self.unit), [self.changes[number] for number in choice])

    def texts(self, choice: Choice) -> tuple[str, str]:
        """Return the text of the bike with these changes, and that of its unit."""
        target = self.target(choice)
        assert target is not None
        units = {self.unit.unit: self.unit_text}
        units |= {unit.unit: text for unit, text in zip(self.known, self.known_texts, strict=True)}
        return edited(self.bike_text, tuple(edits_of(self.bike, target[0], self._read.source))), units[target[1].unit]

    @cached_property
    def _units(self) -> dict[str, ReadUnit]:
        return {text: read_unit(text) for text in (self.unit_text, *self.known_texts)}

    def fits(self, choice: Choice) -> bool:
        """Tell whether there is a plan with these changes."""
        if choice not in self._judged:
            self._judged[choice] = self._has_plan(choice)
        return self._judged[choice]

    @cached_property
    def _judged(self) -> dict[Choice, bool]:
        return {}

    def _has_plan(self, choice: Choice) -> bool:
        bike_text, unit_text = self.texts(choice)
        job = Judged(read_bike(bike_text), self._units[unit_text])
        if lacks_ports(job) or draws_too_much(job):
            return False
        return any(some_plan(site) is not None for site in every_site(job))

    def cost(self, choice: Choice) -> int | None:
        """Return what the best plan with these changes costs (um); None if there is none."""
        return optimum(*self.texts(choice)).cost_um


def minimal_fixes(trial: Trial, choices: Sequence[Choice]) -> Iterator[Choice]:
    """Return each choice that has a plan and of which no part has one; ``choices`` come with the least effort first."""
    found: list[frozenset[int]] = []
    for choice in choices:
        if not any(fix.issubset(choice) for fix in found) and trial.fits(choice):
            found.append(frozenset(choice))
            yield choice


# --- what can be told before anything is laid


def lacks_ports(job: Judged) -> bool:
    """Tell whether loads, or switches, of which no two may share are more than their ports, one port each."""
    bike, unit = job.bike, job.unit

    def drives(load: Load, output: Output) -> bool:
        return trip_ma(circuit(bike, [load]), output) is not None

    loads = _apart(on_unit(bike), lambda one, other: may_share(bike, one, other))
    if _too_few(loads, unit.outputs, drives):
        return True
    return not bike.multiplexers and _too_few(_apart(bike.switches, may_join), unit.inputs, input_fits)


def _apart(things: Iterable[Thing], together: Callable[[Thing, Thing], bool]) -> list[Thing]:
    """Return some things of which no two may be on one port."""
    chosen: list[Thing] = []
    for thing in things:
        if not any(together(thing, other) for other in chosen):
            chosen.append(thing)
    return chosen


def _too_few(things: Sequence[Thing], ports: Sequence[Port], takes: Callable[[Thing, Port], bool]) -> bool:
    able = csr_array(np.array([[takes(thing, port) for port in ports] for thing in things], dtype=bool, ndmin=2))
    return bool(things) and (maximum_bipartite_matching(able, perm_type="column") < 0).any()


def draws_too_much(job: Judged) -> bool:
    """Tell whether the loads of the unit draw more in some case than it passes, on whichever outputs they are."""
    loads = on_unit(job.bike)
    return any(sum(load.current_ma for load in loads if load.name in case.on) > job.unit.limit_ma for case in job.cases)
