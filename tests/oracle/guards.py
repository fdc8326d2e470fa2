"""What an output may not drive, and what inputs a circuit asks for.

Source: common practice; what an output takes is said by the unit's profile.
"""

from .circuits import Circuit, operators
from .reading import on_unit
from .things import Bike, Load, Output

COILS = frozenset({"motor", "horn", "ignition coil", "relay coil"})
ENGINE = frozenset({"ignition", "engine controller", "fuel pump"})
INDICATORS = frozenset({"left indicator", "right indicator"})
TIMED = frozenset({"timed", "always"})
States = dict[str, frozenset[str]]


def output_takes(bike: Bike, states: States, held: Circuit, output: Output) -> bool:
    """Tell whether an output takes the coils of a circuit, and is live when the key is off where it must be."""
    aside = bike.set_aside
    return ("inductive" in aside or _takes_coils(held, output)) and (
        "key-off" in aside or all(_live(load, states.get(load.name, frozenset()), output) for load in held.members)
    )


def _takes_coils(held: Circuit, output: Output) -> bool:
    bare = any(load.kind in COILS and not load.suppressed for load in held.members)
    return not (output.refuses_coils and bare)


def _live(load: Load, states: frozenset[str], output: Output) -> bool:
    if "asleep" in states:
        return output.key_off == "always"
    return output.key_off in TIMED or not (load.runs_on or states & {"parked", "run-on"})


def inputs_suffice(bike: Bike, held: Circuit) -> bool:
    """Tell whether the bike's switches tell all that a circuit asks for."""
    told = frozenset().union(*(switch.tells for switch in bike.switches))
    return _asked(bike, held) <= told and _brakes_told(bike, held, told) and _pair_whole(bike, held)


def _asked(bike: Bike, held: Circuit) -> frozenset[str]:
    modes = held.loads[0].modes
    asked = {"engine turning"} if "engine-run" in modes else set()
    stand = {"side stand"} if bike.side_stand else set()
    if "start" in modes and "start" not in bike.set_aside:
        asked |= {"neutral", *stand} | ({"clutch"} if bike.clutch_lever else set())
    if any(load.part in ENGINE for load in held.loads):
        asked.add("engine stop")
        if bike.side_stand and "run" not in bike.set_aside:
            asked |= {"neutral", *stand}
    return frozenset(asked)


def _brakes_told(bike: Bike, held: Circuit, told: frozenset[str]) -> bool:
    if all(load.part != "brake lamp" for load in held.loads):
        return True
    brakes = frozenset({"front brake", "rear brake"})
    return brakes <= told if bike.two_brakes else bool(brakes & told)


def _pair_whole(bike: Bike, held: Circuit) -> bool:
    if "indicator-pair" in bike.set_aside:
        return True
    return all(_side_whole(bike, part) for part in INDICATORS & {load.part for load in held.loads})


def _side_whole(bike: Bike, part: str) -> bool:
    side = [load for load in on_unit(bike) if load.part == part]
    return (
        len(side) > 1
        and all("flash" in load.modes for load in side)
        and len({operators(bike, load) for load in side}) == 1
    )
