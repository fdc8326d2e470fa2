"""Loads put into a large bike so that nothing fits any more, each time for one reason that is known. Invented.

Each takes the files of a bike and a unit that have a plan together, and gives them spoilt.
"""

import random
from collections.abc import Callable, Iterable

from .big_units import Entry

Files = tuple[Entry, Entry]
ADDED = "added"
OWN = "pulse"
"""A mode that no load and no output of the large bikes has."""
DAYTIME: Entry = {"when": ["day", "night"], "kind": "heater"}
STRONG: Entry = {"limit": "15 A", "trip": ["5 A", "10 A", "15 A"], "peak": "90 A", "peak_for": "300 ms"}


def crowd(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in three loads of a mode more than there are outputs that have it."""
    mode = dice.choice(("toggle", "timed", "hold", "flash"))
    count = 3 + sum(mode in output["switch_modes"] for output in unit["outputs"])
    return _with(bike, [_load(dice, bike, n, f"{dice.randint(10, 60) * 10} mA", mode=mode) for n in range(count)]), unit


def bank(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in three loads whose mode only the outputs of one bank have; together they are too much for it."""
    each = dice.randint(12, 20) * 100
    limits = unit["banks"] | {"D": f"{5 * each // 2} mA"}
    loads = [_load(dice, bike, number, f"{each} mA", mode=OWN) for number in range(3)]
    return _with(bike, loads), _with_outputs(unit, 4, bank="D") | {"banks": limits}


def opening(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in three loads at the end of a leg through which the wires of two pass."""
    leg = {"between": [_point(dice, bike), "mast"], "length": "700 mm", "opening": "4.7 mm"}
    loads = [_load(dice, bike, number, "500 mA", at="mast") for number in range(3)]
    return _with(bike, loads, leg), unit


def drop(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in a dimmed load so far off that no wire that the dimming outputs take keeps its drop."""
    leg = {"between": [_point(dice, bike), "trailer"], "length": f"{dice.randint(40, 50)} m"}
    return _with(bike, [_load(dice, bike, 1, "4 A", at="trailer", mode="dim")], leg), unit


def untold(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in a load that runs with the engine, and take away what tells that it turns."""
    engine = [load | ({"mode": "steady"} if load["mode"] == "engine-run" else {}) for load in bike["loads"]]
    switches = [switch for switch in bike["inputs"] if "tells" not in switch]
    silent = bike | {"loads": engine, "inputs": switches}
    return _with(silent, [_load(dice, bike, 1, "1 A", mode="engine-run")]), unit


def terminal(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in a load whose mode only outputs have that take no wire which their trip protects."""
    front = _with_outputs(unit, 2, wire_max="0.5 mm2")
    return _with(bike, [_load(dice, bike, 1, "9 A", mode=OWN)]), _with_outputs(
        front, 1, wire_max="0.5 mm2", face="rear"
    )


def follow(dice: random.Random, bike: Entry, unit: Entry) -> Files:
    """Put in a load whose mode only an output has that follows an input which its own switch can't be on."""
    load = _load(dice, bike, 1, "1 A", mode=OWN)
    switch = {"name": "added switch", "at": load["at"], "signal": "supply", "operates": [load["name"]]}
    worked = bike | {"inputs": [*bike["inputs"], switch]}
    return _with(worked, [load]), _with_outputs(unit, 1, follow="in 2")


Cause = Callable[[random.Random, Entry, Entry], Files]
NO_CROWDS: tuple[Cause, ...] = (bank, opening, drop, untold, terminal, follow)


def mended(bike: Entry, conflict: Iterable[tuple[str, ...]]) -> Entry:
    """Return a bike without the loads of a conflict and without any that was put in."""
    gone = {key[1] for key in conflict if key[0] == "load"}
    kept = [load for load in bike["loads"] if load["name"] not in gone and not load["name"].startswith(ADDED)]
    names = {load["name"] for load in kept}
    operating = [
        switch | ({"operates": [n for n in switch["operates"] if n in names]} if "operates" in switch else {})
        for switch in bike["inputs"]
    ]
    return bike | {"loads": kept, "inputs": operating}


def _load(dice: random.Random, bike: Entry, number: int, current: str, **figures: str) -> Entry:
    return {
        "name": f"{ADDED} {number}",
        "at": _point(dice, bike),
        "current": current,
        "mode": "steady",
        **DAYTIME,
        **figures,
    }


def _point(dice: random.Random, bike: Entry) -> str:
    point: str = dice.choice(bike["frame"]["legs"])["between"][0]
    return point


def _with(bike: Entry, loads: Iterable[Entry], *legs: Entry) -> Entry:
    frame = bike["frame"] | {"legs": [*bike["frame"]["legs"], *legs]}
    return bike | {"frame": frame, "loads": [*bike["loads"], *loads]}


def _with_outputs(unit: Entry, count: int, **figures: str) -> Entry:
    """Return a unit with further outputs in a mode of their own."""
    own = STRONG | {"switch_modes": [OWN], "inductive": True, **figures}
    first = len(unit["outputs"]) + 1
    return unit | {"outputs": [*unit["outputs"], *({"name": f"out {n}", **own} for n in range(first, first + count))]}
