"""Bench steps with the main fuse in: first what stops the engine, one thing at a time, what lets it start and run.

What lets it start and run is the rules' (common practice, no source). The wheel is free: a bike in gear jumps.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby

from portloom.base.figures import capital, limit_volts, listed
from portloom.base.parts import loads
from portloom.base.quantities import MilliVolts
from portloom.base.vocabulary import START
from portloom.documents.handover.coming_on import OperatingSteps, fed_on, output_dead, output_on
from portloom.documents.handover.displays import DisplaySteps
from portloom.documents.handover.steps import StepDraft, TestPart
from portloom.documents.wiring.lines import own_switched
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import drives_engine

ONE: TestPart = "one at a time"
RUNNING: TestPart = "engine running"
FREE = "Driven wheel off the ground and free"
IN_GEAR = "in gear, clutch pulled"


class StartAndRun:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps) -> None:
        """Take the plan as it lies, and what makes its loads come on."""
        self._laid = laid
        self._working = working

    def starting(self) -> Iterator[StepDraft]:
        """Return what the side stand cuts while the engine stands; then no start, and start, by each condition."""
        for switch in self._working.telling("side stand"):
            how = f"{FREE}. Key on, {self._in_gear()}, side stand down"
            for wired in self._laid.outputs:
                if drives_engine(wired.circuit) and not self._working.needs_engine(wired.circuit.members):
                    yield output_dead(wired, ONE, how, switch.name)
        for wired in self._laid.outputs:
            if START in wired.circuit.modes:
                yield from self._no_start(wired)
                yield from self._start(wired)

    def _no_start(self, wired: WiredOutput) -> Iterator[StepDraft]:
        names = listed([load.name for load in wired.circuit.members])
        for title, how in self._forbidden():
            do = f"{FREE}. {capital(how)}: {self._button(wired)}."
            yield StepDraft(ONE, f"No start: {title}", do, "see", f"{names} must stay dead", wired.output.name)

    def _forbidden(self) -> Iterator[tuple[str, str]]:
        """Return each way in which the engine must not start, one condition amiss and the others as they should be."""
        stand = ", side stand up" * self._working.told("side stand")
        if self._working.told("clutch"):
            yield "clutch let out", f"in gear{stand}, clutch let out"
        elif self._working.told("neutral"):
            yield "in gear", f"in gear{stand}"
        if self._working.told("side stand"):
            yield (
                "side stand down",
                f"{self._in_gear() if self._working.told('clutch') else 'in neutral'}, side stand down",
            )

    def _start(self, wired: WiredOutput) -> Iterator[StepDraft]:
        stand = ", side stand up" * self._working.told("side stand")
        button, turns = self._button(wired), "the starter turns as well"
        if self._working.told("clutch"):
            how = f"{FREE}. {capital(IN_GEAR)}{stand}: {button}; {turns}; stop the engine again"
            yield output_on(wired, ONE, how, "Start in gear, clutch pulled", self._cranking)
        neutral = f"In neutral{stand}" if self._working.told("neutral") else "With all that allows a start"
        how = f"{neutral}: {button}; {turns} and the engine runs"
        yield output_on(wired, ONE, how, "Start, as it should", self._cranking)

    def stops(self) -> bool:
        """Tell whether anything that is tried stops the running engine."""
        told = self._working.told("side stand") or self._working.told("engine stop")
        return told and any(drives_engine(wired.circuit) for wired in self._laid.outputs)

    def running(self) -> Iterator[StepDraft]:
        """Return what stops the running engine, each by itself."""
        if not self.stops():
            return
        for switch in self._working.telling("side stand"):
            if self._working.told("neutral"):
                yield _seen("Side stand down in neutral", "In neutral, side stand down", "the engine runs on")
            how = f"{FREE}. {capital(self._in_gear())}, side stand down"
            yield _seen(f"{capital(switch.name)} stops the engine", how, "the engine stops")
        for switch in self._working.telling("engine stop"):
            again = "Start it again" if self._working.told("side stand") else "Engine running"
            how = f"{again}; {switch.name} to stop"
            yield _seen(f"{capital(switch.name)} stops the engine", how, "the engine stops at once")

    @property
    def _cranking(self) -> MilliVolts | None:
        """The voltage that is there while the starter turns, as far as the bike's file gives it."""
        return self._laid.site.job.bike.supply.cranking

    def _in_gear(self) -> str:
        return IN_GEAR if self._laid.site.job.bike.clutch == "lever" else "in gear"

    def _button(self, wired: WiredOutput) -> str:
        return self._working.how(wired.circuit.members)


def _seen(title: str, how: str, expect: str) -> StepDraft:
    return StepDraft(RUNNING, title, f"{how}.", "see", expect)


