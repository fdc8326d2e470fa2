"""What a load loses outside its own run and output: in the worst case in which it is on, and while cranking."""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cached_property

from portloom.base.copper import Conductor
from portloom.base.current import current_at
from portloom.base.drop import NOTHING, MicroVolts, fuse_drop, resistance_drop, wire_drop
from portloom.base.quantities import MicroOhms, MilliAmps, MilliVolts
from portloom.job.cases import Case
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.site import Site, feed_conductor, return_conductor

ONE = MilliAmps(1)
UNLIMITED = MicroVolts(Fraction(10**12))
"""What a load that is never on may lose: as much as it likes."""


class Losses:
    """Losses on feed, main fuse, earth points and joint returns at one site."""

    def __init__(self, site: Site) -> None:
        """Take the site; every figure is worked out when it is first asked for, and kept."""
        self._site = site
        self._whole = site.whole
        self._job = site.job
        self._earth_point = MicroOhms(site.job.assume["earth point"])
        self._returns = {wire.name: wire for wire in site.fixed_of("return")}
        self._behind: dict[str, tuple[Fraction, ...]] = {}
        self._together: dict[str, Sequence[MilliAmps]] = {}
        self._back: dict[str, Fraction] = {}
        self._around: dict[str | None, Fraction] = {}
        self._before: dict[str, MicroVolts] = {}
        self._left_to: dict[str, MicroVolts] = {}

    @cached_property
    def cranking(self) -> "Cranking":
        """What is lost while cranking."""
        return Cranking(self._site, self)

    @cached_property
    def feed_conductor(self) -> Conductor:
        """The feed's first size."""
        return feed_conductor(self._whole)

    @cached_property
    def _feed_of_one(self) -> Fraction:
        """Lost on feed, its connectors and the main fuse by each mA."""
        feed = self._site.feed
        wire = wire_drop(self.feed_conductor, self._site.moment_of_one(feed.run))
        return wire + resistance_drop(self._site.parted(feed), ONE) + self._main_fuse_of_one()

    def _main_fuse_of_one(self) -> MicroVolts:
        if self._whole.main_fuse is None:
            return NOTHING
        return fuse_drop(MilliVolts(self._job.assume["main fuse drop"]), self._whole.main_fuse, ONE)

    @cached_property
    def feed(self) -> tuple[Fraction, ...]:
        """Lost on feed, its connectors and the main fuse, in each case."""
        return tuple(self.feed_loss(self._site.through_feed(current)) for current in self._job.unit_currents)

    def feed_loss(self, current: MilliAmps) -> Fraction:
        """Return what is lost on feed, its connectors and the main fuse at ``current``."""
        return self._feed_of_one * current

    def behind(self, point: str) -> Sequence[Fraction]:
        """Return what is lost behind a load at ``point``, on joint return and earth point, in each case."""
        if point not in self._behind:
            own = (self._job.returned_at(point, case) for case in self._job.cases)
            together = self._earthed(point)
            self._behind[point] = tuple(self.behind_loss(point, a, b) for a, b in zip(own, together, strict=True))
        return self._behind[point]

    def behind_loss(self, point: str, own: MilliAmps, together: MilliAmps) -> Fraction:
        """Return what is lost behind ``point``: ``own`` flows in its return, ``together`` through its earth point."""
        return self._return_of_one(point) * own + resistance_drop(self._earth_point, together)

    def behind_loss_by_frame(self, current: MilliAmps) -> Fraction:
        """Return what a load earthed by the frame loses at its own fixing."""
        return resistance_drop(self._earth_point, current)

    def points_earthed_with(self, point: str) -> tuple[str, ...]:
        """Return the points whose returns end at the same earth point."""
        earth = self._returns[point].ends[-1]
        return tuple(way.name for way in self._returns.values() if way.ends[-1] == earth)

    def _return_of_one(self, point: str) -> Fraction:
        """Lost on the joint return from ``point`` and its connectors by each mA."""
        if point not in self._back:
            way = self._returns[point]
            wire = wire_drop(return_conductor(self._whole, way), self._site.moment_of_one(way.run))
            self._back[point] = wire + resistance_drop(self._site.parted(way), ONE)
        return self._back[point]

    def _earthed(self, point: str) -> Sequence[MilliAmps]:
        """Return what all returns that end where this one does carry together, in each case."""
        earth = self._returns[point].ends[-1]
        if earth not in self._together:
            names = self.points_earthed_with(point)
            self._together[earth] = [
                MilliAmps(sum(self._job.returned_at(name, case) for name in names)) for case in self._job.cases
            ]
        return self._together[earth]

    def path_resistance(self, point: str | None) -> Fraction:
        """Return the resistance around a short but for run and output, in microohms.

        Battery, feed, its connectors and the main fuse, joint return from ``point`` (None for none) and earth point.
        """
        if point not in self._around:
            back = Fraction(0) if point is None else 1000 * self._return_of_one(point)
            battery = self._job.assume["battery resistance"]
            self._around[point] = battery + 1000 * self._feed_of_one + back + self._earth_point
        return self._around[point]

    def before_run(self, load: Consumer) -> MicroVolts:
        """Return what a load on the unit loses outside run and output, in its worst case."""
        if load.name not in self._before:
            behind = self._behind_in_each(load)
            self._before[load.name] = self._worst(load, [a + b for a, b in zip(self.feed, behind, strict=True)])
        return self._before[load.name]

    def parts_before_run(self, load: Consumer) -> tuple[Fraction, Fraction]:
        """Return the same in two parts: on feed and main fuse, and on return and earth point."""
        behind = self._behind_in_each(load)
        on = [number for number, case in enumerate(self._job.cases) if self._job.on(load, case)]
        worst = max(on, key=lambda number: self.feed[number] + behind[number])
        return self.feed[worst], behind[worst]

    def allowed_to(self, circuit: OutputCircuit, point: str) -> MicroVolts:
        """Return what run and output may lose on the way to ``point``: the least that its loads there leave.

        Where only a dash is, which draws nothing, anything.
        """
        return min((self._left(load) for load in circuit.loads if load.at == point), default=UNLIMITED)

    def _left(self, load: Consumer) -> MicroVolts:
        if load.name not in self._left_to:
            left = MicroVolts(load.drop_limit - self.before_run(load)) if self.ever_on(load) else UNLIMITED
            self._left_to[load.name] = left
        return self._left_to[load.name]

    def ever_on(self, load: Consumer) -> bool:
        """Tell whether a load is on in any case."""
        return any(self._job.on(load, case) for case in self._job.cases)

    def behind_only(self, load: Consumer) -> MicroVolts:
        """Return what a load that the unit does not feed loses on return and earth, in its worst case."""
        return self._worst(load, self._behind_in_each(load))

    def _behind_in_each(self, load: Consumer) -> Sequence[Fraction]:
        """A load earthed by the frame loses its own current's worth at its own fixing."""
        if load.returns_at is not None:
            return self.behind(load.returns_at)
        return [self.behind_loss_by_frame(load.current)] * len(self._job.cases)

    def _worst(self, load: Consumer, lost: Sequence[Fraction]) -> MicroVolts:
        on = (lost[number] for number, case in enumerate(self._job.cases) if self._job.on(load, case))
        return MicroVolts(max(on, default=Fraction(0)))


