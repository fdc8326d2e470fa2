"""A bar with its limits, readable without colour."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from solver.pictures.lettering import folded, line, pitch, whole
from solver.pictures.marks import stroke
from solver.pictures.svg import Element, element
from solver.words.figures import amperes
from solver.words.quantities import MilliAmps

Fill = Literal["unit", "bank", "all"]
NAME = 140.0
LEFT = 160.0
WIDEST = 420.0
THICK = 16.0


@dataclass(frozen=True)
class Limit:
    """A limit beside a bar: what it is, and how much."""

    words: str
    amount: MilliAmps


@dataclass(frozen=True)
class Bar:
    """A bar: whose it is, how it is filled, how long it is, its limits."""

    name: str
    fill: Fill
    current: MilliAmps
    limits: tuple[Limit, ...]

    @property
    def longest(self) -> int:
        """The largest of its figures."""
        return max([self.current, *(limit.amount for limit in self.limits)])

    @property
    def names(self) -> tuple[str, ...]:
        """Its name, folded."""
        return folded(self.name, NAME - 16)

    @property
    def words(self) -> tuple[str, ...]:
        """What stands under it: its figure and its limits."""
        told = [whole(amperes(self.current)), *(f"{one.words} {whole(amperes(one.amount))}" for one in self.limits)]
        return folded("; ".join(told), 720 - LEFT - 16)

    @property
    def high(self) -> float:
        """Its height."""
        return max(THICK + 11 + len(self.words) * pitch(), len(self.names) * pitch() + 4) + 4


def _hatching(fill: Fill, wide: float, top: float) -> Iterator[Element]:
    """Draw the lines that tell bars apart in grey: none in a full one, slanting in a bank's, level in the sum's."""
    if fill == "bank":
        starts = [8.0 * number for number in range(-1, int(wide // 8) + 1)]
        yield stroke("".join(_slanting(start, wide, top) for start in starts))
    if fill == "all":
        yield stroke("".join(f"M{LEFT:g} {top + down:.2f}h{wide:.2f}" for down in (4, 8, 12)), 1.2)


def _slanting(start: float, wide: float, top: float) -> str:
    """Return a line that rises by the bar's thickness over 12 units, as much of it as lies in the bar."""
    first, last = max(0.0, start), min(wide, start + 12)
    if last <= first:
        return ""
    low, high = ((at - start) / 12 * THICK for at in (first, last))
    return f"M{LEFT + first:.2f} {top + THICK - low:.2f}L{LEFT + last:.2f} {top + THICK - high:.2f}"


def drawn_bar(bar: Bar, top: float, scale: Fraction) -> Iterator[Element]:
    """Draw a bar; ``scale`` is units of the picture for a milliampere."""
    for number, text in enumerate(bar.names, 1):
        yield line(16, top + number * pitch() - 1, text)
    wide = float(bar.current * scale)
    fill = "#777" if bar.fill == "unit" else "#fff"
    yield element("rect", x=LEFT, y=top + 4, width=wide, height=THICK, fill=fill, stroke="#000", stroke_width=1.4)
    yield from _hatching(bar.fill, wide, top + 4)
    for number, limit in enumerate(bar.limits):
        yield from _limit(LEFT + float(limit.amount * scale), top, number)
    for number, text in enumerate(bar.words, 1):
        yield line(LEFT, top + THICK + 7 + number * pitch() - 1, text)


def _limit(x: float, top: float, number: int) -> Iterator[Element]:
    """Draw a limit: the first as a full line, the second dashed, a third dotted."""
    dashes = ("none", "4 2", "1.5 2")[min(number, 2)]
    way = f"M{x:.2f} {top + 1:.2f}V{top + THICK + 7:.2f}"
    yield element("path", d=way, stroke="#000", stroke_width=3, stroke_dasharray=dashes, class_="line")
