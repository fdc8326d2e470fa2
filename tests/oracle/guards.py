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
    return not (output.refuses_coils and any(is_bare_coil(load) for load in held.members))


def is_bare_coil(load: Load) -> bool:
    """Tell whether an output must take coils for a load."""
    return load.kind in COILS and not (load.suppressed or load.any_kind)


def _live(load: Load, states: frozenset[str], output: Output) -> bool:
    if "asleep" in states:
        return output.key_off == "always"
    return output.key_off in TIMED or not (load.runs_on or states & {"parked", "run-on"})


def inputs_suffice(bike: Bike, held: Circuit) -> bool:
    """Tell whether the bike's switches tell all that a circuit asks for."""
    told = frozenset().union(*(switch.tells for switch in (*bike.switches, *bike.gone_switches)))
    asked = frozenset().union(*(needs(bike, load) for load in held.loads)) - bike.granted
    return all(told.intersection(what.split(" or ")) for _, what in asked) and pair_whole(bike, held)


def needs(bike: Bike, load: Load) -> frozenset[tuple[str, str]]:
    """Return what must be told if a load is driven, and the rule that asks for it."""
    asked = {("engine-run", "engine turning")} if "engine-run" in load.asked else set()
    if "start" in load.asked:
        asked |= {("start", what) for what in ("neutral", "clutch", "side stand")}
    if load.part in ENGINE:
        asked |= {("engine-stop", "engine stop"), ("run", "side stand"), ("run", "neutral")}
    if load.part == "brake lamp":
        asked |= {("brake-lamp", what) for what in _brakes(bike)}
    return frozenset(need for need in asked if need[0] not in bike.set_aside) - _spared(bike)


def _brakes(bike: Bike) -> tuple[str, ...]:
    return ("front brake", "rear brake") if bike.two_brakes else ("front brake or rear brake",)


def _spared(bike: Bike) -> set[tuple[str, str]]:
    """Return what need not be told on a bike without a side stand, or with an automatic clutch."""
    spared = set() if bike.clutch_lever else {("start", "clutch")}
    return spared if bike.side_stand else spared | {("start", "side stand"), ("run", "side stand"), ("run", "neutral")}


def pair_whole(bike: Bike, held: Circuit) -> bool:
    """Tell whether the indicators of a circuit have their partners, all flash, and the same switches operate them."""
    if "indicator-pair" in bike.set_aside:
        return True
    return all(_side_whole(bike, part) for part in INDICATORS & {load.part for load in held.loads})


def _side_whole(bike: Bike, part: str) -> bool:
    side = [load for load in on_unit(bike) if load.part == part]
    gone = [load for load in bike.gone_loads if load.on_unit and load.part == part]
    return (
        len(side) + len(gone) > 1
        and all(load.any_mode or "flash" in load.modes for load in side)
        and len({operators(bike, load) for load in side}) == 1
    )
