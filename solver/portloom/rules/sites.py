"""Every place and way round at which a job is judged, with the main fuses that the unit may have there."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.bike import Place
from portloom.base.fuses import carried_for_good
from portloom.job.fixed_wires import FixedWire, common_fixed_wires, face_point, fixed_wires_at
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.fuse_size import possible_fuses


def sites_of(job: Job, only: str | None = None) -> tuple[Site, ...]:
    """Return each place of the file, then the same place turned where that makes a difference."""
    common = common_fixed_wires(job)
    return tuple(
        _fused(Site(job, place, turned, (), (*fixed_wires_at(job, place, turned=turned), *common)))
        for place in job.bike.places
        if only in (None, place.name)
        for turned in _ways_round(place)
    )


def shared_sites(job: Job) -> tuple[Site, ...]:
    """Return the same for one unit of two, which does not carry all of the bike."""
    common = common_fixed_wires(job)
    return tuple(
        _fused(_shared(job, place, common, turned=turned)) for place in job.bike.places for turned in _ways_round(place)
    )


def _shared(job: Job, place: Place, common: Sequence[FixedWire], *, turned: bool) -> Site:
    own = (replace(wire, name=place.name) for wire in fixed_wires_at(job, place, turned=turned))
    return Site(job, place, turned, (), (*own, *common), feed_most=carried_for_good(job.unit.feed.largest_fuse))


def _fused(site: Site) -> Site:
    fuses = possible_fuses(site)
    return replace(site.with_fuses(*fuses), largest=max(fuses, default=None))


def _ways_round(place: Place) -> Iterator[bool]:
    yield False
    straight, turned = (face_point(place, "front", turned=turned) for turned in (False, True))
    if place.way_round == "either" and straight != turned:
        yield True
