"""Quantities in the tree, for checks that weigh one against another."""

from typing import get_args

from solver.reading.tree import Keyed, Listed, Node, Word
from solver.words.quantities import Current, Duration, Length, Measure, Multiple, Share, Temperature, Voltage
from solver.words.sizes import WireSize, parse_size


def _measure(quantity: object) -> Measure:
    return next(part for part in get_args(quantity) if isinstance(part, Measure))


CURRENT = _measure(Current)
LENGTH = _measure(Length)
MULTIPLE = _measure(Multiple)
SHARE = _measure(Share)
TEMPERATURE = _measure(Temperature)
TIME = _measure(Duration)
VOLTAGE = _measure(Voltage)


def amount(node: Node | None, measure: Measure) -> int | None:
    """Return what ``node`` says in the small units of ``measure``, or None if it can't be read."""
    if not isinstance(node, Word):
        return None
    try:
        return measure.parse(node.text)
    except ValueError:
        return None


def amount_of(entry: Keyed, key: str, measure: Measure) -> int | None:
    """Return what ``key`` of ``entry`` says, or None if it is absent or can't be read."""
    return amount(entry.values.get(key), measure)


def several(entry: Keyed, key: str) -> list[Node]:
    """Return what stands in the list under ``key``, or the one thing that stands for a list."""
    value = entry.values.get(key)
    if isinstance(value, Listed):
        return list(value.items)
    return [] if value is None else [value]


def size_of(node: Node | None) -> WireSize | None:
    """Return the wire size that ``node`` says, or None if it can't be read."""
    if not isinstance(node, Word):
        return None
    try:
        return parse_size(node.text)
    except ValueError:
        return None
