"""Every default, in one table. A bike file may change any of them under ``assume``, by its name."""

from collections.abc import Mapping
from functools import cache
from typing import Protocol

from portloom.base.copper import BOUGHT
from portloom.base.quantities import Measure, QuantityError, units
from portloom.base.sizes import parse_size
from portloom.base.values import dataclass

PRACTICE = "common practice, no source"
"""Said of a value that the trade uses and no standard was found for."""


class Measured(Protocol):
    """Anything that reads a value as people write it; raises ValueError where it can't."""

    def parse(self, text: object) -> int:
        """Return the value in small units."""


@dataclass(frozen=True)
class Words:
    """A value that is one of a few words; it is kept as the word's number."""

    choices: tuple[str, ...]

    def parse(self, text: object) -> int:
        """Return the number of the word; raise ValueError for any other."""
        if text not in self.choices:
            raise QuantityError(f"'{text}' is not one of the choices", f"write one of {', '.join(self.choices)}")
        return self.choices.index(str(text))


@dataclass(frozen=True)
class SizeAtLeast:
    """A size of wire; it is kept as its area in ten-thousandths of a square millimetre."""

    def parse(self, text: object) -> int:
        """Return the area of a size; raise ValueError for what is none."""
        return parse_size(text).area


@dataclass(frozen=True)
class Default:
    """One default: its name, its value as people write it, how it is measured, where it comes from."""

    name: str
    value: str
    measure: Measured
    source: str


_RESISTANCE = Measure("resistance", units(mohm="1000", ohm="1000000"), "5 mohm", zero=True)
_VOLTAGE = Measure("voltage", units(V="1000", mV="1"), "0.1 V")
_CURRENT = Measure("current", units(A="1000", mA="1"), "3 A")
_SMALL_CURRENT = Measure("current", units(mA="1000", A="1000000"), "0.5 mA", zero=True)
_TIMES = Measure("multiple", units(x="1000"), "10 x")
_TIME = Measure("time", units(ms="1000", s="1000000"), "50 ms")
_SHARE = Measure("share", units(**{"%": "100"}), "5 %")
_SPARE = Measure("share", units(**{"%": "100"}), "10 %", zero=True)
_LENGTH = Measure("length", units(mm="1000", m="1000000"), "1 mm", zero=True)


class Count:
    """A whole number of things, no less than some."""

    def __init__(self, least: int) -> None:
        """Take the least that makes sense."""
        self.least = least

    def parse(self, text: object) -> int:
        """Return the number; raise ValueError for any other text."""
        if not isinstance(text, str) or not text.isascii() or not text.isdigit() or int(text) < self.least:
            raise QuantityError(f"'{text}' is no whole number from {self.least} up", f"write one, such as {self.least}")
        return int(text)


_AREA = Measure("wire size", units(mm2="10000"), "4 mm2")
_SPACING = Measure("length", units(mm="1000", m="1000000"), "100 mm")
_AIRCRAFT_EARTH = f"{PRACTICE}; FAA AC 43.13-1B allows 5 mohm at most for an aircraft's bonds"
_AT_RATING = "at the fuse's rating, in proportion below it; from memory"

INSULATION = Words(tuple(f"{temperature} C" for temperature in BOUGHT))
COPPER = Words(("plain", "tinned"))

