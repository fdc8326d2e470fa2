"""Which loads may be one circuit, and which switches may be one."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import combinations
from typing import TypeVar

from .parts import COILS_OR_BOXES
from .reading import on_unit
from .things import Bike, Load, Switch

Thing = TypeVar("Thing")
BRAKES = frozenset({"front brake", "rear brake"})
BEAMS = frozenset({"dipped beam", "main beam"})


@dataclass(frozen=True)
class Circuit:
    """Loads that share an output, and the loads that are fed from them (taps)."""

    loads: tuple[Load, ...]
    taps: tuple[Load, ...]

    @cached_property
    def members(self) -> tuple[Load, ...]:
        """Every load that hangs on the output."""
        return self.loads + self.taps

    @cached_property
    def ends(self) -> tuple[Load, ...]:
        """All that its wire leads to: its members, and the dashes that show them."""
        return self.members + tuple(tap for load in self.members for tap in load.taps)

    @cached_property
    def steady_ma(self) -> int:
        """The steady current (mA)."""
        return sum(load.current_ma for load in self.members)

    @cached_property
    def inrush_ma(self) -> Fraction:
        """The height of the inrush (mA)."""
        return sum((load.inrush_ma for load in self.members), Fraction(0))

    @cached_property
    def inrush_ms(self) -> Fraction:
        """The longest inrush time (ms)."""
        return max(load.inrush_ms for load in self.members)

    @cached_property
    def asked(self) -> frozenset[str]:
        """The modes that the output must have."""
        return frozenset().union(*(load.asked for load in self.loads))

    @cached_property
    def names(self) -> frozenset[str]:
        """The names of the loads that are assigned, without taps."""
        return frozenset(load.name for load in self.loads)


def circuit(bike: Bike, loads: Iterable[Load]) -> Circuit:
    """Return the circuit of these loads: each load fed from one of them counts once."""
    held = tuple(loads)
    names = {load.name for load in held}
    return Circuit(held, tuple(load for load in bike.loads if load.feeders & names))


def operators(bike: Bike, load: Load) -> frozenset[str]:
    """Return the names of the switches that operate a load."""
    return frozenset(switch.name for switch in (*bike.switches, *bike.gone_switches) if load.name in switch.operates)


def may_share(bike: Bike, one: Load, other: Load) -> bool:
    """Tell whether two loads may be on one output."""
    return one.share == other.share != "" and (other.name in one.beside or alike(bike, one, other))


def alike(bike: Bike, one: Load, other: Load) -> bool:
    """Tell whether no rule keeps two loads of one group apart."""
    parts = {one.counts_as, other.counts_as}
    return (
        one.modes == other.modes
        and (one.when, one.barred) == (other.when, other.barred)
        and operators(bike, one) == operators(bike, other)
        and "brake lamp" not in parts
        and (parts <= COILS_OR_BOXES or not parts & COILS_OR_BOXES)
        and not parts >= BEAMS
    )


def may_join(one: Switch, other: Switch) -> bool:
    """Tell whether two switches may be on one input."""
    return one.share == other.share != "" and (other.name in one.beside or agree(one, other))


def agree(one: Switch, other: Switch) -> bool:
    """Tell whether no rule keeps two switches of one group apart."""
    return (one.operates, _told(one), one.signal, one.rest) == (other.operates, _told(other), other.signal, other.rest)


def _told(switch: Switch) -> frozenset[str]:
    """Return what a switch tells; either brake is told as a brake."""
    return frozenset("brake" if word in BRAKES else word for word in switch.tells)


def groups(things: list[Thing], together: Callable[[Thing, Thing], bool]) -> list[tuple[Thing, ...]]:
    """Return every group in which each two may be together, single ones included."""
    return [
        group
        for size in range(1, len(things) + 1)
        for group in combinations(things, size)
        if all(together(one, other) for one, other in combinations(group, 2))
    ]


def all_circuits(bike: Bike) -> list[Circuit]:
    """Return every allowed circuit of the loads that need an output."""
    return [circuit(bike, group) for group in groups(on_unit(bike), lambda a, b: may_share(bike, a, b))]
