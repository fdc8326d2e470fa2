"""What a file leaves to the parts of its loads and switches, written in: each key that is not there."""

from collections.abc import Sequence
from typing import Any

from .parts import (
    DIPPED_OF_TWO,
    FALLS_AWAY,
    FULL_BEAM,
    LOADS,
    LOOSE,
    PULSE_RATE,
    PULSES,
    PUSHED_ON_AND_OFF,
    SIDES,
    SWITCHES,
    TOLD_BY,
    UNNAMED,
    SwitchPart,
)

Item = dict[str, Any]
USUAL_LATER: tuple[tuple[str, Item], ...] = (
    ("heated grips", {"name": "heated grips", "power": "36 W", "kind": "heater", "mode": "dim"}),
    ("spot lamp", {"name": "auxiliary lamps", "power": "20 W", "kind": "led"}),
    ("socket", {"name": "charging socket", "current": "5 A"}),
)


def filled(data: Item) -> Item:
    """Take a bike as written, every scalar a text; give it with what its parts bring."""
    loads = [_named(item) for item in data["loads"] if item.get("part") not in FALLS_AWAY]
    switches = [_switch(item, loads) for item in _read_apart(data.get("inputs", []))]
    parts, names = {item["part"] for item in loads}, {item["name"] for item in loads}
    usual = [item for part, item in USUAL_LATER if part not in parts and item["name"] not in names]
    later = [filled_load(_named(item), data, [], []) for item in data.get("later", usual)]
    whole = [filled_load(item, data, loads, switches) for item in loads]
    return {**data, "loads": whole, "inputs": switches, "later": later}


def _named(item: Item) -> Item:
    """Return a load with its name and the part that it is: an ignition is a coil or a box."""
    part = item.get("part", "")
    known = part
    if part == "ignition":
        known = "ignition coil" if item.get("kind") == "ignition coil" else "ignition box"
    return {"name": known, **item, "part": known}


def sets_alike(written: Sequence[Sequence[str]], items: Sequence[Item]) -> tuple[tuple[str, ...], ...]:
    """Take the sets of a file and its loads with what their parts bring; give the names of the loads of each set."""
    return tuple(
        tuple(dict.fromkeys(name for word in words for name in _loads_named(word, items))) for words in written
    )


def _loads_named(word: str, items: Sequence[Item]) -> list[str]:
    """A word is a group's name first, else a load's."""
    return [item["name"] for item in items if item.get("share") == word] or [word]


def filled_load(item: Item, data: Item, loads: Sequence[Item], switches: Sequence[Item]) -> Item:
    """Return a named load with what its part brings; `data` is its bike's file, of which only words are read."""
    part = LOADS.get(item["part"], LOOSE)
    brought: Item = {"kind": _kind(item, part.kind), "when": list(part.when), "share": part.group}
    brought["mode"] = _mode(item, data, [one for one in switches if item["name"] in words_of(one, "operates")])
    if item["part"] == "dipped beam" and _is_one_of_two(item, loads):
        brought["except"] = list(FULL_BEAM)
    if item["part"].endswith("tell-tale"):
        brought["from"] = _lit_with(item["part"], loads)
    if "pull_in" in item:
        brought |= {"inrush": item["pull_in"], "inrush_for": "200 ms"}
    made = brought | item
    return made | {"share": ""} if made["share"] == "none" else made


def words_of(item: Item, key: str) -> list[str]:
    """Return the words of a key, one or a list or none."""
    said = item.get(key, [])
    return [said] if isinstance(said, str) else list(said)


def _kind(item: Item, of_part: str) -> str:
    return "filament" if "lamp" in item else of_part or "electronics"


def _mode(item: Item, data: Item, workers: Sequence[Item]) -> str:
    """Return the mode of a load that says none: a beam's goes by the switches that work it."""
    part = item["part"]
    if part == "fuel pump" and data.get("pump_by") == "controller":
        return "hold"
    if part not in PUSHED_ON_AND_OFF:
        return LOADS.get(part, LOOSE).mode
    flashing = [one for one in workers if one["part"] == "flash button"]
    pushed = [one for one in workers if one["action"] == "push" and one not in flashing]
    if pushed and not any(one["action"] == "latch" for one in workers):
        return "toggle"
    only_flashed = part in ("main beam", "spot lamp") and flashing and len(flashing) == len(workers)
    return "hold" if only_flashed else "steady"


def _is_one_of_two(item: Item, loads: Sequence[Item]) -> bool:
    bulbs = [other["bulb"] for other in loads if other["part"] == "main beam" and "bulb" in other]
    return item.get("lamp") in DIPPED_OF_TWO or item.get("bulb") in bulbs


def _lit_with(part: str, loads: Sequence[Item]) -> list[str]:
    """Return the first load of each part that a tell-tale is lit with."""
    watched = ("main beam",) if part == "main beam tell-tale" else ("left indicator", "right indicator")
    firsts = [next((load["name"] for load in loads if load["part"] == one), None) for one in watched]
    return [name for name in firsts if name is not None]


def _read_apart(items: Sequence[Item]) -> list[Item]:
    """Return what the unit could read: an indicator switch as two, no sensor that goes to the controller."""
    found = []
    for item in items:
        if item.get("part") == "indicator switch":
            name = item.get("name", "indicator switch")
            latch = {**item, "action": "latch"}
            found += [latch | {"name": f"{name} {side}", "part": part} for side, part in SIDES.items()]
        elif item.get("goes_to") != "controller":
            found.append(item)
    return found


def _switch(item: Item, loads: Sequence[Item]) -> Item:
    name = item.get("part") or _part_by_job(item, loads)
    part = SWITCHES.get(name, UNNAMED)
    brought: Item = {"name": name, "signal": part.signal, "action": part.action, "normally": _rest(item, part)}
    brought["tells"] = [part.tells] if part.tells else []
    brought["operates"] = [load["name"] for load in loads if load["part"] in part.works]
    told = words_of(item, "tells")
    brought["return"] = "frame" if part.framed and not told[1:] else "wire"  # with a clutch's in line: a wire
    if item.get("from") in PULSES:
        brought |= {"level": PULSES[item["from"]], "rate": PULSE_RATE}
    if "part" not in item:  # what it tells and works is written
        brought |= {"tells": [], "operates": []}
    return brought | item | {"part": name}


def _part_by_job(item: Item, loads: Sequence[Item]) -> str:
    """Return the part that a switch is by the one thing that it tells, or because it works the starter."""
    told = words_of(item, "tells")
    if len(told) == 1:
        return TOLD_BY.get(told[0], "")
    solenoids = {load["name"] for load in loads if load["part"] == "starter solenoid"}
    return "starter button" if solenoids & set(words_of(item, "operates")) else ""


def _rest(item: Item, part: SwitchPart) -> str:
    """Return how a contact is at rest, by what it is made in."""
    return "closed" if part.rest and item.get("made") == part.rest else "open"
