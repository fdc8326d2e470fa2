"""What every fix must come up to, by counting alone: crowds and sums that only so many changes relieve enough of.

It is counted on the bike's own unit and on each that may take its place: with all figures, and with loads and
switches alone, where no other figure helps.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from portloom.explaining.conflicts.crowds import input_crowds, output_crowds, wanting
from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, relaxed_to
from portloom.explaining.fixes.change import Change
from portloom.explaining.fixes.sharing import SHARING
from portloom.explaining.telling.counts import ports_of, room_of, seats
from portloom.job.kinds import PortDirection
from portloom.rules.fact_kinds import TOTAL, counted_by, kind_of
from portloom.rules.facts import Keys
from portloom.search.hitting_sets import AtLeast


def of_crowds(instance: Instance, changes: Sequence[Change], unit: int | None = None) -> Iterator[AtLeast]:
    """Return how much must be relieved of each crowd, and what each change can relieve it of at most.

    ``unit`` is the change by which the unit is what it is; None where it is the bike's own.
    A change relieves a crowd of the things that it bears on: what is not touched still wants a port of its own.
    """
    things = tuple(key for key in instance.keys if kind_of(key).role != "figure")
    for kept in (instance.keys, things):
        relaxed = relaxed_to(instance, kept)
        for crowd in _crowds(instance, relaxed, figures=len(kept) > len(things)):
            yield AtLeast(tuple(_weights(changes, crowd, unit)), crowd.too_many, tuple(_hosts(changes, crowd)), unit)


# --- crowds


@dataclass(frozen=True)
class _Crowd:
    """Things no two of which may go together, and how many more they are than the ports that they can be on."""

    things: frozenset[str]
    too_many: int
    figures: bool
    """Whether figures of things may be why they are in it."""
    everywhere: bool
    """Whether its ports are all there are."""


def _crowds(instance: Instance, relaxed: RelaxedInstance, *, figures: bool) -> Iterator[_Crowd]:
    """Return a crowd for each set of ports that are too few."""
    known: set[Keys] = set()
    for keys in (*output_crowds(relaxed), *input_crowds(relaxed)):
        counts = tuple(key for key in keys if key in instance.everything and counted_by(key))
        if counts and counts not in known:
            known.add(counts)
            yield from _crowd(instance, relaxed, counts, figures=figures)


def _crowd(instance: Instance, relaxed: RelaxedInstance, counts: Keys, *, figures: bool) -> Iterator[_Crowd]:
    what: PortDirection = counted_by(counts[0]) or "outputs"
    names = ports_of(instance, counts, what)
    things = frozenset(wanting(relaxed, what, [key[1] for key in counts]))
    too_many = len(things) - room_of(instance, names)
    if too_many > 0:
        yield _Crowd(things, too_many, figures, everywhere=set(names) == set(seats(instance, what)))


def _weights(changes: Sequence[Change], crowd: _Crowd, unit: int | None) -> Iterator[tuple[int, int]]:
    for number, change in enumerate(changes):
        weight = _weight(change, crowd)
        if change.acts == "unit" and number != unit:
            yield number, crowd.too_many
        elif weight > 0:
            yield number, weight


def _weight(change: Change, crowd: _Crowd) -> int:
    """Return of how many a change relieves a crowd at most.

    Of groups that come together all are relieved but one. A relay's coil wants an output in its turn.
    """
    if change.kind == SHARING:
        into, joined = (len(crowd.things.intersection(names)) for names in change.joins)
        return joined + max(0, into - 1)
    if change.acts == "things":
        brought = len(change.brings) if crowd.everywhere else 0
        return min(change.room, len(crowd.things & change.reach.things)) - brought
    return len(crowd.things & change.reach.things) if change.acts == "figures" and crowd.figures else 0


def _hosts(changes: Sequence[Change], crowd: _Crowd) -> Iterator[tuple[int, ...]]:
    """Return the joins to each group that has nothing of the crowd: the first that is joined to it relieves nobody."""
    into: dict[str, list[int]] = {}
    for number, change in enumerate(changes):
        host, joined = change.joins
        if host and crowd.things.isdisjoint(host) and not crowd.things.isdisjoint(joined):
            into.setdefault(host[0], []).append(number)
    yield from (tuple(numbers) for numbers in into.values())


# --- sums


def of_the_feed(instance: Instance, changes: Sequence[Change], unit: int | None = None) -> Iterator[AtLeast]:
    """Return for each case that is too much for the unit what each change relieves it of at most, in mA.

    A load that others feed is counted once: they may share an output.
    """
    job = instance.job
    if TOTAL.key(TOTAL.only) not in instance.everything:
        return
    loads = (*job.loads.on_unit, *job.loads.guests)
    for case in job.cases:
        on = {load.name: load.current for load in loads if job.on(load, case)}
        too_much = sum(on.values()) - job.unit.feed.limit
        if too_much > 0:
            yield AtLeast(tuple(_amperes(enumerate(changes), on, too_much, unit)), too_much, only_if=unit)


def _amperes(
    changes: Iterable[tuple[int, Change]], on: Mapping[str, int], too_much: int, unit: int | None
) -> Iterator[tuple[int, int]]:
    for number, change in changes:
        if change.acts == "unit" and number != unit:
            yield number, too_much
        elif change.reach.draws:
            yield number, sum(on.get(name, 0) for name in change.reach.things)
