"""How a load is made to come on, and the steps that read what it draws."""

from collections.abc import Iterable, Iterator, Sequence

from portloom.base.bike import Switch
from portloom.base.events import STATES
from portloom.base.figures import amperes, capital, listed
from portloom.base.fuses import fuse_for
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.base.vocabulary import Told
from portloom.documents.handover.steps import Expected, StepDraft, TestPart, draw_of
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.job import Job
from portloom.job.wired import WiredOutput


class OperatingSteps:
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
    return f"let {names} switch it on" if sensed else f"operate {names}"


def output_on(
    wired: WiredOutput, part: TestPart, how: str, title: str = "", printed_for: MilliVolts | None = None
) -> StepDraft:
    """Return the step in which an output is on: its current, and the voltage that reaches its loads."""
    loads = wired.circuit.loads
    flashes = ", while it is lit" if "flash" in wired.circuit.modes else ""
    full = ", set to 100 % for this" if "dim" in wired.circuit.modes else ""
    coils = "".join(f" {load.name}: {load.other_end}, never to earth." for load in loads if load.switched_by)
    return StepDraft(
        part,
        title or listed([load.name for load in loads]),
        f"{capital(how)}. Read the current in the wire of {wired.output.name}{flashes}{full}.{coils}",
        "current and voltage",
        port=wired.output.name,
        expected=_expected(wired.site.job, loads),
        loses=max(wired.first_drops().values()),
        printed_for=printed_for,
    )


def output_dead(wired: WiredOutput, part: TestPart, how: str, who: str) -> StepDraft:
    """Return the step in which an output must be off, for ``who`` stops it."""
    names = listed([load.name for load in wired.circuit.loads])
    do = f"{capital(how)}. Read the current in the wire of {wired.output.name}."
    return StepDraft(part, f"{who} stops {names}", do, "current", "dead", wired.output.name, Expected(()))


def fed_on(job: Job, fed: FedLoad, part: TestPart, how: str, printed_for: MilliVolts | None = None) -> StepDraft:
    """Return the step in which a load that is fed past the unit is on."""
    fuse = amperes(fuse_for(fed.consumer.current) or MilliAmps(0))
    do = f"Bypasses the unit, through a fuse of {fuse}. {capital(how)}. Read the current in its wire."
    return StepDraft(
        part, fed.consumer.name, do, "current", expected=_expected(job, [fed.consumer]), printed_for=printed_for
    )


def _expected(job: Job, loads: Iterable[Consumer]) -> Expected:
    return Expected(tuple(draw_of(load, job.bike.supply.running) for load in loads))
