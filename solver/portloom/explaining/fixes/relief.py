"""What every fix must come up to, by counting alone: crowds and sums that only so many changes relieve enough of.

It is counted on the bike's own unit and on each that may take its place: with all figures, and with loads and
switches alone, where no other figure helps.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from portloom.base.values import dataclass
from portloom.explaining.conflicts.crowds import coils_on, confined, input_crowds, output_crowds, wanting
from portloom.explaining.conflicts.kept import Instance, RelaxedInstance, relaxed_to
from portloom.explaining.fixes.change import Change
from portloom.explaining.fixes.sharing import SHARING
from portloom.explaining.telling.counts import ports_of, room_of
from portloom.job.kinds import PortDirection
from portloom.rules.fact_kinds import TOTAL, counted_by, kind_of
from portloom.rules.facts import Keys
from portloom.search.hitting_sets import AtLeast, FewPorts


class Crowds:
    """The crowds of a bike on one unit: its own, or that which the change ``unit`` puts in its place."""

    def __init__(self, instance: Instance, changes: Sequence[Change], unit: int | None = None) -> None:
        """Take the bike with no other change made."""
        self._instance = instance
        self._changes = changes
        self._unit = unit
        self._relaxed = dict(_relaxed(instance))
        self._known: set[tuple[bool, Keys]] = set()

    def all_here(self) -> Iterator[AtLeast | FewPorts]:
        """Return how much must be relieved of each crowd of the bike, and what each change can relieve it of."""
        for figures, relaxed in self._relaxed.items():
            yield from self._of(_too_few(relaxed), figures=figures)

    def seen_with(self, changed: Instance) -> Iterator[AtLeast | FewPorts]:
        """Return the same for ports that are too few of the bike with changes, where they are too few without, too."""
        for figures, relaxed in _relaxed(changed):
            yield from self._of(_too_few(relaxed), figures=figures)

    def _of(self, ports: Iterable[Keys], *, figures: bool) -> Iterator[AtLeast | FewPorts]:
        for counts in ports:
            if (figures, counts) not in self._known:
                self._known.add((figures, counts))
                relaxed = self._relaxed[figures]
                crowd = _crowd(self._instance, relaxed, counts, figures=figures)
                if crowd.too_many > 0:
                    weights = tuple(_weights(self._changes, crowd, self._unit))
                    hosts = tuple(_hosts(self._changes, crowd))
                    yield AtLeast(weights, crowd.too_many, hosts, self._unit)
                yield from _few_ports(self._changes, crowd, tuple(_groups(relaxed, counts)), self._unit)


def _relaxed(instance: Instance) -> Iterator[tuple[bool, RelaxedInstance]]:
    """Return a bike with all figures of its loads and switches, True, and without, False."""
    things = tuple(key for key in instance.keys if kind_of(key).role != "figure")
    for kept in (instance.keys, things):
        yield kept is instance.keys, relaxed_to(instance, kept)


# --- crowds


@dataclass(frozen=True)
class _Crowd:
    """Things no two of which may go together, and how many more they are than the ports that they can be on."""

    things: frozenset[str]
    too_many: int
    figures: bool
    """Whether figures of things may be why they are in it."""
    room: int
    coils: frozenset[str]
    """The loads whose relays' coils can only go on these ports, too."""


def _too_few(relaxed: RelaxedInstance) -> Iterator[Keys]:
    """Return each set of ports, by the facts that count them, that things crowd on."""
    for keys in (*output_crowds(relaxed), *input_crowds(relaxed)):
        counts = tuple(key for key in keys if key in relaxed.kept and counted_by(key))
        if counts:
            yield counts


def _crowd(instance: Instance, relaxed: RelaxedInstance, counts: Keys, *, figures: bool) -> _Crowd:
    """Return what can only go on these ports."""
    what: PortDirection = counted_by(counts[0]) or "outputs"
    names = ports_of(instance, counts, what)
    things = frozenset(wanting(relaxed, what, [key[1] for key in counts]))
    room = room_of(instance, names)
    firsts = [key[1] for key in counts]
    coils = coils_on(relaxed, firsts, figures=figures) if what == "outputs" else frozenset()
    return _Crowd(things, len(things) - room, figures, room, coils)


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
        return min(change.room, len(crowd.things & change.reach.things)) - _coils(change, crowd)
    return len(crowd.things & change.reach.things) if change.acts == "figures" and crowd.figures else 0


def _coils(change: Change, crowd: _Crowd) -> int:
    """Return how many coils of relays want ports of a crowd by a change."""
    return int(change.brings_coil and change.slot[1] in crowd.coils)


def _hosts(changes: Sequence[Change], crowd: _Crowd) -> Iterator[tuple[int, ...]]:
    """Return the joins to each group that has nothing of the crowd: the first that is joined to it relieves nobody."""
    into: dict[str, list[int]] = {}
    for number, change in enumerate(changes):
        host, joined = change.joins
        if host and crowd.things.isdisjoint(host) and not crowd.things.isdisjoint(joined):
            into.setdefault(host[0], []).append(number)
    yield from (tuple(numbers) for numbers in into.values())


# --- groups of a crowd


def _groups(relaxed: RelaxedInstance, counts: Keys) -> Iterator[tuple[str, ...]]:
    """Return the loads that can only go on such ports, those of one share group together; of switches nothing."""
    if counted_by(counts[0]) != "outputs":
        return
    names = set(confined(relaxed, "outputs", [key[1] for key in counts]))
    groups: dict[object, list[str]] = {}
    for number, load in enumerate(relaxed.job.loads.on_unit):
        if load.name in names:
            groups.setdefault(number if load.share is None else load.share, []).append(load.name)
    yield from (tuple(group) for group in groups.values())


def _few_ports(
    changes: Sequence[Change], crowd: _Crowd, groups: Sequence[tuple[str, ...]], unit: int | None
) -> Iterator[FewPorts]:
    """Return that groups are too many for their ports: one is gone only if something bears on each of its loads."""
    if len(groups) <= crowd.room:
        return
    bearing = [(number, change) for number, change in enumerate(changes) if _relieves(change, crowd)]
    sets = [
        tuple(tuple(n for n, change in bearing if name in change.reach.things) for name in group) for group in groups
    ]
    numbers = {name: number for number, group in enumerate(groups) for name in group}
    joins: list[tuple[int, int, int]] = []
    for number, change in enumerate(changes):
        if change.kind == SHARING:
            host, joined = (_number_of(names, numbers, sets) for names in change.joins)
            joins.append((number, host, joined))
    units = tuple(number for number, change in enumerate(changes) if change.acts == "unit" and number != unit)
    yield FewPorts(crowd.room, tuple(sets), tuple(joins), unit, units)


def _number_of(names: Sequence[str], numbers: dict[str, int], sets: list[tuple[tuple[int, ...], ...]]) -> int:
    """Return the number of a share group; one that can go on other ports is put into the list, as never there."""
    found = next((numbers[name] for name in names if name in numbers), None)
    if found is None:
        found = len(sets)
        sets.append(())
        numbers.update(dict.fromkeys(names, found))
    return found


def _relieves(change: Change, crowd: _Crowd) -> bool:
    """Tell whether a change may take loads from a crowd's ports; a relay's coil takes the place of its load."""
    if change.acts == "things" and change.kind != SHARING:
        return not _coils(change, crowd)
    return change.acts == "figures" and crowd.figures


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
