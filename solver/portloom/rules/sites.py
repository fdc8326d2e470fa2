"""Every place and way round at which a job is judged, with the main fuses that the unit may have there."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cached_property
from typing import overload

from portloom.base.bike import Place
from portloom.base.built import BuiltLoom
from portloom.base.figures import seat_phrase
from portloom.base.fuses import carried_for_good
from portloom.base.unit import FACES
from portloom.job.fixed_as_built import as_built
from portloom.job.fixed_wires import FixedWire, common_fixed_wires, face_point, fixed_wires_at
from portloom.job.job import Job
from portloom.job.site import Site
from portloom.rules.fuse_size import possible_fuses


class Sites(Sequence[Site]):
    """Each place of the file, then the same place turned where that makes a difference; set up when first asked for."""

    def __init__(self, job: Job, only: str | None = None, whole: "Sites | None" = None) -> None:
        """Take the job, the place that alone is allowed, and the sites of the whole bike where this is a part of it."""
        self._job = job
        self._whole = whole
        places = (place for place in job.bike.places if only in (None, place.name))
        seats = ((place, turned) for place in places for turned in _ways_round(place))
        self._seats = tuple(seat for seat in seats if job.built is None or _is_built(job.built.loom, *seat))
        self._known: dict[int, Site] = {}

    @property
    def labels(self) -> tuple[str, ...]:
        """Say where each is, without setting it up."""
        return tuple(seat_phrase(place.name, turned=turned) for place, turned in self._seats)

    @property
    def faces(self) -> tuple[str, ...]:
        """The frame points that the faces of the unit meet, at each, without setting it up."""
        return tuple(face_point(place, face, turned=turned) for place, turned in self._seats for face in FACES)

    def __len__(self) -> int:
        return len(self._seats)

    @overload
    def __getitem__(self, number: int) -> Site: ...

    @overload
    def __getitem__(self, number: slice) -> Sequence[Site]: ...

    def __getitem__(self, number: int | slice) -> Site | Sequence[Site]:
        if isinstance(number, slice):
            return [self[each] for each in range(*number.indices(len(self)))]
        if number not in self._known:
            self._known[number] = self._site(*self._seats[number])
            if self._whole is not None:
                self._known[number] = self._known[number].part_of(self._whole[number])
        return self._known[number]

    def _site(self, place: Place, turned: bool) -> Site:  # noqa: FBT001 - a seat is a pair
        wires = (*fixed_wires_at(self._job, place, turned=turned), *self._common)
        return _fused(Site(self._job, place, turned, (), as_built(self._job.built, wires)))

    @cached_property
    def _common(self) -> tuple[FixedWire, ...]:
        return tuple(common_fixed_wires(self._job))


def _is_built(loom: BuiltLoom, place: Place, turned: bool) -> bool:  # noqa: FBT001 - as above
    """Place and turn stay as built."""
    return (place.name, turned) == (loom.place, loom.turned)


def site_at(job: Job, place: Place, *, turned: bool) -> Site:
    """Return a place and way round of the file as the site of a job."""
    wires = (*fixed_wires_at(job, place, turned=turned), *common_fixed_wires(job))
    return _fused(Site(job, place, turned, (), wires))


def sites_of(job: Job, only: str | None = None) -> tuple[Site, ...]:
    """Return each place of the file, then the same place turned where that makes a difference."""
    return tuple(Sites(job, only))


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
