"""What a wire of a size carries, resists and measures across.

Source: ampacity 33 CFR 183.425 Table 5, 105 C column, a metric size taking the next
smaller AWG, 0.75 mm2 and thinner from memory (common practice); resistance at 20 C
IEC 60228 class 5 plain, 0.35, 2 and 3 mm2 ISO 6722 from memory, AWG the published
stranded column; outer diameter the trade column of thin-wall cable, 0.35 and 16 mm2
from memory, an AWG size that of the next larger metric size.
"""

from dataclasses import dataclass
from fractions import Fraction

from .quantities import quantity


@dataclass(frozen=True)
class Wire:
    """A size of wire: mm2, mohm/m at 20 C, mA, um."""

    area: Fraction
    mohm_per_m: Fraction
    carries_ma: int
    diameter_um: int


# mm2: (mohm/m at 20 C, A, mm)
METRIC: dict[str, tuple[str, int, str]] = {
    "0.35": ("54.4", 7, "1.4"),
    "0.5": ("39.0", 11, "1.7"),
    "0.75": ("26.0", 14, "1.9"),
    "1": ("19.5", 20, "2.1"),
    "1.5": ("13.3", 25, "2.4"),
    "2": ("9.42", 25, "2.8"),
    "2.5": ("7.98", 35, "3.0"),
    "3": ("6.15", 35, "3.4"),
    "4": ("4.95", 45, "3.7"),
    "6": ("3.30", 60, "4.3"),
    "10": ("1.91", 80, "6.0"),
    "16": ("1.21", 120, "7.2"),
}
# AWG: (mm2, mohm/m at 20 C, A, mm)
GAUGES: dict[str, tuple[str, str, int, str]] = {
    "20": ("0.518", "34.6", 11, "1.9"),
    "18": ("0.823", "21.8", 20, "2.1"),
    "16": ("1.31", "13.7", 25, "2.4"),
    "14": ("2.08", "8.62", 35, "3.0"),
    "12": ("3.31", "5.43", 45, "3.7"),
    "10": ("5.26", "3.409", 60, "4.3"),
}
DEFAULT_REELS = ("0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2")


def wire(text: str) -> Wire:
    """Take `1.5 mm2` or `16 AWG`; give the wire. Raises KeyError for an unlisted size."""
    if text.endswith("AWG"):
        area, ohms, amps, across = GAUGES[text.removesuffix("AWG").strip()]
    else:
        value = quantity(text, "area")
        area, (ohms, amps, across) = str(value), _metric(value)
    return Wire(Fraction(area), Fraction(ohms), amps * 1000, int(Fraction(across) * 1000))


def _metric(area: Fraction) -> tuple[str, int, str]:
    """Find the row of a metric size, whatever digits it was written with."""
    return next(row for size, row in METRIC.items() if Fraction(size) == area)
