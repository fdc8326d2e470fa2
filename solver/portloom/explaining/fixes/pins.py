"""Changes to what the builder has decided: things freed from their ports, loads from being on outputs alike."""

from collections.abc import Callable, Iterator
from functools import partial

from portloom.base.bike import Bike, Load, Switch
from portloom.base.figures import listed
from portloom.base.nearest import or_list
from portloom.explaining.conflicts.kept import Instance
from portloom.explaining.fixes.change import Change, Target
from portloom.explaining.fixes.reach import Reach
from portloom.rules.fact_kinds import ALIKE, OUT_OF_USE, PIN, SWITCH_PIN, UNHELD
from portloom.rules.facts import FactKey

LIFT = 2
LIFTED = "pin lifted"
UNLIKE = "alike lifted"


def lifted_pins(instance: Instance) -> Iterator[Change]:
    """Return each load and switch that must, or must not, be on some ports, freed from that."""
    for load in instance.job.bike.loads:
        yield from _lifted(load, (load.name, f"{load.name} relay"), PIN.key)
    for switch in instance.job.bike.inputs:
        yield from _lifted(switch, (switch.name,), SWITCH_PIN.key)


def _lifted(thing: Load | Switch, names: tuple[str, ...], fact: Callable[[str], FactKey]) -> Iterator[Change]:
    said = [f"on other ports than {or_list(thing.on)}"] if thing.on else []
    said += [f"on {or_list(thing.not_on)}, too"] if thing.not_on else []
    keys = frozenset(map(fact, names))
    if said:
        yield Change(
            kind=LIFTED,
            effort=LIFT,
            sentence=f"let {thing.name} be {', and '.join(said)}",
            make=partial(_made, keys),
            acts="figures",
            slot=(LIFTED, thing.name),
            reach=Reach(keys, frozenset(names)),
            only_helps=True,
        )


def lifted_alike(instance: Instance) -> Iterator[Change]:
    """Return each set of loads that must be on outputs alike, freed from that."""
    for names, left in instance.job.sets_alike.items():
        keys = frozenset((ALIKE.key(*names),))
        yield Change(
            kind=UNLIKE,
            effort=LIFT,
            sentence=f"let {listed(left)} be on outputs that are not alike",
            make=partial(_made, keys),
            acts="figures",
            slot=(UNLIKE, *names),
            reach=Reach(keys, frozenset(left)),
            only_helps=True,
        )


def _made(keys: frozenset[FactKey], target: Target) -> Target | None:
    return target.of_bike(without_decisions(target.bike, keys))


def without_decisions(bike: Bike, keys: frozenset[FactKey]) -> Bike:
    """Return a bike without some of what is decided of ports; of a relay's coil its load says it."""
    loads = tuple(
        load.model_copy(update=UNHELD) if {PIN.key(load.name), PIN.key(f"{load.name} relay")} & keys else load
        for load in bike.loads
    )
    inputs = tuple(
        switch.model_copy(update=UNHELD) if SWITCH_PIN.key(switch.name) in keys else switch for switch in bike.inputs
    )
    dead = {port: why for port, why in bike.out_of_use.items() if OUT_OF_USE.key(port) not in keys}
    alike = tuple(names for names in bike.alike if ALIKE.key(*names) not in keys)
    return bike.model_copy(update={"loads": loads, "inputs": inputs, "out_of_use": dead, "alike": alike})
