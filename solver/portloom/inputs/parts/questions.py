"""What only the builder can know, and what can hurt: asked for all at once, each with the line to write.

What cannot hurt is never asked. Common practice, no source.
"""

from collections.abc import Collection, Iterator

from portloom.base.nearest import and_list
from portloom.base.parts import loads, switches
from portloom.base.vocabulary import ENGINE_RUN
from portloom.inputs.parts.asking import Asking, on_unit
from portloom.inputs.parts.entries import BikeEntries
from portloom.inputs.parts.entry_questions import asked_of_inputs, asked_of_loads
from portloom.inputs.parts.loads import BY_CONTROLLER
from portloom.inputs.problems import Flaw

BRAKES = {"front brake": switches.FRONT_BRAKE_SWITCH, "rear brake": switches.REAR_BRAKE_SWITCH}
BY_KEY = "key"
"""What alone stops the engine, where there is no engine stop switch."""


def questions(bike: BikeEntries, set_aside: Collection[str]) -> Iterator[Flaw]:
    """Ask what a bike's file must still answer; rules that it sets aside ask nothing."""
    asking = Asking(bike, set_aside)
    yield from asked_of_loads(asking)
    yield from asked_of_inputs(bike.inputs)
    yield from _spark(asking)
    yield from _pump(asking)
    yield from _turning(asking)
    yield from _stop(asking)
    yield from _in_gear(asking)
    yield from _stand(asking)
    yield from _brakes(asking)
    yield from _unlit(asking)


def _untold_spark(bike: BikeEntries) -> bool:
    """Tell whether it is still open that the unit can stop the engine."""
    return bool(bike.loads) and not any(bike.of(*loads.SPARKING)) and not bike.says("ignition")


def _runs_engine(asking: Asking) -> bool:
    """Tell whether the unit keeps the engine running, or may, as that is asked in the same breath."""
    return asking.driven(*loads.RUNNING_ENGINE) or _untold_spark(asking.bike)


def _spark(asking: Asking) -> Iterator[Flaw]:
    bike = asking.bike
    box = loads.IGNITION_BOX.name
    if _untold_spark(bike):
        yield Flaw.at(
            bike.root.key("loads"),
            "can the unit stop this engine? no load is an ignition coil, an ignition box or an engine controller",
            f"add to 'loads' the one that is there, such as {asking.line(box, 'engine', 'current: 2 A')}; or write "
            "'ignition: own' where the engine sparks without the unit (a magneto, or a box fed by the alternator)",
        )


def _pump(asking: Asking) -> Iterator[Flaw]:
    bike = asking.bike
    pump = next((load for load in bike.of(loads.FUEL_PUMP.name) if not load.has("mode")), None)
    if pump is None:
        return
    if _untold_pump(bike):
        signal = "" if any(bike.telling("engine turning")) else f", and add {_speed_line(asking)}"
        yield Flaw.at(
            pump.node,
            f"who decides when '{pump.name}' runs?",
            "write 'pump_by: controller' where the engine controller asks for it by a wire, and add that to 'inputs', "
            f"{asking.line(switches.PUMP_REQUEST.name, 'tray')}; or 'pump_by: unit' where the unit runs it while the "
            f"engine turns{signal}",
        )
    if bike.says("pump_by") == BY_CONTROLLER and not any(bike.working(pump)):
        line = asking.line(switches.PUMP_REQUEST.name, "tray")
        what = f"by which wire does the engine controller ask for '{pump.name}'?"
        yield Flaw.at(pump.node, what, f"add to 'inputs' {line}; or write 'pump_by: unit'")


def _untold_pump(bike: BikeEntries) -> bool:
    """Tell whether it is still open who runs the pump."""
    open_mode = any(not pump.has("mode") for pump in bike.of(loads.FUEL_PUMP.name))
    return open_mode and not bike.says("pump_by") and any(bike.of(loads.ENGINE_CONTROLLER.name))


def _speed_line(asking: Asking) -> str:
    return asking.line(switches.ENGINE_SPEED_SIGNAL.name, "engine", "from: tacho")


def _turning(asking: Asking) -> Iterator[Flaw]:
    """Ask for the engine speed signal, once, where anything runs with the engine and that is settled."""
    bike = asking.bike
    open_to_say = list(bike.of(loads.FUEL_PUMP.name)) if _untold_pump(bike) else []
    by_engine = [load for load in bike.loads if ENGINE_RUN in load.says("mode") and on_unit(load)]
    runs = [load for load in by_engine if load not in open_to_say]
    if not runs or any(bike.telling("engine turning")) or not asking.judged("engine-run"):
        return
    yield Flaw.at(
        runs[0].node,
        f"how does the unit know that the engine turns? '{runs[0].name}' runs only while it does",
        f"add to 'inputs' {_speed_line(asking)}: 'tacho' is a 12 V tacho wire, 'coil' the coil's switched side, "
        "'stator' a phase of the alternator",
    )


