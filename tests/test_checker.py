"""The checker: it names the rule when one thing in a plan is spoilt, judges as the reference does, and needs no solver.

The reference is the judge in ``oracle``, which shares no code with the checker and lays every wire anew.
"""

import pickle
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oracle.random_bikes import FAMILIES, random_case
from outcomes import EXAMPLES, PROFILES, best, reseated
from portloom.base.quantities import Micrometres
from portloom.job.assignment import Assignment, OnInput, OnOutput
from portloom.job.fixed import conductor_of
from portloom.job.goal import Cost
from portloom.job.job import Job
from portloom.job.network import Run, Trees
from portloom.job.sizing import size_wires
from portloom.rules.book import RULES
from portloom.verify.count import spare_port_loss, wire_run
from portloom.verify.judge import judged
from portloom.verify.relaid import lay
from slices import FEW, first_of
from spoilt_plans import SPOILT, Spoilt, changed
from translated import Reference

HARBOUR_TRAIL, ELEVEN_WAY = EXAMPLES / "harbour-trail.yaml", PROFILES / "eleven-way.yaml"


def harbour_trail() -> tuple[Job, Assignment]:
    """Return the best plan of the Harbour Trail."""
    job, plan = best(HARBOUR_TRAIL.read_text("utf-8"), ELEVEN_WAY.read_text("utf-8"))
    assert plan is not None
    return job, plan


def test_the_plan_itself_breaks_nothing() -> None:
    """The best plan passes, its lines in any order, and the reference prices it alike."""
    job, plan = harbour_trail()
    assert judged((job,), RULES, plan) == ()
    turned_over = replace(
        reseated(plan, outputs=plan.outputs[::-1], inputs=plan.inputs[::-1]), fixed_wires=plan.fixed_wires[::-1]
    )
    assert judged((job,), RULES, turned_over) == ()
    assert Reference(HARBOUR_TRAIL.read_text("utf-8"), ELEVEN_WAY.read_text("utf-8")).cost(plan) == plan.cost


@pytest.mark.parametrize("spoilt", SPOILT, ids=str)
def test_one_thing_spoilt_is_told_by_its_rule(spoilt: Spoilt) -> None:
    """A plan with one thing changed is refused, and the right rule among those named."""
    job, plan = harbour_trail()
    assert spoilt.rule in {clash.rule for clash in judged((job,), RULES, spoilt.change(plan))}


def test_a_return_that_ends_at_no_earth_point_is_told_as_that() -> None:
    """It goes nowhere: where the starter motor's current leaves is another matter."""
    job, plan = harbour_trail()
    (spoilt,) = (one for one in SPOILT if one.about == "a return to no earth")
    (clash,) = judged((job,), RULES, spoilt.change(plan))
    assert clash.sentence == "tail: its return ends at no earth point"


def test_a_dearer_plan_breaks_no_rule() -> None:
    """What the checker can't judge: a wire the long way round passes if its length and the cost are right."""
    job, plan = harbour_trail()
    round_about = (3, 7)  # headstock, tray, engine, and not the down tube
    length = Micrometres(sum(job.network.legs[number].length for number in round_about))
    outputs = changed(plan.outputs, "ignition coil", lambda line: (replace(line, run=Run(length, round_about)),))
    dearer = claimed_rightly(job, reseated(plan, outputs=outputs))
    assert dearer.cost > plan.cost
    assert judged((job,), RULES, dearer) == ()


def laid_anew(job: Job, plan: Assignment, line: OnOutput, port: str) -> OnOutput:
    """Return a circuit on another port, with its shortest wire from there."""
    circuit = job.circuit(load for load in job.loads.on_unit if load.name in line.loads)
    face = face_of(job, plan, next(output.face for output in job.unit.outputs if output.name == port))
    closed = job.network.numbers_of(circuit.avoid)
    run = Trees(job.network, circuit.points, [face], closed).tree(circuit.points, face)
    return replace(line, port=port, run=run or line.run)


def read_anew(job: Job, plan: Assignment, line: OnInput, port: str) -> OnInput:
    """Return switches on another port, with their shortest wire from there."""
    points = tuple(p for switch in job.bike.inputs if switch.name in line.switches for p in switch.at)
    face = face_of(job, plan, next(known.face for known in job.unit.inputs if known.name == port))
    return replace(line, port=port, run=Trees(job.network, points, [face]).tree(points, face) or line.run)


def face_of(job: Job, plan: Assignment, face: str) -> str:
    """Return the frame point that a face meets in a plan."""
    place = next(place for place in job.bike.places if place.name == plan.only.place)
    points = {"front": place.front or place.rear, "rear": place.rear or place.front}
    other = {"front": "rear", "rear": "front"}
    return points[other[face] if plan.only.turned else face] or ""


