"""What the check tells of two units side by side: switches where they are wanted, groups that stay together.

Each plan is the best of another bike of the same frame, for which it is right: so its wires lie well, and what is told
is about the units alone. The bikes are made up. Source: common practice, no source: a unit judges by its own inputs
alone, indicators flash as one, and one unit runs and stops the engine.
"""

from dataclasses import replace

import pytest

from portloom.base.clock import Clock
from portloom.inputs.files import unit_from_text
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.book import RULES
from portloom.search.pairs.search import best_pair
from portloom.verify.judge import check
from test_pairs import BIKE, UNIT
from unasked import bike_from_text

ONE_OUTPUT = UNIT.replace("[out 1, out 2, out 3]", "[out 1]").replace("steady, flash", "steady, flash, engine-run")
APART = ("name: lamp, at: neck", "name: marker, at: tail")
"""One is fed by the unit at the neck, the other by that at the tail."""
NEITHER = "tells: clutch"
BOTH = "operates: [lamp, marker]"


def jobs(loads: tuple[str, ...], switch: str) -> tuple[Job, Job]:
    """Return the long trial on two units of one output, with a switch at the tray that does something."""
    lines = "\n".join(f"  - {{kind: led, power: 7 W, {load}}}" for load in loads)
    light = f"  - {{name: light switch, at: tray, signal: earth, {switch}}}"
    bike, unit = bike_from_text(BIKE % (lines, light), "bike"), unit_from_text(ONE_OUTPUT, "unit")
    return Job(bike, unit), Job(bike, unit)


def found(loads: tuple[str, ...], switch: str) -> Assignment:
    """Return the best plan."""
    best = best_pair(*jobs(loads, switch), RULES, Clock(None))
    assert isinstance(best, Assignment)
    return best


def told(plan: Assignment, loads: tuple[str, ...], switch: str) -> list[str]:
    """Return what the check tells of a plan about switches on units, and groups."""
    said = [clash.sentence for clash in check(jobs(loads, switch), RULES, plan).clashes]
    return [sentence for sentence in said if "want" in sentence or "go on one unit" in sentence]


WANTED = "light switch is on {} inputs of the unit at at the {}, which {}"
SWITCHED: list[tuple[str, str, list[str]]] = [
    (BOTH, BOTH, []),
    (BOTH, "operates: lamp", [WANTED.format(1, "tail", "does not want it")]),
    (BOTH, "operates: marker", [WANTED.format(1, "neck", "does not want it")]),
    (BOTH, NEITHER, ["light switch, which no unit wants, is on 2 inputs"]),
    ("operates: lamp", BOTH, [WANTED.format(0, "tail", "wants it")]),
    ("operates: marker", BOTH, [WANTED.format(0, "neck", "wants it")]),
    (
        "operates: lamp",
        "operates: marker",
        [WANTED.format(1, "neck", "does not want it"), WANTED.format(0, "tail", "wants it")],
    ),
    (NEITHER, NEITHER, []),
]


@pytest.mark.parametrize(("laid", "judged", "sentences"), SWITCHED)
def test_a_switch_is_on_one_input_of_each_unit_that_wants_it(laid: str, judged: str, sentences: list[str]) -> None:
    """The lamp is on the unit at the neck and the marker on that at the tail; each unit reads what works its own load.

    A switch that neither wants is on one input.
    """
    assert told(found(APART, laid), APART, judged) == sentences


def test_a_switch_that_no_unit_wants_is_on_one_input() -> None:
    """It is missed where it is on none."""
    plan = found(APART, NEITHER)
    without = replace(plan, seats=tuple(replace(seat, inputs=()) for seat in plan.seats))
    assert told(without, APART, NEITHER) == ["light switch, which no unit wants, is on 0 inputs"]


SIDES = ("left indicator", "right indicator")
SHARING = ("name: lamp, at: neck, share: front", "name: other, at: neck, share: front", "name: marker, at: tail")
GROUPS: list[tuple[tuple[str, ...], tuple[str, str], bool]] = [
    (APART, SIDES, True),
    (APART, ("fuel pump", "starter solenoid"), True),
    (APART, ("left indicator", "fuel pump"), False),
    (APART, ("left indicator", "horn"), False),
    (SHARING, SIDES, True),  # the lamp is on one output with another load
    (SHARING, ("left indicator", "horn"), False),
]


@pytest.mark.parametrize(("loads", "parts", "together"), GROUPS)
def test_a_group_stays_on_one_unit(loads: tuple[str, ...], parts: tuple[str, str], *, together: bool) -> None:
    """What is laid on two units as two loads like any other is told where both are of one group."""
    switch = BOTH.replace("lamp", "lamp, other") if len(loads) > 2 else BOTH
    plan = found(loads, switch)
    one, *others, last = loads
    judged = (f"{one}, part: {parts[0]}", *others, f"{last}, part: {parts[1]}")
    sentence = "lamp and marker go on one unit, and are at at the neck and at the tail"
    assert [said for said in told(plan, judged, switch) if "go on" in said] == ([sentence] if together else [])
