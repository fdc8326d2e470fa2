"""Decimal commas inside braces and brackets, where YAML takes the comma for the end of an entry."""

import re
from collections.abc import Sequence

from solver.reading.tree import Broken, Node, Word

WHOLE = re.compile(r"[+-]?[0-9]+")
REST = re.compile(r"[0-9]+(?P<unit>\s*[^\d\s].*)?")
UNIT = re.compile(r"(m|c)?m|mm2|mm²|m?A|m?V|k?W|mW|m?Ah|mohm|ohm|mΩ|Ω|°?C|k?Hz|ms|s|min|h|%|x")

Pair = tuple[Node, Node]


def rejoin(pairs: Sequence[Pair]) -> list[Pair]:
    """Put ``length: 0`` and the empty key ``35 m`` together again, as one broken value."""
    kept: list[Pair] = []
    for key, value in pairs:
        whole = kept[-1][1] if kept else None
        if isinstance(whole, Word) and isinstance(key, Word) and _cut(whole, key) and _is_empty(value):
            kept[-1] = (kept[-1][0], _told(whole, key))
        else:
            kept.append((key, value))
    return kept


def rejoin_list(items: Sequence[Node]) -> list[Node]:
    """Put ``7,5 A`` in a list together again: a bare number, no space, then digits with a unit."""
    kept: list[Node] = []
    for item in items:
        whole = kept[-1] if kept else None
        if isinstance(whole, Word) and isinstance(item, Word) and _is_one_quantity(whole, item):
            kept[-1] = _told(whole, item)
        else:
            kept.append(item)
    return kept


def _is_one_quantity(whole: Word, rest: Word) -> bool:
    touch = whole.line == rest.line and whole.column + len(whole.text) + 1 == rest.column
    return touch and _cut(whole, rest) and bool(UNIT.fullmatch(_unit(rest)))


def _cut(whole: Word, rest: Word) -> bool:
    plain = whole.plain and rest.plain
    return plain and bool(WHOLE.fullmatch(whole.text) and REST.fullmatch(rest.text))


def _is_empty(value: Node) -> bool:
    return isinstance(value, Broken) and value.empty


def _unit(rest: Word) -> str:
    found = REST.fullmatch(rest.text)
    return (found["unit"] or "").strip() if found else ""


def _told(whole: Word, rest: Word) -> Broken:
    unit = "" if _unit(rest) else " with its unit"
    comma, point = f"{whole.text},{rest.text}", f"{whole.text}.{rest.text}"
    return Broken(whole.line, whole.column, f"decimal comma in '{comma}'", f"write {point}{unit}")
