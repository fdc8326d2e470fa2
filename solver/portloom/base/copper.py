"""The wire catalogue: resistance, outer diameter and ampacity of each size.

Sources, by column:
- resistance at 20 C: IEC 60228 class 5, plain and tinned (greatest, ohm/km); 0.35, 2 and 3 mm2 from
  ISO 6722-1 (from memory); AWG 20 to 10 stranded plain conductors, from memory; AWG 8 and 6 FAA
  AC 43.13-1B Table 11-9 (tin-plated, greatest ohm/1000 ft). Where no tinned value was found it is taken
  3 % above plain, the most by which IEC 60228 differs.
- outer diameter: greatest of thin-wall cable of ISO 6722-1 (from memory); an AWG size has that of the
  next larger metric size.
- ampacity: 33 CFR 183.425 Table 5, 30 C ambient, by the insulation's temperature; a metric size has
  the value of the next smaller AWG; 20 AWG and 0.75, 0.5 and 0.35 mm2 common practice, from memory,
  for 105 C, in other columns in proportion to 18 AWG.
"""

from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Literal

from portloom.base.quantities import Micrometres, MicroOhms, MilliAmps, MilliCelsius
from portloom.base.sizes import WireSize, gauge, metric
from portloom.base.values import dataclass

CONDUCTOR_TEMPERATURE = MilliCelsius(85_000)
"""At which drops are counted, but in a hotter leg. Source: common practice, no source."""
DENSITY = Decimal("8.89")
"""Copper, g/cm3 at 20 C (NBS Handbook 100)."""
Copper = Literal["plain", "tinned"]
INSULATIONS: tuple[int, ...] = (60, 75, 80, 90, 105, 125, 200)
BOUGHT: tuple[int, ...] = (75, 90, 105, 125)
"""The columns that wire for a motorcycle may be bought for."""
USUAL_INSULATION = 105
CLASSES: dict[str, int] = {"A": 85, "B": 100, "C": 125, "D": 150, "E": 175, "F": 200}
"""Classes of road-vehicle wire by what their insulation takes in C. Source: ISO 6722-1, from memory."""
TABLE_5: dict[int, tuple[int, ...]] = {
    18: (10, 10, 15, 20, 20, 25, 25),
    16: (15, 15, 20, 25, 25, 30, 35),
    14: (20, 20, 25, 30, 35, 40, 45),
    12: (25, 25, 35, 40, 45, 50, 55),
    10: (40, 40, 50, 55, 60, 70, 70),
    8: (55, 65, 70, 70, 80, 90, 100),
    6: (80, 95, 100, 100, 120, 125, 135),
}
"""33 CFR 183.425 Table 5: amperes by AWG, a column for each insulation temperature; it begins with 18 AWG."""
THINNEST_IN_TABLE = gauge(18)
THINNER: dict[str, int] = {"0.35 mm2": 7, "0.5 mm2": 11, "20 AWG": 11, "0.75 mm2": 14}
"""Amperes at 105 C of sizes below the table: common practice, from memory."""
TINNED_AT_MOST = Fraction(103, 100)


@dataclass(frozen=True)
class Conductor:
    """One size of wire: resistance at 20 C in microohms a metre, outer diameter, ampacity at 30 C."""

    size: WireSize
    resistance: MicroOhms
    diameter: Micrometres
    ampacity: MilliAmps


@dataclass(frozen=True)
class _Row:
    """A row of the catalogue: greatest resistances in ohm/km, outer diameter in mm."""

    size: WireSize
    plain: str
    tinned: str | None
    diameter: str


def _mm2(area: str, plain: str, tinned: str | None, diameter: str) -> _Row:
    return _Row(metric(Decimal(area)), plain, tinned, diameter)


def _awg(number: int, plain: str, tinned: str | None, diameter: str) -> _Row:
    return _Row(gauge(number), plain, tinned, diameter)


ROWS: tuple[_Row, ...] = (
    _mm2("0.35", "54.4", None, "1.4"),
    _mm2("0.5", "39.0", "40.1", "1.7"),
    _awg(20, "34.6", None, "1.9"),
    _mm2("0.75", "26.0", "26.7", "1.9"),
    _awg(18, "21.8", None, "2.1"),
    _mm2("1", "19.5", "20.0", "2.1"),
    _awg(16, "13.7", None, "2.4"),
    _mm2("1.5", "13.3", "13.7", "2.4"),
    _mm2("2", "9.42", None, "2.8"),
    _awg(14, "8.62", None, "3.0"),
    _mm2("2.5", "7.98", "8.21", "3.0"),
    _mm2("3", "6.15", None, "3.4"),
    _awg(12, "5.43", None, "3.7"),
    _mm2("4", "4.95", "5.09", "3.7"),
    _awg(10, "3.409", None, "4.3"),
    _mm2("6", "3.30", "3.39", "4.3"),
    _awg(8, "2.297", "2.297", "6.0"),
    _mm2("10", "1.91", "1.95", "6.0"),
    _awg(6, "1.444", "1.444", "7.2"),
    _mm2("16", "1.21", "1.24", "7.2"),
)


def _ampacity(size: WireSize, insulation: int) -> MilliAmps:
    column = INSULATIONS.index(insulation)
    if size.label in THINNER:
        return MilliAmps(THINNER[size.label] * 1000 * TABLE_5[18][column] // TABLE_5[18][INSULATIONS.index(105)])
    fitting = [number for number in TABLE_5 if gauge(number).area <= size.area]
    return MilliAmps(1000 * TABLE_5[min(fitting)][column])


def _resistance(row: _Row, copper: Copper) -> MicroOhms:
    plain = Fraction(row.plain) * 1000
    if copper == "plain":
        return MicroOhms(int(plain))
    tinned = plain * TINNED_AT_MOST if row.tinned is None else Fraction(row.tinned) * 1000
    return MicroOhms(-(-tinned.numerator // tinned.denominator))


@cache
def catalogue(insulation: int, copper: Copper) -> dict[WireSize, Conductor]:
    """Return every size of wire, thin to thick, for an insulation of Table 5 (C) and plain or tinned copper.

    Raises ValueError for an insulation temperature that the table has no column for.
    """
    return {
        row.size: Conductor(
            row.size,
            _resistance(row, copper),
            Micrometres(int(Decimal(row.diameter) * 1000)),
            _ampacity(row.size, insulation),
        )
        for row in ROWS
    }


BY_SIZE: dict[WireSize, Conductor] = catalogue(USUAL_INSULATION, "plain")
CATALOGUE: tuple[Conductor, ...] = tuple(BY_SIZE.values())
DEFAULT_REELS: tuple[WireSize, ...] = tuple(
    metric(Decimal(area)) for area in ("0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10")
)


def resistance_at(temperature: MilliCelsius) -> Fraction:
    """Return the factor on the resistance at 20 C for a conductor at ``temperature``.

    Source: FAA AC 43.13-1B par. 11-66: (234.5 + T) / 254.5.
    """
    return Fraction(234_500 + temperature, 254_500)


def class_for(insulation: int) -> str:
    """Return the least class of road-vehicle wire that takes a temperature in C; the column for it may be hotter."""
    return next(name for name, rating in CLASSES.items() if rating >= insulation)


def copper_mass(size: WireSize, length: Micrometres) -> Decimal:
    """Return the mass in grams of the copper in ``length`` of ``size``.

    Source: density 8.89 g/cm3, NBS Handbook 100.
    """
    return size.square_mm * (Decimal(length) / 1000) * DENSITY / 1000
