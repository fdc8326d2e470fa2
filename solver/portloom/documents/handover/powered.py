"""Bench steps with the main fuse in: one thing at a time, first what stops the engine; then with the engine running."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from portloom.base.bike import Part as LoadPart
from portloom.base.figures import limit_volts, listed
from portloom.base.quantities import MilliVolts
from portloom.documents.handover.coming_on import OperatingSteps, fed_on, output_dead, output_on
from portloom.documents.handover.start_and_run import ONE, RUNNING, StartAndRun
from portloom.documents.handover.steps import StepDraft, TestPart
from portloom.documents.wiring.lines import own_switched
from portloom.job.consumers import Consumer, FedLoad
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import ENGINE_PARTS, START

PartGroup = tuple[LoadPart, ...]
BRAKE: PartGroup = ("brake lamp",)
LAMPS: PartGroup = ("dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp")
SIDES: PartGroup = ("left indicator", "right indicator")
HORN: PartGroup = ("horn",)
REST: PartGroup = ()
GROUPS: tuple[PartGroup, ...] = (ENGINE_PARTS, BRAKE, LAMPS, SIDES, HORN, REST)
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

    def steps(self) -> Iterator[StepDraft]:
        """Return what is on before the engine runs; start; what is on only then; what stops it; charging."""
        others = (wired for wired in self._outputs if START not in wired.circuit.modes)
        every: list[Tested] = sorted((*others, *self._job.loads.fed), key=lambda one: GROUPS.index(_group(one)))
        late = [one for one in every if self._working.needs_engine(_loads(one))]
        early = [one for one in every if one not in late]
        yield from self._engine_stop(early)
        yield from self._each(early, ONE)
        yield from self._engine.starting()
        yield from self._each(late, RUNNING)
        yield from self._engine.running()
        yield from self._charging()

    def _engine_stop(self, early: Sequence[Tested]) -> Iterator[StepDraft]:
        for switch in self._working.telling("engine stop"):
            for one in early:
                if isinstance(one, WiredOutput) and _group(one) == ENGINE_PARTS:
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
            stopped = group == ENGINE_PARTS and part == ONE and self._working.told("engine stop")
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
