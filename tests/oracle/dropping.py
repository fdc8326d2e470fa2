"""What is left of a bike and of a unit when facts of them are dropped."""

from collections.abc import Collection
from dataclasses import replace
from fractions import Fraction

from .facts import Key
from .fuses import STEPS_MA
from .kinds import Kinds
from .parts import drop_class
from .things import ADDED, Bike, InPort, Load, Output, Switch, Unit

NO_LIMIT_MA = 10**9
NO_LIMIT_UV = Fraction(10**12)
Dropped = Collection[Key]


def part_of_bike(bike: Bike, dropped: Dropped) -> Bike:
    """Return a bike without some of its facts; what is left out still counts where its presence is asked for."""
    gone = {load.name for load in bike.loads if ("load", load.name) in dropped}
    loads = [_part_of_load(load, gone, dropped) for load in bike.loads if load.name not in gone]
    dashes = [_without_dashes(switch, gone) for switch in bike.dash_switches if ("switch", switch.name) not in dropped]
    here = [switch for switch in bike.switches if ("switch", switch.name) not in dropped]
    return replace(
        bike,
        loads=tuple(load for load in loads if load is not None),
        gone_loads=tuple(load for load in bike.loads if load.name in gone),
        switches=tuple(_without_dashes(_part_of_switch(switch, dropped), gone) for switch in here),
        dash_switches=tuple(switch for switch in dashes if switch.dashes),
        gone_switches=tuple(switch for switch in bike.switches if switch not in here),
        legs=tuple(replace(leg, room_um=None) if ("opening", leg.name) in dropped else leg for leg in bike.legs),
        drop_uv=bike.drop_uv | {drop_class(load.part): NO_LIMIT_UV for load in bike.loads if _undropped(load, dropped)},
        multiplexers=tuple(
            replace(box, ways=None) if ("ways", box.name) in dropped else box for box in bike.multiplexers
        ),
        granted=frozenset((key[1], key[2]) for key in dropped if key[0] == "told"),
        dead=frozenset(port for port in bike.dead if ("out of use", port) not in dropped),
        alike=tuple(names for names in bike.alike if ("alike", *names) not in dropped),
    )


def _undropped(load: Load, dropped: Dropped) -> bool:
    return ("drop", drop_class(load.part)) in dropped


def _part_of_load(load: Load, gone: Collection[str], dropped: Dropped) -> Load | None:
    """Return a load without some of its facts; None if nothing that it is fed from is left."""
    feeders = load.feeders.difference(gone)
    if load.feeders and not feeders:
        return None

    left = without(load, {key[0] for key in dropped if key[1:] == (load.name,)})
    beside = load.beside | _lifted("ban", load.name, dropped)
    taps = tuple(tap for tap in load.taps if tap.name not in gone)
    if (feeders, beside, taps) == (load.feeders, load.beside, load.taps):
        return left
    return replace(left, feeders=feeders, beside=beside, taps=taps)


def without(load: Load, figures: Collection[str]) -> Load:
    """Return a load without some of 'current', 'inrush', 'mode', 'kind', 'load lowest' and 'pin'."""
    if not figures:
        return load
    return replace(
        load,
        current_ma=0 if "current" in figures else load.current_ma,
        inrush_ma=Fraction(0) if "inrush" in figures else load.inrush_ma,
        inrush_ms=Fraction(0) if "inrush" in figures else load.inrush_ms,
        any_mode=load.any_mode or "mode" in figures,
        any_kind=load.any_kind or "kind" in figures,
        lowest_mv=None if "load lowest" in figures else load.lowest_mv,
        held=frozenset() if "pin" in figures else load.held,
        shunned=frozenset() if "pin" in figures else load.shunned,
    )


def _without_dashes(switch: Switch, gone: Collection[str]) -> Switch:
    """Return an input without the dashes that are left out; where it hangs on one alone, nothing reads it."""
    dashes = tuple((dash, point) for dash, point in switch.dashes if dash not in gone)
    return switch if dashes == switch.dashes else replace(switch, dashes=dashes)


def _part_of_switch(switch: Switch, dropped: Dropped) -> Switch:
    free = ("switch pin", switch.name) in dropped
    return replace(
        switch,
        held=frozenset() if free else switch.held,
        shunned=frozenset() if free else switch.shunned,
        any_signal=switch.any_signal or ("signal", switch.name) in dropped,
        any_box=("signal", switch.name) in dropped,
        beside=switch.beside | _lifted("switch ban", switch.name, dropped),
    )


def _lifted(what: str, name: str, dropped: Dropped) -> frozenset[str]:
    """Return the names with which one may share because the ban on it is dropped."""
    return frozenset(other for key in dropped if key[0] == what and name in key[1:] for other in key[1:])


def part_of_unit(kinds: Kinds, dropped: Dropped) -> Unit:
    """Return a unit without some of its facts."""
    unit = kinds.unit
    return replace(
        unit,
        limit_ma=NO_LIMIT_MA if ("total", "unit") in dropped else unit.limit_ma,
        fuse_max_ma=STEPS_MA[-1] if ("fuse", "unit") in dropped else unit.fuse_max_ma,
        lowest_mv=None if ("unit lowest", "unit") in dropped else unit.lowest_mv,
        largest=None if ("terminal", "feed") in dropped else unit.largest,
        banks={name: limit for name, limit in unit.banks.items() if ("bank", name) not in dropped},
        outputs=tuple(port for ports in kinds.outputs for port in _outputs(ports, dropped)),
        inputs=tuple(port for ports in kinds.inputs for port in _inputs(ports, kinds.followed, dropped)),
    )


def _outputs(ports: tuple[Output, ...], dropped: Dropped) -> tuple[Output, ...]:
    """Return the outputs of a kind; one that stands for as many as wanted if their number is dropped."""
    first = ports[0].name
    wide, free = ("terminal", first) in dropped, ("told", "follow", ports[0].follow) in dropped
    changed = tuple(
        replace(port, largest=None if wide else port.largest, follow="" if free else port.follow) for port in ports
    )
    return (replace(changed[0], many=True),) if ("outputs", first) in dropped else changed


def _inputs(ports: tuple[InPort, ...], followed: Collection[str], dropped: Dropped) -> tuple[InPort, ...]:
    """Return the inputs of a kind, or one that stands for all; what is added is never followed."""
    if ("inputs", ports[0].name) not in dropped:
        return ports
    if ports[0].name in followed:
        return (ports[0], replace(ports[0], name=f"{ADDED}{ports[0].name}", many=True))
    return (replace(ports[0], many=True),)
