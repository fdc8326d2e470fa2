"""Circuits: the loads that share one output, and the switches that share one input."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cached_property

from portloom.base.bike import DashPoint, Switch
from portloom.base.current import Inrush, combined_inrush
from portloom.base.figures import listed
from portloom.base.quantities import MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.job.consumers import Consumer, Return


@dataclass(frozen=True)
class OutputCircuit:
    """Loads on one output, with the loads fed from them through diodes (``guests``)."""

    members: tuple[Consumer, ...]
    guests: tuple[Consumer, ...]

    @cached_property
    def loads(self) -> tuple[Consumer, ...]:
        """Every load that the output feeds."""
        return self.members + self.guests

    @cached_property
    def current(self) -> MilliAmps:
        """The steady current with all its loads on, as they are together."""
        return MilliAmps(sum(load.current for load in self.loads))

    @cached_property
    def inrush(self) -> Inrush:
        """The inrush of all its loads."""
        return combined_inrush(tuple(load.inrush for load in self.loads))

    @cached_property
    def modes(self) -> frozenset[str]:
        """Every mode that its loads want."""
        return frozenset(mode for load in self.members for mode in load.modes)

    @cached_property
    def points(self) -> tuple[str, ...]:
        """The frame points that its wire must reach, each once: of its loads, of dashes, of its loads' own switches."""
        at = (load.at for load in self.loads if load.at is not None)
        switches = (load.own_switch for load in self.loads if load.own_switch is not None)
        return tuple(dict.fromkeys((*at, *(point.at for _, point in self.shown), *switches)))

    @cached_property
    def tips(self) -> tuple[str, ...]:
        """Where each thing is that its output's wire leads to: its loads, or their own switches, and dashes."""
        at = (load.fed_at for load in self.loads if load.fed_at is not None)
        return (*at, *(point.at for _, point in self.shown))

    @cached_property
    def shown(self) -> tuple[tuple[Consumer, DashPoint], ...]:
        """Each of its loads that a dash shows, with that dash."""
        return tuple((load, point) for load in self.loads for point in load.shown_by)

    @cached_property
    def returns(self) -> tuple[Return, ...]:
        """The joint returns that its loads' current takes, each once."""
        return tuple(dict.fromkeys(load.back for load in self.loads if load.back is not None))

    @cached_property
    def shorts(self) -> tuple[Consumer, ...]:
        """The loads that may be shorted: of those with the same wires and joint return one."""
        wired = (load for load in self.loads if load.at is not None)
        return tuple({(load.at, load.own_switch, load.back, load.leads): load for load in wired}.values())

    @cached_property
    def tails(self) -> WireSize | None:
        """The thinnest of its loads' own tails, where any are given."""
        return min((load.leads for load in self.loads if load.leads is not None), default=None)

    @cached_property
    def avoid(self) -> frozenset[str]:
        """The legs that its wire may not use."""
        return frozenset(leg for load in self.loads for leg in load.avoid)

    def around(self, legs: Iterable[str]) -> "OutputCircuit":
        """Return the same circuit, its wire led around some more legs."""
        first, *others = self.members
        return replace(self, members=(replace(first, avoid=first.avoid.union(legs)), *others))

    @cached_property
    def label(self) -> str:
        """The names of its loads."""
        return ", ".join(load.name for load in self.loads)

    @cached_property
    def said(self) -> str:
        """The names of its loads, as a sentence lists them."""
        return listed(tuple(load.name for load in self.loads))

    @property
    def operated_by(self) -> frozenset[str]:
        """The switches that operate every one of its members."""
        return frozenset.intersection(*(load.operated_by for load in self.members))


@dataclass(frozen=True)
class InputCircuit:
    """Switches on one input."""

    switches: tuple[Switch, ...]

    @cached_property
    def points(self) -> tuple[str, ...]:
        """The frame points that its wire must reach, each once: its switches', and those of dashes that show them."""
        return tuple(dict.fromkeys(point for switch in self.switches for point in switch.reached))

    @cached_property
    def label(self) -> str:
        """The names of its switches."""
        return ", ".join(switch.name for switch in self.switches)
