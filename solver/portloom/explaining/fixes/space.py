"""All changes that may be thought of for a bike, and which of them can't be made together."""

from collections.abc import Collection, Iterator, Sequence

from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes import loads, looms, pins, ports, undone
from portloom.explaining.fixes.change import Change, Slot
from portloom.explaining.fixes.sharing import in_one_way, joins
from portloom.search.hitting_sets import Clause

AT_A_LOAD = (loads.LED_LAMP, loads.SUPPRESSED, pins.LIFTED, looms.ROUND)
"""Kinds of changes that are none where the load is left off."""


def all_changes(instance: Instance, known: Sequence[Unit]) -> tuple[Change, ...]:
    """Return every change that may be thought of for a bike, the least effort first.

    Whether one is any use may hang on others, so that is not asked here: only what no other change can alter is.
    """
    every = (
        *joins(instance),
        *looms.ways_round(instance),
        *loads.led_lamps(instance),
        *loads.suppressors(instance),
        *pins.lifted_pins(instance),
        *pins.lifted_alike(instance),
        *undone.undone_circuits(instance),
        *looms.places(instance),
        *looms.opened_up(instance),
        *ports.new_multiplexers(instance, known),
        *loads.feeds(instance),
        *loads.left_off(instance),
        *ports.bigger_units(instance, known),
    )
    return tuple(sorted(every, key=lambda change: change.effort))


def excluded(changes: Sequence[Change]) -> Iterator[tuple[int, ...]]:
    """Return sets of changes of which one at most is made."""
    yield from (numbers for numbers in _by_slot(changes).values() if len(numbers) > 1)
    yield from in_one_way(changes)
    off = {change.slot[1]: number for number, change in enumerate(changes) if change.kind == loads.OFF}
    for number, change in enumerate(changes):
        if change.kind in AT_A_LOAD and change.slot[1] in off:
            yield number, off[change.slot[1]]


def implied(changes: Sequence[Change]) -> Iterator[Clause]:
    """Return what must be made for a change to be made."""
    settling = _by_slot(changes)
    for number, change in enumerate(changes):
        for slot in change.needs:
            yield settling.get(slot, ()), (number,)


def _by_slot(changes: Sequence[Change]) -> dict[Slot, tuple[int, ...]]:
    """Return the numbers of the changes that settle each thing."""
    slots: dict[Slot, list[int]] = {}
    for number, change in enumerate(changes):
        slots.setdefault(change.slot, []).append(number)
    return {slot: tuple(numbers) for slot, numbers in slots.items()}


def alike(changes: Sequence[Change]) -> list[list[int]]:
    """Return the numbers of the changes of each kind."""
    kinds = dict.fromkeys(change.kind for change in changes)
    return [[number for number, change in enumerate(changes) if change.kind == kind] for kind in kinds]


def gone_by(changes: Sequence[Change], names: Sequence[str]) -> tuple[int, ...]:
    """Return the changes by which some of these loads are on no output of the unit any more."""
    slots = {("feed", name) for name in names}
    return tuple(number for number, change in enumerate(changes) if change.slot in slots)


def most_helpful(changes: Sequence[Change]) -> Iterator[tuple[int, ...]]:
    """Return choices that spare most: all that can be left off, but for one load at least, and what helps the rest.

    First with the bike's own unit, then with each that may take its place.
    """
    units = [number for number, change in enumerate(changes) if change.acts == "unit"]
    left = [number for number, change in enumerate(changes) if change.kind == loads.OFF]
    for unit in ((), *((number,) for number in units)):
        for kept in (None, *left):
            off = {changes[number].slot[1] for number in left if number != kept}
            helping = (n for n, change in enumerate(changes) if n != kept and _spares(change, off))
            yield tuple(sorted((*unit, *helping)))


def _spares(change: Change, off: Collection[str]) -> bool:
    if change.kind in (loads.LED_LAMP, loads.SUPPRESSED, pins.LIFTED):
        return change.slot[1] not in off
    return change.kind in (loads.OFF, pins.UNLIKE, undone.UNDONE, looms.OPENED, ports.NEW_MULTIPLEXER)
