"""The rules of engine, key, coils, heat and short circuits: told by their names, and set aside where they may be.

What is refused and what just passes is tried with every other rule (the bikes stand in ``full_trials`` and
``heat_trials``, with the sources of their limits).
"""

from collections.abc import Callable
from dataclasses import replace

import pytest

from full_trials import BRAKE_LAMP, FULL, LEFT, SOLENOID, by_two, own_switch_off, without
from heat_trials import HALF_MM2, in_company
from outcomes import fits, planned, refusing, reseated
from portloom.base.clock import Clock
from portloom.base.sizes import parse_size
from portloom.inputs.files import unit_from_text
from portloom.inputs.problems import BadFile
from portloom.inputs.rule_slugs import NEVER_SET_ASIDE
from portloom.job.assignment import Assignment
from portloom.job.job import Job
from portloom.rules.book import RULES
from portloom.rules.sites import sites_of
from portloom.search.best import best_assignment
from portloom.verify.judge import judged
from rule_bikes import IN, LAMP, OTHER, OUT, SECOND, Texts, Trial, bike, unit
from unasked import bike_from_text

LATELY = ("inductive", "key-off", "cranking", "start", "run", "engine-stop", "brake-lamp", "indicator-pair", "signal",
          "wire", "main-fuse")  # fmt: skip
ALONE = [trial for trial in FULL if trial.alone]
"""Those in which nothing but the rule refuses the bike."""


def test_each_of_these_rules_is_tried() -> None:
    """No rule of these is without its two bikes."""
    assert {trial.rule for trial in FULL} == set(LATELY)


@pytest.mark.parametrize("trial", ALONE, ids=str)
def test_the_answer_names_the_rule(trial: Trial) -> None:
    """Where nothing fits, the rule that is broken is among those that are told."""
    assert trial.rule in refusing(*trial.broken)


@pytest.mark.parametrize("trial", ALONE, ids=str)
def test_a_rule_is_set_aside_where_it_may_be(trial: Trial) -> None:
    """With its rule set aside for a reason, a bike has a plan that says so; some rules a file can't set aside."""
    bike_text, unit_text = trial.broken
    aside = f"{bike_text}set_aside: {{{trial.rule}: agreed with the owner}}\n"
    if trial.rule in NEVER_SET_ASIDE:
        with pytest.raises(BadFile, match="set aside"):
            fits(aside, unit_text)
    else:
        assert planned(aside, unit_text).set_aside == ((trial.rule, "agreed with the owner"),)


# --- the checker, on plans that were tampered with


def laid(texts: Texts) -> tuple[Job, Assignment]:
    """Return a job and its best plan."""
    job = Job(bike_from_text(texts[0], "bike"), unit_from_text(texts[1], "unit"))
    found = best_assignment(job, RULES, sites_of(job), Clock(None))
    assert isinstance(found, Assignment)
    assert judged((job,), RULES, found) == ()
    return job, found


def swapped(plan: Assignment) -> Assignment:
    """Exchange the ports of the first two circuits."""
    one, two = plan.outputs[:2]
    return reseated(plan, outputs=(replace(one, port=two.port), replace(two, port=one.port)))


def together(plan: Assignment) -> Assignment:
    """Hang both circuits on the first output."""
    one, two = plan.outputs
    return reseated(plan, outputs=(replace(one, loads=one.loads + two.loads),))


def untold(plan: Assignment) -> Assignment:
    """Take the switch off its input."""
    return reseated(plan, inputs=())


def thinner(plan: Assignment) -> Assignment:
    """Take thinner wire for the first circuit."""
    line = plan.outputs[0]
    return reseated(plan, outputs=(replace(line, size=parse_size("0.5 mm2")), *plan.outputs[1:]))


IGNITION = f"{LAMP}, current: 2 A, part: ignition box"


def alike(load: str, first: str, second: str) -> Texts:
    """Write a bike of a load and a lamp, and a unit of two outputs that differ in one thing."""
    return bike(load, f"{OTHER}, current: 2 A"), unit(f"{OUT}, {first}", f"{SECOND}, {second}")


def telling(load: str, mode: str = "steady") -> Texts:
    """Write a bike whose one switch tells everything."""
    inputs = f"name: switch, at: tray, signal: earth, tells: [{without()}]"
    return bike(load, inputs=inputs), unit(f"{OUT}, switch_modes: {mode}", inputs=IN)


