"""A plan as its JSON tells it, in the words of this program: what is on which port of a unit, and where that sits."""

from decimal import Decimal
from typing import Any

from .circuits import circuit
from .judge import Plan
from .multiplexing import Stand
from .pair import Two
from .pair_judge import PairPlan
from .things import Bike, Place, Unit

Told = dict[str, Any]


def ports_told(bike: Bike, unit: Unit, part: Told) -> Plan:
    """Return what is on which port of a unit; `part` is what the JSON tells of it."""
    loads = {load.name: load for load in bike.loads}
    switches = {switch.name: switch for switch in bike.switches}
    later = {later.load.name: later for later in bike.later}
    boxes = {box.name: box for box in bike.multiplexers}
    outputs = {output.name: output for output in unit.outputs}
    inputs = {port.name: port for port in unit.inputs}
    return Plan(
        tuple(
            (circuit(bike, (loads[name] for name in line["loads"] if not loads[name].feeders)), outputs[line["port"]])
            for line in part["outputs"]
        ),
        tuple((tuple(switches[name] for name in line["inputs"]), inputs[line["port"]]) for line in part["inputs"]),
        tuple((later[room["load"]], outputs[room["port"]]) for room in part["room_for"]),
        tuple(
            Stand(
                boxes[line["name"]],
                line["at"],
                inputs[line["port"]],
                tuple(switches[way["input"]] for way in line["inputs"]),
            )
            for line in part["multiplexers"]
        ),
    )


def spot_told(bike: Bike, part: Told) -> tuple[Place, bool]:
    """Return the place of a unit, and whether it is turned there."""
    return next(place for place in bike.places if place.name == part["place"]), part["turned"]


def fuse_told(part: Told) -> int:
    """Return a unit's main fuse (mA)."""
    return int(Decimal(str(part["feed"]["main_fuse_a"])) * 1000)


def pair_told(two: Two, printed: Told) -> PairPlan:
    """Return a plan on two units."""
    one, other = (
        (spot_told(two.bike, part), fuse_told(part), ports_told(two.bike, unit, part))
        for unit, part in zip(two.units, printed["units"], strict=True)
    )
    return PairPlan((one[0], other[0]), (one[1], other[1]), (one[2], other[2]))
