"""What the catalogue says of a load, of a switch, and of what is neither."""

from collections.abc import Mapping
from dataclasses import field
from types import MappingProxyType
from typing import Literal

from portloom.base.values import dataclass
from portloom.base.vocabulary import STEADY, Action, Concern, DropClass, Kind, Rest, Signal, Told

KEY_ON = ("key on", "day", "night")
ENGINE_ON = ("key on", "cranking", "day", "night")
RIDING = ("day", "night")


@dataclass(frozen=True)
class FixedMode:
    """The mode that a part must have, the rule that says so, and why."""

    mode: str
    rule: str
    why: str


@dataclass(frozen=True)
class LoadPart:
    """A load that is known by what it is."""

    name: str
    also: tuple[str, ...] = ()
    """Other words for it."""
    alone: tuple[str, ...] = ()
    """Words that mean it only where nothing else is said."""
    kind: Kind | None = None
    """None for a lamp, whose kind is that of its lamp."""
    modes: tuple[str, ...] = (STEADY,)
    beam: bool = False
    """Whether its mode follows from the switches that work it."""
    when: tuple[str, ...] = KEY_ON
    other_filament: tuple[str, ...] = ()
    """When it is off even so, where it is one filament of a bulb with two."""
    group: str | None = None
    """The share group that it has unless the file says another."""
    drop_class: DropClass = "other"
    concern: Concern = "comfort"
    kept: bool = False
    """Whether it is never left off and never shares with a load of comfort."""
    watched: bool = False
    """Whether rules judge it on an output, where past the unit nobody would."""
    runs_engine: bool = False
    fixed: FixedMode | None = None
    inrush: str | None = None
    """The default by which its inrush is found, where that is not its kind's."""
    filaments: tuple[str, ...] = ()
    """Which of a lamp's two filaments it may be."""
    fed_from: tuple[str, ...] = ()
    """The parts that feed it through a diode each, one of each."""
    worked_by: tuple[str, ...] = ()
    """The switches that may work it: where none does, that is asked."""
    often_relayed: bool = False
    """Whether bikes without a unit mostly have a relay for it, which then comes out."""
    shows: bool = False
    """Whether it shows the rider what is on: inputs, and other loads."""
    sits: Literal["front", "rear"] | None = None
    """At which end of the bike it is."""
    proposed: str = ""
    """How it is best fed, where that is not by an output."""
    asks: str = ""
    """A key that its builder is asked for, and what it says."""
    line: str = ""
    """What stands beside its part in a file, by way of example."""

    @property
    def is_lamp(self) -> bool:
        """Tell whether its kind is that of its lamp."""
        return self.kind is None


@dataclass(frozen=True)
class Made:
    """The positions in which a switch's contact may be made, and how it then is at rest."""

    rest: Mapping[str, Rest] = field(default_factory=lambda: MappingProxyType({}))
    usual: str | None = None
    """The position that is taken where the file says none; None where that is asked."""
    ask: str = ""
    """Why it is asked."""
    rest_says_nothing: bool = False
    """Whether 'normally' does not answer it: whose rest is meant is not clear."""


@dataclass(frozen=True)
class SwitchPart:
    """A switch, a sensor or a sender that is known by what it is."""

    name: str
    also: tuple[str, ...] = ()
    alone: tuple[str, ...] = ()
    """Words that mean it only where nothing else is said."""
    tells: tuple[Told, ...] = ()
    works: tuple[str, ...] = ()
    """The parts that it operates, each load of them."""
    action: Action | None = None
    signal: Signal = "earth"
    made: Made | None = None
    by_frame: bool = False
    """Whether it earths through its own body, with no return wire."""
    straight: bool = False
    """Whether it goes straight to the unit: a multiplexer that fails must not take it along."""
    sources: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """Where a speed signal may come from, and the highest voltage of its pulses."""
    shown: bool = False
    """Whether it is there to be read by a dash; it need not tell or operate anything."""
    asks: str = ""
    """A key that its builder is asked for, and what it says."""
    line: str = ""
    """What stands beside its part in a file, by way of example."""


@dataclass(frozen=True)
class OtherWord:
    """A word for what no output feeds and no input reads, and why."""

    name: str
    also: tuple[str, ...] = ()
    falls_away: bool = False
    """Whether the unit does its work; else it is refused."""
    why: str = ""


@dataclass(frozen=True)
class Ambiguous:
    """Words that may be several things: asked, never guessed."""

    words: tuple[str, ...]
    choices: tuple[str, ...]
    """What they may be, as the file would say it."""
    alone: bool = False
    """Whether they are asked only where nothing else is said: a water pump is no fuel pump."""
