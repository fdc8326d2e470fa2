"""What a wire of a size carries, resists and measures across.

Source: ampacity 33 CFR 183.425 Table 5, 105 C column unless the bike says otherwise, a metric
size taking the next smaller AWG; 0.75 mm2 and thinner from memory (common practice), in other
columns in proportion to 18 AWG; resistance at 20 C IEC 60228 class 5, plain or tinned, 0.35,
2 and 3 mm2 ISO 6722 from memory, AWG the published stranded column, these 3 % more if tinned
(common practice, no source); area of an AWG size 0.012668 mm2 x 92^((36 - n) / 19.5), ASTM
B258, to four places; outer diameter the trade column of thin-wall cable, 0.35 and 16 mm2 from
memory, an AWG size that of the next larger metric size.
"""

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from .quantities import ceiling, quantity


@dataclass(frozen=True, eq=False)
class Wire:
    """A size of wire: mm2, mohm/m at 20 C, mA, um."""

    area: Fraction
    mohm_per_m: Fraction
    carries_ma: int
    diameter_um: int


INSULATIONS_C = (60, 75, 80, 90, 105, 125, 200)
# AWG: A in each of these columns
TABLE_5: dict[str, tuple[int, ...]] = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
}
THIN_A = {"0.35": 7, "0.5": 11, "0.75": 14, "20": 11}  # at 105 C
# mm2: (mohm/m at 20 C plain, tinned or nothing, the row of Table 5 or of the thin ones, mm)
METRIC: dict[str, tuple[str, str, str, str]] = {
    "0.35": ("54.4", "", "0.35", "1.4"),
    "0.5": ("39.0", "40.1", "0.5", "1.7"),
    "0.75": ("26.0", "26.7", "0.75", "1.9"),
    "1": ("19.5", "20.0", "18", "2.1"),
    "1.5": ("13.3", "13.7", "16", "2.4"),
    "2": ("9.42", "", "16", "2.8"),
    "2.5": ("7.98", "8.21", "14", "3.0"),
    "3": ("6.15", "", "14", "3.4"),
    "4": ("4.95", "5.09", "12", "3.7"),
    "6": ("3.30", "3.39", "10", "4.3"),
    "10": ("1.91", "1.95", "8", "6.0"),
    "16": ("1.21", "1.24", "6", "7.2"),
}
# AWG: (mm2, mohm/m at 20 C plain, mm)
GAUGES: dict[str, tuple[str, str, str]] = {
    "20": ("0.5176", "34.6", "1.9"),
    "18": ("0.8231", "21.8", "2.1"),
    "16": ("1.3087", "13.7", "2.4"),
    "14": ("2.0810", "8.62", "3.0"),
    "12": ("3.3089", "5.43", "3.7"),
    "10": ("5.2613", "3.409", "4.3"),
}
DEFAULT_REELS = ("0.5 mm2", "0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2")


@dataclass(frozen=True)
class Stock:
    """What the wire of a bike is made of: insulation class (C), and whether its copper is tinned."""

    insulation_c: int
    tinned: bool

    def wire(self, text: str) -> Wire:
        """Take `1.5 mm2` or `16 AWG`; give the wire. Raises KeyError for an unlisted size."""
        if text.endswith("AWG"):
            row = text.removesuffix("AWG").strip()
            area, plain, across = GAUGES[row]
            tinned = ""
        else:
            area = str(quantity(text, "area"))
            plain, tinned, row, across = _metric(Fraction(area))
        return Wire(Fraction(area), self._mohm(plain, tinned), self._ma(row), int(Fraction(across) * 1000))

    def _mohm(self, plain: str, tinned: str) -> Fraction:
        if not self.tinned:
            return Fraction(plain)
        return Fraction(tinned) if tinned else Fraction(ceiling(Fraction(plain) * 1030), 1000)

    def _ma(self, row: str) -> int:
        column = INSULATIONS_C.index(self.insulation_c)
        if row in TABLE_5:
            return TABLE_5[row][column] * 1000
        return floor(Fraction(THIN_A[row] * 1000 * TABLE_5["18"][column], 20))


USUAL = Stock(105, tinned=False)


def written_size(wire: Wire) -> str:
    """Return how a size is written in a file."""
    gauge = next((row for row, (area, _, _) in GAUGES.items() if Fraction(area) == wire.area), None)
    return f"{gauge} AWG" if gauge else f"{float(wire.area):g} mm2"


def _metric(area: Fraction) -> tuple[str, str, str, str]:
    """Find the row of a metric size, whatever digits it was written with. Raises KeyError if unlisted."""
    return next((row for size, row in METRIC.items() if Fraction(size) == area), None) or METRIC[str(area)]