TAMPERED: tuple[tuple[str, Texts, Callable[[Assignment], Assignment]], ...] = (
    ("inductive", alike(f"{LAMP}, current: 2 A, kind: horn", "inductive: true", "inductive: false"), swapped),
    ("key-off", alike(f"{LAMP}, current: 2 A, when: parked", "key_off: timed", "key_off: never"), swapped),
    (
        "cranking",  # 3.112 A at 9 V lose 93 mV more in an output of 31 mohm
        alike(
            f"{LAMP}, current: 2 A, when: [cranking, day], lowest: 8.7 V", "resistance: 1 mohm", "resistance: 31 mohm"
        ),
        swapped,
    ),
    ("start", telling(SOLENOID, "start"), untold),
    ("run", telling(IGNITION), untold),
    ("engine-stop", telling(IGNITION), untold),
    ("brake-lamp", telling(BRAKE_LAMP, "hold"), untold),
    ("wire", alike(f"{LAMP}, current: 2 A", "trip: 15 A", "trip: 15 A"), thinner),
)


@pytest.mark.parametrize(("rule", "texts", "change"), TAMPERED, ids=[row[0] for row in TAMPERED])
def test_a_plan_that_was_tampered_with_is_told_by_its_rule(
    rule: str, texts: Texts, change: Callable[[Assignment], Assignment]
) -> None:
    """One thing changed in a good plan, and the checker names the rule."""
    job, plan = laid(texts)
    assert rule in {clash.rule for clash in judged((job,), RULES, change(plan))}


@pytest.mark.parametrize("rule", ["start", "run"])
def test_without_a_side_stand_nothing_of_it_is_needed(rule: str) -> None:
    """Where the file says that there is no stand, a plan in which nobody tells of one is sound for these rules."""
    load, modes = (SOLENOID, "start") if rule == "start" else (IGNITION, "steady")
    texts = by_two(load, "side stand", "in 1, in 2", modes)
    for stand, wrong in (("side", True), ("none", False)):
        job, plan = laid((f"{texts[0]}stand: {stand}\n", texts[1]))
        assert (rule in {clash.rule for clash in judged((job,), RULES, own_switch_off(plan))}) is wrong


def test_a_brake_lamp_hung_on_another_output() -> None:
    """The checker names the brake lamp's own rule, not only that of sharing."""
    inputs = "name: switch, at: tray, signal: earth, tells: [front brake, rear brake]"
    brake, lamp = f"{BRAKE_LAMP}, share: tail", f"{OTHER}, current: 2 A, share: tail, mode: hold"
    outputs = (f"{out}, switch_modes: hold" for out in (OUT, SECOND))
    job, plan = laid((bike(brake, lamp, inputs=inputs), unit(*outputs, inputs=IN)))
    assert {"brake-lamp", "share"} <= {clash.rule for clash in judged((job,), RULES, together(plan))}


# --- what just passes, and how


def test_front_and_rear_indicators_may_have_an_output_each() -> None:
    """A side on one output or on two is kept alike."""
    ends = [f"name: {end}, {LEFT}, mode: flash, share: left" for end in ("front", "rear")]
    outputs = [f"{out}, switch_modes: flash" for out in (OUT, SECOND)]
    assert len(planned(bike(*ends), unit(outputs[0])).outputs) == 1
    apart = [end.replace("share: left", f"share: {number}") for number, end in enumerate(ends)]
    assert len(planned(bike(*apart), unit(*outputs)).outputs) == 2


def test_an_output_that_does_not_say_takes_a_coil() -> None:
    """Where the profile is silent about inductive loads, a coil is planned and a warning given."""
    found = planned(bike(f"{LAMP}, current: 2 A, kind: horn"), unit(OUT))
    assert any("without a suppressor" in line for line in found.warnings)


def test_a_bundle_thickens_a_wire_where_the_terminal_lets_it() -> None:
    """15 A in the company of three: 1 mm2 carries 14 A, 1.5 mm2 17.5 A (Table 5, Note 2), and less is lost."""
    cool, full = (planned(*in_company("current: 1 A", OUT, count)).outputs[0] for count in ("1", "2"))
    assert (cool.size.label, full.size.label) == ("1 mm2", "1.5 mm2")
    assert full.drop < cool.drop


def test_a_return_is_thickened_for_a_fault() -> None:
    """2 A come back by 0.5 mm2 for 11 A; with the trip of 15 A in their place, 1 mm2 for 20 A (Table 5)."""
    lamp = "name: lamp, at: bracket, current: 2 A"
    for trip, size in (("3 A", "0.5 mm2"), ("11 A", "0.5 mm2"), ("15 A", "1 mm2")):
        found = planned(bike(lamp), unit(f"{OUT}, trip: {trip}"))
        assert [line.size.label for line in found.returns if line.name == "bracket"] == [size]


def test_a_short_circuit_thickens_a_wire() -> None:
    """200 A for 0.1 s heat 0.5 mm2 above 160 C and 0.75 mm2 (246 A, IEC 60949) not; both carry the trip of 8 A."""
    output = HALF_MM2.replace("wire_max: 0.5 mm2, ", "")
    for peak, size in (("164 A", "0.5 mm2"), ("200 A", "0.75 mm2")):
        found = planned(bike(f"{LAMP}, current: 1 A"), unit(output.replace("60 A", peak)))
        assert found.outputs[0].size.label == size
