"""A margin: what a plan uses of a limit that a rule keeps, and what is left of it."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from portloom.base.drop import MicroVolts
from portloom.base.figures import amperes, volts_left
from portloom.base.quantities import MicroAmps, Micrometres, MilliAmps, MilliHertz, MilliVolts
from portloom.base.values import dataclass
from portloom.job.laid import Laid

Amount = MilliAmps | MicroAmps | MicroVolts | MilliVolts | Micrometres | MilliHertz
NONE_LEFT = "nothing left"
NEAR = Fraction(9, 10)
"""Above this share of a limit it is near."""


@dataclass(frozen=True)
class LimitMargin:
    """A limit and how close a plan comes to it; used, limit and left are of one quantity."""

    rule: str
    subject: str
    used: Amount
    limit: Amount
    left: Amount
    """How much the figure may still change: a steady current, an inrush, a voltage or a diameter."""
    share: Fraction
    """What is used of the limit, exact; of a lowest voltage, the limit over what is reached."""
    sentence: str
    may_be_thicker: bool = False
    """Whether it is of a wire for which a thicker reel is allowed: bought, it leaves more."""

    def at(self, name: str | None) -> "LimitMargin":
        """Return the same of the unit of that name, where there are two: its place is told."""
        if name is None:
            return self
        unit = f"the unit {name}"
        subject = unit if self.subject in ("unit", "the unit") else f"{self.subject} of {unit}"
        return replace(self, subject=subject, sentence=f"{name}, {self.sentence}")

    @property
    def near(self) -> bool:
        """Tell whether less than a tenth of the limit is left."""
        return self.share > NEAR


def each_unit(laid: Laid) -> Iterator[Laid]:
    """Return what is on each unit by itself; the plan as it is where there is one."""
    units = laid.site.units
    yield from (laid.of(unit) for unit in units) if len(units) > 1 else (laid,)


def amperes_left(current: int) -> str:
    """Say what is left of a current in mA."""
    return f"{amperes(MilliAmps(current))} left" if current else NONE_LEFT


def tenths(length: Micrometres) -> str:
    """Write a diameter to a tenth of a millimetre, rounded up, as the table of looms does."""
    return f"{Decimal(-(-length // 100)) / 10:.1f} mm"


def tenths_left(length: Micrometres) -> str:
    """Say what is left of a width, rounded down to a tenth of a millimetre."""
    if length >= 100:
        return f"{Decimal(length // 100) / 10:.1f} mm left"
    return "less than 0.1 mm left" if length else NONE_LEFT


def volts_spare(voltage: Fraction) -> str:
    """Say what is left of a voltage, rounded down to a hundredth of a volt."""
    if voltage >= 10_000:
        return f"{volts_left(voltage)} left"
    return "less than 0.01 V left" if voltage else NONE_LEFT


def among(loaded: int) -> str:
    """Say that a wire lies among loaded ones; nothing where it is the only one."""
    return f", where {loaded} wires carry 1 A or more" if loaded > 1 else ""
