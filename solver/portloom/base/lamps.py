"""Filament lamps by the words of UN R37: greatest watts at the test voltage.

Source: UN Regulation No. 37, objective values, 12 V category sheets. Rows marked 'seen' were read
in print: H1 in a copy of its sheet (cryer.org.uk, 'H1 lamp'), H4 as DIN EN 60809 has it, H17 in the
regulation's supplement 39, PY21/5W in working document GRE/2012/34; the others are from memory.
"""

from portloom.base.quantities import MilliAmps, MilliVolts, MilliWatts
from portloom.base.values import dataclass

HEADLAMP_TEST = MilliVolts(13_200)
SIGNAL_TEST = MilliVolts(13_500)


@dataclass(frozen=True)
class Lamp:
    """One filament: nominal and greatest watts, and the voltage at which the greatest are measured."""

    nominal: MilliWatts
    greatest: MilliWatts
    test: MilliVolts
    seen: bool

    @property
    def current(self) -> MilliAmps:
        """The planning current: greatest watts over test voltage, rounded up to 1 mA, not rescaled."""
        return MilliAmps(-(-1000 * self.greatest // self.test))


def _headlamp(nominal: int, greatest: int, *, seen: bool = False) -> Lamp:
    return Lamp(MilliWatts(nominal * 1000), MilliWatts(greatest * 1000), HEADLAMP_TEST, seen)


def _signal(nominal: int, greatest: int, *, seen: bool = False) -> Lamp:
    return Lamp(MilliWatts(nominal * 1000), MilliWatts(greatest), SIGNAL_TEST, seen)


HS1 = Lamp(MilliWatts(35_000), MilliWatts(36_750), HEADLAMP_TEST, seen=False)
"""Either filament: 35 W and 5 % more."""
LAMPS: dict[str, Lamp] = {
    "H1": _headlamp(55, 68, seen=True),
    "H3": _headlamp(55, 68),
    "H4 main": _headlamp(60, 75, seen=True),
    "H4 dipped": _headlamp(55, 68, seen=True),
    "H7": _headlamp(55, 58),
    "H8": _headlamp(35, 43),
    "H9": _headlamp(65, 73),
    "H11": _headlamp(55, 62),
    "H17 main": _headlamp(35, 37, seen=True),
    "H17 dipped": _headlamp(35, 37, seen=True),
    "HB3": _headlamp(60, 73),
    "HB4": _headlamp(51, 62),
    "HS1 main": HS1,
    "HS1 dipped": HS1,
    "PY21/5W indicator": _signal(21, 26_500, seen=True),
    "PY21/5W position": _signal(5, 6_600, seen=True),
    "P21/5W brake": _signal(21, 26_500),
    "P21/5W tail": _signal(5, 6_600),
    "P21W": _signal(21, 26_500),
    "PY21W": _signal(21, 26_500),
    "H21W": _signal(21, 26_500),
    "R10W": _signal(10, 11_000),
    "RY10W": _signal(10, 11_000),
    "R5W": _signal(5, 5_500),
    "W5W": _signal(5, 5_500),
    "WY5W": _signal(5, 5_500),
    "C5W": _signal(5, 5_500),
    "T4W": _signal(4, 4_400),
    "W3W": _signal(3, 3_450),
    "W16W": _signal(16, 21_350),
    "H6W": _signal(6, 7_350),
}
