"""The answer to a posted plan, as data."""

from dataclasses import dataclass
from typing import Literal

from solver.checking.posted import PostVerdict
from solver.posts.cells import told_back
from solver.posts.matching import Posted
from solver.reading.problems import Problem
from solver.rules.clash import Clash
from solver.words.bike import Bike
from solver.words.quantities import Micrometres, MilliAmps
from solver.words.sizes import WireSize
from solver.words.unit import Unit

Status = Literal["sound", "broken", "not clear"]


@dataclass(frozen=True)
class Move:
    """A load or a switch that goes to another port; ``before`` is None where the post has it on none."""

    name: str
    before: str | None
    after: str


@dataclass(frozen=True)
class Set:
    """What an output must be set to and wired with, where the post says otherwise and that no longer holds."""

    port: str
    trip: MilliAmps
    size: WireSize


@dataclass(frozen=True)
class Repair:
    """The fewest moves that make a posted plan sound, and of those the cheapest plan."""

    moved: tuple[Move, ...]
    placed: tuple[Move, ...]
    """What the post has on no port; each counts as a move of its own."""
    taken_off: tuple[tuple[str, str], ...]
    """What comes off an output, with its port: it is fed by others there, past the unit, or never by an output."""
    set_anew: tuple[Set, ...]
    outputs: tuple[tuple[str, tuple[str, ...]], ...]
    inputs: tuple[tuple[str, tuple[str, ...]], ...]
    place: str
    cost: Micrometres
    least: int
    """No plan that is sound moves and places fewer than this."""
    inputs_posted: bool

    @property
    def moves(self) -> int:
        """How many loads and switches move or are placed."""
        return len(self.moved) + len(self.placed)

    @property
    def proven(self) -> bool:
        """Tell whether it is proved that no plan with fewer moves is sound."""
        return self.moves == self.least


@dataclass(frozen=True)
class Distance:
    """The best plan, and how far the posted one is from it; its own figures are None where it is not sound."""

    place: str
    cost: Micrometres
    wire_run: Micrometres
    spare_port_loss: Micrometres
    proven: bool
    posted_at: str | None = None
    posted_run: Micrometres | None = None
    posted_loss: Micrometres | None = None


Ended = Literal["nothing fits", "not known"]
"""Why there is no answer: proved that no plan fits, or the limit was reached."""


@dataclass(frozen=True)
class Checked:
    """All that is told of a posted plan."""

    unit: Unit
    bike: Bike | None
    """None where the post was judged by itself."""
    posted: Posted
    verdict: PostVerdict
    concerns: tuple[str, ...]
    """What each clash is about, in the order of the clashes."""
    problems: tuple[Problem, ...]
    """Names and lines that are not clear."""
    assumed: tuple[str, ...] = ()
    """Without a bike's file: as which part, lamp and kind each load was taken."""
    best: Distance | Ended | None = None
    """None where it was not asked for."""
    repair: Repair | Ended | None = None

    @property
    def status(self) -> Status:
        """Sound, broken, or sound in what could be read of it."""
        if self.verdict.clashes:
            return "broken"
        return "not clear" if self.problems else "sound"

    @property
    def taken(self) -> tuple[str, ...]:
        """How names that were written otherwise were taken, and what was assumed of loads."""
        said = (f"'{told_back(cell.text)}' (line {cell.line}) as {name}" for cell, name in self.posted.taken)
        return (*said, *self.assumed)

    @property
    def set_aside(self) -> tuple[tuple[str, str], ...]:
        """The rules that the bike's file sets aside, with the reasons."""
        return () if self.bike is None else tuple(self.bike.set_aside.items())

    def by_concern(self) -> dict[str, list[Clash]]:
        """Return the clashes by what they are about, most dangerous first."""
        found: dict[str, list[Clash]] = {}
        for concern, clash in zip(self.concerns, self.verdict.clashes, strict=True):
            found.setdefault(concern, []).append(clash)
        return found
