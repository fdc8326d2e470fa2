"""Wires that no port needs, along their built ways where these may stay, and how much of each is new."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from portloom.base.built import BuiltFixed
from portloom.base.copper import Conductor
from portloom.job.fixed_wires import FixedWire
from portloom.job.network import Run
from portloom.job.standing import Standing


def as_built(standing: Standing | None, wires: Iterable[FixedWire]) -> tuple[FixedWire, ...]:
    """Return wires, each along its built way where it is built and may stay; the others as they are."""
    return tuple(wires) if standing is None else tuple(_stay(standing, wire) for wire in wires)


def _stay(standing: Standing, wire: FixedWire) -> FixedWire:
    line = standing.fixed.get(wire.key)
    if line is None or wire.kind == "alongside":
        return wire
    if wire.kind in ("return", "sender return"):
        return _to_earth(standing, wire, line)
    old = standing.run(line.legs)
    if line.ends == wire.ends and Counter(old.legs) == Counter(wire.run.legs):
        return replace(wire, old=wire.run, old_size=line.size)
    if set(line.ends) == set(wire.ends) and wire.to_switch is None and wire.kind != "feed":
        return replace(wire, run=old, old=old, old_size=line.size)
    return wire


def _to_earth(standing: Standing, wire: FixedWire, line: BuiltFixed) -> FixedWire:
    """A return stays at its earth point as long as the file says that it is one where a return may end."""
    starter = standing.bike.supply.starter
    noisy = starter is not None and line.ends[-1] == starter.at != wire.ends[-1]
    if line.ends[0] != wire.ends[0] or line.ends[-1] not in standing.bike.frame.earth or noisy:
        return wire
    old = standing.run(line.legs)
    return replace(wire, ends=line.ends, run=old, old=old, old_size=line.size)


def stays(wire: FixedWire, conductor: Conductor) -> bool:
    """Tell whether a wire of this size is the built one; one of no length is no wire, and is of no size."""
    return wire.old_size is not None and (conductor.size == wire.old_size or not wire.run.length)


def as_new(wire: FixedWire) -> FixedWire:
    """Return a wire of which nothing built stays."""
    return replace(wire, old=None, old_size=None)


def new_part(wire: FixedWire, conductor: Conductor) -> Run:
    """Return what is laid anew of a wire of this size: all of it, or what branches off the built one."""
    return wire.new_run if stays(wire, conductor) else wire.run
