"""States, events, and which events can come in which state."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from portloom.base.bike import Event
from portloom.base.figures import listed
from portloom.base.values import dataclass

STATES = ("asleep", "parked", "run-on", "key on", "cranking", "day", "night")
CRANKING = "cranking"
KEY_ON_STATES = ("key on", "day", "night")
"""The states in which an event comes unless the file says otherwise."""
EVENTS = (
    "braking",
    "indicating left",
    "indicating right",
    "hazard",
    "main beam",
    "flashing the main beam",
    "horn",
    "fan running",
)
MAIN_BEAM, SOUNDING = "main beam", "horn"
"""The two events that are called as the parts are that they are of."""
ALSO_EVENTS: Mapping[str, str] = MappingProxyType({
    "brake": "braking", "brakes": "braking", "left": "indicating left", "right": "indicating right",
    "turning left": "indicating left", "turning right": "indicating right", "hazards": "hazard",
    "high beam": "main beam", "full beam": "main beam", "flash": "flashing the main beam",
    "passing": "flashing the main beam", "fan": "fan running", "parking": "parked", "off": "asleep",
    "key off": "asleep", "ignition on": "key on", "on": "key on", "starting": "cranking", "start": "cranking",
    "crank": "cranking",
})  # fmt: skip
"""What people write for states and events: only hints, for they are not always meant so."""
EXCLUSIVE = ("indicating left", "indicating right", "hazard")
MOST_OWN_EVENTS = 6


@dataclass(frozen=True)
class EventRule:
    """One event: the states in which it can come, and the events that it never comes with."""

    name: str
    states: tuple[str, ...]
    excludes: frozenset[str]


def event_rules(own: Mapping[str, Event]) -> tuple[EventRule, ...]:
    """Return every event of a bike, the usual ones first, then its own in the order of the file.

    ``own`` holds the file's changes and additions. Exclusion works both ways.
    """
    names = [*EVENTS, *(name for name in own if name not in EVENTS)]
    excludes = {name: set(own[name].excludes) if name in own else set() for name in names}
    for name in EXCLUSIVE:
        excludes[name].update(other for other in EXCLUSIVE if other != name)
    for name in names:
        for other in sorted(excludes[name]):
            excludes.setdefault(other, set()).add(name)
    return tuple(EventRule(name, _states(name, own), frozenset(excludes[name])) for name in names)


def _states(name: str, own: Mapping[str, Event]) -> tuple[str, ...]:
    said = own[name].in_ if name in own else None
    if said is not None:
        return said
    return (*KEY_ON_STATES, "run-on") if name == "fan running" else KEY_ON_STATES


SAID = {
    "asleep": "asleep",
    "parked": "parked",
    "run-on": "in the run-on",
    "key on": "with the key on",
    "cranking": "while cranking",
    "day": "by day",
    "night": "at night",
}


def event_phrase(state: str, events: Sequence[str]) -> str:
    """Say when: 'at night, braking and indicating left'."""
    return ", ".join(filter(None, (SAID[state], listed(tuple(events)))))
