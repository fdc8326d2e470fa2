"""Two units instead of one: which unit a switch is wired to, and which loads go on one unit together.

Source: common practice, no source. A unit judges by its own inputs alone: no line between the units is relied on.
"""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Bike, Switch
from portloom.base.parts.loads import RUNNING_ENGINE, SIDES, STARTER_SOLENOID
from portloom.base.unit import Output
from portloom.job.circuits import InputCircuit, OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.book import needs
from portloom.rules.shapes import Rule

ON_ONE_UNIT: tuple[tuple[str, ...], ...] = (SIDES, (*RUNNING_ENGINE, STARTER_SOLENOID.name))
"""Parts of which every load sits on the same unit: indicators flash as one, one unit runs and stops the engine."""


class OnePlace(ValueError):
    """A bike that has no second place for a second unit."""

    def __init__(self, bike: Bike) -> None:
        """Take the bike; ``what`` is wrong with it and ``right`` would be right."""
        places = f"one place, '{bike.places[0].name}'" if bike.places else "no place"
        self.what = f"two units sit at two different places, the bike has {places}"
        self.right = "list a second one under 'places'"
        super().__init__(f"{self.what}; {self.right}")


def without_multiplexers(bike: Bike) -> Bike:
    """Return a bike as it is planned with two units: its multiplexers are not used."""
    return bike.model_copy(update={"multiplexers": ()})


def together(job: Job) -> Iterator[tuple[Consumer, ...]]:
    """Return the loads on the unit that go on one unit together, group by group."""
    for parts in ON_ONE_UNIT:
        group = tuple(load for load in job.loads.on_unit if load.part in parts)
        if group:
            yield group


def wants(rules: Sequence[Rule], job: Job, circuit: OutputCircuit, output: Output, switch: Switch) -> bool:
    """Tell whether a circuit makes its unit want a switch: it works one of the loads, or tells what a rule asks for."""
    if any(switch.name in load.operated_by for load in circuit.members):
        return True
    alone = InputCircuit((switch,))
    return any(need.met_by(alone, None) for _, need in needs(rules, job, circuit, output))
