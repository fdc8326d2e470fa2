"""Changes that make room on ports: two loads share an output, a multiplexer for switches, a bigger unit."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from portloom.base.bike import Bike, Multiplexer
from portloom.base.figures import counted
from portloom.base.parts.loads import never_together
from portloom.base.unit import Unit
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.inputs.checks.sharing import MOST
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.job.kinds import output_kinds
from portloom.rules.book import output_clashes, pair_clashes
from portloom.rules.fact_kinds import LOAD, SWITCH
from portloom.rules.practice import goes_straight

# --- two loads on one output


SHARING = 1


def shared_outputs(instance: Instance) -> Iterator[Change]:
    """Return each pair of loads that name no common group and may share all the same."""
    for one, other in combinations(instance.job.loads.on_unit, 2):
        if _own(instance, one, other) and _may_share(instance, one, other):
            yield Change(
                kind="sharing",
                effort=SHARING,
                sentence=f"let {one.name} and {other.name} share an output",
                make=lambda target, one=one.name, other=other.name: _joined(target, one, other),  # type: ignore[misc]
                slot=("sharing", one.name, other.name),
                sharing=(one.name, other.name),
                acts="things",
                facts=frozenset(LOAD.key(name) for name in _grouped(instance, one, other)),
                only_helps=True,
            )


def too_many_share(job: Job) -> bool:
    """Tell whether a share group holds more different loads than a bike's file may have in one."""
    groups: dict[str, set[int]] = {}
    for load in job.loads.on_unit:
        if load.share is not None:
            groups.setdefault(load.share, set()).add(job.alike[load.name])
    return any(len(group) > MOST for group in groups.values())


def _grouped(instance: Instance, one: Consumer, other: Consumer) -> Iterator[str]:
    """Return both, and all that come into one group by them."""
    groups = {one.share, other.share} - {None}
    return (load.name for load in instance.job.loads.on_unit if load in (one, other) or load.share in groups)


def _own(instance: Instance, one: Consumer, other: Consumer) -> bool:
    """A relay's coil is in no group of its own; and what is in one group already needs no change."""
    named = {load.name for load in instance.job.bike.loads}
    return {one.name, other.name} <= named and (one.share is None or one.share != other.share)


def _may_share(instance: Instance, one: Consumer, other: Consumer) -> bool:
    job = instance.job
    if any(never_together(a.part, b.part) for a, b in _brought_together(instance, one, other)):
        return False
    both = OutputCircuit((replace(one, share="one"), replace(other, share="one")), job.guests_of((one, other)))
    if next(pair_clashes(instance.rules, both), None) is not None:
        return False
    kinds = output_kinds(job.unit)
    return any(next(output_clashes(instance.rules, job, both, kind.ports[0]), None) is None for kind in kinds)


def _brought_together(instance: Instance, one: Consumer, other: Consumer) -> Iterator[tuple[Consumer, Consumer]]:
    """Return each two loads that are in no common group yet, and would be."""
    names = set(_grouped(instance, one, other))
    loads = [load for load in instance.job.loads.on_unit if load.name in names]
    return ((a, b) for a, b in combinations(loads, 2) if a.share is None or a.share != b.share)


def _joined(target: Target, one: str, other: str) -> Target:
    """Put two loads in one group, with all that are in the group of either."""
    bike = target[0]
    groups = {load.name: load.share for load in bike.loads}
    name = groups.get(one) or groups.get(other) or _free_name(bike, one)
    old = {group for group in (groups.get(one), groups.get(other)) if group is not None}
    for load in bike.loads:
        if load.name in (one, other) or load.share in old:
            target = with_load(target, load.name, share=name)
    return target


def _free_name(bike: Bike, wanted: str) -> str:
    taken = {load.share for load in bike.loads}
    return wanted if wanted not in taken else _free_name(bike, f"{wanted}, shared")


# --- a multiplexer


MULTIPLEXER, WAYS = 5, 5
NEW = ("new multiplexer", "second new multiplexer")
"""What new ones are called; so many are thought of."""


def new_multiplexers(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Return each new multiplexer, where there is a switch that may go through one, and an input that reads it."""
    job = instance.job
    through = [s for s in job.inputs if s.signal == "earth" and goes_straight(job, s) is None]
    read = any("coded" in port.accepts for unit in (job.unit, *known) for port in unit.inputs)
    names = {box.name for box in job.bike.multiplexers}
    new = [name for name in NEW if name not in names]
    for number, name in enumerate(new if read and through else ()):
        yield Change(
            kind="multiplexer",
            effort=MULTIPLEXER,
            sentence=f"fit a {'second ' * number}multiplexer of {counted(WAYS, 'way')} for switches to earth",
            make=lambda target, name=name: _fitted(target, name),  # type: ignore[misc]
            slot=("multiplexer", name),
            acts="things",
            facts=frozenset(SWITCH.key(switch.name) for switch in through),
            parts=(f"a multiplexer of {counted(WAYS, 'way')} that takes switches to earth",),
            only_helps=True,
            after=("multiplexer", new[0]) if number else (),
            room=WAYS,
        )


def _fitted(target: Target, name: str) -> Target:
    bike, unit = target
    points = dict.fromkeys(point for leg in bike.frame.legs for point in leg.between)
    box = Multiplexer(name=name, at=tuple(points), ways=WAYS, takes=("earth",))
    return bike.model_copy(update={"multiplexers": (*bike.multiplexers, box)}), unit


# --- a bigger unit


BIGGER = "bigger unit"
STEP_UP = 10
"""For each size up."""


def bigger_units(instance: Instance, known: Sequence[Unit]) -> Iterator[Change]:
    """Each known unit with more outputs, or as many and more inputs, smallest first; each step is one size up."""
    bigger = sorted((unit for unit in known if _size(unit) > _size(instance.job.unit)), key=_size)
    for step, unit in enumerate(bigger, 1):
        yield Change(
            kind=BIGGER,
            effort=STEP_UP * step,
            sentence=f"take the {unit.unit} instead of the {instance.job.unit.unit}",
            make=lambda target, unit=unit: (target[0], unit),  # type: ignore[misc]
            slot=("unit",),
            acts="unit",
            parts=(f"a control unit like the {unit.unit}",),
            everywhere=True,
        )


def _size(unit: Unit) -> tuple[int, int]:
    return len(unit.outputs), len(unit.inputs)
