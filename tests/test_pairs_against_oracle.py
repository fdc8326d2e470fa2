"""Two units instead of one against HiGHS: the reference in ``oracle`` shares no code with the search.

The bikes are random. Those with few choices of two places take least time, so most are of these.
"""

from collections.abc import Iterator
from itertools import count, islice

import pytest

from oracle import pairs
from oracle.pair import Two
from oracle.pair_bikes import pair_case
from oracle.profiles import read_unit
from oracle.reading import read_bike
from portloom.inputs.files import unit_from_text
from portloom.planning.plan import Planned, Unknown, plan
from unasked import bike_from_text

pytestmark = pytest.mark.long

FEW, MANY = 100, 6
"""How many bikes with up to four choices of two places and ways round, and how many with more."""


def cases(*, few: bool) -> Iterator[tuple[str, str, str]]:
    """Return bikes with two units each, without end."""
    for seed in count():
        bike, unit, other = pair_case(seed)
        choices = len(list(Two(read_bike(bike), (read_unit(unit), read_unit(other))).spots()))
        if (choices <= 4) is few:
            yield bike, unit, other


def cost_of(bike: str, unit: str, other: str) -> int | None:
    """Return the cost of the best plan, which passed its check; None where it is proved that there is none."""
    answer = plan(bike_from_text(bike, "bike"), unit_from_text(unit, "unit"), unit_from_text(other, "other"))
    assert not isinstance(answer, Unknown)
    if not isinstance(answer, Planned):
        return None
    assert answer.plan.proven
    return answer.plan.cost


def test_same_cost_and_verdict_as_highs() -> None:
    """On a hundred random bikes the best plan costs what HiGHS says, and none is found where there is none."""
    tried = [*islice(cases(few=True), FEW), *islice(cases(few=False), MANY)]
    wanted = [pairs.optimum(*texts).cost_um for texts in tried]
    assert [cost_of(*texts) for texts in tried] == wanted
    assert 10 < sum(cost is None for cost in wanted) < len(wanted) // 2
