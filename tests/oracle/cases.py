"""The cases to judge: one state with any set of events that may come together."""

from collections.abc import Iterator
from itertools import combinations

from .things import Bike, Load

STATES = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")


def is_on(load: Load, going_on: frozenset[str]) -> bool:
    """Tell whether a load is on while these states and events are."""
    return bool(load.when & going_on) and not load.barred & going_on


def _together(bike: Bike, state: str, events: list[str]) -> Iterator[frozenset[str]]:
    possible = [event for event in events if state in bike.events[event]]
    for size in range(len(possible) + 1):
        for chosen in combinations(possible, size):
            if not any(frozenset(pair) in bike.excluded for pair in combinations(chosen, 2)):
                yield frozenset((state, *chosen))


def cases(bike: Bike) -> tuple[frozenset[str], ...]:
    """Give each different set of loads (names, later ones too) that can be on together."""
    everything = [*bike.loads, *(later.load for later in bike.later)]
    named = frozenset().union(*(load.when | load.barred for load in everything))
    events = [event for event in bike.events if event in named]
    seen: dict[frozenset[str], None] = {}
    for state in STATES:
        for going_on in _together(bike, state, events):
            seen[frozenset(load.name for load in everything if is_on(load, going_on))] = None
    return tuple(seen)
