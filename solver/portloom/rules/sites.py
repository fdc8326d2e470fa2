"""Every place and way round at which a job is judged."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from portloom.base.bike import Place
from portloom.base.quantities import MilliAmps
from portloom.job.fixed_wires import FixedWire, common_fixed_wires, face_point, fixed_wires_at
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.fuse_size import counted_most, fuse_steps, main_fuse
from portloom.rules.shapes import Rule


def sites_of(job: Job, rules: Sequence[Rule], only: str | None = None) -> tuple[Site, ...]:
    """Return each place of the file, then the same place turned where that makes a difference."""
    fuse = main_fuse(job, rules)
    common = common_fixed_wires(job)
    return tuple(
        Site(job, place, turned, fuse, (*fixed_wires_at(job, place, turned=turned), *common))
        for place in job.bike.places
        if only in (None, place.name)
        for turned in _ways_round(place)
    )


def shared_sites(job: Job) -> tuple[tuple[Site, ...], ...]:
    """Return each place and way round for one unit of two, with every main fuse that its charging current allows.

    A place that is turned follows the place itself, where that makes a difference.
    """
    common = common_fixed_wires(job)
    return tuple(
        tuple(_shared(job, place, fuse, common, turned=turned) for fuse in fuse_steps(job))
        for place in job.bike.places
        for turned in _ways_round(place)
    )


def _shared(job: Job, place: Place, fuse: MilliAmps, common: Sequence[FixedWire], *, turned: bool) -> Site:
    own = (replace(wire, name=place.name) for wire in fixed_wires_at(job, place, turned=turned))
    return Site(job, place, turned, fuse, (*own, *common), counted_most(fuse))


def _ways_round(place: Place) -> Iterator[bool]:
    yield False
    straight, turned = (face_point(place, "front", turned=turned) for turned in (False, True))
    if place.way_round == "either" and straight != turned:
        yield True
