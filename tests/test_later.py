"""What may come to a bike one day, where its file does not say. Common practice, no source."""

import pytest

from outcomes import planned
from rule_bikes import LAMP, OUT, bike, unit

UNSAID = bike(f"{LAMP}, part: horn, current: 1 A, own_switch: neck", more="ignition: own").replace("later: []\n", "")
OUTPUTS = unit(*(OUT.replace("out 1", f"out {n}") + ", pwm: true, switch_modes: [steady, hold, dim]" for n in range(5)))


@pytest.mark.parametrize(
    ("load", "usual"),
    [
        ("part: heated grips, current: 3 A, dim_to: 60 %", "heated grips"),
        ("name: warm hands, part: grip heater, current: 3 A, dim_to: 60 %", "heated grips"),
        ("name: heated grips, current: 3 A", "heated grips"),
        ("part: USB socket, current: 2 A", "charging socket"),
        ("part: spotlight, power: 20 W, kind: led, own_switch: neck", "auxiliary lamps"),
    ],
)
def test_what_is_on_the_bike_does_not_come_later(load: str, usual: str) -> None:
    """A bike with heated grips wants none later; they are on an output of their own, by any name."""
    assert usual in {line.load for line in planned(UNSAID, OUTPUTS).room_for}
    plan = planned(UNSAID.replace("loads: [", f"loads: [{{{load}, at: neck}}, "), OUTPUTS)
    assert usual not in {line.load for line in plan.room_for}
    assert len(plan.outputs) == 2


@pytest.mark.parametrize("name", ["spot lamp", "socket"])
def test_what_a_load_is_called_says_nothing_of_what_comes_later(name: str) -> None:
    """A name is its owner's: what a load is, its part says."""
    lamp = f"loads: [{{name: {name}, at: neck, power: 35 W, kind: filament, own_switch: neck}}, "
    plan = planned(UNSAID.replace("loads: [", lamp), OUTPUTS)
    assert {"auxiliary lamps", "charging socket"} <= {line.load for line in plan.room_for}
