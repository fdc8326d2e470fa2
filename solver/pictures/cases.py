"""The cases as bars: what flows through the unit and each bank, beside their limits and what the alternator gives."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from solver.job.cases import Case
from solver.job.laid import Laid
from solver.pictures.bars import WIDEST, Bar, Limit, drawn_bar
from solver.pictures.lettering import Style, folded, line, pitch
from solver.pictures.paging import Part, Section, drawn_part, paged
from solver.pictures.sheet import WIDE, picture
from solver.pictures.svg import Element, group
from solver.plans.document import CaseLine, Plan
from solver.words.quantities import MilliAmps

RIDING = ("day", "night")
STYLE = Style(14, bold=True)
AFTER = 16.0
NOTE = (
    "A bar is what is on at one moment; the line across it is its limit. What the alternator gives must cover "
    "the mean over the ride, not each moment: for a moment the battery helps."
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
        return len(self.words) * pitch(STYLE) + sum(bar.high for bar in self.bars) + AFTER

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, text in enumerate(self.words, 1):
            yield line(16, top + number * pitch(STYLE) - 4, text, STYLE)
        y = top + len(self.words) * pitch(STYLE)
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
        return len(self.words) * pitch() + AFTER

    def drawn(self, top: float) -> Iterator[Element]:
        """Draw it."""
        for number, text in enumerate(self.words, 1):
            yield line(16, top + number * pitch() - 4, text)


def case_pictures(laid: Laid, plan: Plan, prefix: str) -> tuple[Element, ...]:
    """Return the bars of a plan's cases, page by page; ids begin with ``prefix``.

    Each page is 720 units wide and at most 1040 high, for an A4 page held upright.
    """
    cases = zip(plan.cases, laid.site.job.cases, strict=True)
    bars = [(told, tuple(_bars(laid, told, case))) for told, case in cases]
    scale = Fraction(int(WIDEST), max((bar.longest for _, some in bars for bar in some), default=1))
    blocks = [CaseBlock(folded(told.label, WIDE - 32, STYLE), some, scale) for told, some in bars]
    section = Section("What is on together", (*blocks, Remark(folded(NOTE, WIDE - 32))), boxed=False)
    pages = list(paged([section]))
    return tuple(_page(plan, parts, number, f"{prefix}-{number}") for number, parts in enumerate(pages, 1))


def _page(plan: Plan, parts: list[Part], number: int, name: str) -> Element:
    title = f"Currents of {plan.bike} on the {plan.unit}, page {number}"
    worst = plan.feed.worst_case
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
