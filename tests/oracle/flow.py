"""The currents (mA) in every case, at the running voltage or while cranking.

Source: how a current follows the voltage: filament V^0.55 (lamp engineering, from memory),
heaters and coils in proportion, what holds its power inversely, motors not at all (common practice).
"""

from collections.abc import Collection, Mapping
from copy import copy
from math import ceil

from .cases import Case
from .quantities import ceiling
from .reading import on_unit
from .returns import Dealt, Key, coiled_at
from .things import Bike, Load

COIL_MA = 150
"""What a relay's coil draws. Common practice, no source."""
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
    """Who draws what, and what feed, main fuse, joint returns and earth points carry in each case."""

    def __init__(
        self,
        bike: Bike,
        cases: tuple[Case, ...],
        ma: dict[str, int],
        returns: Mapping[Key, Dealt],
        coil_ma: int = COIL_MA,
    ) -> None:
        """Take the cases, what each load draws by name, the returns, and what a relay's coil draws.

        A coil that a switch of its load's own earths comes back by the first return where that switch is.
        """
        self.bike, self.ma = bike, ma
        self.feed = self.fuse = tuple(self._feed_ma(case.on) for case in cases)
        coils = {key: frozenset[str]() if one.number else coiled_at(bike, one.point) for key, one in returns.items()}
        self.joint = {
            key: tuple(self.back_ma(one.names, case.on) + coil_ma * len(coils[key] & case.on) for case in cases)
            for key, one in returns.items()
        }
        self.earth = {
            earth: tuple(
                sum(self.joint[key][n] for key, one in returns.items() if one.earth == earth) for n in range(len(cases))
            )
            for earth in bike.earth
        }

    def capped(self, feed_ma: int, fuse_ma: int) -> "Flow":
        """Return the same currents, the feed's and the main fuse's no more than so many mA."""
        same = copy(self)
        same.feed, same.fuse = (tuple(min(most, ma) for ma in self.feed) for most in (feed_ma, fuse_ma))
        return same

    def _feed_ma(self, on: frozenset[str]) -> int:
        feeding = {load.name for load in on_unit(self.bike)} & on
        guests = sum(self.ma[load.name] * len(load.feeders & feeding) for load in self.bike.loads)
        return guests + sum(self.ma[name] for name in feeding)

    def back_ma(self, names: Collection[str], on: frozenset[str]) -> int:
        """Return what comes back (mA) from loads of these names while others are on."""
        here = [load for load in self.bike.loads if load.name in names]
        return sum(self.ma[load.name] for load in here if not on.isdisjoint(load.feeders or {load.name}))
