"""Several answers in one warm process through the library, each beside planning the Harbour Trail once.

Run on demand: ``python -m tests.bench.warm``. Processor time; files are read beforehand, and each thing is done once
before it is measured. For ``why --for`` each load in turn is asked about every other output. For one change after
another each leg in turn is made longer, and all that came before stays; a changed bike is planned by what the library
offers for it, which is ``portloom.plan``.
"""

from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import partial
from pathlib import Path

import yaml

import portloom
from portloom.base.bike import Bike
from portloom.inputs.files import bike_from_text, find_unit, read_bike, read_unit
from portloom.job.job import Job

from .processes import processor
from .rows import PROCESSOR, Extent, Row, alone
from .start_up import HARBOUR

RUNS = 5
FOR_AT_MOST, TWO_AT_MOST, CHANGE_AT_MOST = 4.0, 4.0, 0.2
LONGER = 20
"""Millimetres that a change adds to a leg."""


def changes(file: Path) -> Iterator[Bike]:
    """Return a bike after each of several changes, one on top of the other: each leg of its file longer in turn."""
    written = yaml.safe_load(file.read_text("utf-8"))
    for leg in deepcopy(written)["frame"]["legs"]:
        number = written["frame"]["legs"].index(leg)
        length, unit = leg["length"].split()
        changed = written["frame"]["legs"][number] | {"length": f"{int(length) + LONGER} {unit}"}
        written["frame"]["legs"][number] = changed
        yield bike_from_text(yaml.safe_dump(written, sort_keys=False), file.name)


def measured(extent: Extent) -> Iterator[Row]:
    """Return each answer beside a plan that is made right before it."""
    bike, unit, smaller = (
        read_bike(Path(HARBOUR)),
        read_unit(find_unit("eleven-way")),
        read_unit(find_unit("eight-way")),
    )
    once = partial(portloom.plan, bike, unit)
    one = "one plan, warm"

    def ratios(tasks: list[Callable[[], object]]) -> tuple[float, ...]:
        once()
        tasks[0]()
        pairs = [(processor(task)[1], processor(once)[1]) for task in tasks]
        return tuple(mine / plan for mine, plan in pairs)

    loads = Job(bike, unit).loads.on_unit
    about = [partial(portloom.explain, bike, unit, about=load.name) for load in extent.some(loads)]
    yield Row("why --for, every output for a load", one, PROCESSOR, ratios([*about]), FOR_AT_MOST)
    two = partial(portloom.plan, bike, smaller, smaller)
    yield Row("plan on two units", one, PROCESSOR, ratios([two] * extent.times(RUNS)), TWO_AT_MOST)
    changed = [partial(portloom.plan, one_more, unit) for one_more in extent.some([*changes(Path(HARBOUR))])]
    remarks = "planned anew: the library has no other way"
    yield Row("one change after another", one, PROCESSOR, ratios([*changed]), CHANGE_AT_MOST, None, remarks)


if __name__ == "__main__":
    alone(measured, "warm")
