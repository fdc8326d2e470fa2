"""A row of a comparison: one bike on one unit, in small units, as plain data."""

from dataclasses import dataclass
from typing import Literal

from solver.words.quantities import Micrometres, MilliAmps


@dataclass(frozen=True)
class ThinMargin:
    """A limit of which less than a tenth is left."""

    rule: str
    subject: str
    sentence: str
    used: int
    """Tenths of a per cent of the limit, rounded down: 1000 only where nothing is left."""


@dataclass(frozen=True)
class Fit:
    """The best plan, in the figures by which units are compared."""

    status: Literal["planned"]
    proven: bool
    """False where a limit was reached first: it is the best found."""
    place: str
    turned: bool
    cost: Micrometres
    wire_run: Micrometres
    spare_port_loss: Micrometres
    copper_mg: int
    outputs_left: tuple[str, ...]
    """Outputs that drive nothing yet, whether or not there is room on them for a later load."""
    inputs_left: tuple[str, ...]
    room_for: tuple[str, ...]
    no_room_for: tuple[str, ...]
    worst: MilliAmps
    """Through the feed in the worst case."""
    worst_case: str
    limit: MilliAmps
    """The feed's limit."""
    thin: tuple[ThinMargin, ...]
    """The tightest first."""

    @property
    def spare_feed(self) -> MilliAmps:
        """What the feed has left in the worst case."""
        return MilliAmps(self.limit - self.worst)

    @property
    def ports_left(self) -> int:
        """How many outputs and inputs are left."""
        return len(self.outputs_left) + len(self.inputs_left)


@dataclass(frozen=True)
class Reason:
    """Why not, in one clause, and the rules that it hangs on."""

    sentence: str
    rules: tuple[str, ...]


@dataclass(frozen=True)
class NoFit:
    """Proved: there is no plan."""

    status: Literal["no plan"]
    reason: Reason


@dataclass(frozen=True)
class NotKnown:
    """A limit was reached before a plan was found or proved impossible."""

    status: Literal["unknown"]
    bound: Micrometres
    """No plan costs less."""


Answer = Fit | NoFit | NotKnown
End = Literal["no plan", "not proved", "all"]
"""Why it was gone no further: proved that there is no plan, a limit was reached, or nothing is left to try."""


@dataclass(frozen=True)
class LaterRoom:
    """Later loads that were put on the bike, one after the other in the bike's order."""

    fit: tuple[str, ...]
    end: End
    next: str | None
    """The one with which it no longer fits, or is not known to."""


@dataclass(frozen=True)
class CurrentRoom:
    """How far the current of every load that the unit feeds may grow together, in steps of 10 %."""

    percent: int
    """The last step that fits: 100 is the bike as it is."""
    total: MilliAmps
    """Through the feed in the worst case, there."""
    end: End
    reason: Reason | None
    """Why the next step does not fit, where a cheap test tells."""


@dataclass(frozen=True)
class Headroom:
    """How far a bike that fits may grow before it no longer fits."""

    later: LaterRoom
    current: CurrentRoom


@dataclass(frozen=True)
class Row:
    """One bike on one unit."""

    bike: str
    unit: str
    price: str | None
    """A bare number, in the one currency of all files."""
    answer: Answer
    headroom: Headroom | None = None
    """Where it was asked for and the bike fits."""

    @property
    def fit(self) -> Fit | None:
        """The best plan's figures, if there is a plan."""
        return self.answer if isinstance(self.answer, Fit) else None
