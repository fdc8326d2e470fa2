"""Voltages while the engine is cranked: at the unit, and at each load that must work then."""

from collections.abc import Iterable
from fractions import Fraction
from functools import cached_property
from weakref import WeakKeyDictionary

from portloom.base.current import current_at
from portloom.base.drop import MicroVolts, resistance_drop, wire_drop
from portloom.base.quantities import MicroOhms, MilliAmps, MilliVolts
from portloom.job.cases import Case
from portloom.job.consumers import Consumer
from portloom.job.losses import Losses
from portloom.job.routed import paths
from portloom.job.site import Site
from portloom.job.wired import WiredOutput


class Cranking:
    """A site while cranking: the battery's voltage is low, and each load draws what it does at that."""

    def __init__(self, site: Site, losses: Losses) -> None:
        """Take the site and its losses (feed and returns at their first sizes)."""
        self._site = site
        self._job = site.job
        self._losses = losses
        self._known: dict[tuple[str, int], Fraction] = {}
        said = site.job.bike.supply.cranking
        self.voltage = MilliVolts(site.job.assume["cranking voltage"]) if said is None else said

    def current(self, load: Consumer) -> MilliAmps:
        """Return what a load draws at the cranking voltage."""
        known_at = load.lamp_test or self._job.bike.supply.running
        return current_at(load.kind, load.current, known_at, self.voltage)

    @cached_property
    def cases(self) -> tuple[Case, ...]:
        """The cases of cranking in which anything is on."""
        return tuple(case for case in self._job.cranking if case.on)

    def _sum(self, loads: Iterable[Consumer], case: Case) -> MilliAmps:
        return MilliAmps(sum(self._job.on(load, case) * self.current(load) for load in loads))

    def feed_current(self, case: Case) -> MilliAmps:
        """Return what flows in the feed: a guest counts once for each feeder.

        Of two units each is counted with all that the bike draws: what its fuse carries is no bound here, as lamps
        and controllers draw more at the cranking voltage.
        """
        return self._sum((*self._job.loads.on_unit, *self._job.loads.guests), case)

    def _left(self, lost: Fraction) -> MicroVolts:
        return MicroVolts(1000 * self.voltage - lost)

    def at_unit(self) -> MicroVolts:
        """Return the lowest voltage at the unit's supply terminal."""
        worst = max((self.feed_current(case) for case in self.cases), default=MilliAmps(0))
        return self._left(self._losses.feed_loss(worst))

    def at_load(self, wired: WiredOutput, load: Consumer) -> MicroVolts | None:
        """Return the lowest voltage that reaches a load on an output, or None where it is not on while cranking."""
        on = [case for case in self.cases if self._job.on(load, case)]
        if not on or not wired.serving or load.at is None:
            return None
        run = self._run_loss(wired, load.at)
        return min(self._left(self._before(load, case) + run) for case in on)

    def _before(self, load: Consumer, case: Case) -> Fraction:
        key = (load.name, case.on)
        if key not in self._known:
            self._known[key] = self._losses.feed_loss(self.feed_current(case)) + self._behind(load, case)
        return self._known[key]

    def _behind(self, load: Consumer, case: Case) -> Fraction:
        if not load.wired_return or load.at is None:
            return self._losses.behind_loss_by_frame(self.current(load))
        here = {point: self._returned_at(point, case) for point in self._losses.points_earthed_with(load.at)}
        return self._losses.behind_loss(load.at, here[load.at], MilliAmps(sum(here.values())))

    def _returned_at(self, point: str, case: Case) -> MilliAmps:
        """Return what a joint return carries: each load that is on once, however many circuits feed it."""
        loads = (load for load in self._job.wired_loads if load.at == point)
        return MilliAmps(sum(self.current(load) for load in loads if self._job.on(load, case)))

    def _run_loss(self, wired: WiredOutput, point: str) -> Fraction:
        """Return what is lost in output and run with every load of the circuit at its cranking current."""
        conductor = wired.serving[0]
        currents = {
            at: MilliAmps(sum(self.current(load) for load in wired.circuit.loads if load.at == at))
            for at in wired.circuit.points
        }
        path = paths(
            self._job.network, wired.run, self._site.face(wired.output.face), currents,
            self._job.bike.frame.connectors,
        )[point]  # fmt: skip
        total = MilliAmps(sum(currents.values()))
        lost = resistance_drop(wired.output.resistance, total)
        parted = resistance_drop(MicroOhms(self._job.assume["connector"]), path.through_connectors)
        return lost + parted + wire_drop(conductor, path.moment)


_AT: WeakKeyDictionary[Losses, Cranking] = WeakKeyDictionary()


def cranking_at(site: Site, losses: Losses) -> Cranking:
    """Return the cranking of a site, worked out once for its losses."""
    if losses not in _AT:
        _AT[losses] = Cranking(site, losses)
    return _AT[losses]
