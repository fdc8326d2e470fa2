"""Two units on one bike: each at a place with a main fuse of its own, and what both put in the looms.

What is counted with a feed does not depend on the plan: in each case the smaller of what the largest main
fuse that the unit takes carries less a reserve of 1.25 and what all loads of the bike draw. The main fuse
itself is counted with what it carries less that reserve, or all draw. While cranking both are counted with
what all draw at that voltage, so that it is never less than what flows.
"""

from collections.abc import Iterator, Sequence
from copy import copy, deepcopy
from functools import cache, cached_property

from .drive import Column
from .fuses import main_fuses_ma
from .job import Job, Laid, first_alike
from .site import Site, switch_wires
from .sites import ways
from .sizing import Looms, able, settled, thinnest
from .things import Bike, Place, Unit

Spot = tuple[Place, bool]
"""A place, and whether front and rear are swapped there."""
Spots = tuple[Spot, Spot]
Units = tuple[Unit, Unit]
Fuses = tuple[int, int]


class Two:
    """A bike and two units, before places and fuses are chosen."""

    def __init__(self, bike: Bike, units: Units) -> None:
        """Take the bike and both units; twice the same are two things all the same."""
        self.bike, self.units = bike, (units[0], deepcopy(units[1]))
        self.job = Job(bike, self.units[0])
        self.site = cache(self._site)
        self.pair = cache(self._pair)
        self.looms = Looms(self.job)
        self._job_of = cache(self._fused)

    def spots(self) -> Iterator[Spots]:
        """Return every two different places, in both orders, with each way round that they may have."""
        every = list(ways(self.job))
        return ((one, other) for one in every for other in every if one[0].name != other[0].name)

    def fuses_ma(self, number: int) -> tuple[int, ...]:
        """Return the main fuses (mA) that one of the units takes, and that carry what is charged through them."""
        return main_fuses_ma(self.bike.charging_ma, self.units[number].fuse_max_ma)

    def _fused(self, number: int, fuse: int) -> Job:
        job = copy(self.job)
        job.unit, job.whole = self.units[number], job
        job.first_alike = first_alike(self.units[number])
        job.fuses_ma, job.steady = (
            self.fuses_ma(number),
            self.job.steady.capped(reserved_ma(self.fuses_ma(number)[-1]), reserved_ma(fuse)),
        )
        return job

    def _site(self, number: int, spot: Spot, fuse: int) -> Site:
        """Return one of the units, at a spot, with a main fuse (mA)."""
        place, turned = spot
        return Site(self._job_of(number, fuse), place, turned=turned, fuse_ma=fuse)

    def _pair(self, spots: Spots, fuses: Fuses) -> "Pair":
        return Pair((self.site(0, spots[0], fuses[0]), self.site(1, spots[1], fuses[1])))


def reserved_ma(fuse: int) -> int:
    """Return the most (mA) that a main fuse may carry for long: F / 1.25, rounded down."""
    return fuse * 4 // 5


class Pair:
    """Two units, each at its place with its main fuse."""

    def __init__(self, sites: tuple[Site, Site]) -> None:
        """Take the sites of both."""
        self.sites, self.job, self.bike = sites, sites[0].job, sites[0].bike

    @cached_property
    def looms(self) -> Looms:
        """What is loaded in the looms with both feeds. Raises ValueError where there is none of one."""
        return Looms(self.job, *(feed for site in self.sites for feed in site.looms.feeds))

    @cached_property
    def sound(self) -> bool:
        """Tell whether both can be had at all."""
        return all(site.sound for site in self.sites) and able(self.looms, ()) is not None

    def always(self) -> list[Laid]:
        """Return the wires of the looms that no plan here changes, in no other size."""
        return [*self.job.always, *(site.unit_earth for site in self.sites)]

    @cached_property
    def fixed(self) -> list[Laid]:
        """The wires that every plan here has, no thicker than in any plan. Raises ValueError if none is sound."""
        bare = able(self.looms, ())
        if bare is None:
            msg = "a pair that is not sound has no wires"
            raise ValueError(msg)
        return self.always() + bare.thinnest()

    def laid(self, columns: Sequence[Column]) -> list[Laid] | None:
        """Return all wires of a plan with these columns, in their settled sizes; None where one has none."""
        sized = settled(self.looms, [column.drive for column in columns if column.drive])
        return None if sized is None else self.always() + sized.thinnest() + switch_wires(columns)

    def thinnest(self, columns: Sequence[Column]) -> list[Laid] | None:
        """Return all wires of a plan with these columns, no thicker than with more of them; None as above."""
        sized = thinnest(self.looms, [column.drive for column in columns if column.drive])
        return None if sized is None else self.always() + sized + switch_wires(columns)

    def fixed_um(self) -> int:
        """Return the run (um) that every plan here has: both feeds, returns, fed loads."""
        feeds = sum(site.supply.length_um for site in self.sites)
        return self.job.fixed_um + feeds
