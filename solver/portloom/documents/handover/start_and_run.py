"""Bench steps for what lets the engine start and run, each condition by itself.

What lets it start and run is the rules' (common practice, no source). The wheel is free: a bike in gear jumps.
"""

from collections.abc import Iterator

from portloom.base.figures import capital, listed
from portloom.base.quantities import MilliVolts
from portloom.documents.handover.coming_on import OperatingSteps, output_dead, output_on
from portloom.documents.handover.steps import StepDraft, TestPart
from portloom.job.laid import Laid
from portloom.job.wired import WiredOutput
from portloom.rules.practice import START, drives_engine

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
