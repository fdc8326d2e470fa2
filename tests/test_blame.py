"""What the solver blames is a hint: facts that have no plan together, and nothing where there is a plan.

The bikes are random and invented; whether one has a plan is told by the independent program.
"""

from explained import questions_on
from oracle.facts import all_facts
from oracle.kept import has_plan
from oracle.starved import FAMILIES, starved_case
from portloom.explaining.conflicts.find import blamed
from slices import on_seeds, third_of

EACH_SEED = on_seeds(range(1001, 1003), range(900, 904))


@third_of("family", FAMILIES, 0)
@EACH_SEED
def test_what_is_blamed_has_no_plan_and_nothing_is_where_there_is_one(family: str, seeds: range) -> None:
    """A part of the facts, without a plan by the other program too."""
    for seed in seeds:
        written = starved_case(seed, family)
        questions = questions_on(written)
        hint = blamed(questions, questions.instance.keys)
        if has_plan(*written, all_facts(*written)):
            assert hint is None
        elif hint is not None:
            assert questions.instance.everything.issuperset(hint)
            assert not has_plan(*written, hint)


@EACH_SEED
def test_most_bikes_without_a_plan_get_a_hint_that_is_less_than_everything(seeds: range) -> None:
    """It is what makes conflicts quick to find, so it must not be empty talk."""
    bikes = [questions_on(starved_case(seed, family)) for family in FAMILIES for seed in seeds]
    starved = [questions for questions in bikes if not questions.has_plan(questions.instance.everything)]
    hints = [blamed(questions, questions.instance.keys) for questions in starved]
    less = [hint for hint, bike in zip(hints, starved, strict=True) if hint and len(hint) < len(bike.instance.keys)]
    assert 2 * len(less) > len(starved) > 0


def test_the_same_is_blamed_every_time() -> None:
    """Asked anew, with nothing remembered."""
    for family in FAMILIES:
        once, again = (questions_on(starved_case(1001, family)) for _ in range(2))
        assert blamed(once, once.instance.keys) == blamed(again, again.instance.keys)
