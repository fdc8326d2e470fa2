"""What a change of the files is, and what must be true of the two plans."""

import random
from collections.abc import Callable, Iterator
from copy import deepcopy
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

Entry = dict[str, Any]
"""A mapping of a file, or of what ``plan --json`` prints."""
Plan = dict[str, Any]


class NotSaid(Exception):
    """A bike has nothing of which a change could be made."""


@dataclass(frozen=True)
class Changed:
    """A bike and a unit said in another way; ``wrong`` tells what may not be so of the plans before and after."""

    bike: Entry
    unit: Entry
    wrong: Callable[[Plan, Plan], Iterator[str]]


Change = Callable[[random.Random, Entry, Entry], Changed]
"""Takes files of its own to change; raises NotSaid."""

COSTS = ("cost_mm", "wire_run_mm", "spare_port_loss_mm")


def same_cost(before: Plan, after: Plan) -> Iterator[str]:
    """Tell where one has a plan and the other has none, or where they cost something else."""
    yield from same_in(("status", *COSTS), before, after)


def same_in(keys: tuple[str, ...], before: Plan, after: Plan) -> Iterator[str]:
    """Tell what differs in some parts of two plans."""
    for key in keys:
        if before.get(key) != after.get(key):
            yield f"{key}: {_short(before.get(key), after.get(key))}"


def same_but(*keys: str) -> Callable[[Plan, Plan], Iterator[str]]:
    """Return what tells all that differs in two plans, some parts left out."""

    def wrong(before: Plan, after: Plan) -> Iterator[str]:
        every = tuple(key for key in dict.fromkeys([*before, *after]) if key not in keys)
        yield from same_in(every, before, after)

    return wrong


def without(entries: object, *keys: str) -> object:
    """Return part of a plan in which mappings lack some keys, at whatever depth."""
    if isinstance(entries, dict):
        return {key: without(value, *keys) for key, value in entries.items() if key not in keys}
    return [without(one, *keys) for one in entries] if isinstance(entries, list) else entries


def millimetres(text: str) -> Decimal:
    """Return a length as the random bikes write it."""
    number, unit = text.split()
    return Decimal(number) * {"mm": 1, "m": 1000}[unit]


def _short(before: object, after: object) -> str:
    """Say where two parts of plans differ first."""
    if isinstance(before, list) and isinstance(after, list) and len(before) == len(after):
        return next(
            f"number {n}: {_short(one, other)}"
            for n, (one, other) in enumerate(zip(before, after, strict=True))
            if one != other
        )
    if isinstance(before, dict) and isinstance(after, dict):
        keys = [key for key in dict.fromkeys([*before, *after]) if before.get(key) != after.get(key)]
        return "; ".join(f"{key}: {_short(before.get(key), after.get(key))}" for key in keys)
    return f"{before!r} became {after!r}"


def copies(bike: Entry, unit: Entry) -> tuple[Entry, Entry]:
    """Return files that a change may write to."""
    return deepcopy(bike), deepcopy(unit)
