"""The facts of a bike and a unit: what a person can see or change of them, each by its key."""

from collections.abc import Iterator
from itertools import combinations

from .circuits import agree, alike
from .guards import is_bare_coil, needs
from .kinds import Kinds, kinds_of
from .matched import sets_on_outputs
from .parts import drop_class
from .reading import on_unit, read_bike
from .things import Bike, Load

Key = tuple[str, ...]


def all_facts(bike_text: str, unit_text: str) -> tuple[Key, ...]:
    """Take a bike's and a unit's YAML; give the keys of all facts: loads, switches, bans, frame, unit, needs."""
    bike = read_bike(bike_text)
    return facts_of(bike, kinds_of(unit_text, bike.named_ports))


def facts_of(bike: Bike, kinds: Kinds) -> tuple[Key, ...]:
    """Return the keys of all facts of a bike and the ports of a unit."""
    return (
        *(key for load in bike.loads for key in _of_load(bike, load)),
        *_of_switches(bike),
        *_bans(bike),
        *(("ways", box.name) for box in bike.multiplexers if box.ways is not None),
        *(("opening", leg.name) for leg in bike.legs if leg.room_um is not None),
        *_of_unit(bike, kinds),
        *(("drop", group) for group in dict.fromkeys(drop_class(load.part) for load in bike.loads)),
        *_told(bike, kinds),
        *(("pin", load.name) for load in on_unit(bike) if load.held | load.shunned),
        *(("switch pin", switch.name) for switch in bike.switches if switch.held | switch.shunned),
        *(("out of use", port) for port in bike.dead),
        *(("alike", *names) for names, _ in sets_on_outputs(bike)),
    )


def _of_load(bike: Bike, load: Load) -> Iterator[Key]:
    yield "load", load.name
    yield "current", load.name
    if load.fed != "unit":
        return
    yield "inrush", load.name
    if load.on_unit:
        yield "mode", load.name
    if _kind_bears(bike, load):
        yield "kind", load.name
    if load.lowest_mv is not None and "cranking" not in bike.set_aside:
        yield "load lowest", load.name


def _kind_bears(bike: Bike, load: Load) -> bool:
    """Tell whether a load's kind is a fact: a coil, unless that rule is set aside, or to be dimmed."""
    coil = is_bare_coil(load) and "inductive" not in bike.set_aside
    return coil or (load.on_unit and "dim" in load.modes)


def _of_switches(bike: Bike) -> Iterator[Key]:
    for switch in bike.switches:
        yield "switch", switch.name
        if "signal" not in bike.set_aside:
            yield "signal", switch.name
    yield from (("switch", switch.name) for switch in bike.dash_switches)


def _bans(bike: Bike) -> Iterator[Key]:
    for one, other in combinations(on_unit(bike), 2):
        if one.share == other.share != "" and not alike(bike, one, other):
            yield "ban", one.name, other.name
    for first, second in combinations(bike.switches, 2):
        if first.share == second.share != "" and "signal" not in bike.set_aside and not agree(first, second):
            yield "switch ban", first.name, second.name


def _of_unit(bike: Bike, kinds: Kinds) -> Iterator[Key]:
    unit = kinds.unit
    yield from (("bank", name) for name in unit.banks)
    yield "total", "unit"
    yield "fuse", "unit"
    if unit.largest is not None:
        yield "terminal", "feed"
    if unit.lowest_mv is not None and "cranking" not in bike.set_aside:
        yield "unit lowest", "unit"
    for ports in kinds.outputs:
        yield "outputs", ports[0].name
        if ports[0].largest is not None:
            yield "terminal", ports[0].name
    yield from (("inputs", ports[0].name) for ports in kinds.inputs)


def _told(bike: Bike, kinds: Kinds) -> Iterator[Key]:
    asked = frozenset().union(*(needs(bike, load) for load in on_unit(bike)))
    yield from (("told", rule, what) for rule, what in sorted(asked))
    followed = dict.fromkeys(ports[0].follow for ports in kinds.outputs if ports[0].follow)
    yield from (("told", "follow", port) for port in followed if on_unit(bike))
