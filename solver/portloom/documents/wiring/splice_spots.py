"""Where splices are made fast: along a leg that does not flex, as near to the frame point as their wires reach.

Lengths are reckoned to the frame point, so a splice is no farther from it than what its wires are made up to there
leaves for stripping. Of several in one leg each lies a crimp's length nearer than the one before it, as far as that
goes. Source: common practice, no source.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from portloom.base.quantities import Micrometres
from portloom.documents.wiring.wire import SpliceSpot, Wire
from portloom.job.job import Job

STRIPPED = Micrometres(10_000)
CRIMP = Micrometres(15_000)


class SpliceSpots:
    """Gives each splice its spot, those of one frame point spread over the legs that their wires take."""

    def __init__(self, job: Job) -> None:
        """Take the job with its legs, connectors and margin."""
        self._job = job
        self._taken: Counter[tuple[str, int]] = Counter()

    def of(self, point: str, joined: Sequence[Wire]) -> SpliceSpot | None:
        """Return where a splice at a frame point goes, in the order of the list; None for the point itself."""
        ways = dict.fromkeys(leg for wire in joined for leg in _legs_at(wire, point))
        still = [leg for leg in ways if not self._job.network.legs[leg].moves]
        if not still:
            return None
        number = min(still, key=lambda leg: (self._taken[point, leg], leg))
        leg = self._job.network.legs[number]
        reach = min(max(0, self._job.bike.margin.at("splice") - STRIPPED), leg.length // 2)
        nearer = CRIMP * (self._taken[point, number] % (reach // CRIMP + 1))
        self._taken[point, number] += 1
        return SpliceSpot(leg.label, Micrometres(reach - nearer))


def _legs_at(wire: Wire, point: str) -> Iterator[int]:
    """Return the leg by which a wire leaves a splice at its end; none where it passes a connector there first."""
    if not wire.leg_numbers or any(way.at == point for way in wire.connectors):
        return
    if wire.points[0] == point:
        yield wire.leg_numbers[0]
    else:
        yield wire.leg_numbers[-1]
