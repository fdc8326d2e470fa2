"""The checker lays again what leads to dashes: a plan that forgets a part of it does not pass. The bike is made up."""

from dataclasses import replace

import pytest

from laid_bikes import solved
from portloom.explaining.solved import Solved
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.job.network import Run
from portloom.rules.book import rules_of
from portloom.verify.judge import judged
from test_dashes import NEUTRAL, UNIT, bike
from unasked import bike_from_text

TEXT = bike("[main beam, neutral switch, speed sensor]", NEUTRAL, "{part: speed sensor, at: tray, wires: 3}")
JOB = Job(bike_from_text(TEXT, "bike"), unit_from_text(UNIT, "unit"))
RULES = rules_of(JOB)


def planned_bike() -> Solved:
    """Return the best plan."""
    found = solved(TEXT, UNIT)
    assert found is not None
    return found


def said(plan: Assignment) -> str:
    """Return what the checker says of a plan."""
    return " ".join(clash.sentence for clash in judged((JOB,), RULES, plan))


def test_the_plan_as_it_was_found_passes() -> None:
    """What is spoilt below is sound before."""
    assert said(planned_bike().assignment) == ""


@pytest.mark.parametrize("kind", ["dash signal", "dash return", "dash supply"])
def test_a_wire_of_a_sensor_that_is_forgotten(kind: str) -> None:
    """Each of the sensor's three wires to the dash is missed."""
    plan = planned_bike().assignment
    left = tuple(wire for wire in plan.fixed_wires if wire.kind != kind)
    assert len(left) == len(plan.fixed_wires) - 1
    assert f"speed sensor: its {kind} wire is missing" in said(replace(plan, fixed_wires=left))


def test_a_wire_to_a_dash_that_nothing_asks_for() -> None:
    """The neutral switch is read by the unit: a wire of its own to the dash is one too many."""
    plan = planned_bike().assignment
    extra = replace(next(wire for wire in plan.fixed_wires if wire.kind == "dash signal"), name="neutral switch")
    assert "that nothing asks for" in said(replace(plan, fixed_wires=(*plan.fixed_wires, extra)))


def test_a_circuit_that_does_not_lead_on_to_the_dash() -> None:
    """The main beam's wire must reach the bars, and the neutral switch's too; shorter ones would be cheaper."""
    plan = planned_bike().assignment
    seat = plan.only
    beam = next(line for line in seat.outputs if line.loads == ("main beam",))
    short = replace(beam, run=Run(JOB.network.legs[1].length, (1,)))
    outputs = tuple(short if line is beam else line for line in seat.outputs)
    assert "its legs do not reach bars" in said(plan.seated(replace(seat, outputs=outputs)))
    neutral = next(line for line in seat.inputs if line.switches == ("neutral switch",))
    to_engine = JOB.network.wire("mid", "engine")
    assert to_engine is not None
    inputs = tuple(replace(line, run=to_engine) if line is neutral else line for line in seat.inputs)
    assert "its legs do not reach bars" in said(plan.seated(replace(seat, inputs=inputs)))


def test_what_only_a_dash_reads_is_on_no_input() -> None:
    """The sensor is no switch that a port may have."""
    plan = planned_bike().assignment
    seat = plan.only
    first, *others = seat.inputs
    inputs = (replace(first, switches=("speed sensor",)), *others)
    assert "no such switch" in said(plan.seated(replace(seat, inputs=inputs)))
