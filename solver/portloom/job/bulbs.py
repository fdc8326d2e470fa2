"""Bulbs with several filaments: which loads are filaments of one bulb, and so have one return pin."""

from collections.abc import Iterator

from portloom.base.bike import Bike, Load
from portloom.base.lamps import LAMPS


def bulbs_of(bike: Bike) -> tuple[tuple[str, ...], ...]:
    """Return the names of the loads that are filaments of one bulb, bulb by bulb, in the order of the file.

    Loads that name the same ``bulb``; else two lamp words of one base at one point, paired as the file lists them.
    Only what has a return wire has a pin to share.
    """
    wired = [load for load in bike.loads if load.return_ == "wire"]
    found = [*_named(wired), *_paired(wired)]
    order = {load.name: number for number, load in enumerate(bike.loads)}
    return tuple(sorted(found, key=lambda names: order[names[0]]))


def _named(loads: list[Load]) -> Iterator[tuple[str, ...]]:
    bulbs: dict[tuple[str, str], list[str]] = {}
    for load in loads:
        if load.bulb is not None:
            bulbs.setdefault((load.at, load.bulb), []).append(load.name)
    yield from (tuple(names) for names in bulbs.values() if len(names) > 1)


def _paired(loads: list[Load]) -> Iterator[tuple[str, ...]]:
    """A filament is paired with the first other filament of its base that waits at its point."""
    waiting: dict[tuple[str, str], list[Load]] = {}
    for load in loads:
        base = _base_of_two(load.lamp) if load.bulb is None else None
        if base is None:
            continue
        here = waiting.setdefault((load.at, base), [])
        other = next((one for one in here if one.lamp != load.lamp), None)
        if other is None:
            here.append(load)
        else:
            here.remove(other)
            yield other.name, load.name


def _base_of_two(lamp: str | None) -> str | None:
    """Return the base of a lamp's word where that names one of two filaments: 'P21/5W' of 'P21/5W tail'."""
    return lamp.split()[0] if lamp in LAMPS and len(lamp.split()) > 1 else None
