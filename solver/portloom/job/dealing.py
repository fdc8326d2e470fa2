"""Which load's current takes which joint return of its frame point.

A return of moderate size is crimped by hand; so the loads of a point fill one after the other. Who is disturbed by a
lifted earth comes first, and shares with the switches.
Source: common practice, no source.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from portloom.base.bike import Bike
from portloom.base.parts.loads import DASH, ENGINE_CONTROLLER, IGNITION_BOX, load_part
from portloom.base.vocabulary import Kind
from portloom.job.bulbs import bulbs_of
from portloom.job.consumers import Consumer, Consumers, Return

FIRST = (ENGINE_CONTROLLER.name, IGNITION_BOX.name, DASH.name)
"""Controllers, boxes and dashes: what a lifted earth disturbs."""
LAMPS: tuple[Kind, ...] = ("filament", "led", "discharge")
Serves = Callable[[str, Sequence[Consumer], int], bool]
"""Tells whether the return of a number from a point, no thicker than is usual, serves these loads."""
Taken = Mapping[str, Mapping[int, frozenset[str]]]
"""For a point the numbers of its built returns, each with the loads that it was built for."""


def dealt(bike: Bike, loads: Consumers, serves: Serves, built: Taken | None = None) -> Consumers:
    """Return the loads of a bike, each wired one with the return that it takes; as they are where they know theirs.

    Loads of ``built`` returns keep these; the others are dealt after them.
    """
    wired = [load for load in loads.wired if load.returns_at is not None]
    if all(load.back is not None for load in wired):
        return loads
    coils = [fed.coil for fed in loads.fed if fed.coil is not None]
    backs = {load.name: back for back, taking in _returns(bike, wired, coils, serves, built or {}) for load in taking}

    def known(load: Consumer) -> Consumer:
        return replace(load, back=backs.get(load.name))

    return replace(
        loads,
        on_unit=tuple(map(known, loads.on_unit)),
        guests=tuple(map(known, loads.guests)),
        fed=tuple(replace(fed, consumer=known(fed.consumer)) for fed in loads.fed),
    )


def _returns(
    bike: Bike, wired: Sequence[Consumer], coils: Sequence[Consumer], serves: Serves, built: Taken
) -> Iterable[tuple[Return, Sequence[Consumer]]]:
    """Return each return with its loads: the next load begins the next return, and none goes back.

    The first of a point leads back the coils of relays too that are earthed there by switches.
    """
    at: dict[str, dict[int, list[Consumer]]] = {
        point: {number: [] for number in sorted(numbers)} for point, numbers in built.items()
    }
    left: list[list[Consumer]] = []
    for pins in _in_order(bike, wired):
        kept = _kept(pins, built)
        if kept is None:
            left.append(pins)
        else:
            at[kept.point][kept.number] += pins
    for pins in left:
        point = pins[0].returns_at or ""
        filled = at.setdefault(point, {1: []})
        last = max(filled)
        beside = [coil for coil in coils if coil.returns_at == point] if last == 1 else []
        begun = filled[last] or last in built.get(point, {})
        if begun and not serves(point, [*filled[last], *pins, *beside], last):
            last += 1
        filled.setdefault(last, []).extend(pins)
    for point, filled in at.items():
        yield from ((Return(point, number), loads) for number, loads in filled.items())


def _kept(pins: Sequence[Consumer], built: Taken) -> Return | None:
    """Return the built return of what leaves by one pin, where one of it was built there."""
    point = pins[0].returns_at or ""
    names = {load.name for load in pins}
    for number, loads in built.get(point, {}).items():
        if not names.isdisjoint(loads):
            return Return(point, number)
    return None


def _in_order(bike: Bike, wired: Sequence[Consumer]) -> list[list[Consumer]]:
    """Return the loads as they are dealt, together what leaves by one pin: a bulb's filaments, a box and its coils."""
    pins: dict[str, list[Consumer]] = {}
    heads = {name: names[0] for names in bulbs_of(bike) for name in names}
    names = [load.name for load in wired]
    for load in wired:
        head = load.switched_by if load.switched_by in names else heads.get(load.name)
        pins.setdefault(head or load.name, []).append(load)
    order = _file_order(bike)
    every = (sorted(pin, key=lambda load: order[load.name]) for pin in pins.values())
    return sorted(every, key=lambda pin: min((_job(one), order[one.name]) for one in pin))


def _file_order(bike: Bike) -> Mapping[str, int]:
    """Return where each load stands in the file, a relay's coil right behind the load that it switches."""
    order: dict[str, int] = {}
    for load in bike.loads:
        order[load.name] = len(order)
        order.setdefault(f"{load.name} relay", len(order))
    return order


def _job(load: Consumer) -> int:
    """Return 0 for controllers, boxes and dashes, 1 for lamps, 2 for the rest, a relay's coil always among it."""
    part = None if load.kind == "relay coil" else load_part(load.part)
    if part is None:
        return 1 if load.kind in LAMPS else 2
    if part.name in FIRST:
        return 0
    return 1 if part.kind in (None, *LAMPS) else 2
