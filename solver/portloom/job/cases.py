"""Cases: what is on together. One state with any set of events that may come together.

A set of loads is kept as the bits of a whole number, a load's bit being its place in the list.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Protocol

from portloom.base.bike import Alongside, Bike
from portloom.base.events import CRANKING, STATES, EventRule, event_phrase, event_rules
from portloom.base.values import dataclass
from portloom.job.consumers import USUAL_WHEN, Consumers


@dataclass(frozen=True)
class Case:
    """A state, the events that come in it, and the bits of the loads that are on."""

    state: str
    events: tuple[str, ...]
    on: int

    @property
    def label(self) -> str:
        """Say the case in words."""
        return f"{self.state}, {' + '.join(self.events)}" if self.events else self.state

    @property
    def said(self) -> str:
        """Say when it is: 'at night, braking'."""
        return event_phrase(self.state, self.events)


def named_for(case: Case, loads: Iterable["Timed"]) -> Case:
    """Return a case with only those events named without which others of ``loads`` would be on."""
    counted, events = tuple(loads), case.events
    on = _on_in(counted, case.state, events)
    for event in case.events:
        fewer = tuple(one for one in events if one != event)
        if _on_in(counted, case.state, fewer) == on:
            events = fewer
    return replace(case, events=events)


def _on_in(loads: Sequence["Timed"], state: str, events: Sequence[str]) -> list[bool]:
    moments = frozenset((state, *events))
    return [bool(moments & load.when) and not moments & load.except_ for load in loads]


class Timed(Protocol):
    """Anything that is on at times."""

    @property
    def when(self) -> frozenset[str]:
        """The states and events in which it is on."""

    @property
    def except_(self) -> frozenset[str]:
        """The states and events in which it is off all the same."""


def all_cases(consumers: Sequence[Timed], rules: Sequence[EventRule]) -> Iterator[Case]:
    """Return every case to judge: states in order, in each the fewest events first.

    Events that no load names change nothing and are left out.
    """
    named = Masks(consumers)
    for state in STATES:
        possible = [rule for rule in rules if state in rule.states and named.mentions(rule.name)]
        for events in _coming_together(possible):
            yield Case(state, events, named.on((state, *events)))


def _coming_together(rules: Sequence[EventRule]) -> Iterator[tuple[str, ...]]:
    for size in range(len(rules) + 1):
        for chosen in combinations(rules, size):
            names = [rule.name for rule in chosen]
            if not any(rule.excludes.intersection(names) for rule in chosen):
                yield tuple(names)


class Masks:
    """The bits of the loads that each state or event turns on, and of those that it keeps off."""

    def __init__(self, consumers: Sequence[Timed]) -> None:
        """Take the loads, in the order of their bits."""
        self._when: dict[str, int] = {}
        self._except: dict[str, int] = {}
        for number, consumer in enumerate(consumers):
            for moment in consumer.when:
                self._when[moment] = self._when.get(moment, 0) | 1 << number
            for moment in consumer.except_:
                self._except[moment] = self._except.get(moment, 0) | 1 << number

    def mentions(self, moment: str) -> bool:
        """Tell whether any load names a state or event."""
        return moment in self._when or moment in self._except

    def on(self, moments: Iterable[str]) -> int:
        """Return the bits of what is on in a state with some events."""
        turned_on = kept_off = 0
        for moment in moments:
            turned_on |= self._when.get(moment, 0)
            kept_off |= self._except.get(moment, 0)
        return turned_on & ~kept_off


def dominating(cases: Iterable[Case]) -> tuple[Case, ...]:
    """Return the cases whose loads are not all on in another, the first of equal ones, in their order.

    Every sum is of amounts that are not negative, so no other case can be worse than these.
    """
    first: dict[int, Case] = {}
    for case in cases:
        first.setdefault(case.on, case)
    largest: list[int] = []
    for on in sorted(first, key=lambda bits: -bits.bit_count()):
        if not any(on & other == on for other in largest):
            largest.append(on)
    kept = set(largest)
    return tuple(case for on, case in first.items() if on in kept)


# --- when what is on, of a whole bike


@dataclass(frozen=True)
class Timetable:
    """When each load, and each wire alongside, is on: the same whatever they draw."""

    cases: tuple[Case, ...]
    """The dominating cases: no sum is larger in any other."""
    cranking: tuple[Case, ...]
    """The dominating cases while cranking."""
    steady: tuple[Case, ...]
    """The dominating steady-state cases. Cranking, which lasts seconds, heats no loom; wires alongside count."""
    bits: Mapping[str, int]
    """Of each load of a circuit, fed load and later load."""
    alongside_bits: Mapping[str, int]
    on_in: Mapping[str, int]
    """For each state the bits of all that is on in some case of it."""
    masks: Masks
    """What each state and event turns on, and what it keeps off."""

    def bits_of(self, names: Iterable[str]) -> int:
        """Return the bits of loads."""
        bits = 0
        for name in names:
            bits |= self.bits[name]
        return bits


@dataclass(frozen=True)
class _WireAlongside:
    """When a wire alongside carries its current."""

    when: frozenset[str]
    except_: frozenset[str] = frozenset()


def _timed(wire: Alongside) -> _WireAlongside:
    if wire.current is None:
        return _WireAlongside(frozenset())
    return _WireAlongside(USUAL_WHEN if wire.when is None else frozenset(wire.when))


def timetable_of(bike: Bike, known: Consumers) -> Timetable:
    """Return when what is on; a load that is fed from others is on with them."""
    loads = (
        *known.on_unit,
        *(fed.consumer for fed in known.fed),
        *(later.consumer for later in known.later),
    )
    every = tuple(all_cases((*loads, *map(_timed, bike.alongside)), event_rules(bike.events)))
    only_loads = (1 << len(loads)) - 1
    on_in: dict[str, int] = {}
    for case in every:
        on_in[case.state] = on_in.get(case.state, 0) | case.on
    return Timetable(
        cases=dominating(replace(case, on=case.on & only_loads) for case in every),
        cranking=dominating(case for case in every if case.state == CRANKING),
        steady=dominating(case for case in every if case.state != CRANKING),
        bits={load.name: 1 << number for number, load in enumerate(loads)},
        alongside_bits={wire.name: 1 << number for number, wire in enumerate(bike.alongside, len(loads))},
        on_in=on_in,
        masks=Masks(loads),
    )
