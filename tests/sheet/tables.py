"""What is looked up: wire, fuses, lamps, inrush, and the figures that are common practice.

Sources stand at each table. 'Common practice' has no source; 'from memory' was not seen in print.
"""

from fractions import Fraction
from typing import NamedTuple

F = Fraction


class WireRow(NamedTuple):
    """A size of wire: mohm/m at 20 C, outer diameter (mm), A at 30 C in insulation for 105 C."""

    mohm_per_m: F
    diameter_mm: F
    amperes: F


WIRE: dict[str, WireRow] = {
    "0.5": WireRow(F("39.0"), F("1.7"), F(11)),
    "0.75": WireRow(F("26.0"), F("1.9"), F(14)),
    "1": WireRow(F("19.5"), F("2.1"), F(20)),
    "1.5": WireRow(F("13.3"), F("2.4"), F(25)),
    "2.5": WireRow(F("7.98"), F("3.0"), F(35)),
    "4": WireRow(F("4.95"), F("3.7"), F(45)),
    "6": WireRow(F("3.30"), F("4.3"), F(60)),
    "10": WireRow(F("1.91"), F("6.0"), F(80)),
}
"""Sizes in mm2. Resistance: IEC 60228, class 5, plain. Diameter: thin-wall cable sold to ISO 6722 class B.

Amperes: 33 CFR 183.425 Table 5, column 105 C, of the next smaller AWG (18 AWG is 0.823 mm2, 16 is 1.309, 14 is 2.081,
12 is 3.309, 10 is 5.261, 8 is 8.366: ASTM B258). 0.5 and 0.75 mm2: common practice, from memory.
"""
USUAL_REELS = tuple(WIRE)
INSULATION_C = F(105)
TABLE_C = F(30)
"""Table 5 is for 30 C around the wire."""
DENSITY_G_PER_CM3 = F("8.89")
"""Copper: NBS Handbook 100."""

LEAD_MOHM_PER_M = {
    "6": F("3.30"), "10": F("1.91"), "16": F("1.21"), "25": F("0.780"), "35": F("0.554"), "50": F("0.386"),
}  # fmt: skip
"""Battery leads, mohm/m at 20 C by mm2. IEC 60228, class 5, plain; 25 mm2 and more from memory."""

FUSES_A = (*map(F, (1, 2, 3, 4, 5)), F("7.5"), *map(F, (10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80)))
"""ISO 8820-3."""


class LampRow(NamedTuple):
    """A lamp's greatest watts, and the voltage at which they are measured."""

    watts: F
    test_v: F


LAMPS: dict[str, LampRow] = {
    "H4 main": LampRow(F(75), F("13.2")),
    "H4 dipped": LampRow(F(68), F("13.2")),
    "H7": LampRow(F(58), F("13.2")),
    "HS1 main": LampRow(F("36.75"), F("13.2")),
    "HS1 dipped": LampRow(F("36.75"), F("13.2")),
    "P21W": LampRow(F("26.5"), F("13.5")),
    "P21/5W brake": LampRow(F("26.5"), F("13.5")),
    "P21/5W tail": LampRow(F("6.6"), F("13.5")),
    "W5W": LampRow(F("5.5"), F("13.5")),
    "C5W": LampRow(F("5.5"), F("13.5")),
    "T4W": LampRow(F("4.4"), F("13.5")),
}
"""UN R37. H4 as in DIN EN 60809, P21/5W as PY21/5W in GRE/2012/34; the others from memory."""

INRUSH: dict[str, tuple[F, int]] = {
    "filament": (F(10), 50),
    "led": (F(3), 1),
    "electronics": (F(3), 1),
    "motor": (F(4), 200),
    "fan": (F(6), 500),
    "horn": (F(2), 50),
    "ignition coil": (F("2.5"), 50),
    "heater": (F("1.2"), 50),
    "relay coil": (F(1), 50),
}
"""Times the steady current, and ms. Common practice, no source."""

FILAMENT_EXPONENT = 0.55
LIGHT_EXPONENT = 3.4
"""Current and light of a filament by its voltage: lamp engineering, from memory."""

MOHM = {
    "output": F(10),
    "unit plug": F(5),
    "load plug": F(5),
    "connector": F(5),
    "splice": F(1),
    "earth point": F(2),
    "relay contact": F(10),
    "own switch": F(20),
}
"""Common practice, no source."""
MAIN_FUSE_V = F("0.1")
SMALL_FUSE_V = F("0.13")
SMALL_FUSE_A = 10
"""What fuses lose at their rating, small ones up to 10 A: from memory."""

RELAY_COIL_MA = 150
SUPPLY_SWITCH_FUSE_A = 3
SHORTEST_FEED_MM = 300
UNIT_EARTH_MM2 = F("1.5")
THICKEST_RETURN_MM2 = F(4)
JUDGED_FEED_V, JUDGED_RETURN_V = F("0.15"), F("0.07")
SPLICE_WIRES, SPLICE_MM2 = 5, F(6)
SLEEVE_MM = F(1)
STANDBY_MULTIPLEXER_MA = F("0.5")
SELF_DISCHARGE = F("0.002")
DUTY = {"braking": F("0.1"), "indicating left": F("0.1"), "indicating right": F("0.1"), "fan running": F("0.3")}
FLASH_DUTY = F("0.5")
"""Common practice, no source."""

ENDS_MM = {"unit": 150, "load": 80, "splice": 40, "connector": 60, "battery": 150, "relay": 150, "earth": 150}
MOVES_MM, SHARE, SHORTEST_PIECE_MM = 60, F("0.1"), 150
"""What is added where a wire is cut, by its ends: common practice, no source."""


def hot(temperature_c: F) -> F:
    """Return by how much a conductor's resistance is above that at 20 C. Source: FAA AC 43.13-1B par. 11-66."""
    return (F("234.5") + temperature_c) / F("254.5")


def rounded_up(value: F) -> int:
    """Return the next whole number."""
    return -(-value.numerator // value.denominator)
