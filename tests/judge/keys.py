"""Keys of files that bear on no rule, but on what is told: random ones put into a random bike and its unit."""

import random
from typing import Any

import yaml

Item = dict[str, Any]
ASSUMED = {
    "flash duty": ("40 %", "65 %"),
    "braking duty": ("5 %", "22 %"),
    "indicating duty": ("3 %", "12.5 %"),
    "fan duty": ("15 %", "70 %"),
    "self-discharge": ("0.1 %", "0.6 %"),
    "multiplexer standby": ("0.2 mA", "1.3 mA"),
    "shortest piece": ("100 mm", "210 mm"),
    "supply switch fuse": ("2 A", "5 A"),
    "splice wires": ("3", "4", "6"),
    "splice area": ("4 mm2", "9 mm2"),
}
MARGIN = ("ends", "unit_plug", "device", "splice", "connector", "battery", "moves")


def with_more_keys(seed: str, bike: str, unit: str) -> tuple[str, str]:
    """Return the texts of a bike and its unit with some more keys."""
    rng = random.Random(seed)
    told, units = yaml.safe_load(bike), yaml.safe_load(unit)
    _supply(rng, told["supply"])
    told["margin"] = {key: f"{rng.randint(20, 240)} mm" for key in MARGIN if rng.random() < 0.35}
    told["margin"]["share"] = rng.choice(("0 %", "4 %", "12.5 %"))
    names = [name for name in ASSUMED if rng.random() < 0.4]
    told["assume"] = {**told.get("assume", {}), **{name: rng.choice(ASSUMED[name]) for name in names}}
    for leg in told["frame"]["legs"]:
        _leg(rng, leg)
    for load in told["loads"]:
        _load(rng, load)
    for box in told.get("multiplexers", []):
        if rng.random() < 0.5:
            box["standby"] = f"{rng.choice((0.3, 0.9, 2))} mA"
    units["feed"] |= {"standby": f"{rng.choice((0.1, 0.4, 1.7))} mA", "awake": f"{rng.choice((35, 60, 88.5))} mA"}
    units["flash_rate"] = "1.4 Hz"
    return _text(told), _text(units)


def _supply(rng: random.Random, supply: Item) -> None:
    supply["battery"]["capacity"] = rng.choice(("4 Ah", "8.6 Ah", "14 Ah"))
    if "charging" not in supply:
        given = {"idle": f"{rng.randint(20, 140)} W", "cruise": f"{rng.randint(120, 400)} W"}
        supply["charging"] = {key: figure for key, figure in given.items() if rng.random() < 0.8}


def _leg(rng: random.Random, leg: Item) -> None:
    if leg.get("moves") and rng.random() < 0.5:
        leg["travel"] = f"{rng.randint(20, 130)} mm"
    if "opening" in leg and rng.random() < 0.5:
        leg |= {"opens_to": "60 mm", "opens": "grommet"}


def _load(rng: random.Random, load: Item) -> None:
    modes = load.get("mode", [])
    if "dim" in ([modes] if isinstance(modes, str) else modes) and rng.random() < 0.7:
        load["dim_to"] = f"{rng.choice((30, 62.5, 80))} %"
    if rng.random() < 0.3:
        load["note"] = "keep its plug"


def _text(data: Item) -> str:
    return str(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))