PartGroup = tuple[str, ...]
BRAKE: PartGroup = (loads.BRAKE_LAMP.name,)
LAMPS: PartGroup = tuple(
    part.name for part in loads.LOAD_PARTS if part.kept and not part.watched and part.drop_class != "other"
)
SIDES: PartGroup = loads.SIDES
HORN: PartGroup = (loads.HORN.name, loads.COMPRESSOR_HORN.name)
REST: PartGroup = ()
GROUPS: tuple[PartGroup, ...] = (loads.RUNNING_ENGINE, BRAKE, LAMPS, SIDES, HORN, REST)
"""In the order in which they are tested."""
CHARGING = (95, 106)
"""Least and most of the voltage of the charging battery, in percent of the planning voltage: at 14.0 V, 13.3 to 14.8 V.

Source: common practice, no source.
"""
Tested = WiredOutput | FedLoad


class PoweredSteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies."""
        self._job = laid.site.job
        self._outputs = laid.outputs
        self._working = OperatingSteps(self._job)
        self._engine = StartAndRun(laid, self._working)
        self._displays = DisplaySteps(laid, self._working)

    def steps(self) -> Iterator[StepDraft]:
        """Return what is on before the engine runs; start; what is on only then; what stops it; charging."""
        others = (wired for wired in self._outputs if START not in wired.circuit.modes)
        every: list[Tested] = sorted((*others, *self._job.loads.fed), key=lambda one: GROUPS.index(_group(one)))
        late = [one for one in every if self._working.needs_engine(_loads(one))]
        early = [one for one in every if one not in late]
        yield from self._engine_stop(early)
        yield from self._each(early, ONE)
        yield from self._displays.steps(ONE)
        yield from self._engine.starting()
        yield from self._each(late, RUNNING)
        yield from self._displays.steps(RUNNING)
        yield from self._engine.running()
        yield from self._charging()

    def _engine_stop(self, early: Sequence[Tested]) -> Iterator[StepDraft]:
        for switch in self._working.telling("engine stop"):
            for one in early:
                if isinstance(one, WiredOutput) and _group(one) == loads.RUNNING_ENGINE:
                    yield output_dead(one, ONE, f"key on, {switch.name} to stop", switch.name)

    def _each(self, these: Sequence[Tested], part: TestPart) -> Iterator[StepDraft]:
        for group, members in groupby(these, _group):
            here = list(members)
            for one in here:
                yield from self._fed(one, part) if isinstance(one, FedLoad) else self._on(one, part)
            if group == SIDES:
                yield from self._hazard([load for one in here for load in _loads(one)], part)

    def _on(self, wired: WiredOutput, part: TestPart) -> Iterator[StepDraft]:
        """Return the step in which an output is on; a brake lamp is tried by each of its switches."""
        members, group = wired.circuit.members, _group(wired)
        switches = self._working.switches(members) if group == BRAKE else []
        for switch in switches:
            name = listed([load.name for load in wired.circuit.loads])
            how = f"operate {switch.name} by itself"
            yield output_on(wired, part, how, f"{name}, by {switch.name}", self._printed_for(part))
        if not switches:
            stopped = group == loads.RUNNING_ENGINE and part == ONE and self._working.told("engine stop")
            how = self._working.how(members) + ", engine stop to run" * stopped
            yield output_on(wired, part, how, printed_for=self._printed_for(part))

    def _fed(self, fed: FedLoad, part: TestPart) -> Iterator[StepDraft]:
        own = fed.consumer.name in own_switched(self._job)
        how = "operate its own switch" if own else self._working.how([fed.consumer])
        yield fed_on(self._job, fed, part, how, self._printed_for(part))

    def _printed_for(self, part: TestPart) -> MilliVolts | None:
        return self._job.bike.supply.running if part == RUNNING else None

    def _hazard(self, loads: Sequence[Consumer], part: TestPart) -> Iterator[StepDraft]:
        """A switch that works both sides; the current of each side was read before."""
        for switch in self._working.switches(loads):
            works = [load for load in loads if load.name in switch.operates]
            if {load.part for load in works}.issuperset(SIDES):
                names = listed([load.name for load in works])
                yield StepDraft(
                    part, f"All indicators, by {switch.name}", f"Operate {switch.name}.", "see", f"{names} flash"
                )

    def _charging(self) -> Iterator[StepDraft]:
        supply = self._job.bike.supply
        if supply.charging is not None:
            again = "Start it again; e" if self._engine.stops() else "E"
            least, most = (MilliVolts(supply.running * share // 10_000 * 100) for share in CHARGING)
            yield StepDraft(
                RUNNING,
                "Charging",
                f"{again}ngine well above idle, everything off that can be. Read the voltage at the battery.",
                "voltage",
                f"{limit_volts(1000 * least)} to {limit_volts(1000 * most)}, never more",
                between=(least, most),
            )


def _loads(tested: Tested) -> tuple[Consumer, ...]:
    return tested.circuit.members if isinstance(tested, WiredOutput) else (tested.consumer,)


def _group(tested: Tested) -> PartGroup:
    parts = [load.part for load in _loads(tested)]
    return next((group for group in GROUPS if any(part in group for part in parts)), REST)
