"""Amounts and lists that stand in every JSON document."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

Json = dict[str, Any]


def number(amount: Decimal) -> int | float:
    """Return a decimal as JSON writes it: its shortest text reads back to the same decimal."""
    return int(amount) if amount == amount.to_integral_value() else float(amount)


def thousandth(amount: int) -> int | float:
    """Return a whole number of small units in units a thousand times as large."""
    return number(Decimal(amount) / 1000)


def set_aside_json(rules: Iterable[tuple[str, str]]) -> list[Json]:
    """Return the rules that a bike's file sets aside, with the reasons."""
    return [{"rule": rule, "reason": reason} for rule, reason in rules]
