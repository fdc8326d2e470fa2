"""What the trade asks of loads, circuits and switches: rules judge by it, and lists and test sheets tell it.

Source: common practice, no source.
"""

from collections.abc import Iterator, Mapping

from portloom.base.bike import Bike, Switch
from portloom.base.figures import listed
from portloom.base.nearest import or_list
from portloom.base.parts.loads import RUNNING_ENGINE, STARTER_SOLENOID
from portloom.base.parts.switches import SWITCH_PARTS
from portloom.base.unit import KeyOff
from portloom.base.vocabulary import Told
from portloom.job.circuits import OutputCircuit
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.shapes import BRAKES

# --- indicators

FLASH_TOGETHER = "left and right would flash together"
"""Why the indicators of both sides never share an output."""

# --- what keeps the engine running, and what lets it crank


def cranks(circuit: OutputCircuit) -> bool:
    """Tell whether a circuit drives the starter's solenoid."""
    return any(load.part == STARTER_SOLENOID.name for load in circuit.members)


def drives_engine(circuit: OutputCircuit) -> bool:
    """Tell whether a circuit keeps the engine running."""
    return any(load.part in RUNNING_ENGINE for load in circuit.members)


def tells(bike: Bike, what: Told) -> bool:
    """Tell whether the bike has a switch that tells this."""
    return any(what in switch.tells for switch in bike.inputs)


def wanted_to_crank(bike: Bike) -> Iterator[Told]:
    """Return what the unit is told before it cranks: of each only where the bike has a switch for it."""
    told_of: tuple[Told, ...] = ("neutral", "clutch") if bike.clutch == "lever" else ("neutral",)
    yield from (what for what in told_of if tells(bike, what))
    if bike.stand == "side" and tells(bike, "side stand"):
        yield "side stand"


def may_crank(at: Mapping[Told, str]) -> str:
    """Say when the engine may be cranked, from what is told, each with what is said after it: 'only in neutral'.

    In neutral, or in gear with the clutch pulled and the side stand up; with no clutch switch, in neutral with it up.
    Where neither is told, as with an automatic, with a brake on.
    """
    neutral = [f"in neutral{at['neutral']}"] if "neutral" in at else []
    clutch = [f"the clutch pulled{at['clutch']}"] if "clutch" in at else []
    stand = [f"the side stand up{at['side stand']}"] if "side stand" in at else []
    brakes = [f"{brake}{at[brake]}" for brake in BRAKES if brake in at and not neutral and not clutch]
    brake = [f"{or_list(brakes)} on"] if brakes else []
    held = [*clutch, *brake, *stand]
    in_gear = f"with {listed(held)}" if held else ""
    joint = ", or " if neutral and clutch else " and "
    words = joint.join(filter(None, (*neutral, in_gear)))
    return f"only {words}" if words else ""


# --- with the key off

LIVE: tuple[KeyOff, ...] = ("never", "timed", "always")
"""When an output is live with the key off, each more than the one before."""
FOR_STATE: dict[str, KeyOff] = {"asleep": "always", "parked": "timed", "run-on": "timed"}


def wanted_with_key_off(job: Job, circuit: OutputCircuit) -> KeyOff:
    """Return what the loads of a circuit want of their output with the key off."""
    wants = [want[0] for load in circuit.loads if (want := key_off_want(job, load)) is not None]
    return max(wants, key=LIVE.index, default="never")


def key_off_want(job: Job, load: Consumer) -> tuple[KeyOff, str] | None:
    """Return what a load wants of its output with the key off, and the state for which."""
    states = job.states_of(load)
    wants: list[tuple[KeyOff, str]] = [(FOR_STATE[state], state) for state in FOR_STATE if state in states]
    if load.runs_on:
        wants.append(("timed", "run-on"))
    return max(wants, key=lambda want: LIVE.index(want[0]), default=None)


# --- switches that go straight to the unit

STRAIGHT = frozenset(told for part in SWITCH_PARTS if part.straight for told in part.tells)
"""What the unit must be told by a wire of its own: a box that fails must not take these with it."""


def goes_straight(job: Job, switch: Switch) -> str | None:
    """Say why a switch must be wired straight to the unit; None where it need not be."""
    told = next((what for what in switch.tells if what in STRAIGHT), None)
    if told is not None:
        return f"tells the unit '{told}'"
    starters = {load.name for load in job.bike.loads if load.part == STARTER_SOLENOID.name}
    return "works the starter" if starters.intersection(switch.operates) else None
