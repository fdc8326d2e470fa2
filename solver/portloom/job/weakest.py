"""Where a wire is weakest: the leg and the case in which it carries least of what it must."""

from collections.abc import Iterable, Iterator
from fractions import Fraction

from portloom.base.ampacity import derated
from portloom.base.copper import Conductor
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.job.job import Job
from portloom.job.loading import Bundles, Demand


@dataclass(frozen=True)
class WeakSpot:
    """A leg of a wire, in one case: what it must carry there, what it carries, and the loaded wires in it."""

    leg: int
    demand: Demand
    loaded: int
    carries: MilliAmps
    """Derated, rounded down to 1 mA."""

    @property
    def share(self) -> Fraction:
        """What must be carried over what is."""
        return Fraction(self.demand.current, max(1, self.carries))


def weakest_spot(
    job: Job, conductor: Conductor, legs: Iterable[int], demands: Iterable[Demand], bundles: Bundles
) -> WeakSpot | None:
    """Return where most of what a wire carries is asked of it, of equal ones where it carries least."""
    spots = _spots(job, conductor, tuple(legs), demands, bundles)
    return max(spots, key=lambda spot: (spot.share, -spot.carries, -spot.leg), default=None)


def _spots(
    job: Job, conductor: Conductor, legs: tuple[int, ...], demands: Iterable[Demand], bundles: Bundles
) -> Iterator[WeakSpot]:
    for demand in demands:
        for leg in legs:
            loaded = bundles.beside(leg, demand)
            carries = derated(conductor.ampacity, job.insulation, job.network.legs[leg].ambient, loaded)
            yield WeakSpot(leg, demand, loaded, carries)
