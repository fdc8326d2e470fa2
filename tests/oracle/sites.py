"""Every place, turn and main fuse of a bike on its unit."""

from collections.abc import Callable, Iterator

from .job import Job
from .judge import Optimum, Result
from .profiles import read_unit
from .reading import read_bike
from .site import Site
from .things import Place


def over_all_sites(bike_text: str, unit_text: str, best_at: Callable[[Site], int | None]) -> Result:
    """Take the texts and a way to the optimum (um) of one site; give the whole result."""
    return over_every_site(Job(read_bike(bike_text), read_unit(unit_text)), best_at)


def over_every_site(job: Job, best_at: Callable[[Site], int | None]) -> Result:
    """Take a job and a way to the optimum (um) of one site; give the whole result."""
    return Result({(place.name, turned): _best(job, place, best_at, turned=turned) for place, turned in ways(job)})


def _best(job: Job, place: Place, best_at: Callable[[Site], int | None], *, turned: bool) -> Optimum | None:
    """Return the optimum with any main fuse, and the smallest fuse that it has."""
    found = (
        Optimum(cost, site.fuse_ma) for site in fused(job, place, turned=turned) if (cost := best_at(site)) is not None
    )
    return min(found, default=None)


def ways(job: Job) -> Iterator[tuple[Place, bool]]:
    """Return every place with each way round that it may have."""
    for place in job.bike.places:
        yield place, False
        if place.either:
            yield place, True


def fused(job: Job, place: Place, *, turned: bool) -> Iterator[Site]:
    """Return the sites at a place and way round that can be had at all, one for each main fuse, small ones first."""
    sites = (Site(job, place, turned=turned, fuse_ma=fuse) for fuse in job.fuses_ma)
    return (site for site in sites if site.sound)


def every_site(job: Job) -> Iterator[Site]:
    """Return the sites of every place and way round."""
    return (site for place, turned in ways(job) for site in fused(job, place, turned=turned))
