"""Every place and turn of a bike's file."""

from collections.abc import Callable, Iterator

from .job import Job
from .judge import Result, result
from .profiles import read_unit
from .reading import read_bike
from .site import Site
from .things import Place


def over_all_sites(bike_text: str, unit_text: str, best_at: Callable[[Site], int | None]) -> Result:
    """Take the texts and a way to the optimum (um) of one site; give the whole result."""
    job = Job(read_bike(bike_text), read_unit(unit_text))
    per_place: dict[tuple[str, bool], int | None] = {}
    for place, turned in ways(job):
        site = Site(job, place, turned=turned)
        per_place[place.name, turned] = best_at(site) if site.sound else None
    return result(per_place)


def ways(job: Job) -> Iterator[tuple[Place, bool]]:
    """Return every place with each way round that it may have."""
    for place in job.bike.places:
        yield place, False
        if place.either:
            yield place, True
