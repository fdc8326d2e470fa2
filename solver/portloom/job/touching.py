"""What of a built loom a change touches: its circuits, the most important first, and how they are called."""

from collections.abc import Iterator
from typing import Literal

from portloom.base.built import BuiltFixed
from portloom.base.parts.loads import BRAKE_LAMP, ENGINE_CONTROLLER, IGNITION_BOX, IGNITION_COIL, STARTER_SOLENOID
from portloom.base.values import dataclass
from portloom.job.fixed_wires import SAID
from portloom.job.job import Job

MATTERING = (BRAKE_LAMP.name, IGNITION_COIL.name, IGNITION_BOX.name, ENGINE_CONTROLLER.name, STARTER_SOLENOID.name)
"""The parts of brake, ignition and start."""
TELLING = frozenset({"key", "engine stop", "side stand", "fallen", "front brake", "rear brake", "neutral", "clutch"})
"""What switches tell that brake, ignition, engine stop and start hang on."""
TouchedKind = Literal["output", "input", "multiplexer", "wire"]


@dataclass(frozen=True)
class Touched:
    """A circuit of a built loom: a port's, a multiplexer, or a wire that no port needs."""

    kind: TouchedKind
    name: str
    """The port, the multiplexer, or which wire it is: 'the return from tail'."""
    matters: bool
    """Whether brake, ignition, engine stop or start hang on it."""

    @property
    def said(self) -> str:
        """Say what it is."""
        return f"multiplexer {self.name}" if self.kind == "multiplexer" else self.name


def mattering(job: Job) -> frozenset[str]:
    """Return the loads and switches of brake, ignition, engine stop and start."""
    loads = {load.name for load in job.loads.wired if load.part in MATTERING}
    switches = {
        switch.name
        for switch in job.bike.inputs
        if TELLING.intersection(switch.tells) or loads.intersection(switch.operates)
    }
    return frozenset(loads | switches)


def touchable(job: Job) -> Iterator[tuple[Touched, frozenset[str]]]:
    """Return the built circuits on ports and multiplexers that still have something, with the names of that."""
    if job.built is None:
        return
    matters = mattering(job)
    loads = (*job.loads.on_unit, *job.loads.guests)
    for port in job.built.outputs:
        names = frozenset(job.built.still_on(port, loads))
        if names:
            yield Touched("output", port, not matters.isdisjoint(names)), names
    for port in job.built.inputs:
        names = frozenset(job.built.switches_on(port, job.inputs))
        if names:
            yield Touched("input", port, not matters.isdisjoint(names)), names
    for box in job.built.multiplexers:
        names = frozenset(job.built.switches_through(box, job.inputs))
        if names:
            yield Touched("multiplexer", box, not matters.isdisjoint(names)), names


def touched_wire(job: Job, line: BuiltFixed) -> Touched:
    """Return a built wire that no port needs, as what may be touched."""
    said = SAID[line.kind].format(line.name) if line.number == 1 else f"return {line.number} from {line.name}"  # type: ignore[index]  # a kind that a plan printed
    return Touched("wire", said, _matters(job, line))


def _matters(job: Job, line: BuiltFixed) -> bool:
    """The feed always does; another wire where what is on it does, now or as it was built."""
    if line.kind == "feed":
        return True
    names = {line.name, *line.loads}
    if line.kind == "return":
        names |= {load.name for load in job.loads.wired if load.back == (line.name, line.number)}
        switches = (switch for switch in job.wired_inputs if switch.earthed_by_wire and line.number == 1)
        names |= {switch.name for switch in switches if line.name in switch.at}
    return not mattering(job).isdisjoint(names)
