"""Posted plans against the reference: best plans, and best plans with one thing changed, judged alike by both.

The reference is the judge in ``oracle``, which shares no code with the project and lays every wire anew.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import TypeVar

from oracle.circuits import may_share
from oracle.random_bikes import EVERY_FAMILY, random_case
from oracle.reading import read_bike
from oracle.things import Bike
from outcomes import best, reseated
from portloom.job.assignment import Assignment, OnInput, OnMultiplexer, OnOutput, OnWay
from portloom.job.job import Job
from portloom.review.matching import Posted
from portloom.review.posted import judge_post
from portloom.review.settings import PostedSettings
from slices import FEW, ONE_MORE, on_seeds, third_of
from translated import Reference

Line = TypeVar("Line", OnOutput, OnInput)
ENOUGH = 20
"""So many verdicts a family at least; where the first bikes have few plans, of more bikes."""


def post_of(job: Job, plan: Assignment) -> Posted:
    """Write a plan as it would be posted: who is on which port, and where the unit sits."""
    members = {load.name for load in job.loads.on_unit}
    outputs = {line.port: [name for name in line.loads if name in members] for line in plan.outputs}
    inputs = {line.port: list(line.switches) for line in plan.inputs}
    for box in plan.multiplexers:
        inputs.setdefault(box.port, []).append(box.name)
        inputs[box.name] = [way.switch for way in box.ways]
    stands = {box.name: box.at for box in plan.multiplexers}
    return Posted(outputs, inputs, plan.only.place, plan.only.turned, stands=stands)


def changed_once(job: Job, plan: Assignment) -> Iterator[Assignment]:
    """Exchange the ports of two circuits or of two groups of switches, or put one beside another on its port."""
    outputs, inputs = plan.outputs, plan.inputs
    for number, line in enumerate(outputs):
        for port in (output.name for output in job.unit.outputs if output.name != line.port):
            yield reseated(plan, outputs=_exchanged(outputs, number, port))
        other = outputs[(number + 1) % len(outputs)]
        if other is not line:
            joined = replace(other, loads=(*other.loads, *line.loads))
            yield reseated(plan, outputs=tuple(joined if one is other else one for one in outputs if one is not line))
    for box in plan.multiplexers:
        yield from _off_a_multiplexer(job, plan, box)
    for number, switches in enumerate(inputs):
        for port in (source.name for source in job.unit.inputs if source.name != switches.port):
            yield reseated(plan, inputs=_exchanged(inputs, number, port))


def _off_a_multiplexer(job: Job, plan: Assignment, box: OnMultiplexer) -> Iterator[Assignment]:
    """Put a multiplexer on another input, and one of its switches on an input of its own, or a group through it."""
    others = tuple(one for one in plan.multiplexers if one is not box)
    used = {line.port for line in plan.inputs} | {one.port for one in plan.multiplexers}
    for port in (source.name for source in job.unit.inputs if source.name not in used):
        yield reseated(plan, multiplexers=(*others, replace(box, port=port)))
        if len(box.ways) > 1:
            moved = OnInput(port, (box.ways[0].switch,), box.ways[0].run)
            fewer = replace(box, ways=box.ways[1:])
            yield reseated(plan, inputs=(*plan.inputs, moved), multiplexers=(*others, fewer))
    for line in plan.inputs:
        more = replace(box, ways=(*box.ways, *(OnWay(name, line.run) for name in line.switches)))
        yield reseated(plan, inputs=tuple(one for one in plan.inputs if one is not line), multiplexers=(*others, more))


def _exchanged(lines: tuple[Line, ...], number: int, port: str) -> tuple[Line, ...]:
    moved = {lines[number].port: port, port: lines[number].port}
    return tuple(replace(line, port=moved.get(line.port, line.port)) for line in lines)


def all_may_share(bike: Bike, reference: Reference, plan: Assignment) -> bool:
    """Tell by the reference whether those on one output may share it, which its judge takes as given."""
    circuits = (held for held, _ in reference.plan(plan).outputs)
    return all(
        may_share(bike, *pair)
        for held in circuits
        for pair in combinations([load for load in held.members if not load.feeders], 2)
    )


@third_of("family", EVERY_FAMILY, 2)
@on_seeds((*FEW, ONE_MORE, 1006, 1004, 1001, 1007, 1008, 1003), range(700, 730))
def test_judged_as_the_reference_judges(family: str, seeds: range) -> None:
    """A post is sound exactly if the reference accepts the plan: with the fuse it names, else with some fuse."""
    verdicts: list[bool] = []
    for seed in seeds:
        if seed not in seeds[: len(seeds) // 5] and len(verdicts) >= ENOUGH:
            break
        texts = random_case(seed, family)
        job, found = best(*texts)
        if found is None:
            continue
        plan = reseated(found, room_for=())  # a post gives no room to later loads
        reference, bike = Reference(*texts), read_bike(texts[0])
        for changed in (plan, *list(changed_once(job, plan))[::2]):
            post, fits = post_of(job, changed), all_may_share(bike, reference, changed)
            named = replace(post, settings=PostedSettings(main_fuse=changed.only.main_fuse))
            sound = judge_post(job, post).clashes == ()
            verdicts.append(sound)
            assert sound is (fits and reference.stands(changed))
            assert (judge_post(job, named).clashes == ()) is (fits and reference.cost(changed) is not None)
    assert set(verdicts) == {True, False}
    assert len(verdicts) >= ENOUGH
