"""Battery days: how long a motorcycle's battery lasts at rest.

Source: EN 50342-7 (motorcycle batteries, capacity at the ten-hour rate); I x t = Q. Half the capacity as the end
and 0.2 % self-discharge a day: common practice, no source. 3 mA is the upper end of a motorcycle's usual key-off
current (from memory).
"""

from fractions import Fraction

import pytest

from outcomes import planned
from portloom.base.quantities import BasisPoints, MicroAmps, MilliAmpHours
from portloom.documents.energy import battery_days, share_of_time
from rule_bikes import OUT, bike, unit

TEN_AH, THREE_MA = MilliAmpHours(10_000), MicroAmps(3000)


def days(drawn: int, self_discharge: int = 0) -> float:
    """Return the days of 10 Ah at so many microamperes and so many hundredths of a per cent a day."""
    found = battery_days(TEN_AH, MicroAmps(drawn), BasisPoints(self_discharge))
    assert found is not None
    return float(found)


def test_ten_ampere_hours_at_three_milliamperes() -> None:
    """5 Ah / 3 mA = 1667 h = 69.4 days; with 20 mAh a day lost by itself, 5 Ah / (72 + 20) mAh = 54.3 days."""
    assert days(3000) == pytest.approx(69.4, abs=0.05)
    assert days(3000, 20) == pytest.approx(54.3, abs=0.05)
    assert days(0, 20) == 250


def test_the_ten_hour_rate() -> None:
    """At a tenth of its ampere-hours a battery of EN 50342-7 lasts ten hours, half of it five."""
    assert days(1_000_000) == pytest.approx(5 / 24)


def test_nothing_drawn_lasts_for_ever() -> None:
    """Without draw and self-discharge there is no end to tell."""
    assert battery_days(TEN_AH, MicroAmps(0), BasisPoints(0)) is None


@pytest.mark.parametrize(
    ("share", "feed", "when", "asleep_ma", "awake_ma", "in_days"),
    [
        ("0.2 %", "standby: 3 mA, awake: 60 mA", "day", 3, 60, 54.3),
        ("0.01 %", "standby: 3 mA", "day", 3, 0, 68.5),  # 5000 / (72 + 1)
        ("0.2 %", "standby: 3 mA, awake: 60 mA", "asleep", 70, 70, 2.9),  # 5000 / (24 x 70 + 20): the unit stays awake
    ],
)
def test_days_of_a_bike(share: str, feed: str, when: str, asleep_ma: int, awake_ma: int, in_days: float) -> None:
    """The unit's standby and what is on asleep draw on the battery; a live output keeps the unit awake."""
    written = bike(f"name: lamp, at: neck, current: 10 mA, when: {when}", more=f"assume: {{self-discharge: {share}}}")
    plan = planned(written, unit(f"{OUT}, key_off: always", feed=f"limit: 40 A, {feed}"))
    asleep, awake = plan.energy.resting
    assert (asleep.drawn, awake.drawn) == (1000 * asleep_ma, 1000 * awake_ma)
    assert asleep.days is not None
    assert round(float(asleep.days), 1) == in_days


@pytest.mark.parametrize(
    ("box", "more", "drawn_ma"),
    [("", "", 3.5), (", standby: 0.2 mA", "", 3.2), ("", "assume: {multiplexer standby: 1 mA}", 4)],
)
def test_a_multiplexer_draws_asleep(box: str, more: str, drawn_ma: float) -> None:
    """3 mA of the unit and 0.5 mA of a multiplexer (common practice, no source), unless the file says otherwise."""
    switches = ", ".join(f"{{name: {name}, at: neck, operates: lamp}}" for name in ("a", "b", "c"))
    gatherer = f"multiplexers: [{{name: gatherer, at: neck, ways: 3, takes: earth{box}}}]\n{more}"
    written = bike("name: lamp, at: neck, current: 10 mA, when: day", more=gatherer)
    plan = planned(
        written.replace("inputs: []", f"inputs: [{switches}]"),
        unit(OUT, feed="limit: 40 A, standby: 3 mA", inputs="name: in 1, accepts: [earth, coded]"),
    )
    assert len(plan.multiplexers) == 1
    assert plan.energy.resting[0].drawn == 1000 * drawn_ma


def test_events_that_come_by_chance_overlap() -> None:
    """Probability: of two events of 10 % each, at least one comes in 19 % of the time; of none, never."""
    assert share_of_time((Fraction(1, 10), Fraction(1, 10))) == Fraction(19, 100)
    assert share_of_time(()) == 0
    assert share_of_time((Fraction(1), Fraction(1, 3))) == 1
