"""No lie of the solver becomes a claim: the answer is the true one, or withdrawn, or said not to be proved twice.

The truth is what is told where nobody lies, which other tests hold against two other programs. No outside source for
the lies: each is what a wrong status, value, bound or plan of a solver would be, told at each of its solves in turn.
"""

from collections.abc import Callable, Sequence

import pytest

from liar import LIES, Lie, lying
from oracle.pair_bikes import pair_case
from oracle.random_bikes import random_case
from portloom.explaining.solved import FailedCheck
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import NothingFits, Planned, Planning, Unknown, plan
from portloom.search.places import Contender
from portloom.search.solving import Disagreement
from slices import first_of, on_seeds
from unasked import bike_from_text

WITHDRAWN = (Disagreement, FailedCheck)
"""What ends a call with exit code 4."""


def planning(seed: int, family: str) -> Callable[[], Planning]:
    """Return the planning of a random bike on its unit."""
    bike, unit = random_case(seed, family)
    typed = bike_from_text(bike, "bike"), unit_from_text(unit, "unit")
    return lambda: plan(*typed)


def planning_of_two(seed: int) -> Callable[[], Planning]:
    """Return the planning of a random bike on two units."""
    bike, unit, other = pair_case(seed)
    typed = bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), unit_from_text(other, "other")
    return lambda: plan(*typed)


def claims(answer: Planning) -> tuple[object, ...]:
    """Return what is claimed, but for which of equal plans it is."""
    match answer:
        case Planned(found):
            saves = tuple(box.saves for box in found.multiplexers)
            return "planned", found.cost, found.bound, found.proven, found.could_share, saves
        case NothingFits():
            return ("no plan",)
        case Unknown():
            return ("unknown",)


def is_honest(answer: Planning, truth: Planning) -> bool:
    """Tell whether an answer that is not proved is true nevertheless."""
    best = truth.plan.cost if isinstance(truth, Planned) else None
    if isinstance(answer, Unknown):
        return best is None or answer.bound <= best
    if isinstance(answer, NothingFits) or best is None:
        return False
    return answer.plan.bound <= best <= answer.plan.cost and (not answer.plan.proven or answer.plan.cost == best)


def no_lie_is_told(plan_it: Callable[[], Planning], lie: Lie) -> int:
    """Lie at each solve in turn; return how often it was a lie. Fails where one becomes a claim."""
    with lying(lie, None) as told:
        truth = plan_it()
    lies = 0
    for at in range(told.solves):
        with lying(lie, at) as now:
            try:
                answer = plan_it()
            except WITHDRAWN:
                answer = None
        lies += now.lied
        assert answer is None or claims(answer) == claims(truth) or is_honest(answer, truth), (lie, at)
    return lies


@pytest.fixture(autouse=True)
def nothing_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every place needs a solve: no plan is that of a linear relaxation, which no lie is told of."""
    monkeypatch.setattr(Contender, "at_once", lambda _: None)


FAMILIES = ("plain", "sharing", "bundles", "multiplexed", "banks", "wires")


@first_of(("seeds", "families"), [(range(1), FAMILIES[::2]), (range(12), FAMILIES)], 1)
@pytest.mark.parametrize("lie", LIES)
def test_no_lie_becomes_a_claim(lie: Lie, seeds: range, families: Sequence[str]) -> None:
    """Of random bikes on one unit, with everything that is told beside the plan."""
    lies = sum(no_lie_is_told(planning(3000 + seed, family), lie) for seed in seeds for family in families)
    assert lies


@on_seeds(range(1), range(6))
@pytest.mark.parametrize("lie", LIES)
def test_no_lie_of_two_units_becomes_a_claim(lie: Lie, seeds: range) -> None:
    """The same of two units."""
    assert sum(no_lie_is_told(planning_of_two(seed), lie) for seed in seeds)
