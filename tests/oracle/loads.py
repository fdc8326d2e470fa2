"""One load of a file: its current, inrush and words.

Source: inrush factors common practice; lamps UN R37 objective values (H1, H4, H17 and
PY21/5W published sheets, the rest from memory).
"""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from .catalogue import Stock
from .quantities import ceiling, quantity
from .things import Load

# Greatest watts at the test voltage.
LAMPS: dict[str, tuple[str, str]] = {
    "H1": ("68", "13.2"),
    "H3": ("68", "13.2"),
    "H7": ("58", "13.2"),
    "H8": ("43", "13.2"),
    "H11": ("62", "13.2"),
    "H4 main": ("75", "13.2"),
    "H4 dipped": ("68", "13.2"),
    "HS1 main": ("36.75", "13.2"),
    "HS1 dipped": ("36.75", "13.2"),
    "H17 main": ("37", "13.2"),
    "H17 dipped": ("37", "13.2"),
    "P21W": ("26.5", "13.5"),
    "PY21W": ("26.5", "13.5"),
    "P21/5W brake": ("26.5", "13.5"),
    "P21/5W tail": ("6.6", "13.5"),
    "R10W": ("11", "13.5"),
    "R5W": ("5.5", "13.5"),
    "W5W": ("5.5", "13.5"),
    "WY5W": ("5.5", "13.5"),
    "C5W": ("5.5", "13.5"),
    "T4W": ("4.4", "13.5"),
    "W3W": ("3.45", "13.5"),
}
# Multiple of the steady current, ms.
INRUSH: dict[str, tuple[str, int]] = {
    "filament": ("10", 50),
    "led": ("3", 1),
    "electronics": ("3", 1),
    "motor": ("4", 200),
    "fan": ("6", 500),
    "horn": ("2", 50),
    "ignition coil": ("2.5", 50),
    "heater": ("1.2", 50),
    "relay coil": ("1", 50),
    "discharge": ("4", 5000),
}
USUAL_STATES = ("key on", "day", "night")


def words(value: str | list[str] | None) -> frozenset[str]:
    """Take a word, a list of words or nothing; give them as a set."""
    if value is None:
        return frozenset()
    return frozenset([value] if isinstance(value, str) else value)


def read_load(
    item: dict[str, Any], running_mv: Fraction, home: str, stock: Stock, items: Sequence[dict[str, Any]] = ()
) -> Load:
    """Take a load with what its part brings, where one is that names no point, what wire is used, and all loads."""
    current = _current(item, running_mv)
    inrush, lasting = _inrush(item, current)
    return Load(
        name=item["name"],
        at=item.get("at", home),
        current_ma=current,
        current_at_mv=Fraction(LAMPS[item["lamp"]][1]) * 1000 if "lamp" in item else running_mv,
        inrush_ma=inrush,
        inrush_ms=lasting,
        kind=item["kind"],
        part=item["part"],
        counts_as=item["part"],
        modes=words(item["mode"]),
        when=words(item["when"]),
        barred=words(item.get("except")),
        share=item["share"],
        back=back_of(item, home, items),
        feeders=words(item.get("from")),
        fed=item.get("fed", "unit"),
        dims=item.get("dims", "false") == "true",
        leads=stock.wire(item["leads"]) if "leads" in item else None,
        avoid=words(item.get("avoid")),
        lowest_mv=quantity(item["lowest"], "voltage") if "lowest" in item else None,
        suppressed=item.get("suppressed") == "true",
        runs_on="run_on" in item,
        pin=pin_of(item, items),
        own_switch=item.get("own_switch", ""),
        held=words(item.get("on")),
        shunned=words(item.get("not_on")),
    )


def back_of(item: dict[str, Any], home: str, items: Sequence[dict[str, Any]]) -> str:
    """Return the point from which a wire leads a load's current back, nothing where it goes back by the frame.

    A coil is never earthed itself: what switches it, the first of that part, takes its current back; points have
    the engine's strap (common practice, no source).
    """
    if "switched_by" in item:
        by = next((one for one in items if one.get("part") == item["switched_by"]), None)
        return back_of(by, home, ()) if by else ""
    return str(item.get("at", home)) if item.get("return", "wire") == "wire" else ""


def pin_of(item: dict[str, Any], items: Sequence[dict[str, Any]]) -> str:
    """Return the name of the load by whose return pin a load's current comes back: mostly its own.

    A coil's comes back by what switches it, that of a bulb's second filament by the first.
    """
    if "switched_by" in item:
        by = next((one for one in items if one.get("part") == item["switched_by"]), item)
        return str(by["name"])
    return str(next((one["name"] for one in items if one["name"] in _filaments(item, items)), item["name"]))


def _filaments(item: dict[str, Any], items: Sequence[dict[str, Any]]) -> list[str]:
    """Return the names of the loads in one bulb with a load: by its name, or two words of one base, in order."""
    if "bulb" in item:
        return [one["name"] for one in items if one.get("bulb") == item["bulb"]]
    if " " not in item.get("lamp", ""):
        return []
    base, word = item["lamp"].split(" ")
    here = [one for one in items if one.get("at") == item.get("at") and "bulb" not in one and "lamp" in one]
    words: dict[str, list[str]] = {}
    for one in here:
        if one["lamp"].startswith(f"{base} "):
            words.setdefault(one["lamp"].split(" ")[1], []).append(one["name"])
    number = words.get(word, []).index(item["name"]) if item["name"] in words.get(word, []) else 0
    return [names[number] for names in words.values() if number < len(names)]


def _current(item: dict[str, Any], running_mv: Fraction) -> int:
    if "current" in item:
        return ceiling(quantity(item["current"], "current"))
    if "lamp" in item:
        watts, volts = LAMPS[item["lamp"]]
        return ceiling(Fraction(watts) / Fraction(volts) * 1000)
    return ceiling(quantity(item["power"], "power") * 10**6 / running_mv)


def _inrush(item: dict[str, Any], current: int) -> tuple[Fraction, Fraction]:
    kind = item["kind"]
    factor, lasting = INRUSH["fan" if item["part"] == "fan" and kind == "motor" else kind]
    height = quantity(item["inrush"], "current") if "inrush" in item else current * Fraction(factor)
    time = quantity(item["inrush_for"], "time") if "inrush_for" in item else Fraction(lasting)
    return height, time


def coil_of(load: Load, battery: str, running_mv: Fraction) -> Load:
    """Return the relay coil that a load fed by a relay puts on the unit; rules take it for that load."""
    return Load(
        name=f"{load.name} relay",
        at=battery,
        current_ma=150,
        current_at_mv=running_mv,
        inrush_ma=Fraction(150),
        inrush_ms=Fraction(50),
        kind="relay coil",
        part="",
        counts_as=load.part,
        modes=load.modes,
        when=load.when,
        barred=load.barred,
        share="",
        back=battery,
        feeders=frozenset(),
        fed="unit",
        dims=False,
        leads=None,
        avoid=frozenset(),
        lowest_mv=None,
        suppressed=False,
        runs_on=False,
        pin=f"{load.name} relay",
        held=load.held,
        shunned=load.shunned,
    )
