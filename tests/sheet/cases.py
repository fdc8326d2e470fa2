"""Every case that may come: a state with any events that may come together, and what is on in it."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, combinations

from oracle.cases import STATES
from oracle.things import Load

from .tables import RELAY_COIL_MA, F
from .things import Bike
from .wires import Tip


@dataclass(frozen=True)
class Case:
    """A state and what happens in it."""

    state: str
    events: frozenset[str]

    def has(self, words: frozenset[str], never: frozenset[str] = frozenset()) -> bool:
        """Tell whether something is on that is on in some states or at some events, and never in others."""
        here = self.events | {self.state}
        return bool(here & words) and not here & never


def case_named(label: str) -> Case:
    """Return the case of a label such as 'day, braking + horn'."""
    state, _, events = label.partition(", ")
    return Case(state, frozenset(events.split(" + ")) if events else frozenset())


def cases_of(bike: Bike) -> Iterator[Case]:
    """Return every case of a bike in which events come that something is on at, or never at."""
    heard = frozenset().union(
        *(load.when | load.barred for load in bike.loads), *(one.when for one in bike.read.alongside)
    )
    for state in STATES:
        may = [name for name, states in bike.read.events.items() if state in states and name in heard]
        for events in chain.from_iterable(combinations(may, count) for count in range(len(may) + 1)):
            if not any(frozenset(pair) in bike.read.excluded for pair in combinations(events, 2)):
                yield Case(state, frozenset(events))


class Currents:
    """What is drawn in a case: mA, steady or while cranking."""

    def __init__(self, bike: Bike, case: Case) -> None:
        """Take a bike and a case."""
        self.bike, self.case = bike, case
        own = {load.name for load in bike.loads if not load.feeders and case.has(load.when, load.barred)}
        self.on = own | {load.name for load in bike.loads if own & load.feeders}

    def of(self, load: Load, circuit: tuple[str, ...] = ()) -> Fraction:
        """Return what a load takes, in a circuit that must itself be on for it to be fed."""
        fed = not load.feeders or not circuit or bool(self.on & load.feeders & set(circuit))
        return F(load.current_ma if load.name in self.on and fed else 0)

    def at(self, tip: Tip, circuit: tuple[str, ...]) -> Fraction:
        """Return what is drawn where a wire of a circuit ends."""
        return self.of(tip.load, circuit) if tip.load else F(0)

    def coil(self, load: Load) -> Fraction:
        """Return what the coil of a load's relay takes, which is on when the load is."""
        return F(RELAY_COIL_MA if load.name in self.on else 0)
