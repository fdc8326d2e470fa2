"""What a bike draws with the key off, and how many days its battery lasts.

Source: I x t = Q; half the capacity as the end, 0.2 % self-discharge a day, 0.5 mA for a multiplexer: common practice,
no source.
"""

from collections.abc import Collection
from fractions import Fraction

from .quantities import quantity
from .reading import read_bike, tree_of
from .things import Bike, Load

SELF_DISCHARGE = Fraction(2, 1000)
USUAL_MULTIPLEXER = "0.5 mA"
COIL_MA = 150
"""Of a relay that a switch of its load's own works; one that an output works is a load of its own."""


def resting_ma(bike_text: str, unit_text: str, boxes: Collection[str]) -> Fraction:
    """Take a bike's and a unit's YAML and the names of the multiplexers in use; give what is drawn (mA) asleep.

    The unit stays awake for a load on one of its outputs.
    """
    bike, feed = read_bike(bike_text), tree_of(unit_text)["feed"]
    on = [load for load in bike.loads if _on_asleep(bike, load)]
    live = [load for load in on if load.on_unit]
    unit_ma = quantity(feed.get("awake" if live else "standby", "0 mA"), "current")
    used = [item for item in tree_of(bike_text).get("multiplexers", []) if item["name"] in boxes]
    boxes_ma = sum(quantity(item.get("standby", USUAL_MULTIPLEXER), "current") for item in used)
    coils_ma = COIL_MA * sum(load.fed == "relay" and bool(load.own_switch) for load in on)
    return unit_ma + boxes_ma + coils_ma + sum(load.current_ma for load in on)


def _on_asleep(bike: Bike, load: Load) -> bool:
    """Tell whether a load is on with the key off and nothing going on; a guest is with what feeds it."""
    if load.feeders:
        return any(_on_asleep(bike, other) for other in bike.loads if other.name in load.feeders)
    return "asleep" in load.when and "asleep" not in load.barred


def battery_days(capacity_mah: Fraction, drawn_ma: Fraction) -> Fraction:
    """Return the days (of 24 h) in which half a battery's capacity is gone."""
    return capacity_mah / 2 / (24 * drawn_ma + SELF_DISCHARGE * capacity_mah)
