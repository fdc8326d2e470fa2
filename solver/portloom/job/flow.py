"""What flows through feed and returns in a case, each load at its steady current or at another voltage's."""

from collections.abc import Callable, Sequence
from functools import cached_property

from portloom.base.current import current_at
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.job.cases import Case
from portloom.job.consumers import Consumer, Return
from portloom.job.job import Job

Draws = Callable[[Consumer], MilliAmps]
"""What a load draws."""


class Flow:
    """What flows where in each of some cases."""

    def __init__(
        self,
        job: Job,
        cases: Sequence[Case],
        draws: Draws,
        feed: Callable[[Case], MilliAmps] | None = None,
        fuse: Callable[[Case], MilliAmps] | None = None,
    ) -> None:
        """Take the bike, its cases, what a load draws in them, and what flows in the feed (all, unless it is given).

        ``fuse`` says what the main fuse is counted with, where that is not the same.
        """
        self._job = job
        self.cases = tuple(cases)
        self.draws = draws
        self._feed = feed or self._all
        self.through_fuse = fuse or self.through_feed
        """Returns what flows in the main fuse in a case."""
        self._through: dict[int, MilliAmps] = {}
        self._back: dict[tuple[Return, int], MilliAmps] = {}

    def through_feed(self, case: Case) -> MilliAmps:
        """Return what flows in the feed."""
        if case.on not in self._through:
            self._through[case.on] = self._feed(case)
        return self._through[case.on]

    def _all(self, case: Case) -> MilliAmps:
        """A guest counts once for each feeder that is on."""
        loads = (*self._job.loads.on_unit, *self._job.loads.guests)
        return MilliAmps(sum(self._job.on(load, case) * self.draws(load) for load in loads))

    def returned(self, back: Return, case: Case) -> MilliAmps:
        """Return what a joint return carries: each load that is on once, however many circuits feed it."""
        key = (back, case.on)
        if key not in self._back:
            loads = self._job.sent_back(back)
            self._back[key] = MilliAmps(sum(self.draws(load) for load in loads if self._job.on(load, case)))
        return self._back[key]

    @cached_property
    def worst(self) -> MilliAmps:
        """The most that flows in the feed."""
        return max(map(self.through_feed, self.cases), default=MilliAmps(0))

    def worst_returned(self, back: Return) -> MilliAmps:
        """Return the most that a joint return carries."""
        return max((self.returned(back, case) for case in self.cases), default=MilliAmps(0))


def steady(load: Consumer) -> MilliAmps:
    """Return the steady current of a load."""
    return load.current


def steady_flow(job: Job, feed: Callable[[Case], MilliAmps], fuse: Callable[[Case], MilliAmps]) -> Flow:
    """Return what flows in the cases to judge, each load at its steady current."""
    return Flow(job, job.cases, steady, feed, fuse)


def cranking_voltage(job: Job) -> MilliVolts:
    """Return the battery's voltage while cranking: the file's, else the usual one."""
    said = job.bike.supply.cranking
    return MilliVolts(job.assume["cranking voltage"]) if said is None else said


def drawn_at(job: Job, voltage: MilliVolts) -> Draws:
    """Return what loads draw at another voltage than the running one."""
    return lambda load: current_at(load.kind, load.current, load.lamp_test or job.bike.supply.running, voltage)


def cranking_flow(job: Job, feed: Callable[[Case], MilliAmps] | None = None) -> Flow:
    """Return what flows while cranking, in the cases in which anything is on, each load at the battery's voltage then.

    Of two units each feed is counted with all that the bike draws, unless ``feed`` says what flows in it: what its
    fuse carries is no bound here, as lamps and controllers draw more at the cranking voltage.
    """
    return Flow(job, [case for case in job.cranking if case.on], drawn_at(job, cranking_voltage(job)), feed)
