"""The cases to judge: one state with any set of events that may come together."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from .things import Bike, Load

STATES = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")


@dataclass(frozen=True)
class Case:
    """What is on together: loads by name, wires alongside by number; cranking does not last."""

    lasting: bool
    on: frozenset[str]
    beside: frozenset[int]

    def covers(self, other: "Case") -> bool:
        """Tell whether at least all that is on in another case of the same sort is on here."""
        return self.lasting == other.lasting and self.on >= other.on and self.beside >= other.beside

    def has_on(self, load: Load) -> bool:
        """Tell whether a load is on; one that is fed from others is with any of them."""
        return not self.on.isdisjoint(load.feeders or {load.name})


def is_on(load: Load, going_on: frozenset[str]) -> bool:
    """Tell whether a load is on while these states and events are."""
    return bool(load.when & going_on) and not load.barred & going_on


def _together(bike: Bike, state: str, events: list[str]) -> Iterator[frozenset[str]]:
    possible = [event for event in events if state in bike.events[event]]
    for size in range(len(possible) + 1):
        for chosen in combinations(possible, size):
            if not any(frozenset(pair) in bike.excluded for pair in combinations(chosen, 2)):
                yield frozenset((state, *chosen))


def every_case(bike: Bike) -> Iterator[tuple[str, Case]]:
    """Return each state with each set of events, and what is on then (later loads too).

    Loads that are fed from others have no `when` of their own: they are on with those.
    """
    loads = [load for load in (*bike.loads, *(later.load for later in bike.later)) if not load.feeders]
    named = frozenset().union(*(load.when | load.barred for load in loads), *(other.when for other in bike.alongside))
    events = [event for event in bike.events if event in named]
    for state in STATES:
        for going_on in _together(bike, state, events):
            on = frozenset(load.name for load in loads if is_on(load, going_on))
            beside = frozenset(n for n, other in enumerate(bike.alongside) if other.when & going_on)
            yield state, Case(state != "cranking", on, beside)


def cases(bike: Bike) -> tuple[Case, ...]:
    """Return the fullest cases, each once.

    Whatever is on in another case is on, with more beside it, in one of these; all that is
    judged by cases gets worse the more is on.
    """
    different = dict.fromkeys(case for _, case in every_case(bike))
    return tuple(one for one in different if not any(other.covers(one) for other in different if other != one))


def states_on(bike: Bike) -> dict[str, frozenset[str]]:
    """Return the states in which each load is on in some case; those fed from others by their feeders."""
    found: dict[str, set[str]] = {}
    for state, case in every_case(bike):
        for name in case.on:
            found.setdefault(name, set()).add(state)
    own = {name: frozenset(states) for name, states in found.items()}
    guests = [load for load in bike.loads if load.feeders]
    return own | {load.name: frozenset().union(*(own.get(name, ()) for name in load.feeders)) for load in guests}
