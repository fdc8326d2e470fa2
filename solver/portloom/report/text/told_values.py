"""Any figure of a plan's JSON as people read it: its key says what it is and in which unit."""

from decimal import Decimal
from typing import Any

from portloom.base.figures import plain

WORDS = {
    "current_a": "steady", "inrush_a": "inrush", "trip_a": "trip", "drop_v": "drop", "drops_v": "drop",
    "drop_case": "drop is worst in", "drop_cases": "drop is worst in", "worst_a": "worst case draws",
    "worst_case": "worst case", "limit_a": "limit", "main_fuse_a": "main fuse", "fuse_a": "fuse",
    "wire_run_mm": "wire run", "spare_port_loss_mm": "spare-port loss", "cost_mm": "total",
    "copper_g": "copper", "bound_mm": "least possible",
    "unit_size": "size of the unit", "turned": "turned around", "proven": "proven best",
    "not_proved_twice": "not proved twice", "free_outputs": "outputs free", "free_inputs": "inputs free",
    "room_for": "room for", "port": "port", "no_room_for": "no room for", "starter_v": "at the starter motor",
    "must_carry_a": "must carry", "carries_a": "can carry", "leg": "weakest in", "loaded": "loaded wires",
    "ambient_c": "ambient", "reached_v": "reaches", "light": "brightness", "voltage_v": "available",
    "lowest_v": "needed", "most_v": "may lose", "diameter_mm": "loom", "opening_mm": "opening",
    "opens_to_mm": "opens to", "moves": "moves", "wires": "wires", "from": "from", "to": "to", "loads": "carries",
    "drawn_w": "drawn", "idle_w": "alternator at idle", "cruise_w": "alternator cruising", "drawn_ma": "drawn",
    "battery_ah_in_ten_minutes_at_idle": "battery gives in ten minutes at idle", "days": "half empty after (days)",
    "run_mm": "run", "cut_mm": "cut", "wire_mm2": "size", "legs": "legs", "by": "by", "own_wires": "wires of its own",
    "wires_without": "wires without it", "diameter_without_mm": "loom without it", "mode": "mode", "unit": "unit",
}  # fmt: skip
"""What keys are called; any other by its own words."""
WITHIN = {
    ("feed", "drop_v"): "drop in feed and main fuse", ("feed", "drop_case"): "that drop is worst in",
    ("feed", "limit_a"): "limit of the unit", ("cases", "current_a"): "draws", ("feed", "feed"): "feed",
}  # fmt: skip
"""What keys are called in some parts."""
UNITS = {"a": "A", "v": "V", "mm2": "mm2", "mm": "mm", "g": "g", "w": "W", "ma": "mA", "c": "C"}
"""Units, by the end of a key."""
IN_METRES = ("run_mm", "cut_mm", "cost_mm", "bound_mm", "loss_mm")
NOTHING = "-"


def word_of(key: str, part: str = "") -> str:
    """Return what a key is called in a part of the plan's document."""
    if (part, key) in WITHIN or key in WORDS:
        return WITHIN.get((part, key)) or WORDS[key]
    words, _, unit = key.rpartition("_")
    return (words if words and unit in UNITS else key).replace("_", " ")


def value_of(key: str, value: Any) -> str:
    """Return a value in the unit that its key names, exact."""
    match value:
        case None | [] | ():
            return NOTHING
        case bool():
            return "yes" if value else "no"
        case Decimal():
            return _figure(key, value)
        case dict():
            told = [f"{word_of(at)} {value_of(at, held)}" for at, held in value.items() if held is not None]
        case list() | tuple():
            told = [value_of(key, held) for held in value]
            return ("; " if any(isinstance(held, dict) for held in value) else ", ").join(told)
        case _:
            told = [str(value)]
    return "; ".join(told)


def _figure(key: str, number: Decimal) -> str:
    if key.endswith(IN_METRES):
        return _metres(number)
    if key == "light":
        return f"{plain(number * 100)} %"
    if key == "battery_ah_in_ten_minutes_at_idle":
        return f"{plain(number)} Ah"
    unit = UNITS.get(key.rpartition("_")[2])
    return f"{plain(number)} {unit}" if unit else plain(number)


def _metres(length: Decimal) -> str:
    """Write millimetres in metres, to the millimetre or what is told beyond it."""
    whole, _, decimals = plain(length.scaleb(-3)).partition(".")
    return f"{whole}.{decimals:0<3} m"