TABLE: tuple[Default, ...] = (
    Default("cranking voltage", "9.0 V", _VOLTAGE, PRACTICE),
    Default("filament inrush", "10 x", _TIMES, PRACTICE),
    Default("filament inrush time", "50 ms", _TIME, PRACTICE),
    Default("led inrush", "3 x", _TIMES, PRACTICE),
    Default("led inrush time", "1 ms", _TIME, PRACTICE),
    Default("electronics inrush", "3 x", _TIMES, PRACTICE),
    Default("electronics inrush time", "1 ms", _TIME, PRACTICE),
    Default("discharge inrush", "4 x", _TIMES, PRACTICE),
    Default("discharge inrush time", "5 s", _TIME, PRACTICE),
    Default("motor inrush", "4 x", _TIMES, PRACTICE),
    Default("motor inrush time", "200 ms", _TIME, PRACTICE),
    Default("fan inrush", "6 x", _TIMES, PRACTICE),
    Default("fan inrush time", "500 ms", _TIME, PRACTICE),
    Default("horn inrush", "2 x", _TIMES, PRACTICE),
    Default("horn inrush time", "50 ms", _TIME, PRACTICE),
    Default("ignition coil inrush", "2.5 x", _TIMES, PRACTICE),
    Default("ignition coil inrush time", "50 ms", _TIME, PRACTICE),
    Default("heater inrush", "1.2 x", _TIMES, PRACTICE),
    Default("heater inrush time", "50 ms", _TIME, PRACTICE),
    Default("relay coil inrush", "1 x", _TIMES, PRACTICE),
    Default("relay coil inrush time", "50 ms", _TIME, PRACTICE),
    Default("pull-in time", "200 ms", _TIME, PRACTICE),
    Default("relay coil current", "0.15 A", _CURRENT, PRACTICE),
    Default("main fuse drop", "0.1 V", _VOLTAGE, _AT_RATING),
    Default("fuse drop", "0.1 V", _VOLTAGE, _AT_RATING),
    Default("small fuse drop", "0.13 V", _VOLTAGE, f"{_AT_RATING}; fuses up to 10 A"),
    Default("earth point", "2 mohm", _RESISTANCE, _AIRCRAFT_EARTH),
    Default("connector", "5 mohm", _RESISTANCE, PRACTICE),
    Default("unit plug", "5 mohm", _RESISTANCE, f"at the circuit's current; {PRACTICE}"),
    Default("load plug", "5 mohm", _RESISTANCE, f"both pins together, at the load's current; {PRACTICE}"),
    Default("splice", "1 mohm", _RESISTANCE, f"at the current entering; {PRACTICE}"),
    Default("relay contact", "10 mohm", _RESISTANCE, PRACTICE),
    Default("own switch", "20 mohm", _RESISTANCE, PRACTICE),
    Default("feed drop", "0.15 V", _VOLTAGE, PRACTICE),
    Default("return drop", "0.07 V", _VOLTAGE, PRACTICE),
    Default("unit earth", "1.5 mm2", SizeAtLeast(), f"the least size; {PRACTICE}"),
    Default("shortest feed", "300 mm", _LENGTH, PRACTICE),
    Default("thickest return", "4 mm2", _AREA, PRACTICE),
    Default("splice wires", "5", Count(3), f"in one splice at most; {PRACTICE}"),
    Default("splice area", "6 mm2", _AREA, f"in one splice at most; {PRACTICE}"),
    Default("headlamp drop", "5 %", _SHARE, PRACTICE),
    Default("headlamp at most", "0.5 V", _VOLTAGE, f"where the share is more; {PRACTICE}"),
    Default("engine drop", "5 %", _SHARE, PRACTICE),
    Default("brake lamp drop", "5 %", _SHARE, PRACTICE),
    Default("indicators drop", "5 %", _SHARE, PRACTICE),
    Default("position lamps drop", "5 %", _SHARE, PRACTICE),
    Default("other drop", "10 %", _SHARE, "ABYC E-11, non-critical circuits"),
    Default("insulation", "105 C", INSULATION, "33 CFR 183.425 Table 5, column"),
    Default("copper", "plain", COPPER, "IEC 60228 class 5"),
    Default("battery resistance", "10 mohm", _RESISTANCE, PRACTICE),
    Default("trip time", "100 ms", _TIME, "used where no trip curve is given; " + PRACTICE),
    Default("self-discharge", "0.2 %", _SHARE, PRACTICE),
    Default("multiplexer standby", "0.5 mA", _SMALL_CURRENT, PRACTICE),
    Default("flash duty", "50 %", _SHARE, PRACTICE),
    Default("braking duty", "10 %", _SHARE, PRACTICE),
    Default("indicating duty", "10 %", _SHARE, PRACTICE),
    Default("fan duty", "30 %", _SHARE, PRACTICE),
    Default("switch earth lift", "0.5 V", _VOLTAGE, PRACTICE),
    Default("sleeve", "1 mm", _LENGTH, PRACTICE),
    Default("shortest piece", "150 mm", _LENGTH, "what a hand can dress; " + PRACTICE),
    Default("tie spacing", "100 mm", _SPACING, PRACTICE),
    Default("spares", "10 %", _SPARE, PRACTICE),
    Default("supply switch fuse", "3 A", _CURRENT, PRACTICE),
    Default("LED lamp power", "40 %", _SHARE, "of the filament lamp that it replaces; " + PRACTICE),
)
NAMES: tuple[str, ...] = tuple(default.name for default in TABLE)


@cache
def _usual() -> dict[str, int]:
    """Return every default in small units."""
    return {default.name: default.measure.parse(default.value) for default in TABLE}


class Assumptions:
    """The defaults of one bike, in small units, with what its file changes."""

    def __init__(self, changed: Mapping[str, str]) -> None:
        """Take the table with ``changed`` laid over it; raise ValueError for a value that can't be read."""
        self.changed = dict(changed)
        own = {d.name: d.measure.parse(changed[d.name]) for d in TABLE if changed.get(d.name)}
        self._values = {**_usual(), **own}

    def __getitem__(self, name: str) -> int:
        """Return the value of ``name`` in small units."""
        return self._values[name]

    def text(self, name: str) -> str:
        """Return the value of ``name`` as people write it."""
        return self.changed.get(name) or next(default.value for default in TABLE if default.name == name)
