"""What a bike draws with the key off, and the days of its battery, against the second program; the bikes are random."""

from fractions import Fraction

import pytest

from oracle.random_bikes import random_case
from oracle.resting import battery_days, resting_ma
from outcomes import outcome
from portloom.planning.plan import Planned

SEEDS = range(1000, 1012)
BOX = "multiplexers:\n- name: box 1\n"


def with_standby(unit: str) -> str:
    """Return a unit that draws something asleep, and more awake."""
    return unit.replace("feed:\n", "feed:\n  standby: 0.7 mA\n  awake: 55 mA\n")


@pytest.mark.parametrize("family", ["keyoff", "multiplexed"])
def test_the_draw_with_the_key_off(family: str) -> None:
    """Unit, alarms and the multiplexers in use; some plans have each of them."""
    drawn = set()
    for seed in SEEDS:
        bike, unit = random_case(seed, family)
        bike, unit = bike.replace(BOX, f"{BOX}  standby: 1.3 mA\n"), with_standby(unit)
        answer = outcome(bike, unit)
        if isinstance(answer, Planned):
            asleep = answer.plan.energy.resting[0]
            by_hand = resting_ma(bike, unit, [box.name for box in answer.plan.multiplexers])
            assert Fraction(asleep.drawn, 1000) == by_hand
            assert asleep.days == battery_days(Fraction(10_000), by_hand)
            drawn.add(by_hand)
    assert len(drawn) > 1