def _stop(asking: Asking) -> Iterator[Flaw]:
    bike = asking.bike
    if not _runs_engine(asking) or any(bike.telling("engine stop")):
        return
    if bike.says("engine_stop"):
        yield from _stop_by_key(asking)
        return
    line = _stop_line(asking)
    what = "what stops the engine? no input tells the unit of an engine stop switch"
    add = "" if any(bike.telling("key")) else f", and add {asking.line(switches.KEY_SWITCH.name, 'lock')}"
    right = f"add to 'inputs' {line}; or write 'engine_stop: key' where the key alone stops it{add}"
    yield Flaw.at(bike.root, what, right)


def _stop_by_key(asking: Asking) -> Iterator[Flaw]:
    """Ask for the key switch where nothing else is to stop the engine, and the unit is told of none."""
    if asking.bike.says("engine_stop") != BY_KEY or any(asking.bike.telling("key")):
        return
    key, stop = asking.line(switches.KEY_SWITCH.name, "lock"), _stop_line(asking)
    what = "nothing stops the engine: the key alone is to stop it, and no input tells the unit of a key switch"
    right = f"add to 'inputs' {key}; or add the engine stop switch, {stop}, and leave 'engine_stop' out"
    yield Flaw.at(asking.bike.root.key("engine_stop"), what, right)


def _stop_line(asking: Asking) -> str:
    return asking.line(switches.ENGINE_STOP_SWITCH.name, "bars", "made: run")


def _in_gear(asking: Asking) -> Iterator[Flaw]:
    """Ask what holds the starter back in gear."""
    bike = asking.bike
    automatic = bike.says("clutch") == "automatic"
    told = ("neutral", *BRAKES) if automatic else ("neutral", "clutch")
    if not asking.driven(loads.STARTER_SOLENOID.name) or not asking.judged("start") or any(bike.telling(*told)):
        return
    neutral = asking.line(switches.NEUTRAL_SWITCH.name, "engine")
    if automatic:
        other = f"or a brake's switch, such as {asking.line(switches.REAR_BRAKE_SWITCH.name, 'pedal')}"
    else:
        line = asking.line(switches.CLUTCH_SWITCH.name, "left bar", "made: pulled")
        other = f"or {line}, or both; or write 'clutch: automatic' where there is no lever"
    of = "neutral or a brake" if automatic else "neutral or clutch"
    what = f"what keeps the starter from cranking in gear? no input tells the unit of {of}"
    yield Flaw.at(bike.root, what, f"add to 'inputs' {neutral} {other}")


def _stand(asking: Asking) -> Iterator[Flaw]:
    bike = asking.bike
    starts = asking.driven(loads.STARTER_SOLENOID.name) and asking.judged("start")
    runs = _runs_engine(asking) and asking.judged("run")
    if not (starts or runs) or bike.says("stand") not in (None, "side") or any(bike.telling("side stand")):
        return
    yield Flaw.at(
        bike.root.key("stand"),
        "is there a side stand? no input tells the unit of its switch",
        f"add to 'inputs' {asking.line(switches.SIDE_STAND_SWITCH.name, 'stand', 'made: up')}; or write 'stand: none' "
        "where there is no side stand; or 'stand: no switch', and the engine can run with it down",
    )


def _brakes(asking: Asking) -> Iterator[Flaw]:
    """Ask whether one brake switch is all that there is."""
    bike = asking.bike
    told, missing = list(bike.telling(*BRAKES)), [what for what in BRAKES if not any(bike.telling(what))]
    if not told or not missing or not asking.driven(loads.BRAKE_LAMP.name) or bike.says("brakes") not in (None, "two"):
        return
    other, part = missing[0], BRAKES[missing[0]]
    yield Flaw.at(
        told[0].node,
        f"does the {other} light the brake lamp too? '{told[0].name}' is the only brake switch",
        f"add to 'inputs' {asking.line(part.name, 'pedal' if other == 'rear brake' else 'bars')}; or write "
        f"'brakes: one' where there is one brake; or 'brakes: two, one switch', and braking with the {other} alone "
        "shows nothing",
    )


def _unlit(asking: Asking) -> Iterator[Flaw]:
    """Ask what brake switches light, where there is no brake lamp; one that lets an automatic crank has its use."""
    bike = asking.bike
    cranks = bike.says("clutch") == "automatic" and asking.driven(loads.STARTER_SOLENOID.name)
    if cranks or any(bike.of(loads.BRAKE_LAMP.name)):
        return
    idle = [entry for entry in bike.telling(*BRAKES) if not entry.has("operates")]
    if not idle:
        return
    do = "do" if len(idle) > 1 else "does"
    lit_past = f", own_switch: {asking.point('pedal')}"
    line, own = (asking.line(loads.BRAKE_LAMP.name, "tail", f"lamp: P21W{more}") for more in ("", lit_past))
    yield Flaw.at(
        idle[0].node,
        f"what {do} {and_list(repr(entry.name) for entry in idle)} light? there is no brake lamp on the bike",
        f"add to 'loads' {line}; or, where it is lit past the unit, {own}",
    )
