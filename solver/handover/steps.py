"""The steps of a bench test, in the order in which they are done, each with what to do and what to expect."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from solver.handover.expected import Expected
from solver.words.quantities import MilliVolts

Part = Literal["before the battery goes on", "first power", "one at a time", "engine running", "last"]
"""In the order in which they are done; nothing is powered before it was measured, nothing runs before it stops."""
Read = Literal["ohms", "current", "voltage", "current and voltage", "see"]


@dataclass(frozen=True)
class Step:
    """One step: its number on the sheet, what to do, what is read, and what to expect."""

    number: int
    part: Part
    title: str
    do: str
    read: Read
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
