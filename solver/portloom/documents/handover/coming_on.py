"""How a load is made to come on, and what the unit is told meanwhile."""

from collections.abc import Iterator, Sequence

from portloom.base.bike import Switch
from portloom.base.events import STATES
from portloom.base.figures import listed
from portloom.base.parts.loads import FAN
from portloom.base.parts.switches import switch_part
from portloom.base.vocabulary import Told
from portloom.documents.wiring.lines import own_switched
from portloom.job.consumers import Consumer
from portloom.job.job import Job
from portloom.rules.practice import wanted_to_crank
from portloom.rules.shapes import BRAKES


class OperatingSteps:
    """Knows what makes the loads of a plan come on."""

    def __init__(self, job: Job) -> None:
        """Take the job."""
        self._job = job
        self._loads = {load.name: load for load in job.bike.loads}
        self._own_switched = own_switched(job)
        self._fed = {one.consumer.name for one in job.loads.fed}

    def needs_engine(self, loads: Sequence[Consumer]) -> bool:
        """Tell whether none of some loads is ever on before the engine runs."""
        states = frozenset[str]().union(*map(self._job.states_of, loads))
        return not states & {"key on", "parked", "asleep"}

    def how(self, loads: Sequence[Consumer]) -> str:
        """Say how loads of one circuit are made to come on: 'operate horn button', 'key on, main beam off'."""
        work = _of_fewest([switch for switch in self.switches(loads) if not any(self._brings(switch, loads))])
        off = [name for switch in self.switches(loads) for name in self._brings(switch, loads)]
        parts = [_worked(work)] if work else [self._when(loads)]
        if off:
            parts.append(f"{listed(list(dict.fromkeys(off)))} off")
        own = [load for load in loads if load.name in self._own_switched]
        if own and own[0].name in self._fed:
            return _own_switch(own[0])
        return ", ".join(parts + [_own_switch(load) for load in own])

    def on_by_itself(self, load: Consumer, state: str) -> bool:
        """Tell whether a load is on in a state with no hand at a switch; what asks for it by itself is no hand."""
        by_hand = [
            switch
            for switch in self.switches((load,))
            if switch.action != "hold" and not any(self._brings(switch, (load,)))
        ]
        return state in load.when and not by_hand and load.name not in self._own_switched

    def _when(self, loads: Sequence[Consumer]) -> str:
        if any("key on" in load.when for load in loads):
            return "key on"
        light = [state for state in ("day", "night") if any(state in load.when for load in loads)]
        if light:
            return "engine running" + (f", as by {light[0]}" if len(light) == 1 else "")
        events = [moment for load in loads for moment in load.when if moment not in STATES]
        return f"let it come on ({listed(sorted(set(events)))})" if events else "let it come on"

    def switches(self, loads: Sequence[Consumer]) -> list[Switch]:
        """Return the switches that work any of some loads, in the order of the file."""
        return [switch for switch in self._job.bike.inputs if any(switch.name in load.operated_by for load in loads)]

    def told(self, what: Told) -> bool:
        """Tell whether any switch tells the unit something."""
        return any(self.telling(what))

    def telling(self, what: Told) -> Iterator[Switch]:
        """Return the switches that tell the unit something."""
        return (switch for switch in self._job.inputs if what in switch.tells)

    def may_run(self) -> tuple[str, ...]:
        """Return what the unit wants besides the key before it lets the engine run, as people set it."""
        return (*self._stop_to_run(), *["in neutral"] * self.told("neutral"), *self._stand_up())

    def may_start(self) -> str:
        """Say how everything is set before the engine is started, wheel up: always out of gear, so far as it has any.

        Where neutral is not told but the clutch is, the unit wants that pulled; where neither is, a brake on.
        """
        told = frozenset(wanted_to_crank(self._job.bike))
        clutch = ["clutch pulled"] * ("clutch" in told and "neutral" not in told)
        brake = [f"{one} on" for one in BRAKES if self.told(one) and not {"neutral", "clutch"} & told][:1]
        neutral = ["in neutral"] * (self._job.bike.clutch == "lever" or "neutral" in told)
        return ", ".join(["key on", *self._stop_to_run(), *neutral, *clutch, *brake, *self._stand_up()])

    def _stop_to_run(self) -> list[str]:
        return [f"{switch.name} to run" for switch in self.telling("engine stop")]

    def _stand_up(self) -> list[str]:
        return ["side stand up"] * self.told("side stand")

    def _brings(self, switch: Switch, loads: Sequence[Consumer]) -> Iterator[str]:
        """Return what a switch brings that keeps off what is on by itself: the main beam, for a dipped beam."""
        kept_off = {moment for load in loads if load.when.intersection(STATES) for moment in load.except_}
        for name in switch.operates:
            if kept_off.intersection(self._loads[name].when or ()):
                yield name


def _own_switch(load: Consumer) -> str:
    """Say what is done with a load's own switch; a fan's is mostly a thermostat."""
    return f"{'bridge' if load.part == FAN.name else 'operate'} its own switch"


def senses(switch: Switch) -> bool:
    """Tell whether heat or pressure makes a contact, and no hand."""
    part = switch_part(switch.part)
    return part is not None and part.shown and switch.is_contact


def _of_fewest(switches: Sequence[Switch]) -> list[Switch]:
    """Return those switches only that work the fewest loads."""
    least = min((len(switch.operates) for switch in switches), default=0)
    return [switch for switch in switches if len(switch.operates) == least]


def _worked(switches: Sequence[Switch]) -> str:
    """Say what is done with switches; what senses is not worked by hand."""
    names = " or ".join(switch.name for switch in switches)
    if all(map(senses, switches)):
        return f"bridge {names} at its plug"
    if all(switch.signal == "sender" for switch in switches):
        return f"in place of {names} a resistor of what its maker gives for 'on'"
    if all(switch.signal == "pulse" for switch in switches):
        return f"let {names} switch it on"
    return f"operate {names}"
