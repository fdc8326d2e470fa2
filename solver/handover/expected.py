"""What a meter should read: the current of loads at the voltage that is there, between a lowest and a highest.

A filament lamp draws 80 to 100 % of its planning current, which is its greatest, moved to the voltage that is read.
The spread of the other kinds is common practice, no source.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from solver.electrics.other_voltage import current_at
from solver.job.consumers import Consumer
from solver.words.bike import Kind
from solver.words.quantities import MilliAmps, MilliVolts

SPREAD: dict[Kind, tuple[int, int]] = {
    "filament": (80, 100),
    "heater": (90, 110),
    "ignition coil": (90, 110),
    "relay coil": (90, 110),
    "horn": (70, 110),
    "led": (70, 110),
    "electronics": (50, 110),
    "motor": (50, 120),
}
"""Lowest and highest in percent of the planning current at that voltage."""


@dataclass(frozen=True)
class Draw:
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


def draw_of(load: Consumer, running: MilliVolts) -> Draw:
    """Return a load as a meter sees it; a lamp's current is known at its test voltage, all else at the running one."""
    return Draw(load.name, load.kind, load.current, load.lamp_test or running)


@dataclass(frozen=True)
class Expected:
    """What is on in a step, and what the unit itself draws meanwhile."""

    draws: tuple[Draw, ...]
    unit: MilliAmps = MilliAmps(0)

    def current(self, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
        """Return the lowest and the highest current at a supply voltage, the unit's own included."""
        return between(self.draws, self.unit, supply)

    def without(self, name: str) -> "Expected":
        """Return what is expected if one of the loads draws nothing."""
        return Expected(tuple(draw for draw in self.draws if draw.name != name), self.unit)


def between(draws: Iterable[Draw], unit: MilliAmps, supply: MilliVolts) -> tuple[MilliAmps, MilliAmps]:
    """Return the lowest and the highest sum of several loads and the unit's own current."""
    pairs = [draw.between(supply) for draw in draws]
    lowest, highest = sum(low for low, _ in pairs), sum(high for _, high in pairs)
    return MilliAmps(lowest), MilliAmps(highest + unit)
