"""Bench steps for what dashes show: each thing is made, and the dash is looked at.

A switch that the unit reads through a diode is looked at there, too: made, it leaves 0.7 V at the unit's input, which
must still be taken for made. That a silicon diode keeps about 0.7 V is common practice, no source.
"""

from collections.abc import Iterator

from portloom.base.bike import DashPoint, Switch
from portloom.base.figures import capital
from portloom.base.quantities import MilliVolts
from portloom.documents.handover.coming_on import OperatingSteps, senses
from portloom.documents.handover.steps import Step, TestPart, VoltageRange
from portloom.documents.wiring.dashes import diode_at_unit
from portloom.job.circuits import InputCircuit
from portloom.job.consumers import Consumer
from portloom.job.laid import Laid

STANDING: TestPart = "everything plugged in"
RUNNING: TestPart = "engine running"
MADE = VoltageRange(
    MilliVolts(500),
    MilliVolts(900),
    "the diode is bridged, or not there",
    "the diode points the wrong way, or the switch is not made",
)
NOT_SHOWN = "a diode the wrong way round, or the wrong terminal of the dash"


class DisplaySteps:
    """The steps for one plan."""

    def __init__(self, laid: Laid, working: OperatingSteps) -> None:
        """Take the plan as it lies, and what makes its loads come on."""
        self._laid = laid
        self._job = laid.site.job
        self._working = working

    def steps(self, part: TestPart) -> Iterator[Step]:
        """Return what each dash must show, in the order of the file; what is on only then waits for the engine."""
        if part == STANDING:
            yield from self._read_through_diodes()
        fed = (one.consumer for one in self._job.loads.fed)
        for load in (*self._job.loads.on_unit, *fed):
            if self._working.needs_engine((load,)) == (part == RUNNING):
                yield from (self._load(load, point, part) for point in load.shown_by)
        for switch in self._job.wired_inputs:
            if switch.is_contact == (part == STANDING):
                yield from (self._input(switch, point, part) for point in switch.shown_by)

    def _load(self, load: Consumer, point: DashPoint, part: TestPart) -> Step:
        how = self._working.how((load,))
        title, must = f"{point.dash} shows {load.name}", f"{point.dash} shows it"
        return Step(part, title, f"{capital(how)}.", "see", must, NOT_SHOWN)

    def _input(self, switch: Switch, point: DashPoint, part: TestPart) -> Step:
        title = f"{point.dash} shows {switch.name}"
        if not switch.is_contact:
            do = f"Let {switch.name} change as it does when ridden; look at {point.dash}."
            return Step(part, title, do, "see", "what it shows changes with it", NOT_SHOWN)
        made = f" ('{switch.made}')" * bool(switch.made)
        if senses(switch):
            do = f"Key on. Pull the plug of {switch.name}, then bridge it."
            return Step(part, title, do, "see", f"{point.dash} shows it bridged{made}, else nothing", NOT_SHOWN)
        if switch.made:
            lit, out = f"with '{switch.made}'", "else"
        else:
            lit, out = ("at rest", "operated") if switch.normally == "closed" else ("operated", "at rest")
        do = f"Key on. {capital(switch.name)} at rest, then operated."
        return Step(part, title, do, "see", f"{point.dash} shows it {lit}, and nothing {out}", NOT_SHOWN)

    def _read_through_diodes(self) -> Iterator[Step]:
        for told in self._laid.inputs:
            if diode_at_unit(self._job, told.circuit, told.port):
                yield from self._told(told.circuit, told.port.name)
        for wired in self._laid.switches:
            if diode_at_unit(self._job, wired.circuit, None):
                yield from self._told(wired.circuit, wired.stand.multiplexer.name)

    def _told(self, circuit: InputCircuit, where: str) -> Iterator[Step]:
        for switch in circuit.switches:
            if switch.signal == "earth":
                yield Step(
                    STANDING,
                    f"{capital(where)} reads {switch.name}",
                    f"Key on, {switch.name} made. Read the volts at {where}, before its diode.",
                    "voltage",
                    "the unit takes it for made",
                    "less: the diode is bridged; more: it points the wrong way, or the switch is not made",
                    within=MADE,
                )
