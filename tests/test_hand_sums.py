"""Sums of the Harbour Trail's plan worked through by hand: cases, a loom, spare ports, energy, cranking.

Sources: P = U x I and U = I x R; IEC 60228 class 5; FAA AC 43.13-1B par. 11-66; EN 50342-7 (capacity); outer diameters
of thin-wall cable sold to ISO 6722 class B. Shares of the time, 1.25 x sqrt(sum of d^2) and 1 mm of sleeve: common
practice, no source. The bike and the unit are made up.
"""

from math import sqrt

import pytest

from worked_plans import (
    BRAKE,
    COIL,
    CONTROLLER,
    CRANKED,
    DASH,
    DIPPED,
    EARTH,
    FAN,
    FEED,
    IGNITION,
    INDICATOR,
    LOAD_PLUG,
    OUTPUT,
    PLATE,
    POSITION,
    PUMP,
    SPLICE,
    TAIL,
    TELL_TALE,
    WITH_DIPPED,
    WITH_MAIN,
    harbour_trail,
    mohm,
)


def test_totals_of_the_cases() -> None:
    """By day with dipped beam 20.036 A, with main beam 20.566 A; while cranking 13.9 A.

    Horn and fan are fed from the battery: no case is named after them.
    """
    said = {line.label: line.current for line in harbour_trail().only.cases}
    assert said == {
        "cranking": 13_900,
        "day, braking + hazard": 20_036,
        "day, braking + hazard + main beam": 20_566,
    }
    by_hand = [CRANKED, WITH_DIPPED, WITH_MAIN]
    assert sorted(said.values()) == [round(1000 * total) for total in by_hand]


def test_a_loom() -> None:
    """To the headlamp six outputs and the fuel sender of 1.7 mm each, a return of 3, sleeve 1."""
    leg = next(leg for leg in harbour_trail().legs if leg.name == "headstock - headlamp")
    assert leg.wires == 8
    assert leg.diameter / 1000 == pytest.approx(1.25 * sqrt(7 * 1.7**2 + 3.0**2) + 1, abs=0.001)


def test_spare_ports() -> None:
    """50 mm an ampere and 100 mm an ability that a circuit leaves, 2 m for the lamps that find no room: 6.6641 m."""
    limits = dict(zip(range(1, 12), (13, 13, 8, 8, 4, 4, 6, 8, 10, 10, 6), strict=True))
    abilities = dict(zip(range(1, 12), (2, 2, 3, 3, 3, 3, 3, 3, 5, 5, 4), strict=True))
    plan, by_hand = harbour_trail(), 2000.0
    for line in plan.outputs:
        number = int(line.port.removeprefix("out "))
        by_hand += 50 * (limits[number] - line.current / 1000) + 100 * (abilities[number] - len(line.mode))
    assert plan.spare_port_loss / 1000 == pytest.approx(by_hand, abs=0.0005)
    assert plan.spare_port_loss == 6_664_100
    assert (plan.no_room_for, [line.load for line in plan.room_for]) == (("auxiliary lamps",), ["heated grips"])


def test_energy() -> None:
    """By day 268.7 W on average, 158.7 W more than at idle: 1.9 Ah of the battery in ten minutes.

    0.4 mA asleep, 0.5 mA of its multiplexer and 20 mAh a day by itself empty half of 10 Ah in 120.2 days.
    """
    energy = harbour_trail().energy
    steady = DIPPED + POSITION + TAIL + PLATE + IGNITION + PUMP + CONTROLLER + DASH + 0.060  # the unit awake
    signals = 0.10 * BRAKE + 4 * INDICATOR * 0.10 * 0.50 + 2 * TELL_TALE * 0.10 * 0.50
    mean = 14 * (steady + signals + 0.30 * (FAN + COIL))
    assert [line.drawn / 1000 for line in energy.riding] == pytest.approx([mean, mean], abs=0.001)
    assert [line.ten_minutes / 1000 for line in energy.riding] == pytest.approx([(mean - 110) / 14 / 6] * 2, abs=0.001)
    asleep = energy.resting[0].days
    assert asleep is not None
    assert float(asleep) == pytest.approx(5000 / (24 * (0.4 + 0.5) + 20))


def test_cranking() -> None:
    """At 9 V coils draw 9 / 14, electronics 14 / 9, the pump the same: 13.093 A through the feed."""
    said = {line.where: float(line.voltage) / 1e6 for line in harbour_trail().only.cranking}
    coil, controller, dash = 1.929, 3.112, 0.623  # 1.9286, 3.1111 and 0.6222 A, rounded up
    at_unit = 9 - (2 * coil + PUMP + controller + dash) * FEED / 1000
    assert said["the unit"] == pytest.approx(at_unit, abs=0.0001)
    behind = (controller + coil + PUMP + coil) * EARTH  # at the tray: the ignition's coil comes back by the controller
    solenoid = coil * (OUTPUT + mohm("0.5", 610) + LOAD_PLUG + mohm("0.5", 220) + SPLICE) + behind
    assert said["starter solenoid"] == pytest.approx(at_unit - solenoid / 1000, abs=0.0001)
