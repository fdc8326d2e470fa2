"""Cases: what is on together. One state with any set of events that may come together.

A set of loads is kept as the bits of a whole number, a load's bit being its place in the list.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Protocol

from portloom.base.moments import STATES, EventRule, said


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
        return said(self.state, self.events)


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
    named = _Masks(consumers)
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


class _Masks:
    """The bits of the loads that each state or event turns on, and of those that it keeps off."""

    def __init__(self, consumers: Sequence[Timed]) -> None:
        self._when: dict[str, int] = {}
        self._except: dict[str, int] = {}
        for number, consumer in enumerate(consumers):
            for moment in consumer.when:
                self._when[moment] = self._when.get(moment, 0) | 1 << number
            for moment in consumer.except_:
                self._except[moment] = self._except.get(moment, 0) | 1 << number

    def mentions(self, moment: str) -> bool:
        return moment in self._when or moment in self._except

    def on(self, moments: Iterable[str]) -> int:
        turned_on = kept_off = 0
        for moment in moments:
            turned_on |= self._when.get(moment, 0)
            kept_off |= self._except.get(moment, 0)
        return turned_on & ~kept_off


def fullest(cases: Iterable[Case]) -> tuple[Case, ...]:
    """Keep the cases whose loads are not all on in another, the first of equal ones, in their order.

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
