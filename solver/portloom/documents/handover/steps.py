"""The steps of a bench test: what to do, and what a meter should read.

A filament lamp draws 80 to 100 % of its planning current, which is its greatest, moved to the voltage that is read.
The spread of the other kinds is common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from portloom.base.current import current_at
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.base.vocabulary import COIL, HORN, Kind
from portloom.job.consumers import Consumer

SPREAD: dict[Kind, tuple[int, int]] = {
    "filament": (80, 100),
    "heater": (90, 110),
    COIL: (90, 110),
    "relay coil": (90, 110),
    HORN: (70, 110),
    "led": (70, 110),
    "discharge": (70, 110),
    "electronics": (50, 110),
    "motor": (50, 120),
}
"""Lowest and highest in percent of the planning current at that voltage."""


@dataclass(frozen=True)
class ExpectedDraw:
    """A load as a meter sees it: its kind, and its planning current at the voltage at which that is known."""

    name: str
    kind: Kind
    current: MilliAmps
    known_at: MilliVolts

    def between(self, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
        """Return the lowest and the highest current at a supply voltage; the highest rounded up to 1 mA."""
        planned = current_at(self.kind, self.current, self.known_at, supply)
        lowest, highest = SPREAD[self.kind]
        return MilliAmps(planned * lowest // 100), MilliAmps(-(-planned * highest // 100))


def draw_of(load: Consumer, running: MilliVolts) -> ExpectedDraw:
    """Return a load as a meter sees it; a lamp's current is known at its test voltage, all else at the running one."""
    return ExpectedDraw(load.name, load.kind, load.current, load.lamp_test or running)


@dataclass(frozen=True)
class Expected:
    """What is on in a step, and what the unit itself draws meanwhile."""

    draws: tuple[ExpectedDraw, ...]
    unit: MilliAmps = MilliAmps(0)

    def current(self, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
        """Return the lowest and the highest current at a supply voltage, the unit's own included."""
        return between(self.draws, self.unit, supply)

    def without(self, name: str) -> "Expected":
        """Return what is expected if one of the loads draws nothing."""
        return Expected(tuple(draw for draw in self.draws if draw.name != name), self.unit)


def between(draws: Iterable[ExpectedDraw], unit: MilliAmps, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
    """Return the lowest and the highest sum of several loads and the unit's own current."""
    pairs = [draw.between(supply) for draw in draws]
    lowest, highest = sum(low for low, _ in pairs), sum(high for _, high in pairs)
    return MilliAmps(lowest), MilliAmps(highest + unit)


TestPart = Literal["before the battery goes on", "first power", "one at a time", "engine running", "last"]
"""In the order in which they are done; nothing is powered before it was measured, nothing runs before it stops."""
MeterReads = Literal["ohms", "current", "voltage", "current and voltage", "see"]


@dataclass(frozen=True)
class Step:
    """One step: its number on the sheet, what to do, what is read, and what to expect."""

    number: int
    part: TestPart
    title: str
    do: str
    read: MeterReads
    expect: str
    """In words, for 12.6 V where it is a current."""
    port: str = ""
    expected: Expected | None = None
    """None where no current is read."""
    loses: Fraction | None = None
    """Microvolts: the most that the plan says is lost on the way to the load; None where no voltage is read there."""
    between: tuple[MilliVolts, MilliVolts] | None = None
    """The least and the most that the voltage at the battery may be, where it is that which is judged."""


@dataclass(frozen=True)
class BenchTest:
    """A whole bench test, for one plan."""

    bike: str
    unit: str
    supply: MilliVolts
    """The voltage that its currents are printed for."""
    unplug: tuple[str, ...]
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class StepDraft:
    """What a step says, without the number that it gets in the end; see Step for the fields."""

    part: TestPart
    title: str
    do: str
    read: MeterReads
    expect: str = ""
    """Empty where it is the current that is written for the sheet's own voltage."""
    port: str = ""
    expected: Expected | None = None
    loses: Fraction | None = None
    printed_for: MilliVolts | None = None
    """The supply voltage to print for where it is not the resting battery's."""
    between: tuple[MilliVolts, MilliVolts] | None = None
