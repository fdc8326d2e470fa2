"""The wire catalogue: resistance, outer diameter and plain ampacity of each size.

Sources, by column:
- resistance at 20 C: IEC 60228 class 5, plain copper (greatest, ohm/km); 0.35, 2 and 3 mm2 from
  ISO 6722-1 (from memory); AWG 20 to 10 the stranded plain column of a published table of
  conductor resistances; AWG 8 and 6 FAA AC 43.13-1B Table 11-9 (tin-plated, greatest ohm/1000 ft).
- outer diameter: thin-wall cable sold to ISO 6722 class B; 0.35 and 16 mm2 from memory; an AWG size
  has that of the next larger metric size.
- ampacity: 33 CFR 183.425 Table 5, 105 C insulation, 30 C ambient; a metric size has the value of
  the next smaller AWG; 20 AWG and 0.75, 0.5 and 0.35 mm2 common practice, from memory.
"""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from solver.words.quantities import Micrometres, MicroOhms, MilliAmps, MilliCelsius
from solver.words.sizes import WireSize, gauge, metric

CONDUCTOR_TEMPERATURE = MilliCelsius(85_000)
DENSITY = Decimal("8.89")
"""Copper, g/cm3 at 20 C (NBS Handbook 100)."""


@dataclass(frozen=True)
class Conductor:
    """One size of wire: resistance at 20 C in microohms a metre, outer diameter, ampacity at 30 C."""

    size: WireSize
    resistance: MicroOhms
    diameter: Micrometres
    ampacity: MilliAmps


def _row(size: WireSize, ohm_per_km: str, diameter_mm: str, amperes: int) -> Conductor:
    return Conductor(
        size,
        MicroOhms(int(Decimal(ohm_per_km) * 1000)),
        Micrometres(int(Decimal(diameter_mm) * 1000)),
        MilliAmps(amperes * 1000),
    )


def _mm2(area: str, ohm_per_km: str, diameter_mm: str, amperes: int) -> Conductor:
    return _row(metric(Decimal(area)), ohm_per_km, diameter_mm, amperes)


CATALOGUE: tuple[Conductor, ...] = (
    _mm2("0.35", "54.4", "1.4", 7),
    _mm2("0.5", "39.0", "1.7", 11),
    _row(gauge(20), "34.6", "1.9", 11),
    _mm2("0.75", "26.0", "1.9", 14),
    _row(gauge(18), "21.8", "2.1", 20),
    _mm2("1", "19.5", "2.1", 20),
    _row(gauge(16), "13.7", "2.4", 25),
    _mm2("1.5", "13.3", "2.4", 25),
    _mm2("2", "9.42", "2.8", 25),
    _row(gauge(14), "8.62", "3.0", 35),
    _mm2("2.5", "7.98", "3.0", 35),
    _mm2("3", "6.15", "3.4", 35),
    _row(gauge(12), "5.43", "3.7", 45),
    _mm2("4", "4.95", "3.7", 45),
    _row(gauge(10), "3.409", "4.3", 60),
    _mm2("6", "3.30", "4.3", 60),
    _row(gauge(8), "2.297", "6.0", 80),
    _mm2("10", "1.91", "6.0", 80),
    _row(gauge(6), "1.444", "7.2", 120),
    _mm2("16", "1.21", "7.2", 120),
)
BY_SIZE: dict[WireSize, Conductor] = {conductor.size: conductor for conductor in CATALOGUE}
DEFAULT_REELS: tuple[WireSize, ...] = tuple(
    metric(Decimal(area)) for area in ("0.5", "0.75", "1", "1.5", "2.5", "4", "6", "10")
)


def hot(temperature: MilliCelsius) -> Fraction:
    """Give the factor on the resistance at 20 C for a conductor at ``temperature``.

    Source: FAA AC 43.13-1B par. 11-66: (234.5 + T) / 254.5.
    """
    return Fraction(234_500 + temperature, 254_500)


def copper_mass(size: WireSize, length: Micrometres) -> Decimal:
    """Give the mass in grams of the copper in ``length`` of ``size``.

    Source: density 8.89 g/cm3, NBS Handbook 100.
    """
    return size.square_mm * (Decimal(length) / 1000) * DENSITY / 1000
