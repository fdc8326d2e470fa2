"""One bike on one unit: loads with their figures, cases, reels, and the sums that no plan changes."""

from collections.abc import Iterable
from functools import cached_property

from solver.electrics.assumptions import Assumptions
from solver.electrics.copper import BY_SIZE, DEFAULT_REELS, Conductor
from solver.frame.network import Network
from solver.job.cases import Case, all_cases, fullest
from solver.job.circuits import OutputCircuit
from solver.job.consumers import Consumer, Consumers, consumers_of
from solver.words.bike import Bike
from solver.words.moments import event_rules
from solver.words.quantities import MilliAmps
from solver.words.unit import Unit


class Job:
    """A bike, a unit, and what follows from them before any choice is made."""

    def __init__(self, bike: Bike, unit: Unit) -> None:
        """Take a bike and a unit that were read without an error."""
        self.bike = bike
        self.unit = unit
        self.assume = Assumptions(bike.assume)
        self.network = Network(bike.frame.legs)
        self.loads: Consumers = consumers_of(bike, self.assume)
        self.reels: tuple[Conductor, ...] = _reels(bike)
        everything = (
            *self.loads.on_unit,
            *(fed.consumer for fed in self.loads.fed),
            *(later.consumer for later in self.loads.later),
        )
        self._bit = {consumer.name: 1 << number for number, consumer in enumerate(everything)}
        self.cases: tuple[Case, ...] = fullest(all_cases(everything, event_rules(bike.events)))
        self._guests = {
            load.name: tuple(guest for guest in self.loads.guests if load.name in guest.feeders)
            for load in self.loads.on_unit
        }

    @cached_property
    def alike(self) -> dict[str, int]:
        """For each load on the unit the number of the first load that nothing but its name tells it from.

        Identical loads at one point are counted, not told apart.
        """
        first: dict[object, int] = {}
        return {
            load.name: first.setdefault((load.nature, self._guests[load.name]), number)
            for number, load in enumerate(self.loads.on_unit)
        }

    def guests_of(self, members: Iterable[Consumer]) -> tuple[Consumer, ...]:
        """Give the loads fed from a circuit with these members, each once, in the order of the file."""
        names = {guest.name for member in members for guest in self._guests.get(member.name, ())}
        return tuple(guest for guest in self.loads.guests if guest.name in names)

    def circuit(self, members: Iterable[Consumer]) -> OutputCircuit:
        """Give the circuit with these members and all that is fed from them."""
        own = tuple(members)
        return OutputCircuit(own, self.guests_of(own))

    def on(self, consumer: Consumer, case: Case) -> int:
        """Tell how often ``consumer`` is on in ``case``: once or not, a guest once for each feeder that is on."""
        names = consumer.feeders or (consumer.name,)
        return sum(1 for name in names if case.on & self._bit[name])

    def circuit_on(self, circuit: OutputCircuit, case: Case) -> bool:
        """Tell whether a circuit is on; its members always are together."""
        return bool(self.on(circuit.members[0], case))

    @cached_property
    def unit_currents(self) -> tuple[MilliAmps, ...]:
        """Through the feed in each case, the most in any plan: a guest once for each feeder."""
        loads = (*self.loads.on_unit, *self.loads.guests)
        return tuple(MilliAmps(sum(self.on(load, case) * load.current for load in loads)) for case in self.cases)

    @cached_property
    def worst(self) -> MilliAmps:
        """Through the feed in the worst case, without later loads."""
        return max(self.unit_currents)

    def returned_at(self, point: str, case: Case) -> MilliAmps:
        """Give the current that the joint return from ``point`` carries in ``case``."""
        loads = (load for load in self.wired_loads if load.at == point)
        return MilliAmps(sum(load.current for load in loads if self.on(load, case)))

    @cached_property
    def wired_loads(self) -> tuple[Consumer, ...]:
        """Every load with a wire for its return, whatever feeds it."""
        everything = (*self.loads.on_unit, *self.loads.guests, *(fed.consumer for fed in self.loads.fed))
        return tuple(load for load in everything if load.wired_return)


def _reels(bike: Bike) -> tuple[Conductor, ...]:
    sizes = DEFAULT_REELS if bike.reels is None else tuple(reel.size for reel in bike.reels)
    return tuple(sorted((BY_SIZE[size] for size in sizes), key=lambda reel: (reel.ampacity, reel.size)))
