"""Random units put together from the ports of the bundled ones, so that a bike may well fit. All are made up."""

import random
from collections.abc import Callable
from typing import Any

import yaml

from portloom.inputs.files import bundled_units

Entry = dict[str, Any]
DROPPED = ("bank", "follow")
"""What refers to something else of the unit that a port came from."""


def mixed_unit(seed: int) -> Entry:
    """Take a seed; give a unit as its file would say it, with 12 to 20 outputs, a starter's one among them."""
    dice = random.Random(seed)
    outputs = _drawn(dice, _pool("outputs"), dice.randint(12, 20), lambda port: "start" in port["switch_modes"])
    inputs = _drawn(dice, _pool("inputs"), dice.randint(14, 18), lambda port: "pulse" in port["accepts"])
    return {
        "unit": f"mixed unit {seed}",
        "price": dice.randint(20, 80) * 10,
        "feed": {"limit": f"{dice.randint(30, 60)} A", "wire_max": "10 mm2", "face": dice.choice(("front", "rear"))},
        "outputs": [{**port, "name": f"out {number}"} for number, port in enumerate(outputs, 1)],
        "inputs": [{**port, "name": f"in {number}"} for number, port in enumerate(inputs, 1)],
    }


def _pool(ports: str) -> list[Entry]:
    """Return every port of the bundled units, without its name."""
    written = [yaml.safe_load(file.read_text("utf-8")) for _, file in bundled_units()]
    return [
        {key: what for key, what in entry.items() if key not in ("name", "names", *DROPPED)}
        for unit in written
        for entry in unit[ports]
        for _ in entry.get("names", ["one"])
    ]


def _drawn(dice: random.Random, pool: list[Entry], count: int, needed: Callable[[Entry], bool]) -> list[Entry]:
    """Draw ports by lot, the first of them one that is needed."""
    first = dice.choice([port for port in pool if needed(port)])
    return [first, *dice.sample(pool, count - 1)]
