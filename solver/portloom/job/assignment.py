"""What a plan settles: place, way round, who is on which port, and the legs of every wire."""

from dataclasses import replace

from portloom.base.quantities import Micrometres, MilliAmps
from portloom.base.sizes import WireSize
from portloom.base.values import dataclass
from portloom.job.fixed_wires import FixedWire, FixedWireKey
from portloom.job.goal import Cost
from portloom.job.network import Run
from portloom.job.standing import Staying


@dataclass(frozen=True)
class OnOutput:
    """Loads on an output: their names, their wire's way, its size and trip."""

    port: str
    loads: tuple[str, ...]
    """Members first, then the loads fed from them through diodes."""
    run: Run
    size: WireSize
    trip: MilliAmps
    staying: Staying | None = None
    """Which part of its wire is built and stays."""


@dataclass(frozen=True)
class OnInput:
    """Switches on an input, and their wire's way."""

    port: str
    switches: tuple[str, ...]
    run: Run
    old: Run | None = None
    """The built part of it, where that stays."""


@dataclass(frozen=True)
class OnWay:
    """A switch on a way of a multiplexer, and its wire there."""

    switch: str
    run: Run
    old: Run | None = None
    """Its run, where it is built and stays."""


@dataclass(frozen=True)
class OnMultiplexer:
    """A multiplexer in use: the point where it stands, its input, the run of its data and supply, its switches."""

    name: str
    at: str
    port: str
    run: Run
    ways: tuple[OnWay, ...]
    old: Run | None = None
    """Its run, where it is built and stays."""


@dataclass(frozen=True)
class Room:
    """A later load and the free output that could take it."""

    load: str
    port: str


@dataclass(frozen=True)
class Seat:
    """Where a unit sits, its main fuse, and who is on which of its ports."""

    place: str
    turned: bool
    main_fuse: MilliAmps
    outputs: tuple[OnOutput, ...]
    inputs: tuple[OnInput, ...]
    room_for: tuple[Room, ...]
    multiplexers: tuple[OnMultiplexer, ...]


@dataclass(frozen=True)
class Change:
    """What a plan changes of a built loom, in names."""

    mattering: tuple[str, ...]
    """Circuits touched on which brake, ignition, engine stop or start hang."""
    others: tuple[str, ...]
    """The other circuits touched."""
    opened: tuple[str, ...]
    """The legs whose sleeve is opened."""


@dataclass(frozen=True)
class Assignment:
    """A plan as the search found it, with the cost that it claims: a seat for each unit, one or two."""

    seats: tuple[Seat, ...]
    fixed_wires: tuple[FixedWire, ...]
    """Every wire that no port needs: feed, returns and the like; of two units each has a feed and an earth."""
    fixed_sizes: tuple[tuple[FixedWireKey, WireSize], ...]
    cost: Micrometres
    """What the search made least."""
    costs: Cost
    """The parts of it."""
    bound: Micrometres
    proven: bool
    once: bool
    """Not proven: one proof says that it is the best, and the limit came before the second."""
    change: Change | None = None
    """What it changes of a built loom, where there is one."""
    legs: tuple[int, ...] | None = None
    """The numbers of the legs that its wires may follow, where these were chosen with it; None where all are open."""

    @property
    def only(self) -> Seat:
        """The seat of the only unit; raises ValueError where there are two."""
        (seat,) = self.seats
        return seat

    @property
    def outputs(self) -> tuple[OnOutput, ...]:
        """The circuits of every unit."""
        return tuple(line for seat in self.seats for line in seat.outputs)

    @property
    def inputs(self) -> tuple[OnInput, ...]:
        """The switches on inputs of every unit."""
        return tuple(line for seat in self.seats for line in seat.inputs)

    @property
    def room_for(self) -> tuple[Room, ...]:
        """The later loads that some unit has room for."""
        return tuple(room for seat in self.seats for room in seat.room_for)

    @property
    def multiplexers(self) -> tuple[OnMultiplexer, ...]:
        """The multiplexers in use."""
        return tuple(box for seat in self.seats for box in seat.multiplexers)

    def seated(self, *seats: Seat) -> "Assignment":
        """Return the same with other seats."""
        return replace(self, seats=seats)
