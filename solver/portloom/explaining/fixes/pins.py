"""Changes to what the builder has decided: a load or a switch that is freed from its ports."""

from collections.abc import Callable, Iterator
from functools import partial

from portloom.base.bike import Load, Switch
from portloom.base.nearest import or_list
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target, with_load
from portloom.explaining.fixes.reach import Reach
from portloom.rules.fact_kinds import PIN, SWITCH_PIN
from portloom.rules.facts import FactKey

LIFT = 2
LIFTED = "pin lifted"
FREE: dict[str, object] = {"on": (), "not_on": ()}


def lifted_pins(instance: Instance) -> Iterator[Change]:
    """Return each load and switch that must, or must not, be on some ports, freed from that."""
    for load in instance.job.bike.loads:
        names = (load.name, f"{load.name} relay")
        yield from _lifted(load, names, PIN.key, partial(_freed_load, load.name))
    for switch in instance.job.bike.inputs:
        yield from _lifted(switch, (switch.name,), SWITCH_PIN.key, partial(_freed_switch, switch.name))


def _lifted(
    thing: Load | Switch,
    names: tuple[str, ...],
    fact: Callable[[str], FactKey],
    make: Callable[[Target], Target | None],
) -> Iterator[Change]:
    said = [f"on other ports than {or_list(thing.on)}"] if thing.on else []
    said += [f"on {or_list(thing.not_on)}, too"] if thing.not_on else []
    if said:
        yield Change(
            kind=LIFTED,
            effort=LIFT,
            sentence=f"let {thing.name} be {', and '.join(said)}",
            make=make,
            acts="figures",
            slot=(LIFTED, thing.name),
            reach=Reach(frozenset(map(fact, names)), frozenset(names)),
            only_helps=True,
        )


def _freed_load(name: str, target: Target) -> Target | None:
    return with_load(target, name, **FREE)


def _freed_switch(name: str, target: Target) -> Target:
    bike, unit = target
    inputs = tuple(each.model_copy(update=FREE) if each.name == name else each for each in bike.inputs)
    return bike.model_copy(update={"inputs": inputs}), unit
