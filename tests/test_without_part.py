"""A load of which nothing says what it is: allowed, and told which rules can't judge it. Common practice, no source."""

import pytest

from outcomes import planned
from rule_bikes import LAMP, OUT, bike, unit

BY_PART = ("brake-lamp", "engine-stop", "indicator-pair", "run", "start")
HORN = "part: horn, at: neck, current: 4 A, own_switch: neck"


def not_judged(*loads: str) -> str:
    """Return what a plan of these loads says that it does not judge."""
    outputs = [OUT.replace("out 1", f"out {number}") + ", switch_modes: [steady, hold]" for number in (1, 2)]
    plan = planned(bike(*loads, more="ignition: own"), unit(*outputs))
    return " ".join(plan.not_yet_judged)


@pytest.mark.parametrize("rule", BY_PART)
def test_what_a_part_would_bring_is_told_by_name_as_not_judged(rule: str) -> None:
    """A lamp that may be a brake lamp is not called judged by the brake lamp's rule."""
    told = not_judged(f"{LAMP}, current: 1 A", HORN)
    assert "lamp has no 'part'" in told
    assert rule in told


def test_nothing_is_told_where_every_load_says_what_it_is() -> None:
    """A horn is a horn."""
    assert "no 'part'" not in not_judged(HORN)
