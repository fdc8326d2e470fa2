"""The rate at which indicators flash.

Sources: UN Regulation No. 53 (90 +- 30 flashes a minute; the number from memory), FMVSS 108 (60 to 120 a
minute), German StVZO par. 54 (1.5 +- 0.5 Hz).
"""

import pytest

from outcomes import PROFILES, planned
from portloom.inputs.files import read_unit
from rule_bikes import LAMP, OUT, bike, unit

LEFT = "part: left indicator, at: neck, current: 1 A, share: left, when: indicating left, mode: flash"
PAIR = bike(f"name: front, {LEFT}", f"name: rear, {LEFT}")


def profile(output_rate: str, unit_rate: str) -> str:
    """Write a unit of one output, with a rate of its own if there is one."""
    own = f", flash_rate: {output_rate}" if output_rate else ""
    return unit(f"{OUT}, switch_modes: [steady, flash]{own}") + f"flash_rate: {unit_rate}\n"


def said(rate: str, by: str, written: str = PAIR) -> list[str]:
    """Return what is told of a rate that the output or the unit has."""
    rates = (rate, "1.5 Hz") if by == "output" else ("", rate)
    return [line for line in planned(written, profile(*rates)).warnings if "times a minute" in line]


@pytest.mark.parametrize("rate", ["1 Hz", "1.001 Hz", "1.5 Hz", "1.999 Hz", "2 Hz"])
@pytest.mark.parametrize("by", ["output", "unit"])
def test_60_to_120_a_minute_pass(rate: str, by: str) -> None:
    """Both bounds are within."""
    assert said(rate, by) == []


@pytest.mark.parametrize(
    ("rate", "a_minute"), [("0.999 Hz", "59.94"), ("2.001 Hz", "120.06"), ("0.5 Hz", "30"), ("3 Hz", "180")]
)
@pytest.mark.parametrize("by", ["output", "unit"])
def test_slower_or_faster_is_told(rate: str, a_minute: str, by: str) -> None:
    """One step outside is told, with the rate as it is."""
    assert said(rate, by) == [f"out 1 flashes {a_minute} times a minute, UN R53 requires 60 to 120"]


def test_what_does_not_flash_is_not_judged() -> None:
    """The rate of an output that only shines does not matter."""
    assert said("5 Hz", "output", bike(f"{LAMP}, current: 1 A")) == []


def test_an_outputs_own_rate_comes_before_the_units() -> None:
    """An output of 1.5 Hz in a unit of 5 Hz flashes at 1.5 Hz."""
    assert not any("times a minute" in line for line in planned(PAIR, profile("1.5 Hz", "5 Hz")).warnings)


@pytest.mark.parametrize("name", ["fourteen-way", "twenty-way"])
def test_the_bundled_profiles_flash_within(name: str) -> None:
    """The profiles that give a rate give one between 60 and 120 a minute."""
    rate = read_unit(PROFILES / f"{name}.yaml").flash_rate
    assert rate is not None
    assert 60 <= rate * 60 / 1000 <= 120
