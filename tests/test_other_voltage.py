"""Current and light at another voltage than the running one.

Sources: Ohm's law (heaters, coils); P = U x I (an LED with its converter, electronics; a discharge lamp, whose ballast
holds its power, from memory); lamp engineering, from memory (a filament's current ~ V^0.55, its light ~ V^3.4); UN
Regulation No. 37 (lamps); working document GRE-81-04 (an LED in place of W5W: at most 2 W at 12 V, its failure watched
for between 30 and 185 mA).
"""

from fractions import Fraction
from itertools import pairwise
from typing import get_args

import pytest

from portloom.base.current import CURRENT_EXPONENT, brightness_share, current_at, current_of_power
from portloom.base.lamps import LAMPS
from portloom.base.quantities import MilliAmps, MilliVolts, MilliWatts
from portloom.base.vocabulary import Kind

RUNNING, CRANKING, TWELVE = MilliVolts(14_000), MilliVolts(9_000), MilliVolts(12_000)
VOLTAGES = [MilliVolts(volts * 500) for volts in range(12, 33)]
RESISTIVE: tuple[Kind, ...] = ("heater", "ignition coil", "relay coil", "horn")
OF_CONSTANT_POWER: tuple[Kind, ...] = ("led", "discharge", "electronics")
KINDS: tuple[Kind, ...] = get_args(Kind)


def at(kind: Kind, voltage: MilliVolts, steady: int = 4200) -> int:
    """Return the milliamperes at a voltage of what draws ``steady`` at 14 V."""
    return current_at(kind, MilliAmps(steady), RUNNING, voltage)


def test_exponents() -> None:
    """Every kind has one: 1 by Ohm's law, -1 at constant power, 0.55 for filaments (from memory), 0 for motors."""
    assert {kind: CURRENT_EXPONENT[kind] for kind in RESISTIVE} == dict.fromkeys(RESISTIVE, 1)
    assert {kind: CURRENT_EXPONENT[kind] for kind in OF_CONSTANT_POWER} == dict.fromkeys(OF_CONSTANT_POWER, -1)
    assert (CURRENT_EXPONENT["filament"], CURRENT_EXPONENT["motor"]) == (0.55, 0)
    assert set(CURRENT_EXPONENT) == set(KINDS)


@pytest.mark.parametrize("kind", RESISTIVE)
def test_a_resistance(kind: Kind) -> None:
    """Ohm's law: 4.2 A at 14 V are 2.7 A at 9 V."""
    assert at(kind, CRANKING) == 2700


@pytest.mark.parametrize("kind", OF_CONSTANT_POWER)
def test_constant_power(kind: Kind) -> None:
    """P = U x I: 4.2 A at 14 V are 58.8 W, at 9 V 6.5333... A, rounded up to the milliampere."""
    assert at(kind, CRANKING) == 6534


def test_a_filament() -> None:
    """From memory: (9 / 14)^0.55 = 0.7842, by logarithms: exp(0.55 x -0.44183)."""
    assert at("filament", CRANKING) == pytest.approx(4200 * 0.7842, abs=1)


def test_a_motor() -> None:
    """From memory: a motor at the same torque draws the same."""
    assert {at("motor", voltage) for voltage in VOLTAGES} == {4200}


@pytest.mark.parametrize("kind", KINDS)
def test_current_goes_one_way_with_voltage(kind: Kind) -> None:
    """More voltage never gives less current through a resistance or filament, never more at constant power."""
    currents = [at(kind, voltage) for voltage in VOLTAGES]
    falling = kind in OF_CONSTANT_POWER
    assert all((two <= one) if falling else (two >= one) for one, two in pairwise(currents))


@pytest.mark.parametrize("kind", KINDS)
def test_at_the_voltage_where_it_is_known_nothing_changes(kind: Kind) -> None:
    """Rounding up never adds a milliampere to what is known."""
    for voltage in VOLTAGES:
        for steady in (1, 408, 5152, 12_001):
            assert current_at(kind, MilliAmps(steady), voltage, voltage) == steady


@pytest.mark.parametrize("lamp", LAMPS)
def test_a_lamp_at_its_test_voltage_draws_its_planning_current(lamp: str) -> None:
    """UN R37: greatest watts at the test voltage; less below it, more above it."""
    row = LAMPS[lamp]
    assert current_at("filament", row.current, row.test, row.test) == -(-1000 * row.greatest // row.test)
    assert current_at("filament", row.current, row.test, TWELVE) < row.current
    assert current_at("filament", row.current, row.test, RUNNING) > row.current


@pytest.mark.parametrize("running", [12_800, 14_000, 15_000])
def test_an_led_in_place_of_w5w_is_seen_by_the_lamp_monitor(running: int) -> None:
    """GRE-81-04: 2 W at 12 V are 167 mA, between the 30 and 185 mA within which its failure is watched for."""
    planned = current_of_power(MilliWatts(2000), MilliVolts(running))
    found = current_at("led", planned, MilliVolts(running), TWELVE)
    assert found == pytest.approx(2000 / 12, abs=2)  # the planning current itself is rounded up
    assert 30 <= found <= 185


def test_a_w5w_draws_more_than_its_led() -> None:
    """A filament of 5 W draws at 12 V more than the 185 mA that its substitute may."""
    lamp = LAMPS["W5W"]
    assert current_at("filament", lamp.current, lamp.test, TWELVE) > 185


def test_light_left() -> None:
    """From memory, light ~ V^3.4: 5 % less voltage leaves 84 % of the light, 10 % less 70 %, none less all."""
    assert brightness_share(RUNNING, Fraction(14_000)) == 1
    assert brightness_share(RUNNING, Fraction(13_300)) == pytest.approx(0.840, abs=0.001)
    assert brightness_share(RUNNING, Fraction(12_600)) == pytest.approx(0.699, abs=0.001)
