"""The optimum where each leg in use is worth something: every set of legs is tried, each as a frame that has no other.

A plan that uses a set of legs is one of the frame with these legs alone. So the least over all sets, of what the best
plan over a set costs and the worth of each of its legs, used or not, is what the best plan costs: a set with a leg that
the plan does not use is dearer than the same set without it.
"""

from collections.abc import Iterator
from itertools import combinations

from .highs import best_at
from .job import Job
from .profiles import read_unit
from .reading import read_bike
from .site import Site
from .sites import ways


def optimum(bike_text: str, unit_text: str, worth_um: int) -> int | None:
    """Take the texts and what a leg is worth (um); give the least cost over all sets, None if none has a plan."""
    bike, unit = read_bike(bike_text), read_unit(unit_text)
    best: int | None = None
    for shut in _sets({leg.name for leg in bike.legs}):
        legs_um = worth_um * (len(bike.legs) - len(shut))
        try:
            job = Job(bike, unit, shut=shut)
        except ValueError:
            continue  # a return has no way to earth
        for site in _sites(job):
            if best is not None and legs_um + site.fixed_um() >= best:
                continue  # the wires that every plan has are too dear already
            cost = best_at(site)
            if cost is not None and (best is None or cost + legs_um < best):
                best = cost + legs_um
    return best


def _sets(legs: set[str]) -> Iterator[frozenset[str]]:
    """Return every set of legs that may be shut."""
    for count in range(len(legs) + 1):
        yield from map(frozenset, combinations(sorted(legs), count))


def _sites(job: Job) -> Iterator[Site]:
    """Return every site that can be had with its legs; none where a wire has no way."""
    for place, turned in ways(job):
        for fuse in job.fuses_ma:
            try:
                site = Site(job, place, turned=turned, fuse_ma=fuse)
                if site.sound and site.always() is not None:
                    yield site
            except ValueError:
                continue
