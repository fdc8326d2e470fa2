"""What stands first on every sheet: a fault of one wire that leaves the engine running, and what the file leaves so.

At the headstock wires break and are crushed: each wire of key, engine stop and side stand is judged open, and on the
frame. On the frame a wire to earth reads as made; one that carries supply reads as not made, its fuse blown.
Source: common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.bike import Bike, Load, Switch
from portloom.base.nearest import or_list
from portloom.base.parts.loads import RUNNING_ENGINE
from portloom.base.parts.switches import switch_part
from portloom.base.values import dataclass
from portloom.base.vocabulary import Rest, Told

FIRST = "WARNING, before anything else:"
"""The heading over what stands first."""


@dataclass(frozen=True)
class Stopping:
    """What a switch that stops the engine tells, how its contact is at rest if it is made while the engine may run."""

    tells: Told
    runs: Rest
    """The contact at rest where it is made while the engine may run: at rest the key is off, the stand up."""
    position: str
    """How the file says so."""
    leaves: str
    """What a fault leaves that reads as if the engine may run."""


STOPPING = (
    Stopping("engine stop", "closed", "made: run", "it can't stop the engine"),
    Stopping("key", "open", "normally: open", "it can't stop the engine"),
    Stopping("side stand", "closed", "made: up", "the engine runs in gear with the stand down"),
)


def stands_first(bike: Bike) -> tuple[str, ...]:
    """Return the warnings that stand first on every sheet of a bike, the most dangerous first."""
    faults = _faults(bike) if _runs_engine(bike) else ()
    return tuple(dict.fromkeys((*_left_so(bike), *faults)))


def stops_when_open(switch: Switch) -> bool:
    """Tell whether the engine stops when the wire of a switch breaks, by all that the switch tells."""
    told = [stopping for stopping in STOPPING if stopping.tells in switch.tells]
    is_contact = switch.signal in ("earth", "supply")
    return bool(told) and is_contact and all(switch.normally == stopping.runs for stopping in told)


def _left_so(bike: Bike) -> Iterator[str]:
    """Tell what the bike's file says of itself."""
    if bike.ignition == "own":
        yield "key and stand do not stop this engine through the unit: it sparks by itself ('ignition: own')"
    if bike.engine_stop == "key":
        yield "the key alone stops this engine: there is no engine stop switch ('engine_stop: key')"
    if bike.stand == "no switch":
        yield "the engine can run with the side stand down: no switch tells of it ('stand: no switch')"
    told = {what for switch in bike.inputs for what in switch.tells}
    if bike.brakes == "two, one switch" and len({"front brake", "rear brake"} & told) == 1:
        other = "rear" if "front brake" in told else "front"
        yield f"braking with the {other} brake alone shows nothing: it has no switch ('brakes: two, one switch')"


def _runs_engine(bike: Bike) -> bool:
    """Tell whether the unit switches anything without which the engine stops."""
    return any(load.part in RUNNING_ENGINE and _by_unit(load) for load in bike.loads)


def _by_unit(load: Load) -> bool:
    return not load.from_ and (load.fed == "unit" or (load.fed == "relay" and not load.own_switch))


def _faults(bike: Bike) -> Iterator[str]:
    for stopping in STOPPING:
        for switch in bike.inputs:
            if stopping.tells in switch.tells:
                yield from _of_switch(switch, stopping)


def _of_switch(switch: Switch, stopping: Stopping) -> Iterator[str]:
    if switch.signal not in ("earth", "supply"):
        yield (
            f"{switch.name}: what a broken or crushed wire does is not judged for a signal of kind '{switch.signal}'; "
            "ask its maker whether the engine then stops"
        )
        return
    faults = tuple(_left_running(switch, stopping))
    if faults:
        passes = f"'signal: supply, {_position(switch, stopping)}' passes both (common practice, no source)"
        yield f"{switch.name}: with its wire {or_list(faults)} {stopping.leaves}; {passes}"


def _left_running(switch: Switch, stopping: Stopping) -> Iterator[str]:
    """Return the faults of a switch's wire that read as if the engine may run."""
    made_to_run = switch.normally == stopping.runs
    if not made_to_run:
        yield "open (broken)"
    if (switch.signal == "earth") == made_to_run:
        yield "on the frame (crushed)"


def _position(switch: Switch, stopping: Stopping) -> str:
    """Say the contact that is made while the engine may run, as the file of this switch may say it."""
    part = switch_part(switch.part)
    word = stopping.position.removeprefix("made: ")
    by_position = part is not None and part.made is not None and word in part.made.rest
    return stopping.position if by_position else f"normally: {stopping.runs}"
