"""A wish judged by the reference program: HiGHS, made to put a load on a port, or the unit at a place."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from math import inf
from unittest import mock

from oracle import highs, kept, sites
from oracle.circuits import circuit
from oracle.facts import Key
from oracle.job import Job
from oracle.kinds import kinds_of
from oracle.profiles import read_unit
from oracle.programme import Model
from oracle.reading import on_unit, read_bike
from oracle.site import Site
from oracle.sites import every_site, ways
from oracle.things import Place

Seat = tuple[str, str]
"""A load and the output that it is to be on."""
Texts = tuple[str, str]


def cost_with(texts: Texts, seats: Iterable[Seat], place: str | None = None) -> int | None:
    """Return what the best plan costs (um) with these loads on these very outputs; None if there is none.

    ``place`` is a place's name, for either way round there, or a site's label.
    """
    wanted = [(load, frozenset((port,))) for load, port in seats]
    with _made_to(wanted), _only(place):
        return highs.optimum(*texts).cost_um


@contextmanager
def _only(place: str | None) -> Iterator[None]:
    """Allow the sites of a place, or only the one that is labelled so."""

    def there(job: Job) -> Iterator[tuple[Place, bool]]:
        for where, turned in ways(job):
            label = f"{where.name}, turned around" if turned else where.name
            if place in (None, where.name, label):
                yield where, turned

    with mock.patch.object(sites, "ways", there):
        yield


def has_plan_with(texts: Texts, facts: Iterable[Key], seat: Seat | None = None, place: str | None = None) -> bool:
    """Tell whether there is a plan if only these facts are kept, with a load on an output of a kind, at a place.

    Where the load is left out, it may be anywhere.
    """
    wanted = [] if seat is None else [(seat[0], _kind(texts[1], seat[1]))]
    with _made_to(wanted), _only(place):
        return kept.has_plan(*texts, facts)


def _kind(unit_text: str, port: str) -> frozenset[str]:
    """Return the names of all outputs of a port's kind: where there are as many as wanted, one name stands for all."""
    kinds = ([output.name for output in outputs] for outputs in kinds_of(unit_text).outputs)
    return frozenset(next(names for names in kinds if port in names))


@contextmanager
def _made_to(wanted: list[tuple[str, frozenset[str]]]) -> Iterator[None]:
    """Add to every programme that each load is on one of its outputs."""
    plain = highs.programme_of

    def programme(site: Site) -> Model:
        model = plain(site)
        names = {load.name for load in on_unit(site.bike)}
        for load, ports in wanted:
            if load in names:
                model.row({n: 1 for n, meaning in enumerate(model.meanings) if _is(meaning, load, ports)}, 1, inf)
        return model

    with mock.patch.object(highs, "programme_of", programme), mock.patch.object(kept, "programme_of", programme):
        yield


def _is(meaning: tuple[str, object, object], load: str, ports: frozenset[str]) -> bool:
    what, held, port = meaning
    return what == "circuit" and load in held.names and port.name in ports  # type: ignore[attr-defined]


def fits_alone(texts: Texts, seat: Seat) -> bool:
    """Tell whether a load by itself can be on an output at some place, whatever else is where."""
    job = Job(read_bike(texts[0]), read_unit(texts[1]))
    load = next(load for load in job.bike.loads if load.name == seat[0])
    port = next(output for output in job.unit.outputs if output.name == seat[1])
    return any(site.output_column(circuit(job.bike, [load]), port) is not None for site in every_site(job))
