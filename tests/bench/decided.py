"""What the builder has decided, beside a plan of the same bike without it, in one warm process.

Run on demand: ``python -m tests.bench.decided``. Processor time, through the library. Each example is planned with its
outputs pinned as the best plan has them, with the indicators of both sides held alike, with that plan as its built
loom, and with a price on each leg in use.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

import yaml

import portloom
from portloom.base.bike import Bike
from portloom.documents.json import plan_json
from portloom.inputs.built_plan import built_from_text
from portloom.inputs.files import bike_from_text, find_unit, read_unit
from portloom.job.laid import Laid
from portloom.planning.plan import Planned

from .processes import processor
from .rows import PROCESSOR, Extent, Row, alone
from .sheets import FITTING
from .start_up import EXAMPLES

RUNS = 5
AT_MOST: Mapping[str, float] = {"its outputs pinned": 1.1, "left and right alike": 1.5, "built": 1.5, "legs priced": 5}
BIKES = (*FITTING, ("winter-trail", "twenty-way"))
"""The examples on a unit each; the last one's full openings leave more sets of legs to plan than any other's."""
SIDES = ("left indicator", "right indicator")
PRICE = "300 mm"


def pinned(written: dict[str, Any], laid: Laid) -> None:
    """Hold each load to the output on which it is."""
    on = {load.name: wired.output.name for wired in laid.outputs for load in wired.circuit.members}
    for load in written["loads"]:
        name = load.get("name", load.get("part"))
        if name in on:
            load["on"] = on[name]


def alike(written: dict[str, Any], _: Laid) -> None:
    """Hold the first indicator of each side to outputs alike."""
    firsts = [
        next((load.get("name", side) for load in written["loads"] if load.get("part") == side), None) for side in SIDES
    ]
    if None not in firsts:
        written["alike"] = [firsts]


def priced(written: dict[str, Any], _: Laid) -> None:
    """Put a price on each leg in use."""
    written.setdefault("weights", {})["leg"] = PRICE


CHANGED: Mapping[str, Callable[[dict[str, Any], Laid], None]] = {
    "its outputs pinned": pinned,
    "left and right alike": alike,
    "legs priced": priced,
}


def answers(file: Path, unit_name: str) -> Iterator[tuple[str, Callable[[], object], Callable[[], object]]]:
    """Return what is planned with each decision of the builder, and the plan without it, as tasks."""
    text, unit = file.read_text("utf-8"), read_unit(find_unit(unit_name))
    bike = bike_from_text(text, file.name)
    once = partial(portloom.plan, bike, unit)
    planned = once()
    assert isinstance(planned, Planned), f"{file.name} does not fit the {unit_name}"
    for name, change in CHANGED.items():
        written = yaml.safe_load(text)
        change(written, planned.laid)
        changed: Bike = bike_from_text(yaml.safe_dump(written, sort_keys=False), file.name)
        yield name, partial(portloom.plan, changed, unit), once
    loom = built_from_text(json.dumps(plan_json(planned.plan)), file.name)
    yield "built", partial(portloom.plan, bike, unit, built=loom), once


def measured(extent: Extent) -> Iterator[Row]:
    """Return a row for each sort of decision, over the examples."""
    ratios: dict[str, list[float]] = {}
    for example, unit in extent.some(BIKES):
        for name, task, once in answers(EXAMPLES / f"{example}.yaml", unit):
            task()
            pairs = [(processor(task)[1], processor(once)[1]) for _ in range(extent.times(RUNS))]
            ratios.setdefault(name, []).append(min(mine for mine, _ in pairs) / min(plan for _, plan in pairs))
    for name, found in ratios.items():
        yield Row(f"examples: {name}", "the plan without", PROCESSOR, tuple(found), AT_MOST[name])


if __name__ == "__main__":
    alone(measured, "decided")