# --- while cranking


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

    def has_on(self, load: Consumer) -> bool:
        """Tell whether a load is on in some case of cranking."""
        return any(self._job.on(load, case) for case in self.cases)

    def at_load(self, load: Consumer, run_loss: Fraction) -> MicroVolts:
        """Return the lowest voltage that reaches a load; ``run_loss`` is lost in its output and on its run."""
        on = (case for case in self.cases if self._job.on(load, case))
        return min(self._left(self._before(load, case) + run_loss) for case in on)

    def _before(self, load: Consumer, case: Case) -> Fraction:
        key = (load.name, case.on)
        if key not in self._known:
            self._known[key] = self._losses.feed_loss(self.feed_current(case)) + self._behind(load, case)
        return self._known[key]

    def _behind(self, load: Consumer, case: Case) -> Fraction:
        if load.returns_at is None:
            return self._losses.behind_loss_by_frame(self.current(load))
        here = {point: self._returned_at(point, case) for point in self._losses.points_earthed_with(load.returns_at)}
        return self._losses.behind_loss(load.returns_at, here[load.returns_at], MilliAmps(sum(here.values())))

    def _returned_at(self, point: str, case: Case) -> MilliAmps:
        """Return what a joint return carries: each load that is on once, however many circuits feed it."""
        loads = (load for load in self._job.wired_loads if load.returns_at == point)
        return MilliAmps(sum(self.current(load) for load in loads if self._job.on(load, case)))
