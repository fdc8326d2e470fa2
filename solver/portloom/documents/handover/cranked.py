"""Bench steps while the starter turns the engine without a spark: what its current loses on the way back.

At most 0.3 V between engine and battery minus, at most 0.2 V between frame and battery minus: common practice, no
source.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from portloom.base.figures import amperes, capital, listed, volts
from portloom.base.quantities import MilliVolts
from portloom.documents.handover.coming_on import OperatingSteps
from portloom.documents.handover.steps import Step, TestPart, VoltageRange
from portloom.documents.wiring.leads import LeadName, battery_leads
from portloom.job.flow import cranking_voltage
from portloom.job.job import Job
from portloom.job.wired import WiredOutput

PART: TestPart = "engine running"
STRAP = VoltageRange(
    MilliVolts(-1000), MilliVolts(300), "the meter's leads are swapped",
    "the engine's earth strap is loose, painted under or too thin: the starter's current finds thin wires instead",
)  # fmt: skip
TO_FRAME = VoltageRange(
    MilliVolts(-1000), MilliVolts(200), "the meter's leads are swapped",
    "the frame's earth is loose or painted under: clean it to bare metal, tighten it",
)  # fmt: skip
MOST_AT_REST = MilliVolts(12_600)
"""A battery that has no more while it should crank gives nothing to a starter."""


class CrankingSteps:
    """The steps for one plan."""

    def __init__(self, job: Job, working: OperatingSteps, starters: Sequence[WiredOutput]) -> None:
        """Take the job, what makes its loads come on, and the outputs that start the engine."""
        self._job, self._working, self._starters = job, working, starters

    def steps(self) -> Iterator[Step]:
        """Return engine, frame and battery against the battery's minus, for each output that cranks."""
        for wired in self._starters:
            how = self._working.how(wired.circuit.members)
            first = (
                "Battery off, starter motor's cable on again, battery on. Spark still off. "
                f"{capital(self._working.may_start())}: {how} for 3 s"
            )
            yield _step(
                "Engine to battery minus, cranking",
                f"{first}. Red on bare metal of the engine, black on the battery's negative post.",
                self._planned("engine strap", "battery strap"),
                "clean and tighten the engine's strap, both ends",
                STRAP,
            )
            yield _step(
                "Frame to battery minus, cranking",
                "The same, red on bare metal of the frame.",
                self._planned("battery strap"),
                "clean and tighten the frame's earth",
                TO_FRAME,
            )
            yield _step(
                "Battery, cranking",
                "The same, red on the battery's positive post.",
                "",
                "lower: battery weak, or the starter drags",
                self._battery(),
            )

    def _battery(self) -> VoltageRange:
        return VoltageRange(
            cranking_voltage(self._job), MOST_AT_REST,
            "the battery is weak, or the starter drags: the plan reckons with this",
            "the starter draws nothing: its cable, its solenoid",
        )  # fmt: skip

    def _planned(self, *names: LeadName) -> str:
        """Say what straps that have a size lose, hot as they are reckoned; nothing where they are the maker's."""
        straps = [lead for lead in battery_leads(self._job) if lead.name in names]
        lost = [lead.loses for lead in straps if lead.loses is not None]
        if not lost or len(lost) < len(straps):
            return ""
        which = listed([lead.number for lead in straps])
        return f"{volts(sum(lost, Fraction(0)))} on {which} at {amperes(straps[0].current)}, hot"


def _step(title: str, do: str, must: str, wrong: str, within: VoltageRange) -> Step:
    return Step(PART, title, do, "voltage", must, wrong, within=within)
