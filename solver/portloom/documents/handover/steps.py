"""The steps of a bench test: what to do, what a meter should read, and what it means if it does not.

A filament lamp draws 80 to 100 % of its planning current, which is its greatest, moved to the voltage that is read.
The spread of the other kinds is common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from portloom.base.current import current_at
from portloom.base.figures import limit_volts, volts_left
from portloom.base.quantities import MilliAmps, MilliVolts
from portloom.base.values import dataclass
from portloom.base.vocabulary import COIL, HORN, Kind
from portloom.job.consumers import Consumer

PRINTED_FOR = MilliVolts(12_600)
"""The voltage that figures are printed for: a charged battery at rest. Source: common practice, no source."""
IN_MILLIAMPERES = MilliAmps(200)
"""Below this a current is told in milliamperes."""
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

    def planned(self, supply: MilliVolts) -> MilliAmps:
        """Return its planning current at a supply voltage."""
        return current_at(self.kind, self.current, self.known_at, supply)

    def between(self, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
        """Return the lowest and the highest current at a supply voltage; the highest rounded up to 1 mA."""
        planned = self.planned(supply)
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


def range_said(expected: Expected, supply: MilliVolts) -> str:
    """Write the current to expect at a supply voltage: '4.10 to 5.20 A', 'at most 60 mA'."""
    lowest, highest = expected.current(supply)
    if not highest:
        return "no current"
    small = highest < IN_MILLIAMPERES
    least, most = (str(at) if small else f"{Decimal(at) / 1000:.2f}" for at in (lowest, highest))
    unit = "mA" if small else "A"
    return f"{least} to {most} {unit}" if expected.draws else f"at most {most} {unit}"


@dataclass(frozen=True)
class VoltageRange:
    """Where a voltage must lie whatever the battery has, and what one below or above it means."""

    least: MilliVolts
    most: MilliVolts
    below: str
    above: str

    @property
    def said(self) -> str:
        """Write it: '13.30 V to 14.80 V', '0.30 V at most'."""
        most = limit_volts(1000 * self.most)
        return f"{limit_volts(1000 * self.least)} to {most}" if self.least > 0 else f"{most} at most"


TestPart = Literal[
    "before the battery goes on", "first power", "one circuit at a time", "everything plugged in", "engine running",
    "last",
]  # fmt: skip
"""In the order in which they are done; nothing is powered before it was measured, nothing runs before it stops."""
MeterReads = Literal["ohms", "current", "voltage", "supply and voltage", "current and voltage", "see"]


@dataclass(frozen=True)
class Step:
    """One step: what to do, what is read, what must be, and what it means if it is not."""

    part: TestPart
    title: str
    do: str
    read: MeterReads
    must: str = ""
    """In words; empty where the figures say it all."""
    if_not: str = ""
    port: str = ""
    expected: Expected | None = None
    """None where no current is read."""
    loses: Fraction | None = None
    """Microvolts: the most that is lost on the way to the load in this step; None where that is not judged."""
    within: VoltageRange | None = None
    """Where the voltage must lie, where that does not hang on the battery's."""
    supply: MilliVolts = PRINTED_FOR
    """The voltage at the battery that its figures are printed for."""
    number: int = 0
    """On the sheet, 1 and up; 0 until it stands there."""

    def numbered(self, number: int) -> "Step":
        """Return the step with its number on the sheet."""
        return replace(self, number=number)

    @property
    def expect(self) -> str:
        """What must be, as the sheet prints it: words, then figures, whose voltage is said where it is another one."""
        at = f"at {self.supply / 1000:g} V: " * (self.supply != PRINTED_FOR and self.expected is not None)
        figures = [range_said(self.expected, self.supply)] if self.expected is not None else []
        if self.loses is not None:
            figures.append("at the load " * (self.expected is not None) + f"{self.reached(self.supply)} or more")
        if self.within is not None:
            figures.append(self.within.said)
        return "; ".join(filter(None, (self.must, at + ", ".join(figures))))

    def most_lost(self, current: MilliAmps | None) -> Fraction:
        """Return the microvolts that may be lost on the way: less where a circuit by itself draws less than planned.

        With the engine running other currents flow on the way as well, so nothing is taken off.
        """
        most = self.loses or Fraction(0)
        planned = 0 if self.expected is None else sum(draw.planned(self.supply) for draw in self.expected.draws)
        if current is None or self.part == "engine running" or current >= planned:
            return most
        return most * current / planned

    def reached(self, supply: MilliVolts) -> str:
        """Write the least voltage that must reach its load."""
        return volts_left(1000 * supply - (self.loses or 0))


@dataclass(frozen=True)
class BenchTest:
    """A whole bench test, for one plan."""

    bike: str
    unit: str
    supply: MilliVolts
    """The voltage that its figures are printed for, where a step says no other."""
    how_to_read: tuple[str, ...]
    """How amperes and volts are read."""
    by_itself: tuple[str, ...]
    """What can start without being asked to."""
    unplug: tuple[str, ...]
    said: dict[TestPart, tuple[str, ...]]
    """What holds for all steps of a part."""
    steps: tuple[Step, ...]
