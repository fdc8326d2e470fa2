"""What is lost on the wires of a plan as they are cut, at their final sizes, in any case."""

from collections.abc import Callable, Iterable
from fractions import Fraction

from portloom.base.drop import NOTHING, MicroVolts, wire_drop
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.cases import Case
from portloom.job.consumers import Consumer
from portloom.job.fixed import conductor_of, fed_load, fed_path_drop
from portloom.job.fixed_wires import FixedWire
from portloom.job.flow import Draws, Flow, cranking_flow, steady
from portloom.job.job import Job
from portloom.job.laid import Laid
from portloom.job.losses import Cranking, Losses
from portloom.job.site import Site
from portloom.job.wired import WiredOutput

CaseTest = Callable[[Case], bool]


class AsCut:
    """What is lost on the wires of feed and returns at the sizes that they have in a plan."""

    def __init__(self, site: Site) -> None:
        """Take the site, with the sizes of the plan."""
        self._site = site

    def on_feed(self, current: MilliAmps) -> Fraction:
        """Return what ``current`` loses on the feed's wire."""
        return self.on_return(self._site.feed, current)

    def on_return(self, wire: FixedWire, current: MilliAmps) -> Fraction:
        """Return what ``current`` loses on a return's wire."""
        return wire_drop(conductor_of(self._site, wire), self._site.moment(wire, current))


def through_feed_of(laid: Laid, draws: Draws) -> Callable[[Case], MilliAmps]:
    """Return what flows in the feed of the plan's only unit in a case: a guest counts once for each feeder there."""
    job = laid.site.job
    here = {load.name for wired in laid.outputs for load in wired.circuit.members}
    members = [load for load in job.loads.on_unit if load.name in here]
    shares = [(load, MilliAmps(sum(map(draws, (load, *_guests_of(job, load)))))) for load in members]
    return lambda case: MilliAmps(sum(current for load, current in shares if job.on(load, case)))


def _guests_of(job: Job, load: Consumer) -> tuple[Consumer, ...]:
    return tuple(guest for guest in job.loads.guests if load.name in guest.feeders)


def losses_as_cut(laid: Laid, draws: Draws | None = None) -> Losses:
    """Return what the loads of the plan's only unit lose outside run and output, on the wires that are cut.

    Each draws its steady current, or what ``draws`` says.
    """
    job = laid.site.job
    drawn = steady if draws is None else draws
    flow = Flow(job, job.cases, drawn, through_feed_of(laid, drawn))
    return Losses(laid.site, flow, AsCut(laid.site), lambda: cranking_as_cut(laid))


def cranking_as_cut(laid: Laid) -> Cranking:
    """Return the plan's only unit while cranking, with the wires that are cut."""
    draws = cranking_flow(laid.site.job).draws
    flow = cranking_flow(laid.site.job, through_feed_of(laid, draws))
    return Cranking(laid.site, Losses(laid.site, flow, AsCut(laid.site)))


@dataclass(frozen=True)
class Lost:
    """What a load loses over its whole path, in microvolts, and the case in which that is."""

    drop: MicroVolts
    case: Case


class Drops:
    """What each load of a plan loses over its whole path, from the battery and back, on the wires that are cut.

    Feed, main fuse, returns and earth points carry what is on in the case that is asked about; a circuit that is on
    has all its loads on. For a step of the bench test make the case with ``Job.case_with``.
    """

    def __init__(self, laid: Laid, draws: Draws | None = None) -> None:
        """Take a plan with its wires at their final sizes; loads draw their steady currents, or what ``draws`` says."""
        self._laid = laid
        self._draws = draws
        self._units = {unit.place.name: losses_as_cut(laid.of(unit), draws) for unit in laid.site.units}

    def losses_of(self, unit: Site) -> Losses:
        """Return what is lost outside run and output of a unit's loads."""
        return self._units[unit.place.name]

    def feed(self, unit: Site, case: Case) -> MicroVolts:
        """Return what is lost on a unit's feed, its connectors and its main fuse."""
        return MicroVolts(self.losses_of(unit).feed_in(case))

    def worst_feed(self, unit: Site) -> Lost:
        """Return the most that is lost there."""
        cases = self.losses_of(unit).flow.cases
        worst = max(cases, key=lambda case: self.feed(unit, case))
        return self._told(worst, lambda case: self.feed(unit, case), lambda _: True)

    def _most(self, cases: Iterable[Case], is_on: CaseTest, drop: Callable[[Case], MicroVolts]) -> Lost | None:
        """Return the first case with the largest drop of what is on in all of these; None where there is no case."""
        worst = max(cases, key=drop, default=None)
        return None if worst is None else self._told(worst, drop, is_on)

    def _told(self, worst: Case, drop: Callable[[Case], MicroVolts], is_on: CaseTest) -> Lost:
        """Return what is lost in a case, which goes without the events that change nothing of it."""
        job, lost = self._laid.site.job, drop(worst)
        for event in worst.events:
            less = job.case_of(worst.state, tuple(one for one in worst.events if one != event))
            if drop(less) == lost and is_on(less):
                worst = less
        return Lost(lost, worst)

    def on_output(self, wired: WiredOutput, load: Consumer, case: Case) -> MicroVolts:
        """Return what a load of an output's circuit loses in a case."""
        return MicroVolts(self.losses_of(wired.site).outside_run(load, case) + self._on_run(wired, load))

    def _on_run(self, wired: WiredOutput, load: Consumer) -> MicroVolts:
        return NOTHING if load.at is None else wired.drop(load, wired.drawn, self._draws)

    def worst_on_output(self, wired: WiredOutput, load: Consumer) -> Lost | None:
        """Return the most that a load of an output's circuit loses; None where that is on in no case."""
        losses, run = self.losses_of(wired.site), self._on_run(wired, load)
        cases = filter(wired.feeds_in, losses.flow.cases)
        return self._most(cases, wired.feeds_in, lambda case: MicroVolts(losses.outside_run(load, case) + run))

    def fed(self, wire: FixedWire, case: Case) -> MicroVolts:
        """Return what a load loses in a case that its wire feeds from the battery."""
        site = self._laid.site
        losses, load = self.losses_of(site), fed_load(site, wire).consumer
        current = losses.flow.draws(load)
        fuse = fuse_for(load.current) or load.current
        own = fed_path_drop(site, wire, conductor_of(site, wire), fuse, current)
        return MicroVolts(own + losses.at_load(load) + losses.behind_load(load, case))

    def worst_fed(self, wire: FixedWire) -> Lost | None:
        """Return the most that such a load loses; None where it is on in no case."""
        site = self._laid.site
        job, load = site.job, fed_load(site, wire).consumer
        cases = self.losses_of(site).cases_on(load)
        return self._most(cases, lambda case: bool(job.on(load, case)), lambda case: self.fed(wire, case))

    def of(self, load: Consumer, case: Case) -> MicroVolts:
        """Return what a load loses in a case, whatever feeds it: the most, where several circuits do.

        Raises ValueError for a load that nothing of this plan feeds.
        """
        site = self._laid.site
        drops = [self.on_output(w, load, case) for w in self._laid.outputs if load in w.circuit.loads]
        drops += [self.fed(wire, case) for wire in site.fixed_of("fed load") if wire.name == load.name]
        if not drops:
            raise ValueError(f"nothing of this plan feeds {load.name}")
        return max(drops)
