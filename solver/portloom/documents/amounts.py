"""Amounts and lists that stand in every JSON document."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from portloom.job.goal import Cost

Json = dict[str, Any]


def number(amount: Decimal) -> int | float:
    """Return a decimal as JSON writes it: its shortest text reads back to the same decimal."""
    return int(amount) if amount == amount.to_integral_value() else float(amount)


def thousandth(amount: int) -> int | float:
    """Return a whole number of small units in units a thousand times as large."""
    return number(Decimal(amount) / 1000)


def cost_json(costs: Cost) -> Json:
    """Return what a plan costs: the whole, then its parts."""
    return {"cost_mm": thousandth(costs.total), **cost_parts_json(costs)}


def cost_parts_json(costs: Cost) -> Json:
    """Return the parts of what a plan costs; what legs in use are worth only where they are worth anything."""
    legs = {"legs_in_use_mm": thousandth(costs.legs_in_use)} if costs.legs_in_use else {}
    parts = {"wire_run_mm": thousandth(costs.wire_run), "spare_port_loss_mm": thousandth(costs.spare_port_loss)}
    return {**parts, **legs}


def set_aside_json(rules: Iterable[tuple[str, str]]) -> list[Json]:
    """Return the rules that a bike's file sets aside, with the reasons."""
    return [{"rule": rule, "reason": reason} for rule, reason in rules]
