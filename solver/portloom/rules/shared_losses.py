"""What all loads share: feed, returns and earth points. How far a load can grow before another one loses too much.

All of it is linear in the current, so the room is worked out at once, exact.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps
from portloom.job.consumers import Consumer, Return
from portloom.job.fixed import conductor_of, fed_load, fed_path_drop
from portloom.job.laid import Laid
from portloom.rules.growth import Pairs

ONE, NO_CURRENT = MilliAmps(1), MilliAmps(0)
LossAt = tuple[Return | None, bool, int]
"""Where it is lost: the joint return if there is one, whether on the feed too, the number of the case."""


Left = tuple[LossAt, Fraction]
"""How much more may be lost there, in microvolts."""


class SharedLosses:
    """What may still be lost in each case where loads share a feed, a return or an earth point."""

    def __init__(self, laid: Laid, left: Iterable[Left]) -> None:
        """Take a plan as it is wired, and what may still be lost where."""
        self._job, self._losses = laid.site.job, laid.losses
        self._left: dict[LossAt, Fraction] = {}
        for key, more in left:
            self._left[key] = min(more, self._left.get(key, more))

    def rooms(self, load: Consumer, _: Pairs) -> Iterator[int]:
        """Return by how many mA a load can grow before anyone on the same feed, return or earth loses too much."""
        for (back, feed, number), left in self._left.items():
            times = self._job.on(load, self._job.cases[number])
            each = self._each(load, back, times if feed else 0) if times else 0
            if each:
                yield int(left // each)

    def _each(self, load: Consumer, back: Return | None, times: int) -> Fraction:
        """Return what a mA more of a load costs there, in microvolts."""
        on_feed = self._losses.feed_loss(ONE) * times
        if back is None or load.back not in self._losses.returns_earthed_with(back):
            return on_feed
        return on_feed + self._losses.behind_loss(back, ONE if load.back == back else NO_CURRENT, ONE)


def losses_of_outputs(laid: Laid) -> Iterator[Left]:
    """Return what each load on an output may still lose."""
    for wired in laid.outputs:
        lost = wired.drops(wired.drawn)
        for load in wired.circuit.loads:
            if load.at is not None:
                run = lost[load.name] - laid.losses.before_run(load)
                yield from _in_cases(laid, load, load.drop_limit - run, feed=True)


def losses_of_fed(laid: Laid) -> Iterator[Left]:
    """Return what each load that is fed from the battery may still lose."""
    for wire in laid.site.fixed_of("fed load"):
        load = fed_load(laid.site, wire).consumer
        fuse = fuse_for(load.current)
        if fuse is not None:
            own = fed_path_drop(laid.site, wire, conductor_of(laid.site, wire), fuse, load.current)
            yield from _in_cases(laid, load, load.drop_limit - own, feed=False)


def _in_cases(laid: Laid, load: Consumer, allowed: Fraction, *, feed: bool) -> Iterator[Left]:
    """Return what a load may still lose, ``allowed`` outside its run, in each case in which it is on."""
    losses = laid.losses
    for number, case in enumerate(losses.flow.cases):
        if laid.site.job.on(load, case):
            shared = losses.behind_load(load, case) + (losses.feed_in(case) if feed else 0)
            yield (load.back, feed, number), allowed - losses.at_load(load) - shared


def lifts(laid: Laid) -> Iterator[Left]:
    """Return how much further the earth of each switch may be lifted."""
    job = laid.site.job
    limit = 1000 * job.assume["switch earth lift"]
    for point in dict.fromkeys(point for switch in job.wired_inputs if switch.earthed_by_wire for point in switch.at):
        for number, lift in enumerate(laid.losses.behind(Return(point))):
            yield (Return(point), False, number), limit - lift
