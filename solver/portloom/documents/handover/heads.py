"""What is said once: how a meter is used, what can start by itself, and what holds for all steps of a part.

Common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.figures import amperes, listed, with_verb
from portloom.base.parts.loads import ENGINE_CONTROLLER, FAN, FUEL_PUMP, INJECTORS
from portloom.base.vocabulary import ENGINE_RUN, START
from portloom.documents.energy import on_asleep
from portloom.documents.handover.coming_on import senses
from portloom.documents.handover.first_power import FIRST_FUSE
from portloom.documents.handover.measured import POINTS
from portloom.documents.handover.steps import TestPart
from portloom.documents.wiring.lines import own_switched
from portloom.documents.wiring.parts import LARGEST_MEDIUM
from portloom.job.laid import Laid

HOW_TO_READ = (
    "Amperes: a clamp meter for direct current, zeroed, around the one wire. Or a meter in line, in place of the fuse "
    "or in the opened plug, its red lead in the socket with a fuse of its own: the highest range first, then lower. "
    "Put that lead back for volts at once: left there, the next reading of volts is a short.",
    "The milliamperes of a sleeping unit: in line, in the battery's negative lead. Turn nothing on meanwhile, for the "
    "meter would carry it all.",
    "Volts at a load: red on its feed side, black on its earth side, at its plug, while it draws. The supply: at the "
    "battery's two posts, in the same moment.",
)
BEFORE = (
    "An ohmmeter only, never an insulation tester: its voltage destroys electronics.",
    "The battery is off the bike's leads, every fuse is out, every relay out of its socket.",
    "Touch the meter's leads together first, and subtract what they read from each reading. "
    "Of several, write the highest.",
    "A thermostat or pressure switch is bridged at its plug, never heated or pressed.",
)
UNLESS_RIGHT = "A step that is not right is mended before the next one; what it mostly means stands beside it."


def by_itself(laid: Laid) -> Iterator[str]:
    """Return what can start without being asked to, as long as there is power."""
    job = laid.site.job
    own = own_switched(job)
    sensing = {switch.name for switch in job.inputs if senses(switch) or not switch.is_contact}
    keep = "keep hands, sleeves and tools away"
    for load in (*job.loads.on_unit, *(fed.consumer for fed in job.loads.fed)):
        if load.kind == "motor" and load.part == FAN.name and (load.name in own or load.operated_by & sensing):
            when = "whenever its fuse is in, key on or off" if load.name in own else "whenever it is hot"
            yield f"{with_verb(load.name, 'starts')} by itself {when}: {keep}."
        if ENGINE_RUN in load.modes and load.part == FUEL_PUMP.name:
            yield f"{with_verb(load.name, 'runs')} for a moment at each key-on: never dry for more than 3 s."
        if load.runs_on:
            yield f"{with_verb(load.name, 'runs')} on after key off: {keep}."
    past = [fed.consumer.name for fed in job.loads.fed if fed.consumer.name in own and fed.consumer.part != FAN.name]
    if past:
        yield f"{with_verb(listed(past), 'works')} with the key off too: live up to the switch while the fuse is in."
    asleep = [load.name for load in on_asleep(job) if load.name not in past]
    if asleep:
        yield f"{with_verb(listed(asleep), 'is')} live with the key off."


def kept_unplugged(laid: Laid) -> list[str]:
    """Return what stays unplugged until the engine may start: what makes spark and fuel, and the starter's cable."""
    cranks = any(START in wired.circuit.modes for wired in laid.outputs)
    return [*cuts_spark_and_fuel(laid), *(["the starter motor's cable"] if cranks else [])]


def cuts_spark_and_fuel(laid: Laid) -> list[str]:
    """Return what is unplugged so that the engine cannot start."""
    loads = laid.site.job.loads.wired
    injected = any(load.part in (ENGINE_CONTROLLER.name, INJECTORS.name) for load in loads)
    pumps = [load.name for load in loads if load.part == FUEL_PUMP.name]
    coil = [] if laid.site.job.bike.ignition == "own" else ["the ignition coil's low-voltage plug"]
    return [*coil, *(["the injectors"] if injected else []), *pumps]


def said_of_parts(laid: Laid) -> dict[TestPart, tuple[str, ...]]:
    """Return what holds for all steps of each part."""
    return {
        "before the battery goes on": (*BEFORE, UNLESS_RIGHT),
        "first power": tuple(_first_power(laid)),
        "one circuit at a time": tuple(_one_circuit(laid)),
        "everything plugged in": (
            "Only when every step before was right: now the main fuse would feed a fault with all it passes.",
            "After each step, switch off again what it switched on: press a button that toggles once more.",
        ),
        "engine running": tuple(_running(laid)),
    }


def _first_power(laid: Laid) -> Iterator[str]:
    fuse = amperes(FIRST_FUSE)
    yield f"The unit is out of its plug, every load unplugged, every fuse out but the {fuse} one. No rings, no watch."
    if (laid.site.main_fuse or 0) > LARGEST_MEDIUM:
        yield (
            "The main fuse's holder takes no small fuse: in its place, at the battery, a holder for those on the ends "
            "of the feed. Never bridge it."
        )
    yield "Measure in the plug with a tip that does not spread its terminals; a jumper ends in a terminal that fits."
    yield "Before each change: battery off, negative lead first."


def _one_circuit(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    off = cuts_spark_and_fuel(laid)
    yield (
        "Each step: key off, battery off; the fuse that the step names into the main fuse's holder, the least above "
        "the output's trip; plug in what the step names and nothing else; battery on."
    )
    if any(switch.signal == "supply" for switch in job.inputs):
        yield "The fuse of the supply to switches stays in; every other fuse is out but where a step names it."
    yield (
        "A fuse that blows: a cold lamp or a motor may do that as it starts, so try one step larger, once. Then look "
        "for the short with a lamp of 21 W in place of the fuse: unit, controllers, dash and LEDs unplugged, for low "
        "voltage upsets them, and a jumper in the plug from the supply way to the output's way. Lamp full bright: a "
        "short. Lamp dim: only the load."
    )
    if off:
        yield f"No spark, no fuel: {listed(off)} {'stays' if len(off) == 1 else 'stay'} unplugged."
    if job.bike.ignition == "own":
        yield "The engine's own stop switch stays at stop."
    yield "Never pull a plug cap to stop a spark: one that finds no way destroys coil and box, and hurts."
    yield (
        "Dead is read in volts at that plug. What a switched-off output leaks may fool a meter: a lamp of 5 W across "
        "the plug takes it away."
    )
    if any("engine stop" in switch.tells for switch in job.inputs):
        yield "The engine stop is at stop, but where a step says run: what shows the rider must work all the same."
    yield "A coil, a solenoid's too, draws no longer than it takes to read: standing still it gets hot."
    if any(load.switched_by == POINTS for load in job.loads.wired):
        yield "A coil on points sparks once as its key goes off: caps on the plugs, fuel off, nobody at the kick start."
    yield "A socket draws what is plugged in: use what it is meant for."


def _running(laid: Laid) -> Iterator[str]:
    job = laid.site.job
    yield (
        "Outdoors, or with the exhaust led outside. Driven wheel off the ground and free, nobody behind it, the bike "
        "held safely. Fuel in the tank."
    )
    stops = "fuel off" if job.bike.ignition == "own" else "pull the coil's low-voltage plug, or the main fuse"
    yield f"If nothing stops it: {stops}."
    yield "Never lift a battery lead with the engine running: what the alternator then gives destroys electronics."
    yield f"Currents are printed for {job.bike.supply.running / 1000:g} V, the running voltage."
