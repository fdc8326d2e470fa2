"""The same figures in other words: metres for millimetres, milliamperes for amperes, watts for amperes where equal."""

import random
import re
from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import Any

from .change import Changed, Entry, NotSaid, Plan, same_but, same_in

QUANTITY = re.compile(r"(\d+(?:\.\d+)?) (mm|m|A|mA|V|W)")
IN_OTHERS = {"mm": ("m", Decimal("0.001")), "m": ("mm", Decimal(1000)), "A": ("mA", Decimal(1000)),
             "mA": ("A", Decimal("0.001"))}  # fmt: skip
RUNNING = Decimal(14)
"""Volts, in every random bike."""


def other_units(_: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Write every length and every current in another unit: nothing changes."""
    return Changed(_each_text(bike, _in_another), _each_text(unit, _in_another), same_but("assumed"))


def _in_another(text: str) -> str:
    found = QUANTITY.fullmatch(text)
    if not found or found[2] not in IN_OTHERS:
        return text
    unit, times = IN_OTHERS[found[2]]
    return f"{(Decimal(found[1]) * times).normalize():f} {unit}"


def _each_text(entry: Any, change: Callable[[str], str]) -> Any:
    if isinstance(entry, dict):
        return {key: _each_text(value, change) for key, value in entry.items()}
    if isinstance(entry, list):
        return [_each_text(one, change) for one in entry]
    return change(entry) if isinstance(entry, str) else entry


def watts_for_amperes(_: random.Random, bike: Entry, unit: Entry) -> Changed:
    """Write what a load draws as its power at the running voltage where it was its current, and the other way round."""
    if Decimal(bike["supply"]["running"].split()[0]) != RUNNING:
        raise NotSaid
    changed = [load for load in (*bike["loads"], *bike.get("later", ())) if _swapped(load)]
    if not changed:
        raise NotSaid

    def wrong(before: Plan, after: Plan) -> Iterator[str]:
        yield from same_but("assumed", "warnings")(before, after)
        yield from same_in(("warnings",), _unguessed(before), _unguessed(after))

    return Changed(bike, unit, wrong)


def _unguessed(plan: Plan) -> Plan:
    """Return the warnings of a plan but for those that ask whether so many watts are those of a lamp."""
    return {"warnings": [said for said in plan["warnings"] if " is a nominal power of " not in said]}


def _swapped(load: Entry) -> bool:
    """Say what a load draws by the other word, where the figure stands: facts are told in the order of the file."""
    other = _other_word(load) if "kind" in load else None
    if other is None:
        return False
    said = {key: value for key, value in load.items() if key not in ("power", "current")}
    place = next(number for number, key in enumerate(load) if key in ("power", "current"))
    entries = list(said.items())
    load.clear()
    load.update([*entries[:place], other, *entries[place:]])
    return True


def _other_word(load: Entry) -> tuple[str, str] | None:
    if "power" in load:
        amperes = Decimal(load["power"].split()[0]) / RUNNING
        whole = amperes * 1000 == int(amperes * 1000)
        return ("current", f"{amperes.normalize():f} A") if whole else None
    if "current" in load:
        number, unit = load["current"].split()
        watts = Decimal(number) * {"A": Decimal(1), "mA": Decimal("0.001")}[unit] * RUNNING
        return "power", f"{watts.normalize():f} W"
    return None
