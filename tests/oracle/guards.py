"""What an output may not drive, and what inputs a circuit asks for.

Source: common practice; what an output takes is said by the unit's profile.
"""

from collections.abc import Sequence

from .circuits import Circuit, operators
from .parts import ENGINE, INDICATORS
from .reading import on_unit
from .things import ADDED, Bike, Load, Output, Switch

COILS = frozenset({"motor", "horn", "ignition coil", "relay coil"})
EITHER_BRAKE = "front brake or rear brake"
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
    asked = frozenset().union(*(needs(bike, load) for load in held.loads)) - bike.granted
    return all(_told(bike).intersection(what.split(" or ")) for _, what in asked) and pair_whole(bike, held)


def _told(bike: Bike) -> frozenset[str]:
    """Return all that the bike's switches tell."""
    return frozenset().union(*(switch.tells for switch in (*bike.switches, *bike.gone_switches)))


def needs(bike: Bike, load: Load) -> frozenset[tuple[str, str]]:
    """Return what must be told if a load is driven, and the rule that asks for it."""
    asked = {("engine-run", "engine turning")} if "engine-run" in load.asked else set()
    if load.counts_as == "starter solenoid":
        asked |= {("start", what) for what in (*_to_crank(bike), *_stand(bike))}
    if load.counts_as in ENGINE:
        asked |= set() if bike.key_stops else {("engine-stop", "engine stop")}
        asked |= {("run", what) for what in _to_run(bike)}
    if load.counts_as == "brake lamp":
        asked |= {("brake-lamp", what) for what in _brakes(bike)}
    return frozenset(need for need in asked if need[0] not in bike.set_aside)


def _to_crank(bike: Bike) -> tuple[str, ...]:
    """Return what keeps the starter dead in gear: neutral and clutch, each that has a switch."""
    if bike.clutch_lever:
        here = tuple(word for word in ("neutral", "clutch") if word in _told(bike))
        return here or ("neutral or clutch",)
    return ("neutral",) if "neutral" in _told(bike) else (EITHER_BRAKE,)


def _stand(bike: Bike) -> tuple[str, ...]:
    return ("side stand",) if bike.side_stand and "side stand" in _told(bike) else ()


def _to_run(bike: Bike) -> tuple[str, ...]:
    """Return what stops an engine that is put in gear on its stand."""
    stand = _stand(bike)
    return (*stand, "neutral") if stand and "neutral" in _told(bike) else stand


def _brakes(bike: Bike) -> tuple[str, ...]:
    return ("front brake", "rear brake") if bike.two_brakes else (EITHER_BRAKE,)


def pair_whole(bike: Bike, held: Circuit) -> bool:
    """Tell whether the indicators of a circuit have their partners, all flash, and the same switches operate them."""
    if "indicator-pair" in bike.set_aside:
        return True
    return all(_side_whole(bike, part) for part in INDICATORS & {load.counts_as for load in held.loads})


def _side_whole(bike: Bike, part: str) -> bool:
    side = [load for load in on_unit(bike) if load.counts_as == part]
    gone = [load for load in bike.gone_loads if load.on_unit and load.counts_as == part]
    return (
        len(side) + len(gone) > 1
        and all(load.any_mode or "flash" in load.modes for load in side)
        and len({operators(bike, load) for load in side}) == 1
    )


def may_be_on(bike: Bike, things: Sequence[Load | Switch], port: str) -> bool:
    """Tell whether nothing that is decided keeps all of these off a port; what is added is as the port it is like."""
    port = port.removeprefix(ADDED)
    if port in bike.dead:
        return False
    return all((not thing.held or port in thing.held) and port not in thing.shunned for thing in things)
