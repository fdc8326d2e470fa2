"""The cases as bars: what flows through the unit and each bank, beside their limits and what the alternator gives.

Each bar has its limits on it, and is readable without colour.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal

from portloom.base.figures import amperes
from portloom.base.quantities import MilliAmps
from portloom.base.values import dataclass
from portloom.documents.case_lines import case_line
from portloom.documents.document import CaseLine, Plan
from portloom.job.cases import Case
from portloom.job.laid import Laid
from portloom.report.svg.lettering import Style, folded, line, line_height, whole
from portloom.report.svg.marks import stroke
from portloom.report.svg.paging import WIDE, PagePart, Section, drawn_part, paged, picture
from portloom.report.svg.svg import Element, element, group

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
        return max(THICK + 11 + len(self.words) * line_height(), len(self.names) * line_height() + 4) + 4


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
        yield line(16, top + number * line_height() - 1, text)
    wide = float(bar.current * scale)
    fill = "#777" if bar.fill == "unit" else "#fff"
    yield element("rect", x=LEFT, y=top + 4, width=wide, height=THICK, fill=fill, stroke="#000", stroke_width=1.4)
    yield from _hatching(bar.fill, wide, top + 4)
    for number, limit in enumerate(bar.limits):
        yield from _limit(LEFT + float(limit.amount * scale), top, number)
    for number, text in enumerate(bar.words, 1):
        yield line(LEFT, top + THICK + 7 + number * line_height() - 1, text)


def _limit(x: float, top: float, number: int) -> Iterator[Element]:
    """Draw a limit: the first as a full line, the second dashed, a third dotted."""
    dashes = ("none", "4 2", "1.5 2")[min(number, 2)]
    way = f"M{x:.2f} {top + 1:.2f}V{top + THICK + 7:.2f}"
    yield element("path", d=way, stroke="#000", stroke_width=3, stroke_dasharray=dashes, class_="line")


RIDING = ("day", "night")
STYLE = Style(14, bold=True)
AFTER = 16.0
NOTE = (
    "A bar shows what is on at one moment; the line across it is its limit. The alternator must cover the average "
    "over the ride, not each moment: for a moment the battery helps."
)


@dataclass(frozen=True)
class CaseBlock:
    """A case with its bars."""

    words: tuple[str, ...]
    bars: tuple[Bar, ...]
    scale: Fraction
    """Units of the picture for a milliampere."""

    @property
    def high(self) -> float:
        """Its height."""
        return len(self.words) * line_height(STYLE) + sum(bar.high for bar in self.bars) + AFTER

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, text in enumerate(self.words, 1):
            yield line(16, top + number * line_height(STYLE) - 4, text, STYLE)
        y = top + len(self.words) * line_height(STYLE)
        for bar in self.bars:
            yield group(drawn_bar(bar, y, self.scale), class_="bar")
            y += bar.high


@dataclass(frozen=True)
class Remark:
    """Words below the bars."""

    words: tuple[str, ...]

    @property
    def high(self) -> float:
        """Its height."""
        return len(self.words) * line_height() + AFTER

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, text in enumerate(self.words, 1):
            yield line(16, top + number * line_height() - 4, text)


def case_pictures(laid: Laid, plan: Plan, prefix: str) -> tuple[Element, ...]:
    """Return the bars of a plan's cases, page by page; ids begin with ``prefix``.

    Each page is 720 units wide and at most 1040 high, for an A4 page held upright.
    """
    cases = [(case_line(laid, case), case) for case in laid.site.job.cases]
    bars = [(told, tuple(_bars(laid, told, case))) for told, case in cases]
    scale = Fraction(int(WIDEST), max((bar.longest for _, some in bars for bar in some), default=1))
    blocks = [CaseBlock(folded(told.label, WIDE - 32, STYLE), some, scale) for told, some in bars]
    section = Section("What is on together", (*blocks, Remark(folded(NOTE, WIDE - 32))), boxed=False)
    pages = list(paged([section]))
    return tuple(_page(plan, parts, number, f"{prefix}-{number}") for number, parts in enumerate(pages, 1))


def _page(plan: Plan, parts: list[PagePart], number: int, name: str) -> Element:
    title = f"Currents of {plan.bike} on the {plan.only.unit}, page {number}"
    worst = plan.only.feed.worst_case
    drawn = [element for part in parts for element in drawn_part(part, 0.0)]
    return picture(name, title, f"Bars against limits; the worst case is {worst}.", parts[-1].bottom, drawn)


def _bars(laid: Laid, told: CaseLine, case: Case) -> Iterator[Bar]:
    yield Bar("through the unit", "unit", told.current, (Limit("limit", told.limit),))
    for name, current, limit in told.banks:
        yield Bar(f"bank {name}", "bank", current, (Limit("limit", limit),))
    beside = sum(fed.consumer.current for fed in laid.site.job.loads.fed if laid.site.job.on(fed.consumer, case))
    gives = tuple(_alternator(laid)) if told.state in RIDING else ()
    if beside or gives:
        yield Bar("all that is on", "all", MilliAmps(told.current + beside), gives)


def _alternator(laid: Laid) -> Iterator[Limit]:
    """Return what the alternator gives, in mA at the running voltage, rounded down to 0.1 A."""
    supply = laid.site.job.bike.supply
    powers = ((supply.charging.cruise, "cruising"), (supply.charging.idle, "at idle")) if supply.charging else ()
    for power, when in powers:
        if power is not None:
            tenths = power * 10 // supply.running
            yield Limit(f"alternator {when}", MilliAmps(100 * tenths))
