"""How a load is made to come on: with the key on or the engine running, by which switches."""

from collections.abc import Iterator, Sequence

from solver.job.consumers import Consumer
from solver.job.job import Job
from solver.words.bike import Switch, Told
from solver.words.figures import listed
from solver.words.moments import STATES


class Working:
    """Knows what makes the loads of a plan come on."""

    def __init__(self, job: Job) -> None:
        """Take the job."""
        self._job = job
        self._loads = {load.name: load for load in job.bike.loads}

    def needs_engine(self, loads: Sequence[Consumer]) -> bool:
        """Tell whether none of some loads is ever on before the engine runs."""
        states = frozenset[str]().union(*map(self._job.states_of, loads))
        return not states & {"key on", "parked", "asleep"}

    def how(self, loads: Sequence[Consumer]) -> str:
        """Say how loads of one circuit are made to come on: 'work horn button', 'key on, main beam off'."""
        work = _of_fewest([switch for switch in self.switches(loads) if not any(self._brings(switch, loads))])
        off = [name for switch in self.switches(loads) for name in self._brings(switch, loads)]
        parts = [_worked(work)] if work else [self._when(loads)]
        if off:
            parts.append(f"{listed(list(dict.fromkeys(off)))} off")
        return ", ".join(parts)

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
        return (switch for switch in self._job.bike.inputs if what in switch.tells)

    def _brings(self, switch: Switch, loads: Sequence[Consumer]) -> Iterator[str]:
        """Return what a switch brings that keeps off what is on by itself: the main beam, for a dipped beam."""
        kept_off = {moment for load in loads if load.when.intersection(STATES) for moment in load.except_}
        for name in switch.operates:
            if kept_off.intersection(self._loads[name].when or ()):
                yield name


def _of_fewest(switches: Sequence[Switch]) -> list[Switch]:
    """Return those switches only that work the fewest loads."""
    least = min((len(switch.operates) for switch in switches), default=0)
    return [switch for switch in switches if len(switch.operates) == least]


def _worked(switches: Sequence[Switch]) -> str:
    """Say what is done with switches; what senses cannot be worked by hand."""
    names = " or ".join(switch.name for switch in switches)
    sensed = all(switch.signal in ("sender", "pulse") for switch in switches)
    return f"let {names} bring it on" if sensed else f"work {names}"