def claimed_rightly(job: Job, plan: Assignment) -> Assignment:
    """Return a plan with the trips, sizes and cost that its circuits have where they are now."""
    laid = size_wires(lay((job,), plan)).laid
    outputs = tuple(
        replace(line, trip=wired.trip, size=wired.conductor.size if wired.conductor else line.size)
        for line, wired in zip(plan.outputs, laid.outputs, strict=True)
    )
    own = [wire for wire in laid.site.fixed_wires if wire.kind != "alongside"]
    sizes = tuple((wire.key, conductor_of(laid.site, wire).size) for wire in own)
    run, loss = wire_run(laid), spare_port_loss(laid)
    cost = Micrometres(run + loss)
    return replace(reseated(plan, outputs=outputs), fixed_sizes=sizes, cost=cost, costs=Cost(run, loss))


def exchanged(job: Job, plan: Assignment, number: int, port: str) -> Assignment:
    """Move an output's circuit to a port, and what is there to where it was."""
    moved = {plan.outputs[number].port: port, port: plan.outputs[number].port}
    lines = (laid_anew(job, plan, line, moved.get(line.port, line.port)) for line in plan.outputs)
    return claimed_rightly(job, reseated(plan, outputs=tuple(lines)))


def exchanged_inputs(job: Job, plan: Assignment, number: int, port: str) -> Assignment:
    """Move an input's switches to a port, and what is there to where they were."""
    moved = {plan.inputs[number].port: port, port: plan.inputs[number].port}
    lines = (read_anew(job, plan, line, moved.get(line.port, line.port)) for line in plan.inputs)
    return claimed_rightly(job, reseated(plan, inputs=tuple(lines)))


reference = cache(Reference)
VERDICTS: list[bool] = []


def judge_an_exchange(data: st.DataObject, family: str, seed: int) -> None:
    """Exchange two circuits' ports and compare both judges."""
    texts = random_case(seed, family)
    job, plan = best(*texts)
    if plan is None:
        return
    if not plan.inputs or data.draw(st.booleans()):
        number = data.draw(st.integers(0, len(plan.outputs) - 1))
        other = exchanged(job, plan, number, data.draw(st.sampled_from(job.unit.outputs)).name)
    else:
        number = data.draw(st.integers(0, len(plan.inputs) - 1))
        other = exchanged_inputs(job, plan, number, data.draw(st.sampled_from(job.unit.inputs)).name)
    accepted = judged((job,), RULES, other) == ()
    VERDICTS.append(accepted)
    assert reference(*texts).cost(other) == (other.cost if accepted else None)


@first_of(
    ("families", "seeds", "times"),
    [(FAMILIES[::4], FEW[1:], 20), (FAMILIES, FEW, 36), (FAMILIES, range(500, 504), 300)],
    1,
)
def test_exchanged_ports_are_judged_as_the_reference_judges(
    families: Sequence[str], seeds: Sequence[int], times: int
) -> None:
    """With two circuits' ports exchanged a plan is accepted exactly if the reference accepts it, at the same cost."""
    VERDICTS.clear()
    bikes = {"family": st.sampled_from(families), "seed": st.sampled_from(seeds)}
    some = settings(max_examples=times, deadline=None, derandomize=True, database=None)
    some(given(data=st.data(), **bikes)(judge_an_exchange))()
    assert VERDICTS.count(True) > times // 6
    assert VERDICTS.count(False) > times // 6


ALONE = """
import pickle, sys
from pathlib import Path
from portloom.verify.judge import judged
from portloom.job.goal import Cost
from portloom.job.fixed import conductor_of
from portloom.job.job import Job
from portloom.job.sizing import size_wires
from portloom.inputs.files import read_bike
from portloom.inputs.files import read_unit
from portloom.rules.book import RULES
plan = pickle.load(sys.stdin.buffer)
bike, unit = (Path(name) for name in sys.argv[1:])
clashes = judged([Job(read_bike(bike), read_unit(unit))], RULES, plan)
print(len(clashes), sorted(name for name in sys.modules if name.startswith(("ortools", "portloom.search"))))
"""


def test_the_checker_runs_without_the_solver() -> None:
    """Judging a plan loads neither ortools nor the search."""
    _, plan = harbour_trail()
    command = [sys.executable, "-c", ALONE, str(HARBOUR_TRAIL), str(ELEVEN_WAY)]
    done = subprocess.run(command, input=pickle.dumps(plan), capture_output=True, check=True, cwd=Path(__file__).parent)
    assert done.stdout.decode().strip() == "0 []"
