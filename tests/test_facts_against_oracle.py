"""'Has it a plan if only these facts are kept?': the same answer as the independent program by HiGHS.

The bikes are random; of each, random parts of its facts are kept, from nearly all to nearly none.
"""

import random
from collections.abc import Callable
from functools import cache

from explained import Texts, questions_on
from fact_trials import IN, OUT, PLAIN, SECOND_BUTTON, SWITCH, texts
from oracle import random_bikes, starved
from oracle.electrics import dims
from oracle.facts import Key, all_facts
from oracle.kept import has_plan
from oracle.reading import on_unit, read_bike
from slices import FEW, on_seeds, third_of

Case = Callable[[int, str], Texts]
SHARES = (1, 0.97, 0.95, 0.9, 0.9, 0.8, 0.7, 0.6, 0.5, 0.3, 0.1)
STARVED = [(starved.starved_case, name) for name in starved.FAMILIES]
OTHERS = [(random_bikes.random_case, name) for name in random_bikes.EVERY_FAMILY]
EACH_FAMILY = third_of(("case", "family"), STARVED + OTHERS, 1)
EACH_SEED = on_seeds(FEW[:1], range(7000, 7002))


@cache
def answers(case: Case, family: str, seed: int) -> tuple[list[bool], list[bool]]:
    """Return both programs' answers for random parts of the facts that either has, one part for each of SHARES."""
    written = case(seed, family)
    dice, questions, facts = random.Random(seed), questions_on(written), all_facts(*written)
    every = sorted(questions.instance.everything.union(facts))
    parts = [{key for key in every if dice.random() < share} for share in SHARES]
    asked = [questions.has_plan(questions.instance.everything.intersection(part)) for part in parts]
    return asked, [has_plan(*written, part.intersection(facts)) for part in parts]


@EACH_FAMILY
@EACH_SEED
def test_both_find_a_plan_or_neither(case: Case, family: str, seeds: range) -> None:
    """Each part of a bike has a plan in both programs or in none."""
    for seed in seeds:
        asked, wanted = answers(case, family, seed)
        assert asked == wanted, seed


@third_of(("case", "family"), STARVED, 1)
@on_seeds(range(FEW[0], FEW[0] + 10), range(7000, 7002))
def test_parts_with_and_without_a_plan_are_asked_about(case: Case, family: str, seeds: range) -> None:
    """In every family of bikes that lack something some parts have a plan and some have none."""
    found = (answer for seed in seeds for answer in answers(case, family, seed)[1])
    first = next(found)
    assert any(answer is not first for answer in found)


@EACH_FAMILY
@on_seeds(FEW[:1], range(7100, 7103))
def test_both_know_the_same_facts(case: Case, family: str, seeds: range) -> None:
    """They know the same facts but for those that decide nothing.

    The independent program knows the kind of every load that wants to be dimmed, also of one that can
    be; the package also knows what a rule that is set aside would judge by.
    """
    for seed in seeds:
        written = case(seed, family)
        instance, facts = questions_on(written).instance, set(all_facts(*written))
        assert facts.difference(instance.facts) == idle_kinds(written[0])
        more = {fact.rule for key, fact in instance.facts.items() if key not in facts}
        assert more <= set(instance.job.bike.set_aside)


def test_switches_on_inputs_that_are_added_are_not_followed() -> None:
    """Two loads with a switch each on outputs that follow one input: as many inputs like it as wanted help neither."""
    switches = (f"{SWITCH}, signal: earth, operates: it", SECOND_BUTTON.replace("operates: it", "operates: other"))
    outputs = (f"names: [a, b], {OUT.removeprefix('name: a, ')}, follow: in 1",)
    written = texts(PLAIN, PLAIN.replace("it,", "other,"), switches=switches, outputs=outputs, inputs=(IN,))
    questions = questions_on(written)
    for dropped in ({("inputs", "in 1")}, {("inputs", "in 1"), ("told", "follow", "in 1")}):
        kept = questions.instance.everything - dropped
        assert questions.has_plan(kept) is has_plan(*written, kept) is (len(dropped) == 2)


def idle_kinds(bike_text: str) -> set[Key]:
    """Return the kinds of loads that want to be dimmed and can be."""
    wanting = [load for load in on_unit(read_bike(bike_text)) if "dim" in load.modes]
    return {("kind", load.name) for load in wanting if dims(load)}
