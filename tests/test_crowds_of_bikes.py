"""Crowds of random bikes, checked by Hall's theorem with networkx (``hall``).

Who may go on which port, and who may share one, is the independent program's word.
"""

from collections.abc import Callable, Iterable, Sequence
from itertools import combinations

import pytest

from explained import Texts, questions_on
from hall import assert_crowd
from oracle.circuits import circuit, may_join, may_share
from oracle.electrics import input_fits, trip_ma
from oracle.facts import Key
from oracle.guards import output_takes, pair_whole
from oracle.job import Job
from oracle.profiles import read_unit
from oracle.reading import on_unit, read_bike
from oracle.starved import starved_case
from portloom.explaining.conflicts.crowds import input_crowds, output_crowds
from portloom.explaining.conflicts.kept import relaxed_to

pytestmark = pytest.mark.long

FAMILIES = ("dimming", "ports", "coils", "lonely", "bans", "several")


@pytest.mark.parametrize("family", FAMILIES)
def test_crowds_of_loads_are_more_than_their_outputs(family: str) -> None:
    """No two of a crowd may share an output; they go on no outputs but those that the crowd counts."""
    for seed in range(8000, 8020):
        written = starved_case(seed, family)
        job = Job(read_bike(written[0]), read_unit(written[1]))
        loads = {load.name: load for load in on_unit(job.bike)}
        takes = {name: outputs_for(job, name) for name in loads}
        for things, ports in named(written, "load", "outputs", output_crowds):
            assert not any(may_share(job.bike, loads[one], loads[other]) for one, other in combinations(things, 2))
            assert_crowd(things, ports, takes)


@pytest.mark.parametrize("family", FAMILIES)
def test_crowds_of_switches_are_more_than_their_inputs(family: str) -> None:
    """No two of a crowd may share an input; they go on no inputs but those that the crowd counts."""
    for seed in range(8000, 8020):
        written = starved_case(seed, family)
        switches = {switch.name: switch for switch in read_bike(written[0]).switches}
        ports_of_unit = read_unit(written[1]).inputs
        takes = {name: [p.name for p in ports_of_unit if input_fits(switch, p)] for name, switch in switches.items()}
        for things, ports in named(written, "switch", "inputs", input_crowds):
            assert not any(may_join(switches[one], switches[other]) for one, other in combinations(things, 2))
            assert_crowd(things, ports, takes)


def test_so_many_crowds_are_judged() -> None:
    cases = [starved_case(seed, family) for family in FAMILIES for seed in range(8000, 8020)]
    assert sum(len(named(written, "load", "outputs", output_crowds)) for written in cases) >= 100
    assert sum(len(named(written, "switch", "inputs", input_crowds)) for written in cases) >= 10


def outputs_for(job: Job, name: str) -> list[str]:
    """Return the outputs that take a load alone, wherever the unit sits."""
    held = circuit(job.bike, [load for load in job.bike.loads if load.name == name])
    return [
        output.name
        for output in job.unit.outputs
        if trip_ma(held, output) is not None and output_takes(job.bike, job.states, held, output)
        if pair_whole(job.bike, held)
    ]


def named(
    written: Texts, thing: str, port: str, crowds: Callable[..., Iterable[Sequence[Key]]]
) -> list[tuple[list[str], list[str]]]:
    """Return the things and the ports of each crowd of a whole bike."""
    instance = questions_on(written).instance
    found = [list(keys) for keys in crowds(relaxed_to(instance, instance.keys))]
    return [([key[1] for key in keys if key[0] == thing], [key[1] for key in keys if key[0] == port]) for keys in found]
