"""Which to buy: the cheapest that takes every bike, and how far cheaper ones get."""

from decimal import Decimal

from portloom.base.values import dataclass
from portloom.comparing.tables import AcrossBikes, Comparison, together


@dataclass(frozen=True)
class ToBuy:
    """What takes every bike for the least, and what is less but takes fewer."""

    bikes: int
    tried: int
    """How many units, and two in place of one, were tried."""
    unpriced: tuple[str, ...]
    """Those without a price: where there are any, least is the least wire and spare ports."""
    best: AcrossBikes | None
    """None where nothing takes every bike."""
    less: tuple[AcrossBikes, ...]
    """Those for less that do not take every bike, what takes most of them first; all, where nothing takes all."""

    @property
    def by_price(self) -> bool:
        """Tell whether it is told by price."""
        return not self.unpriced

    @property
    def not_known(self) -> tuple[AcrossBikes, ...]:
        """Those for less, of which it is not known that they do not take every bike."""
        return tuple(one for one in self.less if one.fits + one.not_known == self.bikes)


def to_buy(comparison: Comparison) -> ToBuy:
    """Return what to buy, whatever ranks the tables."""
    every, bikes = together(comparison), len(comparison.bikes)
    unpriced = tuple(one.unit for one in every if one.price is None)
    in_order = sorted(every, key=lambda one: (_price(one) if not unpriced else Decimal(0), one.cost or 0))
    best = next((one for one in in_order if one.fits == bikes), None)
    short = [one for one in in_order if one.fits < bikes and (best is None or unpriced or _price(one) < _price(best))]
    less = sorted(short, key=lambda one: (-one.fits, -one.not_known))
    return ToBuy(bikes, len(every), unpriced, best, tuple(less))


def _price(one: AcrossBikes) -> Decimal:
    return Decimal(one.price or 0)
