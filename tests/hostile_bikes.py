"""A small bike and unit that bear any names; made up."""

from collections.abc import Sequence

import yaml


def hostile_bike(names: Sequence[str]) -> tuple[str, str]:
    """Return the YAML texts of a bike and a unit whose things bear ``names``, sixteen different ones, in turn."""
    bike, front, middle, rear, unit, place, lamp, tail, horn, fan, button, stop, out, banked, read, box = names
    frame = {
        "legs": [
            {"between": [front, middle], "length": "600 mm", "opening": "30 mm", "moves": "true"},
            {"between": [middle, rear], "length": "400 mm"},
            {"name": bike, "between": [middle, rear], "length": "500 mm"},
        ],
        "earth": [rear],
        "connectors": [middle],
    }
    loads = [
        {"name": lamp, "at": front, "power": "35 W", "kind": "filament", "share": out, "when": ["night", bike]},
        {"name": tail, "at": rear, "power": "5 W", "kind": "led", "share": out, "when": ["night", bike]},
        {"name": horn, "at": front, "current": "3 A", "kind": "horn", "fed": "fuse", "own_switch": rear},
        {"name": fan, "at": middle, "current": "4 A", "kind": "motor", "fed": "relay"},
        {"name": f"{lamp} 2", "at": front, "power": "1 W", "kind": "led", "from": [lamp, f"{fan} 2"]},
        {"name": f"{fan} 2", "at": front, "power": "21 W", "kind": "filament"},
    ]
    inputs = [
        {"name": button, "at": front, "signal": "supply", "operates": [lamp, tail]},
        {"name": stop, "at": front, "signal": "earth", "normally": "closed", "tells": "engine stop"},
        {"name": f"{stop} 2", "at": rear, "signal": "earth", "operates": [fan]},
        {"name": f"{button} 2", "at": [front, rear], "signal": "sender", "tells": "key"},
    ]
    made = {
        "bike": bike,
        "supply": {"running": "14 V", "battery": {"capacity": "10 Ah", "at": rear}},
        "frame": frame,
        "places": [{"name": place, "front": middle, "rear": rear}],
        "loads": loads,
        "later": [],
        "inputs": inputs,
        "events": {bike: {"in": ["night"]}},
        "multiplexers": [{"name": box, "at": [front], "ways": "2", "takes": ["earth"]}],
    }
    outputs = [
        {"name": f"{out} {n}", "limit": "10 A", "peak": "90 A", "trip": ["5 A", "10 A"], "bank": banked}
        for n in range(4)
    ]
    accepts = ["earth", "supply", "pulse", "sender", "coded"]
    ports = [{"name": f"{read} {n}", "accepts": accepts} for n in range(5)]
    control = {"unit": unit, "feed": {"limit": "30 A"}, "banks": {banked: "20 A"}, "outputs": outputs, "inputs": ports}
    return _text(made), _text(control)


def _text(made: object) -> str:
    return yaml.safe_dump(made, sort_keys=False, width=1_000_000)
