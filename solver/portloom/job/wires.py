"""Wires that no assignment changes: their ways over the frame, and what they are once sized."""

from dataclasses import dataclass
from typing import Literal

from portloom.base.copper import Conductor
from portloom.base.quantities import Micrometres
from portloom.job.network import Run

WireKind = Literal["feed", "unit earth", "return", "sender return", "fed load", "supply", "alongside"]
UNIT_OWNED: tuple[WireKind, ...] = ("feed", "unit earth")
"""The kinds of which each unit has its own."""

SAID: dict[WireKind, str] = {
    "feed": "the feed",
    "unit earth": "the unit's earth wire",
    "return": "the return from {}",
    "sender return": "the return of {}",
    "fed load": "the wire that feeds {}",
    "supply": "the {}",
    "alongside": "{}",
}

FixedWireKey = tuple[WireKind, str]


@dataclass(frozen=True)
class FixedWire:
    """Where a wire runs: what it is, whose it is, the points it joins (first its start), its run."""

    kind: WireKind
    name: str
    ends: tuple[str, ...]
    run: Run

    @property
    def key(self) -> FixedWireKey:
        """Kind and name, which no two fixed wires have in common."""
        return (self.kind, self.name)

    @property
    def said(self) -> str:
        """Say which wire it is: 'the return from tail'."""
        return SAID[self.kind].format(self.name)


@dataclass(frozen=True)
class SizedFixedWire:
    """A wire with its way: how thick it is outside, and how many run side by side."""

    wire: FixedWire
    diameter: Micrometres
    conductor: Conductor | None
    """None for a cable or pipe."""
    count: int = 1
