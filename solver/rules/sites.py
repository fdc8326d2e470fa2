"""Every place and way round at which a job is judged."""

from collections.abc import Iterator, Sequence

from solver.job.job import Job
from solver.job.site import Site
from solver.job.ways import common_ways, face_point, place_ways
from solver.rules.main_fuse import main_fuse
from solver.rules.shapes import Rule
from solver.words.bike import Place


def sites_of(job: Job, rules: Sequence[Rule], only: str | None = None) -> tuple[Site, ...]:
    """Give each place of the file, then the same place turned where that makes a difference."""
    fuse = main_fuse(job, rules)
    common = common_ways(job)
    return tuple(
        Site(job, place, turned=turned, main_fuse=fuse, ways=(*place_ways(job, place, turned=turned), *common))
        for place in job.bike.places
        if only in (None, place.name)
        for turned in _ways_round(place)
    )


def _ways_round(place: Place) -> Iterator[bool]:
    yield False
    straight, turned = (face_point(place, "front", turned=turned) for turned in (False, True))
    if place.way_round == "either" and straight != turned:
        yield True
