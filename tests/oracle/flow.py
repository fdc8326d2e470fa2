"""The currents (mA) in every case, at the running voltage or while cranking.

Source: how a current follows the voltage: filament V^0.55 (lamp engineering, from memory),
heaters and coils in proportion, what holds its power inversely, motors not at all (common practice).
"""

from copy import copy
from math import ceil

from .cases import Case
from .quantities import ceiling
from .reading import on_unit
from .things import Bike, Load

STEADIER = frozenset({"led", "electronics", "discharge"})


def cranking_ma(load: Load, bike: Bike) -> int:
    """Return what a load draws (mA) at the cranking voltage, rounded up."""
    less = bike.cranking_mv / load.current_at_mv
    if load.kind == "motor":
        return load.current_ma
    if load.kind == "filament":
        share: float = float(less) ** 0.55
        return ceil(load.current_ma * share)
    return ceiling(load.current_ma / less if load.kind in STEADIER else load.current_ma * less)


class Flow:
    """Who draws what, and what feed, joint returns and earth points carry in each case."""

    def __init__(self, bike: Bike, cases: tuple[Case, ...], ma: dict[str, int], earths: dict[str, str]) -> None:
        """Take the cases, what each load draws by name, and each return's point with its earth point."""
        self.bike, self.ma = bike, ma
        self.feed = tuple(self._feed_ma(case.on) for case in cases)
        self.joint = {point: tuple(self._joint_ma(point, case.on) for case in cases) for point in earths}
        self.earth = {
            earth: tuple(sum(self.joint[p][n] for p in earths if earths[p] == earth) for n in range(len(cases)))
            for earth in bike.earth
        }

    def capped(self, most_ma: int) -> "Flow":
        """Return the same currents, the feed's no more than so many mA."""
        same = copy(self)
        same.feed = tuple(min(most_ma, ma) for ma in self.feed)
        return same

    def _feed_ma(self, on: frozenset[str]) -> int:
        feeding = {load.name for load in on_unit(self.bike)} & on
        guests = sum(self.ma[load.name] * len(load.feeders & feeding) for load in self.bike.loads)
        return guests + sum(self.ma[name] for name in feeding)

    def _joint_ma(self, point: str, on: frozenset[str]) -> int:
        here = [load for load in self.bike.loads if load.back == point]
        return sum(self.ma[load.name] for load in here if not on.isdisjoint(load.feeders or {load.name}))
