"""What a plan's own print-out shows to be near its limit stands among its near misses.

Worked out anew from the plan as JSON and the unit's profile: sums of currents, 1.25 x a steady current (common
practice, no source), what each wire must carry and can.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest

from near_bikes import Wired, random_plans, wired
from oracle.random_bikes import FAMILIES
from outcomes import EXAMPLES, PROFILES
from portloom.documents.draw_up import draw_up
from portloom.documents.json import plan_json
from slices import FEW, on_seeds, third_of

Shown = tuple[str, str, Fraction, Fraction]
"""The rule that keeps a limit, of what, what is used of it, and the limit, in amperes."""


def exact(number: float) -> Fraction:
    """Return a figure of a document as it is written."""
    return Fraction(str(number))


def shown(found: Wired) -> Iterator[Shown]:
    """Return every limit that a plan's JSON lets anybody work out."""
    plan: dict[str, Any] = plan_json(draw_up(found.laid, found.plan))
    for case in plan["cases"]:
        yield "unit-total", "unit", exact(case["current_a"]), exact(case["limit_a"])
        for bank in case["banks"]:
            yield "bank", bank["bank"], exact(bank["current_a"]), exact(bank["limit_a"])
    limits = {output.name: Fraction(output.limit, 1000) for output in found.job.unit.outputs}
    for output in plan["outputs"]:
        yield "trip", output["port"], Fraction(5, 4) * exact(output["current_a"]), limits[output["port"]]
    feed = plan["feed"]
    yield "main-fuse", "main fuse", Fraction(5, 4) * exact(feed["worst_a"]), exact(feed["main_fuse_a"])
    for line in plan["protection"]:
        rule = "main-fuse" if line["wire"] == "feed" else "wire"
        yield rule, line["wire"], exact(line["must_carry_a"]), exact(line["carries_a"])


def near_ones(found: Wired) -> list[Shown]:
    """Return the limits of which less than a tenth is left, each at its fullest."""
    fullest: dict[tuple[str, str], Shown] = {}
    for one in shown(found):
        if one[:2] not in fullest or one[2] > fullest[one[:2]][2]:
            fullest[one[:2]] = one
    return [one for one in fullest.values() if 10 * one[2] > 9 * one[3]]


def missing(found: Wired) -> list[Shown]:
    """Return those that no near miss tells: by the rule, and by what is used of the limit."""
    told = {(margin.rule, margin.share) for margin in found.near.tight}
    return [one for one in near_ones(found) if (one[0], one[2] / one[3]) not in told]


PAIRS = (
    ("dressed-tourer", "eleven-way"), ("market-parallel", "fourteen-way"), ("harbour-trail", "eleven-way"),
    ("sidecar-hauler", "twenty-four-way"),
)  # fmt: skip


@pytest.mark.parametrize(("name", "profile"), PAIRS)
def test_none_of_an_example_is_missing(name: str, profile: str) -> None:
    """The dressed tourer's return carries 39.284 A of 40 A, and three of its wires 10 A of 10 A: all are told."""
    found = wired(((EXAMPLES / f"{name}.yaml").read_text("utf-8"), (PROFILES / f"{profile}.yaml").read_text("utf-8")))
    assert found is not None
    assert missing(found) == []
    assert len(found.near.tight) >= len(near_ones(found)) > 0


@third_of("family", FAMILIES, 0)
@on_seeds(FEW, range(8200, 8204))
def test_none_of_a_random_bike_is_missing(family: str, seeds: range) -> None:
    """Nor of bikes and units that are made up by chance."""
    for found in random_plans(family, seeds):
        assert missing(found) == []
