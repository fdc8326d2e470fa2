"""Bench steps for what dashes show: each thing is made, and the dash is looked at.

A switch that the unit reads through a diode is looked at there, too: made, it leaves 0.7 V at the unit's input, which
must still be taken for made. That a silicon diode keeps about 0.7 V is common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.bike import DashPoint, Switch
from portloom.base.figures import capital
from portloom.base.parts.switches import switch_part
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.steps import StepDraft, TestPart
from portloom.documents.wiring.dashes import diode_at_unit
from portloom.documents.wiring.lines import own_switched
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid

ONE: TestPart = "one at a time"
RUNNING: TestPart = "engine running"


def _senses(switch: Switch) -> bool:
    """Tell whether a switch to earth is worked by pressure or heat, not by hand."""
    part = switch_part(switch.part)
    return part is not None and part.shown and switch.signal == "earth"


class DisplaySteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps) -> None:
        """Take the plan as it lies, and what makes its loads come on."""
        self._laid = laid
        self._job = laid.site.job
        self._working = working

    def steps(self, part: TestPart) -> Iterator[StepDraft]:
        """Return what each dash must show, in the order of the file; what is on only then waits for the engine."""
        if part == ONE:
            yield from self._read_through_diodes()
        fed = (one.consumer for one in self._job.loads.fed)
        for load in (*self._job.loads.on_unit, *fed):
            if self._working.needs_engine((load,)) == (part == RUNNING):
                yield from (self._load(load, point, part) for point in load.shown_by)
        for switch in self._job.wired_inputs:
            if switch.is_contact == (part == ONE):
                yield from (self._input(switch, point, part) for point in switch.shown_by)

    def _load(self, load: Consumer, point: DashPoint, part: TestPart) -> StepDraft:
        own = load.name in own_switched(self._job)
        how = "operate its own switch" if own else self._working.how((load,))
        return StepDraft(part, f"{point.dash} shows {load.name}", f"{capital(how)}.", "see", f"{point.dash} shows it")

    def _input(self, switch: Switch, point: DashPoint, part: TestPart) -> StepDraft:
        title = f"{point.dash} shows {switch.name}"
        if not switch.is_contact:
            do = f"Let {switch.name} change as it does when ridden; look at {point.dash}."
            return StepDraft(part, title, do, "see", "what it shows changes with it")
        if switch.made:
            lit, out = f"with '{switch.made}'", "else"
        else:
            lit, out = ("at rest", "operated") if switch.normally == "closed" else ("operated", "at rest")
        do = f"Key on. {capital(switch.name)} at rest, then operated."
        if _senses(switch):
            do = f"Key on. Let {switch.name} change, or take its wire off and put it to earth."
        return StepDraft(part, title, do, "see", f"{point.dash} shows it {lit}, and nothing {out}")

    def _read_through_diodes(self) -> Iterator[StepDraft]:
        for told in self._laid.inputs:
            if diode_at_unit(self._job, told.circuit, told.port):
                yield from self._told(told.circuit, told.port.name)
        for wired in self._laid.switches:
            if diode_at_unit(self._job, wired.circuit, None):
                yield from self._told(wired.circuit, wired.stand.multiplexer.name)

    def _told(self, circuit: InputCircuit, where: str) -> Iterator[StepDraft]:
        for switch in circuit.switches:
            if switch.signal == "earth":
                do = f"Key on, {switch.name} made. Read the voltage at {where}, before its diode."
                expect = "0.5 to 0.9 V, and the unit takes it for made"
                yield StepDraft(ONE, f"{capital(where)} reads {switch.name}", do, "see", expect)
