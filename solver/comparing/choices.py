"""What a bike is tried on: a single unit, or two in place of one."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import combinations_with_replacement

from solver.words.unit import Unit

Choice = tuple[int, ...]
"""The number, from 0, of a unit; or the numbers of two in place of one, the same twice where both are alike."""


def singles(units: int) -> tuple[Choice, ...]:
    """Return each of so many units by itself."""
    return tuple((number,) for number in range(units))


def twos(numbers: Iterable[int]) -> tuple[Choice, ...]:
    """Return every pair of units, twice the same too, in their order."""
    return tuple(combinations_with_replacement(numbers, 2))


def joined(names: Iterable[str]) -> str:
    """Return one name for one unit or two."""
    return " + ".join(names)


def names_of(units: Sequence[Unit], choices: Iterable[Choice]) -> tuple[str, ...]:
    """Return the name of each choice; raise ValueError where two have the same."""
    names = tuple(joined(units[number].unit for number in choice) for choice in choices)
    again = next((name for name in names if names.count(name) > 1), None)
    if again is not None:
        raise ValueError(f"one unit is called '{again}' and two units together are, too")
    return names


def price_of(units: Sequence[Unit]) -> str | None:
    """Return the sum of the prices, None where one has none."""
    prices = [unit.price for unit in units if unit.price is not None]
    if len(prices) < len(units):
        return None
    return prices[0] if len(prices) == 1 else f"{sum(map(Decimal, prices)):f}"
