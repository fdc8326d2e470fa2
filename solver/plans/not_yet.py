"""Keys of the files that are read and kept, and not judged yet; a plan says so for each that is written."""

from collections.abc import Iterator

from pydantic import BaseModel

from solver.words.bike import (
    Alongside,
    Battery,
    Bike,
    LaterLoad,
    Leg,
    Load,
    Reel,
    Supply,
    Switch,
)
from solver.words.unit import Feed, Output, Unit

Table = dict[type[BaseModel], dict[str, str]]

_LOAD = {
    "lowest": "lowest voltage while cranking",
    "dim_to": "dimming level in the energy sums",
    "run_on": "run-on with the key off",
    "suppressed": "inductive loads on outputs that do not take them bare",
    "colour": "wire colours",
}
NOT_YET: Table = {
    Supply: {
        "resting": "voltage at rest",
        "cranking": "voltages while cranking",
        "charging": "charging against the cases, and the regulator's own fuse",
    },
    Battery: {"capacity": "battery days"},
    Leg: {
        "ambient": "ampacity in a hot leg (its drop is judged)",
        "moves": "looms in legs that move",
        "opens_to": "opening a leg up",
    },
    Load: _LOAD,
    LaterLoad: _LOAD,
    Switch: {"action": "push or latch", "colour": "wire colours"},
    Alongside: {"current": "heating of looms by wires alongside", "when": "heating of looms by wires alongside"},
    Reel: {"colours": "wire colours"},
    Bike: {
        "stand": "start and run conditions",
        "clutch": "start conditions",
        "brakes": "both brake switches",
        "multiplexers": "multiplexers",
    },
    Feed: {
        "standby": "battery days",
        "awake": "battery days",
        "lowest": "lowest voltage while cranking",
    },
    Output: {
        "inductive": "inductive loads",
        "key_off": "loads that are on with the key off",
        "flash_rate": "flash rate",
    },
    Unit: {"price": "prices", "size": "the unit's size", "flash_rate": "flash rate"},
}
_TOLD_LATER = "what switches tell the unit, but for 'engine turning': start, run and safety conditions"


def not_yet_judged(bike: Bike, unit: Unit) -> tuple[str, ...]:
    """Give a line for each key that the files write and no rule judges yet."""
    lines: dict[str, str] = {}
    for file, root in (("bike", bike), ("unit", unit)):
        for key, meaning in _written(root):
            lines.setdefault(f"{file} {key}", f"{key} ({file} file): {meaning}")
    if any(set(switch.tells) - {"engine turning"} for switch in bike.inputs):
        lines["tells"] = f"tells (bike file): {_TOLD_LATER}"
    return tuple(lines.values())


def _written(entry: BaseModel) -> Iterator[tuple[str, str]]:
    """Give the keys written in an entry and below it that wait for their rule, in the order of the schema."""
    table = NOT_YET.get(type(entry), {})
    for key in type(entry).model_fields:
        if key in entry.model_fields_set and key in table:
            yield key, table[key]
        yield from _below(getattr(entry, key))


def _below(value: object) -> Iterator[tuple[str, str]]:
    if isinstance(value, BaseModel):
        yield from _written(value)
    elif isinstance(value, tuple):
        for item in value:
            yield from _below(item)
