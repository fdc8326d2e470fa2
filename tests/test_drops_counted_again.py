"""The checker counts every drop again, leg by leg, and does not take what search or documents say of it.

The bikes are those of the examples, and random; what is spoilt is made up.
"""

from fractions import Fraction

import pytest

from near_bikes import random_plans
from oracle.random_bikes import FAMILIES
from portloom.job.drops import AsCut
from portloom.job.losses import Allowed, Losses
from portloom.rules.book import rules_of
from portloom.verify.drops import drop_clashes
from portloom.verify.judge import check
from slices import FEW, on_seeds, third_of


@third_of("family", FAMILIES, 0)
@on_seeds(FEW, range(8200, 8203))
def test_drops_of_random_plans_are_counted_alike(family: str, seeds: range) -> None:
    """Judged and cut, of every load, the two counts are the same to the last digit."""
    for found in random_plans(family, seeds):
        assert list(drop_clashes(found.laid)) == []


SPOILT = (
    (Allowed, "on_feed", 149_000),
    (Allowed, "on_return", 1),
    (Losses, "at_load", 0),
    (AsCut, "on_feed", 0),
    (AsCut, "on_return", 1),
)


@pytest.mark.parametrize(("of", "name", "wrong"), SPOILT, ids=[f"{of.__name__} {name}" for of, name, _ in SPOILT])
def test_a_wrong_drop_fails_the_plan(of: type, name: str, wrong: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Less on a feed than 150 mV, nothing in a plug, nothing on the wires that are cut: the check tells of it."""
    found = next(random_plans("plain", range(1000, 1030)))
    monkeypatch.setattr(of, name, lambda *_: Fraction(wrong))
    told = [clash.sentence for clash in check((found.job,), rules_of(found.job), found.plan).clashes]
    assert any("worked out again" in sentence and "its drop" in sentence for sentence in told)
