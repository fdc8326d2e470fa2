"""A row of a comparison: one bike on one unit, in small units, as plain data."""

from typing import Literal

from portloom.base.figures import seat_phrase
from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.values import dataclass


@dataclass(frozen=True)
class ThinMargin:
    """A limit of which less than a tenth is left."""

    rule: str
    subject: str
    sentence: str
    used: int
    """Tenths of a per cent of the limit, rounded down: 1000 only where nothing is left."""


@dataclass(frozen=True)
class OnOne:
    """What of a plan is one unit's own: where it sits, what is left on it, what goes through its feed."""

    place: str
    turned: bool
    outputs_left: tuple[str, ...]
    """Outputs that drive nothing yet, whether or not there is room on them for a later load."""
    inputs_left: tuple[str, ...]
    worst: MilliAmps
    """Through the feed in the worst case."""
    worst_case: str
    limit: MilliAmps
    """The feed's limit."""

    @property
    def seat(self) -> str:
        """Say where it sits and which way round."""
        return seat_phrase(self.place, turned=self.turned)


@dataclass(frozen=True)
class Fit:
    """The best plan, in the figures by which units are compared; where there are two units, the first one's own."""

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
    legs_in_use: Micrometres = Micrometres(0)
    """What the legs that hold a wire are worth, where they were chosen."""
    second: OnOne | None = None
    """What is the second unit's own, where two are in place of one."""

    @property
    def units(self) -> tuple[OnOne, ...]:
        """What is each unit's own."""
        ports = self.outputs_left, self.inputs_left
        first = OnOne(self.place, self.turned, *ports, self.worst, self.worst_case, self.limit)
        return (first,) if self.second is None else (first, self.second)

    @property
    def spare_feeds(self) -> tuple[MilliAmps, ...]:
        """What each feed has left in its worst case."""
        return tuple(MilliAmps(unit.limit - unit.worst) for unit in self.units)

    @property
    def free_outputs(self) -> int:
        """How many outputs are left, on both where there are two units."""
        return sum(len(unit.outputs_left) for unit in self.units)

    @property
    def free_inputs(self) -> int:
        """How many inputs are left, on both where there are two units."""
        return sum(len(unit.inputs_left) for unit in self.units)


@dataclass(frozen=True)
class Reason:
    """Why not, in one clause, and the rules that it hangs on."""

    sentence: str
    rules: tuple[str, ...]
    may_help: tuple[str, ...] = ()
    """What may help, each by itself; nobody has tried it."""

    @property
    def said(self) -> str:
        """Say why not, and what may help."""
        return f"{self.sentence}; may help: {', or '.join(self.may_help)}" if self.may_help else self.sentence


@dataclass(frozen=True)
class NoFit:
    """Proved: there is no plan."""

    status: Literal["no plan"]
    reason: Reason


@dataclass(frozen=True)
class FitUnknown:
    """A limit was reached before a plan was found or proved impossible."""

    status: Literal["unknown"]
    bound: Micrometres
    """No plan costs less."""


RowAnswer = Fit | NoFit | FitUnknown
StopReason = Literal["no plan", "not proved", "all"]
"""Why it was gone no further: proved that there is no plan, a limit was reached, or nothing is left to try."""


@dataclass(frozen=True)
class LaterRoom:
    """Later loads that were put on the bike, one after the other in the bike's order."""

    fit: tuple[str, ...]
    end: StopReason
    next: str | None
    """The one with which it no longer fits, or is not known to."""


@dataclass(frozen=True)
class CurrentRoom:
    """How far the current of every load that the unit feeds may grow together, in steps of 10 %."""

    percent: int
    """The last step that fits: 100 is the bike as it is."""
    total: MilliAmps
    """Through the feed in the worst case, there."""
    end: StopReason
    reason: Reason | None
    """Why the next step does not fit, where a cheap test tells."""


@dataclass(frozen=True)
class Headroom:
    """How far a bike that fits may grow before it no longer fits."""

    later: LaterRoom
    current: CurrentRoom


@dataclass(frozen=True)
class Row:
    """One bike on one unit, or on two in place of one."""

    bike: str
    unit: str
    """Its name, or both names: 'six-way + eight-way'."""
    price: str | None
    """A bare number, in the one currency of all files; of two units the sum, if both have one."""
    answer: RowAnswer
    headroom: Headroom | None = None
    """Where it was asked for, and the bike fits on a single unit."""
    of_two: bool = False
    """True where two units are in place of one."""

    @property
    def fit(self) -> Fit | None:
        """The best plan's figures, if there is a plan."""
        return self.answer if isinstance(self.answer, Fit) else None


@dataclass(frozen=True)
class KeptRow:
    """A row, the files that it is about, the sum that stands for all that it was made from, and what beats it."""

    bike_file: str
    unit_file: str
    """Of two units both, joined as their names are."""
    made_from: str
    row: Row
    beaten_by: tuple[str, ...] = ()

    @property
    def files(self) -> tuple[str, str]:
        """What it is about: a later row about the same takes its place."""
        return self.bike_file, self.unit_file

    @property
    def final(self) -> bool:
        """Tell whether no longer time would change it."""
        row, room = self.row, self.row.headroom
        ends = () if room is None else (room.later.end, room.current.end)
        return (isinstance(row.answer, NoFit) or (row.fit is not None and row.fit.proven)) and "not proved" not in ends
