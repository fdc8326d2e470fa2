"""What is looked up: wire, fuses, lamps, inrush, and the figures that are common practice.

Sources stand at each table. 'Common practice' has no source; 'from memory' was not seen in print.
"""

from fractions import Fraction

F = Fraction


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


FILAMENT_EXPONENT = 0.55
LIGHT_EXPONENT = 3.4
"""Current and light of a filament by its voltage: lamp engineering, from memory."""

MOHM = ("unit plug", "load plug", "connector", "splice", "earth point", "relay contact", "own switch")
"""What resists on the way of a current; how much, the oracle's table of losses says."""
SMALL_FUSE_A = 10
RELAY_COIL_MA = 150
JUDGED_FEED_V, JUDGED_RETURN_V = F("0.15"), F("0.07")
USUAL_TEXTS = {
    "main fuse drop": "0.1 V",
    "fuse drop": "0.1 V",
    "small fuse drop": "0.13 V",
    "shortest feed": "300 mm",
    "shortest piece": "150 mm",
    "supply switch fuse": "3 A",
    "unit earth": "1.5 mm2",
    "thickest return": "4 mm2",
    "splice wires": "5",
    "splice area": "6 mm2",
    "sleeve": "1 mm",
    "multiplexer standby": "0.5 mA",
    "self-discharge": "0.2 %",
    "flash duty": "50 %",
    "braking duty": "10 %",
    "indicating duty": "10 %",
    "fan duty": "30 %",
}
"""What is assumed, by its name in a file. What fuses lose at their rating, small ones up to 10 A: from memory; the rest
common practice, no source.
"""
DUTIES = {
    "braking": "braking duty",
    "indicating left": "indicating duty",
    "indicating right": "indicating duty",
    "fan running": "fan duty",
}
"""The events that have a usual share of the time."""

ENDS_MM = {
    "unit": F(150), "load": F(80), "splice": F(40), "connector": F(60), "battery": F(150), "relay": F(150),
    "earth": F(150), "moves": F(60),
}  # fmt: skip
"""What is added where a wire is cut, by its ends, and for each leg that moves: common practice, no source."""


def hot(temperature_c: F) -> F:
    """Return by how much a conductor's resistance is above that at 20 C. Source: FAA AC 43.13-1B par. 11-66."""
    return (F("234.5") + temperature_c) / F("254.5")


def rounded_up(value: F) -> int:
    """Return the next whole number."""
    return -(-value.numerator // value.denominator)
