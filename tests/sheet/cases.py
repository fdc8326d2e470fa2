"""Every case that may come: a state with any events that may come together, and what is on in it."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain, combinations

from .entries import several
from .loads import KEY_ON, Load
from .tables import RELAY_COIL_MA, F
from .things import Bike

STATES = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")
EVENTS: dict[str, tuple[str, ...]] = {
    "braking": KEY_ON,
    "indicating left": KEY_ON,
    "indicating right": KEY_ON,
    "hazard": KEY_ON,
    "main beam": KEY_ON,
    "flashing the main beam": KEY_ON,
    "horn": KEY_ON,
    "fan running": ("run-on", *KEY_ON),
}
ONE_OF = frozenset(("indicating left", "indicating right", "hazard"))


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
    """Return every case of a bike."""
    come_in = EVENTS | {name: tuple(several(said["in"])) for name, said in bike.events.items()}
    for state in STATES:
        may = [name for name, states in come_in.items() if state in states]
        for events in chain.from_iterable(combinations(may, count) for count in range(len(may) + 1)):
            if len(ONE_OF.intersection(events)) < 2:
                yield Case(state, frozenset(events))


class Currents:
    """What is drawn in a case: mA, steady or while cranking."""

    def __init__(self, bike: Bike, case: Case) -> None:
        """Take a bike and a case."""
        self.bike, self.case = bike, case
        own = {load.name for load in bike.loads if not load.feeders and case.has(load.when, load.never)}
        self.on = own | {load.name for load in bike.loads if own & set(load.feeders)}

    def of(self, load: Load, circuit: tuple[str, ...] = ()) -> Fraction:
        """Return what a load takes, in a circuit that must itself be on for it to be fed."""
        fed = not load.feeders or not circuit or bool(self.on & set(load.feeders) & set(circuit))
        return F(load.steady_ma if load.name in self.on and fed else 0)

    def coil(self, load: Load) -> Fraction:
        """Return what the coil of a load's relay takes, which is on when the load is."""
        return F(RELAY_COIL_MA if load.name in self.on else 0)
