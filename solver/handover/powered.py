"""Bench steps with the main fuse in: one thing at a time, first what stops the engine; then with the engine running."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from solver.handover.drafts import Draft
from solver.handover.measured import fed_on, output_dead, output_on
from solver.handover.start_and_run import ONE, RUNNING, StartAndRun
from solver.handover.steps import Part
from solver.handover.working import Working
from solver.job.consumers import Consumer, FedLoad
from solver.job.laid import Laid
from solver.job.wired import WiredOutput
from solver.rules.engine_stop import ENGINE_PARTS
from solver.rules.start import MODE as START
from solver.words.bike import Part as LoadPart
from solver.words.figures import listed

LAMPS: tuple[LoadPart, ...] = ("dipped beam", "main beam", "daytime lamp", "position lamp", "tail lamp", "plate lamp")
SIDES: tuple[LoadPart, ...] = ("left indicator", "right indicator")
GROUPS: tuple[tuple[LoadPart, ...], ...] = (ENGINE_PARTS, ("brake lamp",), LAMPS, SIDES, ("horn",))
"""Parts in the order in which they are tested; what is none of them comes after them."""
Fed = WiredOutput | FedLoad


class Powered:
    """The steps for one plan."""

    def __init__(self, laid: Laid) -> None:
        """Take the plan as it lies."""
        self._job = laid.site.job
        self._outputs = laid.outputs
        self._working = Working(self._job)
        self._engine = StartAndRun(laid, self._working)

    def steps(self) -> Iterator[Draft]:
        """Give what is on before the engine runs; start; what is on only then; what stops it; charging."""
        started = (wired for wired in self._outputs if START not in wired.circuit.modes)
        every: list[Fed] = sorted((*started, *self._job.loads.fed), key=_group)
        late = [fed for fed in every if self._working.needs_engine(_loads(fed))]
        early = [fed for fed in every if fed not in late]
        yield from self._engine_stop(early)
        yield from self._each(early, ONE)
        yield from self._engine.starting()
        yield from self._each(late, RUNNING)
        yield from self._engine.running()
        yield from self._charging()

    def _engine_stop(self, early: Sequence[Fed]) -> Iterator[Draft]:
        for switch in self._working.telling("engine stop"):
            for fed in early:
                if isinstance(fed, WiredOutput) and _group(fed) == GROUPS.index(ENGINE_PARTS):
                    yield output_dead(fed, ONE, f"key on, {switch.name} to stop", switch.name)

    def _each(self, these: Sequence[Fed], part: Part) -> Iterator[Draft]:
        for group, members in groupby(these, _group):
            here = list(members)
            for fed in here:
                yield from self._on(fed, part)
            if group == GROUPS.index(SIDES):
                yield from self._hazard([load for fed in here for load in _loads(fed)], part)

    def _on(self, fed: Fed, part: Part) -> Iterator[Draft]:
        """Give the step in which it is on; a brake lamp is tried by each of its switches."""
        if isinstance(fed, FedLoad):
            yield fed_on(self._job, fed, part, self._fed_how(fed))
            return
        members = fed.circuit.members
        if _group(fed) == GROUPS.index(("brake lamp",)) and self._working.switches(members):
            for switch in self._working.switches(members):
                name = listed([load.name for load in fed.circuit.loads])
                yield output_on(fed, part, f"work {switch.name} by itself", f"{name}, by {switch.name}")
            return
        runs = _group(fed) == GROUPS.index(ENGINE_PARTS) and part == ONE and any(self._working.telling("engine stop"))
        yield output_on(fed, part, self._working.how(members) + ", engine stop to run" * runs)

    def _fed_how(self, fed: FedLoad) -> str:
        own = any(load.own_switch for load in self._job.bike.loads if load.name == fed.consumer.name)
        return "work its own switch" if own else self._working.how([fed.consumer])

    def _hazard(self, loads: Sequence[Consumer], part: Part) -> Iterator[Draft]:
        """A switch that works both sides; the current of each side was read before."""
        for switch in self._working.switches(loads):
            works = [load for load in loads if load.name in switch.operates]
            if {load.part for load in works}.issuperset(SIDES):
                names = listed([load.name for load in works])
                yield Draft(part, f"All indicators, by {switch.name}", f"Work {switch.name}.", "see", f"{names} flash")

    def _charging(self) -> Iterator[Draft]:
        supply = self._job.bike.supply
        if supply.charging is not None:
            yield Draft(
                RUNNING,
                "Charging",
                "Engine well above idle, nothing on that need not be. Read the voltage at the battery.",
                "voltage",
                f"about {supply.running / 1000:g} V, never above 15 V (common practice, no source)",
            )


def _loads(fed: Fed) -> tuple[Consumer, ...]:
    return fed.circuit.members if isinstance(fed, WiredOutput) else (fed.consumer,)


def _group(fed: Fed) -> int:
    parts = [load.part for load in _loads(fed)]
    return next((number for number, group in enumerate(GROUPS) if any(part in group for part in parts)), len(GROUPS))
