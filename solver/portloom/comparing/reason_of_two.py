"""Why a bike does not fit on two units, where counting or adding up alone proves it: nothing is searched.

All outputs and inputs of both are counted as if they were one unit's that passes what both pass. Whatever fits on
two units fits on such a unit, so far as ports are counted and currents added up.
"""

from collections.abc import Iterator

from portloom.base.figures import counted
from portloom.base.quantities import MilliAmps
from portloom.base.unit import Unit
from portloom.comparing.prepared import PreparedBike
from portloom.comparing.reason import TAKE_ANOTHER, by_rules, drawing, named
from portloom.comparing.row import Reason
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import RelaxedInstance
from portloom.explaining.conflicts.overloads import overloads
from portloom.explaining.telling.refused import COMMA, of_it
from portloom.job.circuits import InputCircuit
from portloom.job.job import Job
from portloom.job.kinds import input_kinds, output_kinds, port_names
from portloom.rules.book import eased, input_clashes, output_clashes, rules_of
from portloom.rules.clash import Clash
from portloom.rules.fact_kinds import LOAD, is_thing, kind_of, ports_for
from portloom.rules.facts import FactKey, Keys
from portloom.rules.two_units import without_multiplexers


def reason_by_count(bench: PreparedBike, units: tuple[Unit, Unit]) -> Reason | None:
    """Return a reason that proves that a bike has no plan with two units, None where none is found."""
    bike = without_multiplexers(bench.bike)
    job = Job(bike, _as_one(units), bench.loads, bench.network)
    return next(_reasons(RelaxedInstance(job, rules_of(job), (), frozenset())), None)


def _as_one(units: tuple[Unit, Unit]) -> Unit:
    """Return one unit with the ports of both and what both pass together; no bank holds anything back."""
    outputs = (
        port.model_copy(update={"name": f"{port.name} of {number}", "bank": None, "follow": None})
        for number, unit in enumerate(units)
        for port in unit.outputs
    )
    inputs = (
        port.model_copy(update={"name": f"{port.name} of {number}"})
        for number, unit in enumerate(units)
        for port in unit.inputs
    )
    limit = MilliAmps(sum(unit.feed.limit for unit in units))
    fuses = MilliAmps(sum(unit.feed.largest_fuse for unit in units))
    feed = units[0].feed.model_copy(update={"limit": limit, "fuse_max": fuses})
    return units[0].model_copy(update={"feed": feed, "banks": {}, "outputs": tuple(outputs), "inputs": tuple(inputs)})


def _reasons(relaxed: RelaxedInstance) -> Iterator[Reason]:
    crowds = sorted((*output_crowds(relaxed), *input_crowds(relaxed)), key=lambda keys: len(_named(keys)))
    yield from (_alone(relaxed, keys) for keys in crowds if len(_named(keys)) == 1)
    yield from _overload(relaxed)
    yield from (_crowd(relaxed, keys) for keys in crowds if len(_named(keys)) > 1)


def _named(keys: Keys) -> list[FactKey]:
    return [key for key in keys if is_thing(key)]


def _alone(relaxed: RelaxedInstance, keys: Keys) -> Reason:
    (thing,) = _named(keys)
    name = thing[1]
    clashes = tuple(_refusing(relaxed, name) if kind_of(thing) is LOAD else _refusing_switch(relaxed, name))
    said = {clash.rule: of_it(clash.sentence.partition(COMMA)[0], name) for clash in reversed(clashes)}
    rules = tuple(reversed(said))
    why = f"no {ports_for(thing).removesuffix('s')} of either takes {name}: {'; '.join(said[rule] for rule in rules)}"
    return Reason(f"{why}{by_rules(rules)}", rules, tuple(eased(relaxed.job, rules, name)) or (TAKE_ANOTHER,))


def _refusing(relaxed: RelaxedInstance, name: str) -> Iterator[Clash]:
    circuit = relaxed.job.circuit(load for load in relaxed.job.loads.on_unit if load.name == name)
    for kind in output_kinds(relaxed.job.unit):
        yield next(output_clashes(relaxed.rules, relaxed.job, circuit, kind.like))


def _refusing_switch(relaxed: RelaxedInstance, name: str) -> Iterator[Clash]:
    circuit = InputCircuit(tuple(switch for switch in relaxed.job.inputs if switch.name == name))
    for kind in input_kinds(relaxed.job.unit):
        yield next(input_clashes(relaxed.rules, circuit, kind.like))


def _crowd(relaxed: RelaxedInstance, keys: Keys) -> Reason:
    """Tell of more things than ports, as a count."""
    crowd = _named(keys)
    thing = kind_of(crowd[0])
    port = ports_for(crowd[0]).removesuffix("s")
    ports = [key for key in keys if kind_of(key).counts_ports and kind_of(key).ports == thing.ports]
    many = named([name for _, name in crowd], thing.name)
    if len(ports) == len(port_names(relaxed.job.unit, ports_for(crowd[0]))):
        return Reason(f"{many} need an {port} of their own; both have {counted(len(ports), port)} together", ())
    return Reason(f"{many} can only go on {counted(len(ports), port)} of both together", ())


def _overload(relaxed: RelaxedInstance) -> Iterator[Reason]:
    """Tell of loads that draw more together than both units pass."""
    drawn = {load.name: load.current for load in relaxed.job.loads.on_unit}
    for overload in overloads(relaxed, units=2):
        yield Reason(f"{drawing(overload.loads, drawn)}, {overload.given}", (overload.rule,))
